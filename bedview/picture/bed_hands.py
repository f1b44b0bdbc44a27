"""What hands do next: a halo round the needles to be touched, and an arrow that says which way."""

from __future__ import annotations

from collections.abc import Iterator

from bedview.bed.needles import Position, Side, runs
from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_scene import BedScene, Touch, TouchKind
from bedview.picture.colour import with_alpha
from bedview.picture.look import Palette
from bedview.picture.marks import Box, Mark, Path, Pen, Shape, polyline

ARROW_CELL = 13.0
"""Cells narrower than this share one arrow for a stretch of needles."""


def touch_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """Halos and arrows for all touches; those of needles that are not shown stand at the picture's edge."""
    marks: list[Mark] = []
    for touch in scene.touches:
        for first, last in runs(needle for needle in touch.needles if layout.shows(needle)):
            top, bottom = _reach(scene, layout, touch, first, last)
            marks.append(_halo(layout, palette, first, last, top, bottom))
            marks.extend(_signs(scene, layout, palette, touch, (first, last)))
    return tuple(marks)


def _reach(scene: BedScene, layout: BedLayout, touch: Touch, first: int, last: int) -> tuple[float, float]:
    """Top and bottom of a halo: from the loop, or the tip where it is now, to where the tip goes."""
    tips = [layout.tip(Position(int(position))) for position in scene.positions[first : last + 1]]
    if touch.to is not None:
        tips.append(layout.tip(touch.to))
    top = min(layout.loop_line - 0.3 * layout.row, *tips) - 6 * layout.unit
    return top, max(*tips, layout.loop_line + layout.row) + 7 * layout.unit


def _halo(layout: BedLayout, palette: Palette, first: int, last: int, top: float, bottom: float) -> Box:
    left, right = sorted((layout.x_of(first), layout.x_of(last)))
    half = max(0.5 * layout.cell, 6 * layout.unit)
    pen = Pen(palette.hands, max(1.6, 2.4 * layout.unit))
    radius = min(half, 13 * layout.unit)
    return Box(
        left - half, top, right - left + 2 * half, bottom - top, radius, with_alpha(palette.hands, 0.16), pen
    )


def _signs(
    scene: BedScene, layout: BedLayout, palette: Palette, touch: Touch, stretch: tuple[int, int]
) -> Iterator[Shape]:
    """The arrows of one halo."""
    match touch.kind:
        case TouchKind.PLACE if touch.to is not None:
            yield from _moves(scene, layout, palette, touch.to, stretch)
        case TouchKind.TRANSFER if touch.target is not None:
            yield from _arrowed(_hop(layout, stretch[0], touch.target), layout, palette)
        case TouchKind.HANG:
            yield from _lifts(layout, palette, stretch)
        case TouchKind.CAST_ON:
            yield from _along(scene, layout, palette, stretch, towards_carriage=True)
        case TouchKind.BIND_OFF:
            yield from _along(scene, layout, palette, stretch, towards_carriage=False)
        case TouchKind.WRAP:
            yield from _arrowed(_round(layout, stretch[0]), layout, palette)
        case _:
            return


def _places(layout: BedLayout, stretch: tuple[int, int]) -> list[float]:
    """Where arrows stand: on every needle, or one in the middle where needles are narrow."""
    if layout.cell >= ARROW_CELL * min(1.0, layout.unit):
        return [layout.x_of(needle) for needle in range(stretch[0], stretch[1] + 1)]
    return [(layout.x_of(stretch[0]) + layout.x_of(stretch[1])) / 2]


def _moves(
    scene: BedScene, layout: BedLayout, palette: Palette, to: Position, stretch: tuple[int, int]
) -> Iterator[Shape]:
    """Arrows from where tips are to where they go."""
    now = Position(int(scene.positions[stretch[0]]))
    start, end = layout.tip(now), layout.tip(to)
    away = 1 if end > start else -1
    start = max(start, layout.loop_line + 4 * layout.unit) if away > 0 else start
    if abs(end - start) < 16 * layout.unit:
        start = end - away * 16 * layout.unit
    for x in _places(layout, stretch):
        yield from _arrowed((("M", (x, start)), ("L", (x, end))), layout, palette)


def _lifts(layout: BedLayout, palette: Palette, stretch: tuple[int, int]) -> Iterator[Shape]:
    """Arrows up to the hooks."""
    end = layout.tip(Position.WORK)
    for x in _places(layout, stretch):
        yield from _arrowed((("M", (x, end + 34 * layout.unit)), ("L", (x, end))), layout, palette)


def _along(
    scene: BedScene, layout: BedLayout, palette: Palette, stretch: tuple[int, int], *, towards_carriage: bool
) -> Iterator[Shape]:
    """An arrow along a stretch below its hooks."""
    to_last = (scene.carriage is Side.RIGHT) is towards_carriage
    ends = stretch if to_last else stretch[::-1]
    y = layout.loop_line + layout.row + 6 * layout.unit
    start, end = layout.x_of(ends[0]), layout.x_of(ends[1])
    if start == end:
        step = layout.cell if layout.x_of(stretch[0] + 1) > start else -layout.cell
        end = start + (step if to_last else -step)
    yield from _arrowed((("M", (start, y)), ("L", (end, y))), layout, palette)


def _hop(layout: BedLayout, source: int, target: int) -> Path:
    """From one hook to another, in a bow below them."""
    start, end = layout.x_of(source), layout.x_of(target)
    y = layout.tip(Position.WORK) + 3 * layout.unit
    bow = y + (22 + 2 * min(8.0, abs(end - start) / layout.cell)) * layout.unit
    return (("M", (start, y)), ("C", (start, bow, end, bow, end, y)))


def _round(layout: BedLayout, needle: int) -> Path:
    """Under and round a needle."""
    x, y = layout.x_of(needle), layout.loop_line + layout.row
    half = max(0.42 * layout.cell, 7 * layout.unit)
    deep = 16 * layout.unit
    return (
        ("M", (x + half, y - 0.3 * deep)),
        ("C", (x + half, y + deep, x - half, y + deep, x - half, y - 0.2 * deep)),
    )


def _arrowed(path: Path, layout: BedLayout, palette: Palette) -> Iterator[Shape]:
    """A path with a head at its end, on a thin cushion of paper so that it shows on any yarn."""
    width = max(1.8, 3.4 * layout.unit)
    head = 7.5 * layout.unit
    x, y = path[-1][1][-2:]
    points = path[-1][1]
    from_x, from_y = points[-4:-2] if len(points) > 2 else path[-2][1][-2:]
    length = max(1e-6, ((x - from_x) ** 2 + (y - from_y) ** 2) ** 0.5)
    along, across = (
        ((x - from_x) / length, (y - from_y) / length),
        (-(y - from_y) / length, (x - from_x) / length),
    )
    wings = [
        (x - head * along[0] + s * 0.75 * head * across[0], y - head * along[1] + s * 0.75 * head * across[1])
        for s in (1, -1)
    ]
    tip = polyline(wings[0], (x, y), wings[1])
    for pen in (Pen(palette.paper, width + 3), Pen(palette.hands, width)):
        yield Shape(path, pen=pen)
        yield Shape(tip, pen=pen)
