"""Where the parts of the Knit page stand, for any size of window. All lengths in pixels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

TARGET: Final = 48
"""Least height of what is pressed on this page."""
ROW_TALL: Final = 42
COUNTER_TALL: Final = 24
"""Heights of the row and of the line below it, in units: letters that reach down need room too."""
_NARROW: Final = 820
"""Below this width what comes next stands under the acts instead of beside them."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Its bottom edge."""
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Places of everything.

    Attributes:
        unit: how large everything is; 1 for a window of 1280 by 720.
        header: titles and row.
        bar: the piece, part by part.
        bed: the picture.
        acts: what to do.
        after: what comes then.
        buttons: done and back.
        foot: the last line.
        stacked: what comes next stands under the acts.
    """

    unit: float
    header: Box
    bar: Box
    bed: Box
    acts: Box
    after: Box
    buttons: Box
    foot: Box
    stacked: bool


@dataclass(frozen=True, slots=True)
class ActsRoom:
    """What room the acts have: width, height as a rule, and at most."""

    width: float
    height: float
    most_height: float


def unit_for(width: float, height: float) -> float:
    """How large everything is in a page of this size."""
    return max(0.64, min(width / 1120, height / 720, 3.2))


def arrange(
    width: float,
    height: float,
    acts_height: Callable[[ActsRoom, float], float],
    *,
    unit: float | None = None,
    buttons_width: float = 0.0,
) -> Arrangement:
    """Share out the page.

    Args:
        width: of the page.
        height: of the page.
        acts_height: how high the acts become, given their room and the unit.
        unit: how large everything is, where the window and not the page says so.
        buttons_width: least width of done and back together.
    """
    unit = unit or unit_for(width, height)
    edge = max(12.0, 24 * unit)
    inner = width - 2 * edge
    stacked = width < _NARROW
    target = max(float(TARGET), 50 * unit)
    header = Box(edge, edge * 0.6, inner, (ROW_TALL + COUNTER_TALL) * unit)
    bar = Box(edge, header.bottom + 4 * unit, inner, max(8.0, 12 * unit))
    foot = Box(edge, height - target - 2, inner, target)
    side = 0.0 if stacked else max(0.37 * width, buttons_width)
    acts_width = inner if stacked else inner - side - edge
    below = target + 10 * unit + 34 * unit if stacked else 0.0
    top, bottom = bar.bottom + 10 * unit, foot.y - 4 * unit
    free = bottom - top - below - 14 * unit
    room = ActsRoom(acts_width, min(0.34 * free, 186 * unit), 0.62 * free)
    least = target + 110 * unit if not stacked else 0.0
    acts_high = max(min(room.height, free), min(acts_height(room, unit), free), least)
    acts = Box(edge, bottom - below - acts_high, acts_width, acts_high)
    bed = Box(0, top, width, max(0.0, acts.y - 12 * unit - top))
    if stacked:
        buttons = Box(edge, bottom - target, inner, target)
        after = Box(edge, acts.bottom + 4 * unit, inner, buttons.y - acts.bottom - 10 * unit)
    else:
        x = width - edge - side
        buttons = Box(x, acts.bottom - target, side, target)
        after = Box(x, acts.y, side, acts_high - target - 8 * unit)
    return Arrangement(unit, header, bar, bed, acts, after, buttons, foot, stacked)
