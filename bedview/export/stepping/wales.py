"""The fabric below the needles, told as little as possible.

A wale is named by the steps that made its loops, the newest first. From step to step the page works it out
by itself: a needle that knits gets one more loop, one that drops has none. Whatever comes out otherwise (a
cast-on, a transfer, loops hung again) is told.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.column import Column
from bedview.bed.events import Event
from bedview.bed.fabric import Fabric, is_wrap
from bedview.bed.state import BedState
from bedview.export.stepping.geometry import PageBed
from bedview.picture.fabric_window import wales

DEPTH: Final = 11
"""Courses that the page draws."""
_NONE: Final = -1

Grid = npt.NDArray[np.int64]


class WaleTeller:
    """Follows a procedure step by step.

    Args:
        fabric: all of it.
        bed: the columns drawn.
    """

    def __init__(self, fabric: Fabric, bed: PageBed) -> None:
        self._fabric = fabric
        self._shown = slice(bed.first, bed.last + 1)
        self._first = bed.first
        self._made = Column(np.int64)
        columns = bed.last - bed.first + 1
        self._before: Grid = np.full((DEPTH, columns), _NONE, np.int64)
        self._tops = np.full(columns, _NONE, np.int32)

    def go_on_in(self, fabric: Fabric, loops: int) -> None:
        """Follow another fabric from now on: rows were taken back.

        Args:
            fabric: it has the first ``loops`` loops in common with the one before.
            loops: those that were left; the steps that come make new ones after them.
        """
        self._fabric = fabric
        np.minimum(self._made.values, loops, out=self._made.values)
        self._tops[:] = _NONE

    def tell(self, state: BedState, done: Event | None) -> list[list[object]]:
        """What the page cannot work out of the state it comes to.

        Args:
            state: before the next step.
            done: the pass of the step before it, None if it made none.

        Returns:
            First and last needle of a stretch, and the steps that made its wales; empty if all comes out.
        """
        self._made.extend(state.next_loop, 1)
        now = self._wales(state.top[self._shown])
        expected = self._expected(self._made.size - 2, done)
        self._before = now
        wrong = np.flatnonzero((now != expected).any(axis=0))
        return list(self._stretches(now, wrong))

    def _wales(self, tops: npt.NDArray[np.int32]) -> Grid:
        """Steps that made the loops below each column drawn, the newest first; -1 for none.

        Most columns are as they were, or have one more loop than they had: only the others are followed down.
        """
        now = self._before.copy()
        changed = np.flatnonzero(tops != self._tops)
        loops = self._fabric.loops_of(tops[changed])
        # What was drawn through the very node that lay uppermost before has its wale below it.
        one_more = (
            (loops >= 0) & (self._tops[changed] >= 0) & (self._fabric.under[loops] == self._tops[changed])
        )
        one_more &= ~is_wrap(self._fabric.kind[loops])
        grown, others = changed[one_more], changed[~one_more]
        now[1:, grown] = now[:-1, grown]
        now[0, grown] = self._steps_of(loops[one_more])
        now[:, others] = _NONE
        below = wales(self._fabric, tops[others], DEPTH)
        now[: len(below), others] = np.where(below >= 0, self._steps_of(below), _NONE)
        self._tops = tops.copy()
        return now

    def _steps_of(self, loops: npt.NDArray[np.int32]) -> Grid:
        """The step that made each loop: what was made by its end, but not by its beginning."""
        return np.searchsorted(self._made.values, loops, side="right") - 1

    def _expected(self, step: int, done: Event | None) -> Grid:
        expected = self._before.copy()
        if done is not None:
            knit, dropped = done.knit - self._first, done.dropped - self._first
            expected[1:, knit] = self._before[:-1, knit]
            expected[0, knit] = step
            expected[:, dropped] = _NONE
        return expected

    def _stretches(self, now: Grid, wrong: npt.NDArray[np.intp]) -> Iterator[list[object]]:
        """Neighbours whose wales are alike, together."""
        start = 0
        for end in range(1, len(wrong) + 1):
            goes_on = end < len(wrong) and wrong[end] == wrong[end - 1] + 1
            if goes_on and (now[:, wrong[end]] == now[:, wrong[start]]).all():
                continue
            wale = now[:, wrong[start]]
            yield [
                self._first + int(wrong[start]),
                self._first + int(wrong[end - 1]),
                wale[wale != _NONE].tolist(),
            ]
            start = end
