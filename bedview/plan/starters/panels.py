"""Counts of a back and a front with sloped shoulders, and the row in which each of their parts begins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from bedview.plan.gauge import ANY
from bedview.plan.starters import drafting as draft

NO_FLOAT_ROWS: Final = 1
"""Row of the back in which the shoulder on the carriage's side waits before it comes back."""
ACROSS_ROWS: Final = 1
"""Row over all stitches of a shoulder after it has come back."""
ASIDE_ROWS: Final = 1
"""Row in which the rest of the front goes to hold."""
CROSSING_ROWS: Final = 1
"""Row that brings the carriage to the side away from what is to be held."""
SCRAP_PASSES: Final = draft.WASTE_ROWS + 1
"""Passes of waste, and the one in which it drops."""


@dataclass(frozen=True, slots=True)
class Slope:
    """How a shoulder slopes.

    Attributes:
        shoulder: its stitches.
        times: how many steps go to hold; what is left beside the neck knits on.
        step: needles of each step.
    """

    shoulder: int
    times: int
    step: int

    @property
    def left(self) -> int:
        """Stitches that never go to hold."""
        return self.shoulder - self.times * self.step

    @property
    def back_rows(self) -> int:
        """Rows in which both shoulders of a back go to hold in turn, a step of each every two rows."""
        # The first of a group goes a row later than the rest of it.
        return 2 * self.times + (1 if self.step > 1 else 0)

    @property
    def front_rows(self) -> int:
        """Rows in which one shoulder of a front goes to hold, a step every two rows."""
        return 2 * self.times


def slope_of(rows: float, shoulder: int) -> Slope:
    """The slope that comes nearest to so many rows, in steps as even as can be."""
    times = max(1, min(ANY.nearest(rows / 2), shoulder - 1))
    step = max(1, min(round(shoulder / (times + 1)), (shoulder - 1) // times))
    return Slope(shoulder, times, step)


@dataclass(frozen=True, slots=True)
class NeckPlan:
    """The neck of a front, one side of it.

    Attributes:
        middle: stitches that go to hold at once in the middle of the front.
        side: stitches that go to hold by and by at each side of them.
        step: how many each time, every two rows.
        straight: plain rows from there to the slope of the shoulder.
    """

    middle: int
    side: int
    step: int
    straight: int

    @property
    def narrowing_rows(self) -> int:
        """Rows in which the sides go to hold, with the one that brings the carriage across before them."""
        return CROSSING_ROWS + 2 * -(-self.side // self.step) if self.side else 0


@dataclass(frozen=True, slots=True)
class PanelPlan:
    """Counts of both panels.

    Attributes:
        neck: stitches of the neck.
        back_slope: of the shoulders of the back, with the stitch in the side seam.
        front_slope: of the front.
        hem: rows of the hem's outside; 0 for none.
        back: plain rows of the back.
        front: plain rows of the front, up to its neck.
        front_neck: the front's neck.
    """

    neck: int
    back_slope: Slope
    front_slope: Slope
    hem: int
    back: int
    front: int
    front_neck: NeckPlan

    @property
    def shoulder(self) -> int:
        """Stitches of one shoulder."""
        return self.back_slope.shoulder

    @property
    def needles(self) -> int:
        """Needles of a panel."""
        return self.neck + 2 * self.shoulder

    @property
    def first(self) -> int:
        """Offset of the leftmost needle."""
        return -(self.needles - self.needles // 2)

    @property
    def whole(self) -> str:
        """All needles of a panel."""
        return draft.span(self.first, self.needles)

    @property
    def neck_needles(self) -> str:
        """Needles of the neck."""
        return draft.span(self.first + self.shoulder, self.neck)

    def shoulder_needles(self, side: str) -> str:
        """Needles of one shoulder."""
        last = self.first + self.needles - self.shoulder
        return draft.span(self.first if side == "left" else last, self.shoulder)

    def half_needles(self, side: str) -> str:
        """Needles of one side of the front: a shoulder and its side of the neck."""
        count = self.shoulder + self.front_neck.side
        return draft.span(self.first if side == "left" else self.first + self.needles - count, count)

    @property
    def not_left(self) -> str:
        """Needles of the front that wait while its left side is knitted."""
        count = self.shoulder + self.front_neck.side
        return draft.span(self.first + count, self.needles - count)

    @property
    def hem_passes(self) -> int:
        """All rows of a hem, inside and outside."""
        return 2 * self.hem + 2 if self.hem else 0

    @property
    def passes_before_front(self) -> int:
        """Passes made when the front is cast on."""
        rows = self.hem_passes + self.back + self.back_slope.back_rows
        return rows + NO_FLOAT_ROWS + ACROSS_ROWS + 3 * SCRAP_PASSES

    @property
    def front_starts_left(self) -> bool:
        """Whether the carriage must stand on the left when the front is cast on.

        It must stand on the left again when the front's right side goes to hold.
        """
        return self.front % 2 == 0
