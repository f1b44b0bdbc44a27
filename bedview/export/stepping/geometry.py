"""Where everything of the page's bed stands.

The bed as in :mod:`bedview.picture`, arranged for a narrow screen: the carriage rides above the needles, not
beside them, so that they have the whole width. From top to bottom: rail with the carriage, names, slots with
the butts, gate, loops, the beginning of the fabric.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

from bedview.bed.needles import Position
from bedview.picture.bed_layout import BedLayout

CELL: Final = 16.0
ROW: Final = 11.0
UNIT: Final = 1.0
EDGE: Final = 10.0
"""Air beside the first and the last column."""
FEWEST_COLUMNS: Final = 24
"""Columns shown at least, so that the carriage has room to go from one side to the other."""
BESIDE: Final = 2
"""Columns shown beside the needles that are used."""
CARRIAGE_UNIT: Final = 0.72
RAIL: Final = 76.0
"""Height of the rail, with room for the carriage."""
NAMES: Final = 24.0
"""Height of the names' line."""
NAME_SIZE: Final = 17.0
SLOTS: Final = 112.0
BELOW: Final = 132.0
"""From the gate to the lower edge."""


@dataclass(frozen=True, slots=True)
class PageBed:
    """Sizes and places, in the units of the drawing.

    Attributes:
        needles: how many the bed has.
        first: the first needle drawn.
        last: the last.
        columns: columns drawn; more than needles, if there are very few.
    """

    needles: int
    first: int
    last: int
    columns: int

    @property
    def width(self) -> float:
        """Width of the whole drawing."""
        return self.columns * CELL + 2 * EDGE

    @property
    def height(self) -> float:
        """Its height."""
        return self.gate + BELOW

    @property
    def left(self) -> float:
        """Left edge of the first needle's column."""
        return EDGE + (self.columns - (self.last - self.first + 1)) * CELL / 2

    @property
    def gate(self) -> float:
        """Front edge of the plate."""
        return RAIL + NAMES + SLOTS

    def x_of(self, needle: float) -> float:
        """Middle of a needle's column."""
        return self.left + (needle - self.first + 0.5) * CELL

    def layout(self, unit: float = UNIT, carriage_width: float = 0) -> BedLayout:
        """The same for those who draw needles and carriages; only what lies about the gate counts."""
        return BedLayout(
            width=self.width,
            height=self.height,
            unit=unit,
            cell=CELL,
            row=ROW,
            first=self.first,
            last=self.last,
            left=self.left,
            turned=False,
            needles=self.needles,
            has_map=False,
            carriage_width=carriage_width,
        )


@dataclass(frozen=True)
class Heights:
    """Heights below the gate, for whoever draws arrows."""

    bed: PageBed

    @cached_property
    def tips(self) -> dict[str, float]:
        """Tips of needles, by the letter of their position."""
        layout = self.bed.layout()
        return {
            letter: layout.tip(position) - layout.gate
            for letter, position in zip("owuh", Position, strict=True)
        }

    @property
    def loops(self) -> float:
        """Crowns of loops."""
        layout = self.bed.layout()
        return layout.loop_line - layout.gate


def page_bed(needles: int, used: tuple[int, int]) -> PageBed:
    """The drawing of a bed.

    Args:
        needles: how many the bed has.
        used: first and last needle that is ever anything but out of work and empty.
    """
    first, last = max(0, used[0] - BESIDE), min(needles - 1, used[1] + BESIDE)
    missing = min(FEWEST_COLUMNS, needles) - (last - first + 1)
    if missing > 0:
        first = max(0, min(first - missing // 2, needles - (last - first + 1) - missing))
        last = min(needles - 1, first + min(FEWEST_COLUMNS, needles) - 1)
    return PageBed(needles, first, last, max(FEWEST_COLUMNS, last - first + 1))
