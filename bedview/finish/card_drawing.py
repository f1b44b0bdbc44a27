"""The drawing of a technique card as a display list, in any size and look.

Fabric is drawn with the loops of the bed picture; a thread that runs under it is laid down first. Layers:
``under``, ``fabric``, ``over``, ``words``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bedview.bed.actions import YarnRole
from bedview.finish.cards import (
    ArrowPart,
    CrownsPart,
    Drawing,
    FabricPart,
    NeedlesPart,
    ThreadPart,
    WordPart,
)
from bedview.picture.colour import Colour, mix
from bedview.picture.look import DEFAULT_YARNS, Palette, yarn_shades
from bedview.picture.loop_tiles import LoopStyle, crown_tile, loop_tiles
from bedview.picture.marks import (
    DisplayList,
    Layer,
    Lines,
    Mark,
    Path,
    Pen,
    Shape,
    Text,
    Tiles,
    circle,
    polyline,
    upside_down,
)

ROW_OF_CELL: Final = 0.70
"""Height of a row over the width of a stitch."""
WORD: Final = 13.0
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Sizes and colours of one drawing."""

    cell: float
    row: float
    left: float
    top: float
    palette: Palette

    def at(self, x: float, y: float) -> Point:
        """Pixels of a place in stitches and rows."""
        return self.left + x * self.cell, self.top + y * self.row

    def style(self, yarn: str, *, odd: bool, knit_side: bool) -> LoopStyle:
        """How a loop of a yarn is drawn."""
        colour, role = {
            "one": (DEFAULT_YARNS[YarnRole.FABRIC][0], YarnRole.FABRIC),
            "other": (DEFAULT_YARNS[YarnRole.FABRIC][2], YarnRole.FABRIC),
            "waste": (DEFAULT_YARNS[YarnRole.WASTE][0], YarnRole.WASTE),
        }[yarn]
        return LoopStyle(self.cell, self.row, yarn_shades(colour, self.palette), odd, role, knit_side)


def card_height(drawing: Drawing, width: float) -> float:
    """Height of a drawing that is so wide, in pixels."""
    return drawing.rows * ROW_OF_CELL * width / drawing.stitches


def draw_card(drawing: Drawing, width: float, palette: Palette) -> DisplayList:
    """A drawing of a card.

    Args:
        drawing: what is drawn.
        width: of the picture in pixels; its height follows.
        palette: the look.
    """
    # Loops are tiles, which lie on whole pixels.
    cell = float(int(width / drawing.stitches))
    height = card_height(drawing, width)
    row = float(int(ROW_OF_CELL * cell))
    sheet = _Sheet(
        cell, row, (width - cell * drawing.stitches) / 2, (height - row * drawing.rows) / 2, palette
    )
    under: list[Mark] = []
    fabric: list[Mark] = []
    over: list[Mark] = []
    words: list[Mark] = []
    for part in drawing.parts:
        match part:
            case FabricPart():
                fabric.extend(_fabric(part, sheet))
            case CrownsPart():
                fabric.append(_crowns(part, sheet))
            case NeedlesPart():
                fabric.extend(_needles(part, sheet))
            case ThreadPart():
                under.extend(_thread(part, sheet, "under"))
                over.extend(_thread(part, sheet, "over"))
            case ArrowPart():
                words.extend(_arrow(sheet.at(*part.start), sheet.at(*part.end), palette.ink))
            case WordPart():
                words.append(_word(part, sheet))
    layers = (
        Layer("under", tuple(under)),
        Layer("fabric", tuple(fabric)),
        Layer("over", tuple(over)),
        Layer("words", tuple(words)),
    )
    return DisplayList(width, height, palette.card, layers, drawing.says)


# -- fabric -----------------------------------------------------------------------------------------------


def _fabric(part: FabricPart, sheet: _Sheet) -> list[Mark]:
    """Rows of loops; those that hang upwards are the same turned upside down."""
    if part.hangs == "down":
        return list(_rows(part, sheet, *sheet.at(part.x, part.y)))
    x, y = sheet.at(part.x, part.y)
    marks = tuple(_rows(part, sheet, x, 0.0))
    turned = upside_down(DisplayList(0, y, "", (Layer("", marks),)))
    return list(turned.marks())


def _rows(part: FabricPart, sheet: _Sheet, x: float, y: float) -> Iterator[Mark]:
    fronts: list[Mark] = []
    for row in range(part.rows):
        style = sheet.style(part.yarn, odd=row % 2 == 1, knit_side=part.face == "knit")
        back, front = loop_tiles(style, 0, 0)
        place = np.array([x]), np.array([y + row * sheet.row]), np.array([part.stitches])
        yield Tiles(back, sheet.cell, *place)
        if front is not None:
            fronts.append(Tiles(front, sheet.cell, *place))
    yield from fronts


def _crowns(part: CrownsPart, sheet: _Sheet) -> Mark:
    x, y = sheet.at(part.x, part.y)
    tile = crown_tile(sheet.style(part.yarn, odd=False, knit_side=False))
    # Crowns reach beyond their cells, so each is a run of its own.
    xs = x + sheet.cell * np.arange(part.count, dtype=np.float64)
    return Tiles(tile, sheet.cell, xs, np.full(part.count, y), np.ones(part.count, np.int64))


# -- needles ----------------------------------------------------------------------------------------------


def _needles(part: NeedlesPart, sheet: _Sheet) -> Iterator[Mark]:
    """Shanks that come from above, with a hook turned towards the viewer at their ends."""
    x, y = sheet.at(part.x, part.y)
    thick = max(2.0, 0.09 * sheet.cell)
    pen = Pen(sheet.palette.needle, thick)
    hook = 0.30 * sheet.row
    for place in range(part.count):
        at = x + place * sheet.cell
        top = y - 1.6 * sheet.row
        low = y + (0.55 + part.forward) * sheet.row
        turn = 0.16 * sheet.cell
        bend: Path = (
            ("M", (at, top)),
            ("L", (at, low)),
            ("C", (at, low + hook, at + turn, low + hook, at + turn, low)),
            ("L", (at + turn, low - 0.4 * hook)),
        )
        yield Shape(bend, pen=pen)


# -- thread -----------------------------------------------------------------------------------------------


def _thread(part: ThreadPart, sheet: _Sheet, where: str) -> Iterator[Mark]:
    """The stretches of a thread that run over the fabric or under it, and the needle at its end."""
    points = [sheet.at(x, y) for x, y, _ in part.points]
    thick = max(2.0, 0.11 * sheet.cell)
    colour = sheet.palette.hands
    rim = mix(colour, sheet.palette.card, 0.75)
    for place, (piece, (_, _, way)) in enumerate(zip(_smooth(points), part.points[1:], strict=True)):
        if way != where:
            continue
        path: Path = (("M", points[place]), ("C", piece))
        if where == "over":
            yield Shape(path, pen=Pen(rim, thick + 2.4, "flat"))
            yield Shape(path, pen=Pen(colour, thick))
        else:
            yield Shape(path, pen=Pen(mix(colour, sheet.palette.card, 0.35), thick))
    if where == "over" and part.needle:
        yield from _eyed_needle(points[-2], points[-1], sheet)


def _smooth(points: Sequence[Point]) -> list[tuple[float, ...]]:
    """Cubic pieces through points, each with two control points and its end (Catmull and Rom)."""
    padded = [points[0], *points, points[-1]]
    pieces: list[tuple[float, ...]] = []
    for before, start, end, after in zip(padded, padded[1:], padded[2:], padded[3:], strict=False):
        one = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        two = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        pieces.append((*one, *two, *end))
    return pieces


def _eyed_needle(before: Point, end: Point, sheet: _Sheet) -> Iterator[Mark]:
    """A sewing needle that goes on where the thread ends."""
    (dx, dy), length = _direction(before, end), 1.15 * sheet.cell
    tip = end[0] + dx * length, end[1] + dy * length
    thick = max(3.0, 0.12 * sheet.cell)
    across = -dy * thick / 2, dx * thick / 2
    body = polyline(
        (end[0] + across[0], end[1] + across[1]),
        (end[0] + dx * 0.8 * length + across[0], end[1] + dy * 0.8 * length + across[1]),
        tip,
        (end[0] + dx * 0.8 * length - across[0], end[1] + dy * 0.8 * length - across[1]),
        (end[0] - across[0], end[1] - across[1]),
        closed=True,
    )
    yield Shape(body, sheet.palette.needle, Pen(sheet.palette.card, 1.2))
    eye = end[0] + dx * 0.12 * length, end[1] + dy * 0.12 * length
    yield Shape(circle(*eye, thick * 0.3), sheet.palette.hands)


# -- words ------------------------------------------------------------------------------------------------


def _arrow(start: Point, end: Point, colour: Colour) -> Iterable[Mark]:
    dx, dy = _direction(start, end)
    head = 9.0
    base = end[0] - dx * head, end[1] - dy * head
    wings = [(base[0] - side * dy * head * 0.55, base[1] + side * dx * head * 0.55) for side in (-1, 1)]
    yield Lines(Pen(colour, 2.0), np.array([[*start, *base]]))
    yield Shape(polyline(wings[0], end, wings[1], closed=True), colour)


def _word(part: WordPart, sheet: _Sheet) -> Text:
    x, y = sheet.at(part.x, part.y)
    size = max(WORD, 0.30 * sheet.cell)
    return Text(x, y, part.text, size, sheet.palette.ink, part.anchor)


def _direction(start: Point, end: Point) -> Point:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    return dx / length, dy / length
