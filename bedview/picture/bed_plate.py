"""What stays where it is: the plate with its rail and slots, needle numbers, names of positions, the map."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bedview.bed.needles import Position, needle_name
from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_runs import tiles_where
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import Palette
from bedview.picture.marks import Box, Boxes, Lines, Mark, MeasureText, Pen, Shape, Text, Tile, polyline
from bedview.picture.needle_tiles import slot_tile


def plate_marks(layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """Plate, rail, slots and lip, and the mark of the bed's centre."""
    edge = 6 * layout.unit
    wide = layout.width - 2 * edge
    top, rail, gate, lip = layout.plate_top, layout.rail_bottom, layout.gate, layout.lip_top
    outline = Pen(palette.line, 1) if palette.name == "contrast" else None
    marks: list[Mark] = [
        Box(edge, top, wide, gate - top, 8 * layout.unit, palette.plate, outline),
        Box(edge, top, wide, rail - top, 8 * layout.unit, palette.rail),
        Box(edge, rail - 8 * layout.unit, wide, 8 * layout.unit, 0, palette.rail),
        Box(edge, lip, wide, gate - lip, 0, palette.lip),
        Lines(Pen(palette.lip, 1, "flat"), np.array([[edge, rail + 0.5, edge + wide, rail + 0.5]])),
    ]
    slot = _slot(layout, palette)
    marks.append(tiles_where(slot, np.ones(layout.columns, np.bool_), gate, layout))
    marks.extend(_centre(layout, palette))
    return tuple(marks)


def _slot(layout: BedLayout, palette: Palette) -> Tile:
    top = layout.rail_bottom - layout.gate + 5 * layout.unit
    return slot_tile(layout.cell, top, layout.lip_top - layout.gate, palette.groove, palette.lip, layout.unit)


def _centre(layout: BedLayout, palette: Palette) -> Iterator[Shape]:
    """A small wedge between the innermost needles."""
    half = layout.needles // 2
    if not (layout.shows(half - 1) or layout.shows(half)):
        return
    x = (layout.x_of(half - 1) + layout.x_of(half)) / 2
    size = 5.5 * layout.unit
    top = layout.plate_top
    yield Shape(polyline((x - size, top), (x + size, top), (x, top + 1.5 * size), closed=True), palette.ink)


# -- numbers ---------------------------------------------------------------------------------------------


def number_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText
) -> tuple[Mark, ...]:
    """Names of needles above the plate: those to be touched first, then the innermost, then every fifth.

    A name is left out where it would touch another or stand out of the picture.
    """
    size = layout.number_size
    taken: list[tuple[float, float]] = []
    marks: list[Mark] = []
    touched = set(scene.touched())
    for needle in _in_order_of_importance(layout, sorted(touched)):
        bold = needle in touched
        name = needle_name(needle, layout.needles)
        half = measure(name, size, bold) / 2
        x = layout.x_of(needle)
        air = 0.35 * size
        if x - half < 1 or x + half > layout.width - 1:
            continue
        if any(x - half - air < right and x + half + air > left for left, right in taken):
            continue
        taken.append((x - half, x + half))
        colour = palette.hands if bold else palette.quiet_ink
        marks.append(Text(x, layout.plate_top - 0.5 * size, name, size, colour, "middle", bold))
    return tuple(marks)


def _in_order_of_importance(layout: BedLayout, touched: list[int]) -> Iterator[int]:
    """Needles shown that may bear a name."""
    ends = touched[:1] + touched[-1:] if len(touched) > 8 else touched
    half = layout.needles // 2
    order = [*ends, half - 1, half]
    every = (
        5
        if layout.cell * 5 > 3.4 * layout.number_size
        else 10
        if layout.cell * 10 > 3.4 * layout.number_size
        else 20
    )
    for step in range(every, half + 1, every):
        order += [half - step, half + step - 1]
    seen: set[int] = set()
    for needle in order:
        if layout.shows(needle) and needle not in seen:
            seen.add(needle)
            yield needle


def label_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText, *, carriage_right: bool
) -> tuple[Mark, ...]:
    """Names of the four positions at the height of their butts, on the side away from the carriage."""
    if not scene.view.show_labels:
        return ()
    size = max(8.0, 11 * layout.unit)
    butts = [layout.butt(position) for position in Position]
    room = (layout.left if carriage_right else layout.width - layout.right) - 14 * layout.unit
    widest = max(measure(label, size, False) for label in scene.view.labels)
    if widest + 12 * layout.unit > room or min(np.diff(butts)) < size:
        return ()
    marks: list[Mark] = []
    at = layout.left - 8 * layout.unit if carriage_right else layout.right + 8 * layout.unit
    for position, y in zip(Position, butts, strict=True):
        label = scene.view.labels[position]
        marks.append(
            Text(at, y + 0.35 * size, label, size, palette.quiet_ink, "end" if carriage_right else "start")
        )
    return tuple(marks)


# -- the map ---------------------------------------------------------------------------------------------


def map_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """The whole bed in a narrow band: which needles work, which are held, and what part is shown above."""
    if not layout.has_map:
        return ()
    count = layout.needles
    wide = min(layout.width * 0.5, 420 * layout.unit)
    left = (layout.width - wide) / 2
    top, tall = layout.map_top + 6 * layout.unit, 8 * layout.unit
    step = wide / count
    positions = scene.positions[::-1] if layout.turned else scene.positions
    marks: list[Mark] = [Box(left, top, wide, tall, 2, palette.plate, Pen(palette.idle, 1))]
    heights = {Position.WORK: (0.25, 0.40), Position.UPPER: (0.25, 0.60), Position.HOLD: (0.25, 0.75)}
    for position, (start, share) in heights.items():
        places = np.flatnonzero(positions == position)
        if len(places):
            x = left + places * step
            boxes = np.column_stack(
                (x, np.full(len(x), top + start * tall), np.full(len(x), step), np.full(len(x), share * tall))
            )
            marks.append(Boxes(palette.needle, boxes))
    shown = (count - 1 - layout.last) if layout.turned else layout.first
    frame = Pen(palette.ink, 1.6 * layout.unit)
    shown_left, width = left + shown * step, layout.columns * step
    above = 3 * layout.unit
    marks.append(Box(shown_left - 1, top - above, width + 2, tall + 2 * above, 3, None, frame))
    return tuple(marks)
