"""Tiles for needles: four positions told apart by reach, butt, weight of the stem, hook and latch.

Anchor: the middle of the column at the gate. Out of work: a thin pale stem that stays on the plate, hollow
butt. Work: a plain stem, its hook closed over the loop. Upper working: the hook is free and the latch open
behind the loop. Hold: a heavy stem, fully forward, latch open, a broad butt with a bar.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from bedview.bed.needles import Position
from bedview.picture.bed_layout import DETAILED_CELL, BedLayout
from bedview.picture.colour import Colour, mix
from bedview.picture.look import Palette, Shades
from bedview.picture.marks import Path, Pen, Shape, Tile, circle, polyline


@dataclass(frozen=True, slots=True)
class NeedleStyle:
    """Sizes of a needle's tile, in pixels, and its colours.

    Attributes:
        cell: width of a column.
        unit: see :class:`~bedview.picture.bed_layout.BedLayout`.
        tip, butt: of the needle, below the gate (above: negative).
        needle, idle, ground, edge: colours.
    """

    cell: float
    unit: float
    tip: float
    butt: float
    needle: Colour
    idle: Colour
    ground: Colour
    edge: Colour


def needle_style(layout: BedLayout, palette: Palette, position: Position) -> NeedleStyle:
    """The style of needles in one position."""
    return NeedleStyle(
        layout.cell,
        layout.unit,
        layout.tip(position) - layout.gate,
        layout.butt(position) - layout.gate,
        palette.needle,
        palette.idle,
        palette.plate,
        palette.paper,
    )


@lru_cache(maxsize=256)
def needle_tile(style: NeedleStyle, position: Position) -> Tile:
    """The tile of a needle in one position."""
    draw = _detailed if style.cell >= DETAILED_CELL else _plain
    half = style.cell / 2
    air = 8 * style.unit + 3
    return Tile(
        ("needle", style, position),
        draw(style, position),
        -half,
        style.butt - air,
        half,
        style.tip + air,
    )


def stem_width(cell: float, unit: float, position: Position) -> float:
    """Width of a needle's stem."""
    if cell < DETAILED_CELL:
        narrow = 1.0 if cell < 8 else 1.5
        return {Position.OUT: 1.0, Position.WORK: narrow, Position.UPPER: narrow, Position.HOLD: narrow + 1}[
            position
        ]
    share = {Position.OUT: 0.055, Position.WORK: 0.105, Position.UPPER: 0.115, Position.HOLD: 0.17}[position]
    return max(1.2, min(cell * share, 30 * unit * share))


def _plain(style: NeedleStyle, position: Position) -> tuple[Shape, ...]:
    """A needle of a narrow cell: straight strokes on whole pixels."""
    width = stem_width(style.cell, style.unit, position)
    x = 0.0 if round(style.cell) % 2 == round(width) % 2 else 0.5
    colour = style.idle if position is Position.OUT else style.needle
    shapes = [_bar(x, style.butt, style.tip, width, colour)]
    if position is not Position.OUT:
        butt = min(style.cell - 1, width + (2 if style.cell >= 6 else 1))
        tall = 5 if position is Position.WORK else 9
        shapes.append(_bar(x, style.butt - tall * style.unit, style.butt + tall * style.unit, butt, colour))
    return tuple(shapes)


def _bar(x: float, top: float, bottom: float, width: float, colour: Colour) -> Shape:
    half = width / 2
    return Shape(
        polyline((x - half, top), (x + half, top), (x + half, bottom), (x - half, bottom), closed=True),
        colour,
    )


def _detailed(style: NeedleStyle, position: Position) -> tuple[Shape, ...]:
    unit, width = style.unit, stem_width(style.cell, style.unit, position)
    size = min(style.cell, 30 * unit)
    if position is Position.OUT:
        pen = Pen(style.idle, width)
        ring = circle(0, style.butt, max(1.6, 0.10 * size))
        return (
            Shape(polyline((0, style.butt + 0.12 * size), (0, style.tip)), pen=pen),
            Shape(ring, style.ground, pen),
        )
    strokes = [(polyline((0, style.butt), (0, style.tip - 0.16 * size)), width)]
    strokes.append((_hook(style.tip, size, position), width * 0.86))
    if position is not Position.WORK:
        strokes.append((_latch(style, size), max(1.2, width * 0.6)))
    # A thin edge keeps a dark needle visible on dark yarn, and a light one on light yarn.
    edge = [Shape(path, pen=Pen(style.edge, thick + 2)) for path, thick in strokes]
    shapes = edge + [Shape(path, pen=Pen(style.needle, thick)) for path, thick in strokes]
    shapes.append(
        Shape(_butt(0.0, style.butt, size, 0.30 if position is Position.WORK else 0.42), style.needle)
    )
    if position is Position.HOLD:
        under, half = style.butt + 0.40 * size, 0.21 * size
        bar = polyline((-half, under), (half, under))
        shapes.append(Shape(bar, pen=Pen(style.needle, max(1.6, 0.09 * size), "flat")))
    return tuple(shapes)


def _butt(x: float, y: float, size: float, share: float) -> Path:
    """The foot that the carriage's cams take hold of."""
    half, tall, cut = share * size / 2, 0.24 * size, 0.06 * size
    return polyline(
        (x - half + cut, y - tall),
        (x + half - cut, y - tall),
        (x + half, y - tall + cut),
        (x + half, y + tall - cut),
        (x + half - cut, y + tall),
        (x - half + cut, y + tall),
        (x - half, y + tall - cut),
        (x - half, y - tall + cut),
        closed=True,
    )


def _hook(tip: float, size: float, position: Position) -> Path:
    """The hook at the tip, its point towards the loop."""
    wide = (0.16 if position is Position.WORK else 0.22) * size
    back = tip - 0.16 * size
    return (
        ("M", (0.0, back)),
        ("C", (0.0, tip + 0.06 * size, wide, tip + 0.06 * size, wide, back)),
        ("L", (wide, back - 0.04 * size)),
    )


def _latch(style: NeedleStyle, size: float) -> Path:
    """The latch laid open, away from the hook."""
    pivot = style.tip - 0.42 * size
    return polyline((0, pivot), (-0.26 * size, pivot - 0.30 * size))


@lru_cache(maxsize=128)
def wrap_tile(cell: float, row: float, shades: Shades, paper: Colour, ink: Colour) -> Tile:
    """A wrap: yarn laid aslant round a needle, with air about it so that it shows on its own fabric."""
    rise = min(0.30 * row, 0.22 * cell)
    width = max(1.2, min(0.30 * row, 0.22 * cell))
    rim = max(1.3, 0.07 * row)
    half = cell / 2 - width / 2 - 2 * rim
    path = polyline((-half, rise), (half, -rise))
    if cell < DETAILED_CELL:
        wide = max(2.0, cell - 1)
        bar = polyline((-wide / 2, 1), (wide / 2, -1))
        shapes = [
            Shape(bar, pen=Pen(ink, 3.2, "flat")),
            Shape(bar, pen=Pen(mix(paper, shades.light, 0.3), 1.6, "flat")),
        ]
    else:
        shapes = [
            Shape(path, pen=Pen(ink, width + 4 * rim)),
            Shape(path, pen=Pen(paper, width + 2 * rim)),
            Shape(path, pen=Pen(shades.body, width * 0.8)),
        ]
    edge, air = cell / 2, width + 4 + rise
    return Tile(("wrap", cell, row, shades, paper, ink), tuple(shapes), -edge, -air, edge, air)


@lru_cache(maxsize=128)
def coming_wrap_tile(cell: float, row: float, colour: Colour, paper: Colour) -> Tile:
    """A wrap that the coming pass will make: an empty ring in the carriage's colour."""
    half, tall = 0.34 * cell, max(2.0, min(0.26 * row, 0.24 * cell))
    ring = (
        ("M", (-half, 0.0)),
        ("C", (-half, -tall * 1.3, half, -tall * 1.3, half, 0.0)),
        ("C", (half, tall * 1.3, -half, tall * 1.3, -half, 0.0)),
        ("Z", ()),
    )
    width = max(1.2, min(2.4, cell * 0.08))
    shapes = (Shape(ring, pen=Pen(paper, width + 2)), Shape(ring, pen=Pen(colour, width)))
    edge = cell / 2
    return Tile(("coming wrap", cell, row, colour, paper), shapes, -edge, -tall - 4, edge, tall + 4)


@lru_cache(maxsize=64)
def slot_tile(cell: float, top: float, bottom: float, colour: Colour, peg: Colour, unit: float) -> Tile:
    """The groove a needle slides in, and the peg beside it at the gate; anchor at the gate."""
    half = cell / 2
    width = max(1.0, min(3.0 * unit, 0.14 * cell))
    shapes = [_bar(0.0 if round(cell) % 2 == round(width) % 2 else 0.5, top, bottom, round(width), colour)]
    if cell >= DETAILED_CELL:
        size = min(cell, 30 * unit)
        shapes.append(_bar(-half, -0.05 * size, 0.20 * size, 0.13 * size, peg))
        shapes.append(_bar(half, -0.05 * size, 0.20 * size, 0.13 * size, peg))
    return Tile(("slot", cell, top, bottom, colour, peg, unit), tuple(shapes), -half, top, half, 0.25 * cell)
