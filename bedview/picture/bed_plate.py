"""What stays where it is: the plate with its rail and slots, needle numbers, names of positions, the map."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bedview.bed.needles import Position, needle_name
from bedview.language import gettext as _
from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_runs import runs_where, tiles_where
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import Palette
from bedview.picture.marks import Box, Boxes, Mark, MeasureText, Pen, Shape, Text, Tile, polyline
from bedview.picture.name_row import NameRow
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
        Box(edge, rail, wide, 1, 0, palette.lip),
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


# -- numbers -----------------------------------------------------------------------------------------


def number_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText
) -> tuple[Mark, ...]:
    """Names of needles above the plate: those to be touched first, then the innermost, then every fifth.

    A name is left out where it would touch another or leave the picture; the two innermost go together.
    """
    size = layout.number_size
    baseline = layout.plate_top - 0.5 * size
    names = NameRow(lambda needle: needle_name(needle, layout.needles), layout.x_of, size, measure)
    marks: list[Mark] = []
    half = layout.needles // 2
    touched = [needle for needle in scene.touched() if layout.shows(needle)]
    ends = touched[:1] + touched[-1:] if len(touched) > 8 else touched
    groups = [[needle] for needle in ends] + [[half - 1, half]]
    groups += [[needle] for step in _steps(layout, measure) for needle in (half - step, half + step - 1)]
    for group in groups:
        bold = group[0] in ends
        if all(map(layout.shows, group)) and names.takes(group, 1, layout.width - 1, bold=bold):
            colour = palette.hands if bold else palette.quiet_ink
            for needle in group:
                name = needle_name(needle, layout.needles)
                marks.append(Text(layout.x_of(needle), baseline, name, size, colour, "middle", bold))
    return tuple(marks)


def _steps(layout: BedLayout, measure: MeasureText) -> range:
    """Needle numbers that are named: every fifth, or as many more apart as their names need."""
    half = layout.needles // 2
    need = measure(f"L{half}", layout.number_size, False) + 0.9 * layout.number_size
    every = next((every for every in (1, 5, 10, 20, 50) if every * layout.cell >= need), 100)
    return range(every, half + 1, every)


def label_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText, *, carriage_right: bool
) -> tuple[Mark, ...]:
    """Names of the four positions at the height of their butts, on the side away from the carriage."""
    if not scene.view.show_labels:
        return ()
    size = max(8.0, 11 * layout.unit) * layout.letters
    butts = [layout.butt(position) for position in Position]
    room = (layout.left if carriage_right else layout.width - layout.right) - 14 * layout.unit
    labels = [_(label) for label in scene.view.labels]
    widest = max(measure(label, size, False) for label in labels)
    if widest + 12 * layout.unit > room or min(np.diff(butts)) < size:
        return ()
    marks: list[Mark] = []
    at = layout.left - 8 * layout.unit if carriage_right else layout.right + 8 * layout.unit
    for label, y in zip(labels, butts, strict=True):
        marks.append(
            Text(at, y + 0.35 * size, label, size, palette.quiet_ink, "end" if carriage_right else "start")
        )
    return tuple(marks)


# -- the map -----------------------------------------------------------------------------------------


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
        starts, counts = runs_where(positions == position)
        y, high = np.full(len(starts), top + start * tall), np.full(len(starts), share * tall)
        marks.append(Boxes(palette.needle, np.column_stack((left + starts * step, y, counts * step, high))))
    shown = (count - 1 - layout.last) if layout.turned else layout.first
    frame = Pen(palette.ink, 1.6 * layout.unit)
    shown_left, width = left + shown * step, layout.columns * step
    above = 3 * layout.unit
    marks.append(Box(shown_left - 1, top - above, width + 2, tall + 2 * above, 3, None, frame))
    return tuple(marks)
