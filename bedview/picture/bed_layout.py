"""Where everything of the bed picture stands: sizes, lines and columns, for drawing and for pointing.

All lengths in pixels. Lines across the picture from top to bottom: numbers, rail, slots with the needles'
butts, lip (the *gate*, where needles leave the plate), the line of loops, the fabric, the map of the whole
bed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from bedview.bed.needles import Position
from bedview.picture.bed_scene import BedScene

MIN_CELL: Final = 4.0
"""Below this a needle and its gap cannot be told apart; the picture then shows a part of the bed."""
DETAILED_CELL: Final = 12.0
"""From here on needles have hooks and latches."""
WIDEST_CELL: Final = 38.0
"""No column is wider in a picture of unit 1: a held needle is to reach beyond its loop and wrap."""
ROOMY_CELL: Final = 26.0
"""Cells this wide are worth showing needles for that the piece never uses."""


@dataclass(frozen=True, slots=True)
class BedLayout:
    """Sizes and places of one bed picture.

    Attributes:
        width, height: of the picture.
        unit: how large everything is; 1 for a picture 380 pixels high.
        cell: width of a column, a whole number of device pixels.
        row: height of a course, likewise.
        first, last: the needles shown.
        left: left edge of the first column shown.
        turned: left and right exchanged, and the picture upside down.
        needles: how many the bed has.
        has_map: whether the map of the whole bed is shown.
        carriage_width: width of the carriage, narrower where needles need the room.
        letters: how much larger than usual names are written.
    """

    width: float
    height: float
    unit: float
    cell: float
    row: float
    first: int
    last: int
    left: float
    turned: bool
    needles: int
    has_map: bool
    carriage_width: float
    letters: float = 1.0

    # -- across -------------------------------------------------------------------------------------------

    @property
    def columns(self) -> int:
        """How many needles are shown."""
        return self.last - self.first + 1

    @property
    def right(self) -> float:
        """Right edge of the last column shown."""
        return self.left + self.columns * self.cell

    def column_of(self, needle: int) -> int:
        """Place of a needle in the picture, 0 for the column furthest to the left."""
        return self.last - needle if self.turned else needle - self.first

    def x_of(self, needle: int) -> float:
        """Centre of a needle's column; needles that are not shown lie beyond the edges."""
        return self.left + (self.column_of(needle) + 0.5) * self.cell

    def shows(self, needle: int) -> bool:
        """Whether a needle is within the part of the bed that is shown."""
        return self.first <= needle <= self.last

    def needle_at(self, x: float, y: float) -> int | None:
        """The needle whose column lies at a point, None beside the columns or off the bed."""
        if self.turned:
            y = self.height - y
        if not self.plate_top <= y <= self.map_top:
            return None
        column = math.floor((x - self.left) / self.cell)
        if not 0 <= column < self.columns:
            return None
        return self.last - column if self.turned else self.first + column

    def position_at(self, y: float) -> Position:
        """The position whose tip lies nearest to a height."""
        if self.turned:
            y = self.height - y
        return min(Position, key=lambda position: abs(self.tip(position) - y))

    # -- down ---------------------------------------------------------------------------------------------

    @property
    def number_size(self) -> float:
        """Size of the needle numbers."""
        return max(9.0, 14.5 * self.unit) * self.letters

    @property
    def plate_top(self) -> float:
        """Back edge of the plate."""
        return _whole(self.number_size * 1.75)

    @property
    def rail_bottom(self) -> float:
        """Front edge of the carriage's track."""
        return self.plate_top + _whole(32 * self.unit)

    @property
    def gate(self) -> float:
        """Front edge of the plate, where needles come out."""
        return self.rail_bottom + _whole(112 * self.unit)

    @property
    def lip_top(self) -> float:
        """Back edge of the lip."""
        return self.gate - max(4.0, _whole(9 * self.unit))

    @property
    def loop_line(self) -> float:
        """Crowns of the loops on the needles."""
        return self.gate + _whole(13 * self.unit)

    def tip(self, position: Position) -> float:
        """How far down a needle in a position reaches."""
        reach = {Position.OUT: -10, Position.WORK: 18, Position.UPPER: 49, Position.HOLD: 74}[position]
        return self.gate + reach * self.unit

    @property
    def needle_length(self) -> float:
        """From the butt's centre to the tip of the hook."""
        return 92 * self.unit

    def butt(self, position: Position) -> float:
        """Centre of the butt of a needle in a position."""
        return self.tip(position) - self.needle_length

    @property
    def map_top(self) -> float:
        """Top of the map of the whole bed, or the bottom of the picture."""
        return self.height - _whole(20 * self.unit) if self.has_map else self.height

    @property
    def fabric_bottom(self) -> float:
        """Where the fabric has faded away."""
        return self.map_top

    @property
    def fabric_rows(self) -> int:
        """Courses that fit below the needles."""
        return max(1, math.ceil((self.fabric_bottom - self.loop_line) / self.row))

    # -- the carriage -------------------------------------------------------------------------------------

    @property
    def carriage_height(self) -> float:
        """Height of the carriage."""
        return 92 * self.unit

    def carriage_left(self, on_the_right: bool) -> float:
        """Left edge of the carriage, given where it stands in the picture."""
        edge = _edge(self.unit)
        return self.width - edge - self.carriage_width if on_the_right else edge


def _carriage_width(scene: BedScene, width: float, unit: float) -> float:
    """Width of the carriage: as much as it likes, unless the needles in use would then be very narrow."""
    roomy = min(148 * unit, max(76.0, width * 0.17))
    first, last = scene.view.stretch or scene.in_use()
    if (width - 2 * roomy) / (last - first + 3) >= 14:
        return roomy
    return min(roomy, max(76.0, width * 0.07))


def _edge(unit: float) -> float:
    """Air between the picture's edge and the carriage."""
    return min(8 * unit, 10.0)


def _whole(length: float) -> float:
    return float(round(length))


def lay_out(scene: BedScene, width: float, height: float, *, ratio: float = 1.0) -> BedLayout:
    """Sizes and places for a scene.

    Args:
        scene: what is to be seen.
        width: of the picture, 1 or more.
        height: likewise.
        ratio: device pixels to a pixel; columns and rows are whole device pixels, so that tiles fit.
    """
    unit = max(0.42, min(height / 380, width / 760, 3.0))
    carriage = _carriage_width(scene, width, unit)
    room = max(MIN_CELL * 2, width - 2 * (2 * _edge(unit) + carriage))
    first, last = _shown(scene, room, unit)
    columns = last - first + 1
    cell = max(MIN_CELL, _floor(min(room / columns, WIDEST_CELL * unit), ratio))
    left = _floor((width - columns * cell) / 2, ratio)
    without_rows = BedLayout(
        width=width,
        height=height,
        unit=unit,
        cell=cell,
        row=cell,
        first=first,
        last=last,
        left=left,
        turned=scene.view.turned,
        needles=scene.needles,
        has_map=columns < scene.needles,
        carriage_width=carriage,
        letters=scene.view.letters,
    )
    return replace(without_rows, row=_row_height(without_rows, scene.view.depth, ratio))


def _row_height(layout: BedLayout, depth: int, ratio: float) -> float:
    """Height of a course: in the proportion of a stitch; taller where a high picture would stay empty."""
    stitch = layout.cell * (0.66 if layout.cell >= DETAILED_CELL else 0.8)
    filling = (layout.fabric_bottom - layout.loop_line) / max(1, depth)
    tallest = layout.cell * (0.8 if layout.cell >= DETAILED_CELL else 1.6)
    return max(2.0, _floor(max(stitch, min(filling, tallest)), ratio))


def _floor(length: float, ratio: float) -> float:
    return math.floor(length * ratio + 1e-6) / ratio


def _shown(scene: BedScene, room: float, unit: float) -> tuple[int, int]:
    """First and last needle to show."""
    ends = (0, scene.needles - 1)
    if room / scene.needles >= min(ROOMY_CELL * unit, ROOMY_CELL):
        return ends
    first, last = scene.view.stretch or scene.in_use()
    margin = 3 if room / (last - first + 7) >= 14 else 1
    fit = int(room // MIN_CELL)
    if last - first + 1 <= fit < last - first + 1 + 2 * margin:
        # Rather no air beside the needles in use than one of them out of sight.
        return first, min(ends[1], first + fit - 1)
    first, last = max(0, first - margin), min(ends[1], last + margin)
    if last - first + 1 > fit:
        return _around(_focus(scene, first, last), fit, first, last)
    roomy = int(room // min(WIDEST_CELL * unit, room / (last - first + 1)))
    spare = max(0, roomy - (last - first + 1)) // 2
    return max(0, first - spare), min(ends[1], last + spare)


def _focus(scene: BedScene, first: int, last: int) -> int:
    """The needle to keep in sight where not all can be shown."""
    touched = scene.touched()
    if touched:
        return (touched[0] + touched[-1]) // 2
    if scene.tip >= 0:
        return scene.tip
    return (first + last) // 2


def _around(focus: int, count: int, first: int, last: int) -> tuple[int, int]:
    """``count`` needles about ``focus``, moving on by half pages, so that the picture mostly stays still."""
    page = max(1, count // 2)
    start = first + max(0, round((focus - first - count / 2) / page)) * page
    start = min(start, last - count + 1)
    return start, start + count - 1
