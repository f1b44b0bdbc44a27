"""Where the numbered acts stand: as large as there is room for, never cut off.

Lengths in pixels. Nothing here paints.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from typing import Final

from bedview.ui.knit.text_fitting import LINE_HEIGHT, Measure, wrap

_TIGHTER: Final = 0.95
_UNBROKEN: Final = 0.8
"""Down to this share of the best size an act rather shrinks than goes on in another line."""
_MOST_COLUMNS: Final = 3
_INDENT: Final = 1.45
"""Text of an act stands so far to the right of its sign's left edge, in text sizes."""
_EMS_A_COLUMN: Final = 11
"""A column of acts is at least so many text sizes wide."""


class Sign(Enum):
    """What stands before a line."""

    HANDS = "hands"
    CARRIAGE = "carriage"
    WEIGHT = "weight"
    CAUTION = "caution"
    DONE = "done"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class ActLine:
    """One thing to do, or one to know.

    Attributes:
        text: what it says.
        sign: what stands before it.
        number: the number in its sign; 0 for none.
    """

    text: str
    sign: Sign
    number: int = 0

    @property
    def is_act(self) -> bool:
        """Whether it is to be done, and so is written large."""
        return self.sign in (Sign.HANDS, Sign.CARRIAGE, Sign.WEIGHT, Sign.DONE)


@dataclass(frozen=True, slots=True)
class Placed:
    """A line of text at its place.

    Attributes:
        x, y: left end and top of its box.
        text: the text.
        px: its size.
        bold: its weight.
        sign: that of the line it belongs to; colours depend on it.
    """

    x: float
    y: float
    text: str
    px: float
    bold: bool
    sign: Sign


@dataclass(frozen=True, slots=True)
class Mark:
    """A sign at its place: centre and diameter."""

    x: float
    y: float
    across: float
    sign: Sign
    number: int


@dataclass(slots=True)
class ActsLayout:
    """All of it.

    Attributes:
        px: size of the acts.
        height: height of it all.
        texts: lines of text.
        marks: signs before them.
    """

    px: float
    height: float = 0.0
    texts: list[Placed] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Room:
    """What room there is.

    Attributes:
        width: of the place.
        height: as high as it likes to be.
        most_height: as high as it may become once the text is down to ``good_px``.
        best_px: size of acts where there is plenty of room.
        good_px: size down to which acts shrink before the place grows.
        least_px: size of what is said beside the acts, at least.
    """

    width: float
    height: float
    most_height: float
    best_px: float
    good_px: float
    least_px: float


def fit_acts(lines: Sequence[ActLine], room: Room, measure: Measure) -> ActsLayout:
    """The largest layout that fits: smaller first, then a higher place, then columns, then smaller still."""
    px = room.best_px
    acts = sum(line.is_act for line in lines)
    unbroken_px = _UNBROKEN * room.best_px
    fewest_lines = _lines_of_acts(lines, room, unbroken_px, measure)
    while True:
        high = room.height if px > room.good_px else room.most_height
        layout = ActsLayout(px)
        for columns in range(1, _MOST_COLUMNS + 1):
            if columns > 1 and (acts < 3 or px > room.good_px or room.width / columns < _EMS_A_COLUMN * px):
                break
            layout = _lay_out(lines, room, px, columns, measure)
            # A little smaller on one line is read more easily than larger on two.
            broken = px > unbroken_px and _lines_of_acts(lines, room, px, measure) > fewest_lines
            if layout.height <= high and not broken:
                return layout
        if px <= 5:
            return layout
        px *= _TIGHTER


def _lay_out(lines: Sequence[ActLine], room: Room, px: float, columns: int, measure: Measure) -> ActsLayout:
    layout = ActsLayout(px)
    acts = [line for line in lines if line.is_act]
    side = px * _INDENT
    gap = px * 1.0
    width = (room.width - gap * (columns - 1)) / columns
    wrapped = [wrap(act.text, width - side, px, True, measure) for act in acts]
    heights = [max(px * 1.12, len(parts) * px * LINE_HEIGHT) + px * 0.22 for parts in wrapped]
    for place, column in _in_columns(heights, columns):
        x = column * (width + gap)
        y = sum(
            heights[other] for other, its in _in_columns(heights, columns) if its == column and other < place
        )
        _place_act(layout, acts[place], wrapped[place], (x, y), px)
        layout.height = max(layout.height, y + heights[place])
    _place_rest(layout, [line for line in lines if not line.is_act], room, px, measure)
    return layout


def _lines_of_acts(lines: Sequence[ActLine], room: Room, px: float, measure: Measure) -> int:
    width = room.width - px * _INDENT
    return sum(len(wrap(line.text, width, px, True, measure)) for line in lines if line.is_act)


def _in_columns(heights: Sequence[float], columns: int) -> list[tuple[int, int]]:
    """Column of each act: filled from the left, none higher than need be."""
    share = sum(heights) / columns
    found, column, filled = [], 0, 0.0
    for place, height in enumerate(heights):
        if column < columns - 1 and filled + height / 2 > share * (column + 1):
            column += 1
        found.append((place, column))
        filled += height
    return found


def _place_act(
    layout: ActsLayout, act: ActLine, parts: Sequence[str], at: tuple[float, float], px: float
) -> None:
    x, y = at
    across = px * 1.08
    layout.marks.append(Mark(x + across / 2, y + px * LINE_HEIGHT / 2, across, act.sign, act.number))
    for number, part in enumerate(parts):
        top = y + number * px * LINE_HEIGHT
        layout.texts.append(Placed(x + px * _INDENT, top, part, px, True, act.sign))


def _place_rest(
    layout: ActsLayout, lines: Sequence[ActLine], room: Room, px: float, measure: Measure
) -> None:
    """What is said beside the acts, below them and smaller."""
    small = min(px, max(px * 0.42, room.least_px))
    indent = px * _INDENT if layout.marks else 0.0
    y = layout.height + (small * 0.15 if layout.marks else 0.0)
    for line in lines:
        side = small * 1.5 if line.sign is Sign.CAUTION else 0.0
        for number, part in enumerate(wrap(line.text, room.width - indent - side, small, False, measure)):
            if side and not number:
                centre = indent + small * 0.6, y + small * LINE_HEIGHT / 2
                layout.marks.append(Mark(*centre, small * 1.1, line.sign, 0))
            layout.texts.append(Placed(indent + side, y, part, small, False, line.sign))
            y += small * LINE_HEIGHT
        y += small * 0.15
    layout.height = max(layout.height, y)
