"""How far every needle reaches out, as a grid to mark dots in: a line a needle, a level a position."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import Position, needle_name
from bedview.export.paper.pages import INK, MM
from bedview.export.position_names import position_name
from bedview.language import gettext as _
from bedview.picture.marks import Box, Dots, Lines, Mark, MeasureText, Pen, Text
from bedview.plan.words import Words

MOST_NEEDLES: Final = 76
"""Needles side by side, so that a pencil finds each."""
TALL: Final = 38.0 * MM
_BESIDE: Final = 3.0 * MM
"""Between the name of a position and the first needle."""
_RIGHT: Final = 3.0 * MM
"""Room for what the last needle's name leans out."""
_TOP: Final = 8.0 * MM
_STEP: Final = 8.0 * MM
_WIDEST: Final = 6.0 * MM
_SMALL: Final = 2.9 * MM
_LEVEL: Final = Pen(INK.line, 0.25 * MM, "flat")
_NEEDLE: Final = Pen(INK.quiet_ink, 0.18 * MM, "flat")
_REACHING: Final = Pen(INK.ink, 0.6 * MM)


@dataclass(frozen=True, slots=True)
class ReachGrid:
    """The grid of some needles.

    Attributes:
        needles: how many the bed has.
        first: the first needle shown.
        last: the last.
        room: width of the grid with the names of the positions.
        measure: how wide a text is.
        words: in which positions are named.
    """

    needles: int
    first: int
    last: int
    room: float
    measure: MeasureText
    words: Words

    @property
    def left(self) -> float:
        """Where the first column begins: right of the names of the positions."""
        return max(self.measure(name, _SMALL, False) for name in self._positions().values()) + _BESIDE

    @property
    def pitch(self) -> float:
        """From needle to needle."""
        return min(_WIDEST, (self.room - self.left - _RIGHT) / (self.last - self.first + 1))

    def x_of(self, needle: int) -> float:
        """Where a needle's line stands."""
        return self.left + (needle - self.first + 0.5) * self.pitch

    def y_of(self, position: Position) -> float:
        """The level of a position; a needle that reaches further out reaches further down."""
        return _TOP + int(position) * _STEP

    def empty(self) -> Iterator[Mark]:
        """The grid with nothing in it."""
        wide = (self.last - self.first + 1) * self.pitch
        left = self.left
        yield Box(left, _TOP - 1.6 * MM, wide, 1.6 * MM, 0, INK.lip)
        levels = [[left, self.y_of(each), left + wide, self.y_of(each)] for each in Position]
        yield Lines(_LEVEL, np.array(levels))
        yield Lines(_NEEDLE, self._lines(dict.fromkeys(self._shown(), Position.HOLD)))
        for position, name in self._positions().items():
            yield Text(left - 2 * MM, self.y_of(position) + 0.35 * _SMALL, name, _SMALL, INK.ink, "end")
        yield from self._names()

    def filled(self, positions: npt.NDArray[np.uint8]) -> Iterator[Mark]:
        """The grid with a dot for every needle."""
        yield from self.empty()
        stands = {needle: Position(int(positions[needle])) for needle in self._shown()}
        yield Lines(_REACHING, self._lines(stands))
        centres = [[self.x_of(needle), self.y_of(position)] for needle, position in stands.items()]
        yield Dots(INK.ink, min(1.3 * MM, 0.36 * self.pitch), np.array(centres))

    def _positions(self) -> dict[Position, str]:
        usual = {
            Position.OUT: _("out of work"),
            Position.WORK: _("working"),
            Position.UPPER: _("upper working"),
            Position.HOLD: _("hold"),
        }
        return {each: position_name(self.words, each, name) for each, name in usual.items()}

    def _shown(self) -> range:
        return range(self.first, self.last + 1)

    def _lines(self, stands: dict[int, Position]) -> npt.NDArray[np.float64]:
        lines = [
            [self.x_of(needle), _TOP, self.x_of(needle), self.y_of(position)]
            for needle, position in stands.items()
        ]
        return np.array(lines, np.float64).reshape(-1, 4)

    def _names(self) -> Iterator[Mark]:
        """Every fifth needle's name, and those of both ends."""
        half = self.needles // 2
        fives = [n for n in self._shown() if (half - n if n < half else n - half + 1) % 5 == 0]
        room = 9.0 * MM
        named: list[int] = []
        for needle in [self.first, self.last, *fives]:
            if all(abs(self.x_of(needle) - self.x_of(other)) >= room for other in named):
                named.append(needle)
        for needle in named:
            name = needle_name(needle, self.needles)
            yield Text(self.x_of(needle), _TOP - 3 * MM, name, _SMALL, INK.quiet_ink, "middle")


def window(needles: npt.NDArray[np.intp], used: tuple[int, int]) -> tuple[int, int]:
    """First and last needle to show: those in use, or of too many those about ``needles``."""
    first, last = used
    if last - first < MOST_NEEDLES:
        return used
    middle = int(np.median(needles)) if len(needles) else (first + last) // 2
    start = min(max(first, middle - MOST_NEEDLES // 2), last - MOST_NEEDLES + 1)
    return start, start + MOST_NEEDLES - 1
