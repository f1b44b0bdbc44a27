"""Tiles for the fabric: one loop, with its yarn going on to either side.

The machine shows the purl side: heads and sinkers lie in front, the legs between them pass behind. So a loop
has two tiles, ``legs`` and ``bumps``; a picture of fabric lays all legs first, then all bumps, and courses
interlock as they do in yarn, whichever is painted first.

A tile's anchor is the crown of its head, on the needle's line; its yarn leaves left and right half a cell
away, at the sinkers, ``SINK`` rows lower. Seen from the other side (the knit side) only the legs show, as a
V.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from bedview.bed.actions import YarnRole
from bedview.picture.colour import Colour, mix
from bedview.picture.fabric_window import ENDS, GENTLE, STEEP_DOWN, STEEP_UP, TURNS_DOWN, TURNS_UP
from bedview.picture.look import Shades
from bedview.picture.marks import Path, Pen, Shape, Tile

SINK: Final = 1.22
"""How far the sinkers lie below the crown, in rows; more than 1, so that courses interlock."""
FULL: Final = 11.0
"""Width of a cell in pixels from which a loop is painted with rim, legs and gloss."""

Point = tuple[float, float]
Curve = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True)
class LoopStyle:
    """What a loop's tile depends on besides its ways.

    Attributes:
        cell: width of a column in pixels.
        row: height of a course in pixels.
        shades: of its yarn.
        odd: whether it belongs to an odd pass, painted lighter.
        role: waste is painted broken.
        knit_side: whether it is seen from the knit side.
    """

    cell: float
    row: float
    shades: Shades
    odd: bool
    role: YarnRole = YarnRole.FABRIC
    knit_side: bool = False

    @property
    def thickness(self) -> float:
        """Width of the yarn in pixels."""
        thin = 0.62 if self.role is YarnRole.RAVEL else 1.0
        return max(1.0, min(0.40 * self.row, 0.28 * self.cell)) * thin

    @property
    def colour(self) -> Colour:
        """The yarn's colour in this course."""
        return self.shades.light if self.odd else self.shades.body


@lru_cache(maxsize=4096)
def loop_tiles(style: LoopStyle, left: int, right: int) -> tuple[Tile, Tile | None]:
    """The tile behind and the tile in front of one loop; nothing in front where a cell is small.

    Args:
        style: sizes and colours.
        left: how the yarn goes on at the left, see :mod:`bedview.picture.fabric_window`.
        right: the same at the right.
    """
    lefts, rights = _half(style, left, -1), _half(style, right, 1)
    if style.cell < FULL:
        return _whole_tile(style, (left, right), lefts, rights), None
    front: list[Path] = []
    behind: list[Path] = []
    for half, way in ((lefts, left), (rights, right)):
        if 0 < abs(way) <= GENTLE:
            # Where a course climbs it lies in front all the way, so that the eye can follow it.
            front.append(_path(_reversed(_part(half.leg, 0.0, 0.7)), *half.beyond))
            continue
        behind.append(_path(_part(half.leg, 0.26, 0.74)))
        if style.role is YarnRole.FABRIC:
            front.append(_path(_reversed(_part(half.leg, 0.0, 0.34)), *half.beyond))
    front.append(_path(_part(lefts.leg, 0.66, 1.0), _reversed(_part(rights.leg, 0.66, 1.0))))
    if style.knit_side:
        behind, front = front, behind
    back = _tile(style, ("back", left, right), _stroked(style, behind, gloss=style.knit_side), lefts, rights)
    return back, _tile(style, ("front", left, right), _stroked(style, front, gloss=True), lefts, rights)


@dataclass(frozen=True, slots=True)
class _Half:
    """One side of a loop: its leg from the sinker to the crown, and where the yarn goes on."""

    leg: Curve
    beyond: tuple[Curve, ...]
    through: bool


def _half(style: LoopStyle, way: int, side: int) -> _Half:
    """The half of a loop on ``side`` (-1 left, 1 right)."""
    cell, row, sink = style.cell, style.row, SINK * style.row
    edge = side * cell / 2
    crown: Point = (0.0, 0.0)
    if way in (ENDS, STEEP_UP, STEEP_DOWN):
        start: Point = (edge * 0.84, sink)
        reach = 0.44 * cell
        rise = 0.0
    elif way in (TURNS_UP, TURNS_DOWN):
        start, reach, rise = (edge, sink), 0.48 * cell, 0.0
    else:
        start = (edge, sink + way * row / 2)
        reach, rise = 0.48 * cell, way * row * 0.22
    leg = (start, (start[0] - side * reach, start[1] - rise), (side * 0.50 * cell, 0.0), crown)
    return _Half(leg, _beyond(style, way, side, start), way not in (ENDS, STEEP_UP, STEEP_DOWN, TURNS_UP))


def _beyond(style: LoopStyle, way: int, side: int, start: Point) -> tuple[Curve, ...]:
    """Where the yarn goes from the sinker, away from the loop."""
    cell, row = style.cell, style.row
    x, y = start
    if way in (ENDS, TURNS_DOWN):
        return () if way == ENDS else (_straight(start, (x + side * 2.0, y)),)
    if way == TURNS_UP:
        out = x + side * 0.26 * cell
        return (((x, y), (out, y), (out, y - row), (x, y - row)),)
    if way in (STEEP_UP, STEEP_DOWN):
        down = 1 if way == STEEP_DOWN else -1
        far = (side * cell / 2, y + down * 0.75 * row)
        bend = ((x, y), (x + side * 0.08 * cell, y), (far[0], y + down * 0.1 * row), far)
        return bend, _straight(far, (far[0], far[1] + down * row))
    lean = way * row * 0.44 / cell
    return (_straight(start, (x + side * 2.0, y + lean * 2.0)),)


def _whole_tile(style: LoopStyle, ways: tuple[int, int], left: _Half, right: _Half) -> Tile:
    """A loop of a small cell: one line."""
    path = _path(left.leg, _reversed(right.leg))
    waste = style.role is not YarnRole.FABRIC
    if waste:
        path = _path(_part(left.leg, 0.5, 1.0), _reversed(_part(right.leg, 0.5, 1.0)))
    width = max(1.0, style.thickness)
    ground = mix(style.shades.body, style.shades.rim, 0.55)
    shapes = [Shape(path, pen=Pen(style.colour, width, "flat"))]
    if not waste:
        shapes += [
            Shape(_path(curve), pen=Pen(style.colour, width, "flat"))
            for h in (left, right)
            for curve in h.beyond
        ]
        # Gaps too small to be seen through are painted shut, as fabric looks from afar.
        shapes.insert(0, Shape(_block(style.cell, 0.25 * style.row, 1.3 * style.row), ground))
    return _tile(style, ("whole", *ways), tuple(shapes), left, right)


def _stroked(style: LoopStyle, paths: list[Path], *, gloss: bool) -> tuple[Shape, ...]:
    """Paths as yarn: rim, body and, in front, a streak of light."""
    width = style.thickness
    rim = max(1.6, min(3.0, width * 0.34))
    body = style.colour if gloss else mix(style.colour, style.shades.deep, 0.75)
    cap = "flat" if style.role is YarnRole.FABRIC else "round"
    shapes = [
        Shape(path, pen=Pen(style.shades.rim, width + rim, "flat" if cap == "flat" else "round"))
        for path in paths
    ]
    shapes += [Shape(path, pen=Pen(body, width, "flat" if cap == "flat" else "round")) for path in paths]
    if gloss and width >= 5:
        streak = mix(body, "#ffffff", 0.28)
        shapes += [
            Shape(_moved(path, -0.16 * width), pen=Pen(streak, width * 0.2, "round")) for path in paths
        ]
    return tuple(shapes)


def _tile(
    style: LoopStyle, part: tuple[object, ...], shapes: tuple[Shape, ...], left: _Half, right: _Half
) -> Tile:
    """A tile cut at the cell's sides wherever the yarn runs on into the next."""
    margin = 0.5 * style.thickness + (2.5 if style.cell >= FULL else 1.0)
    ys = [y for half in (left, right) for curve in (half.leg, *half.beyond) for _, y in curve]
    # Even, so that the image's edge stays on a pixel at any common scale of a screen.
    over = 2 * math.ceil((0.28 * style.cell + margin) / 2)
    edge = style.cell / 2
    return Tile(
        ("loop", style, *part),
        shapes,
        left=-edge - (0 if left.through else over),
        top=min(ys) - margin,
        right=edge + (0 if right.through else over),
        bottom=max(ys) + margin,
    )


def _block(width: float, top: float, bottom: float) -> Path:
    half = width / 2
    return (("M", (-half, top)), ("L", (half, top)), ("L", (half, bottom)), ("L", (-half, bottom)), ("Z", ()))


@lru_cache(maxsize=512)
def crown_tile(style: LoopStyle, needle_rows: float = 0.0) -> Tile:
    """The head of a loop, as it lies over a needle.

    Args:
        style: sizes and colours.
        needle_rows: how far behind the line of loops it lies, in rows, for a loop under others.
    """
    halves = _half(style, ENDS, -1), _half(style, ENDS, 1)
    share = 0.42 if style.cell >= FULL else 0.5
    parts = [_part(half.leg, share, 1.0) for half in halves]
    path = _path(parts[0], _reversed(parts[1]))
    if style.cell < FULL:
        width = max(1.0, style.thickness)
        shapes: tuple[Shape, ...] = (
            Shape(path, pen=Pen(style.shades.rim, width + 1.4, "flat")),
            Shape(path, pen=Pen(style.colour, width, "flat")),
        )
    else:
        shapes = _stroked(style, [path], gloss=True)
    shift = -needle_rows * style.row
    shapes = tuple(Shape(_moved(shape.path, shift), shape.fill, shape.pen) for shape in shapes)
    margin = style.thickness + 2
    edge = style.cell / 2
    return Tile(
        ("crown", style, needle_rows), shapes, -edge, shift - margin, edge, shift + style.row + margin
    )


# -- curves ------------------------------------------------------------------------------------------


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share


def _split(curve: Curve, at: float) -> tuple[Curve, Curve]:
    """Both parts of a cubic curve (de Casteljau)."""
    a, b, c, d = curve
    ab, bc, cd = _between(a, b, at), _between(b, c, at), _between(c, d, at)
    abc, bcd = _between(ab, bc, at), _between(bc, cd, at)
    middle = _between(abc, bcd, at)
    return (a, ab, abc, middle), (middle, bcd, cd, d)


def _part(curve: Curve, start: float, end: float) -> Curve:
    """The part of a cubic curve between two shares of its parameter."""
    kept = _split(curve, end)[0] if end < 1 else curve
    return _split(kept, start / end)[1] if start > 0 else kept


def _reversed(curve: Curve) -> Curve:
    return curve[3], curve[2], curve[1], curve[0]


def _straight(start: Point, end: Point) -> Curve:
    return start, _between(start, end, 1 / 3), _between(start, end, 2 / 3), end


def _path(*curves: Curve) -> Path:
    """Curves that follow one another, as a path."""
    steps: list[tuple[str, tuple[float, ...]]] = [("M", curves[0][0])]
    steps += [("C", (*curve[1], *curve[2], *curve[3])) for curve in curves]
    return tuple(steps)


def _moved(path: Path, down: float) -> Path:
    return tuple(
        (step, tuple(value + down if place % 2 else value for place, value in enumerate(points)))
        for step, points in path
    )
