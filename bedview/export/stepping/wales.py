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

from bedview.bed.events import Event
from bedview.bed.fabric import Fabric
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
        self._made: list[int] = []
        self._before: Grid = np.full((DEPTH, bed.last - bed.first + 1), _NONE, np.int64)

    def tell(self, state: BedState, done: Event | None) -> list[list[object]]:
        """What the page cannot work out of the state it comes to.

        Args:
            state: before the next step.
            done: the pass of the step before it, None if it made none.

        Returns:
            First and last needle of a stretch, and the steps that made its wales; empty if all comes out.
        """
        self._made.append(state.next_loop)
        now = self._wales(state)
        expected = self._expected(len(self._made) - 2, done)
        self._before = now
        wrong = np.flatnonzero((now != expected).any(axis=0))
        return list(self._stretches(now, wrong))

    def _wales(self, state: BedState) -> Grid:
        """Steps that made the loops below each column drawn, the newest first; -1 for none."""
        loops = wales(self._fabric, state.top[self._shown], DEPTH)
        now = np.full((DEPTH, self._before.shape[1]), _NONE, np.int64)
        # What was made by the end of a step, but not by its beginning, was made in it.
        steps = np.searchsorted(np.array(self._made), loops, side="right") - 1
        now[: len(loops)] = np.where(loops >= 0, steps, _NONE)
        return now

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
