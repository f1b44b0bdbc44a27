"""The carriage with its dial, cams and yarn; the yarn that runs to it; the pass that comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import floor

import numpy as np

from bedview.language import gettext as _
from bedview.language import number
from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_needles import wrap_line
from bedview.picture.bed_runs import in_columns, tiles_where
from bedview.picture.bed_scene import BedScene, ComingPass
from bedview.picture.look import Palette, yarn_shades
from bedview.picture.marks import Box, Mark, MeasureText, Path, Pen, Shape, Text, circle, polyline
from bedview.picture.needle_tiles import coming_wrap_tile


def carriage_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText, *, carriage_right: bool
) -> tuple[Mark, ...]:
    """The carriage: yarn and dial side by side, or one above the other where it is narrow."""
    unit = layout.unit
    left, top = layout.carriage_left(carriage_right), layout.plate_top + 7 * unit
    width, height = layout.carriage_width, layout.carriage_height
    marks: list[Mark] = [
        Box(left + 5 * unit, top + height - 8 * unit, width - 10 * unit, 15 * unit, 5 * unit, palette.needle),
        Box(left, top, width, height, 11 * unit, palette.body, Pen(palette.paper, 1.5)),
    ]
    draw = _wide if width >= 118 * unit else _narrow
    marks.extend(draw(scene, layout, palette, measure, (left, top)))
    return tuple(marks)


def _dial(scene: BedScene) -> str:
    return _("no dial") if scene.dial is None else _("dial {dial}").format(dial=number(scene.dial))


def _wide(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText, corner: tuple[float, float]
) -> Iterator[Mark]:
    """What stands on a carriage with room."""
    unit, (left, top) = layout.unit, corner
    width, height = layout.carriage_width, layout.carriage_height
    pad = 10 * unit
    field = 0.44 * height
    yield Box(left + pad, top + pad, width - 2 * pad, field, 6 * unit, palette.body_field)
    middle = top + pad + field / 2
    swatch = 0.27 * field
    yield from _swatch(scene, palette, left + pad + swatch + 6 * unit, middle, swatch)
    dial = Text(
        left + pad + 2 * swatch + 13 * unit, middle, _dial(scene), 18 * unit, palette.on_body, bold=True
    )
    yield _fitted(dial, left + width - pad - 4 * unit, measure)
    line = top + pad + field + (height - pad - field) / 2
    yield from _cam(unit, palette, left + pad, line, on=scene.hold_cams)
    cams = _("hold cams on") if scene.hold_cams else _("hold cams off")
    said = Text(left + pad + 15 * unit, line, cams, 14 * unit, palette.on_body)
    yield _fitted(said, left + width - 5 * unit, measure)


def _narrow(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText, corner: tuple[float, float]
) -> Iterator[Mark]:
    """The same on a narrow one: yarn, dial and cams from top to bottom."""
    (left, top), width, height = corner, layout.carriage_width, layout.carriage_height
    small = min(layout.unit, width / 80)
    middle, size = left + width / 2, 15 * small
    yield Box(
        left + 5 * small, top + 5 * small, width - 10 * small, 0.62 * height, 6 * small, palette.body_field
    )
    swatch = min(0.14 * height, 0.2 * width)
    yield from _swatch(scene, palette, middle, top + 0.10 * height + swatch, swatch)
    dial = Text(middle, top + 0.58 * height, _dial(scene), size, palette.on_body, "middle", bold=True)
    yield _narrowed(dial, width - 16 * small, measure)
    line = top + 0.82 * height
    yield from _cam(small, palette, left + 7 * small, line, on=scene.hold_cams)
    cams = _("cams on") if scene.hold_cams else _("cams off")
    said = Text(left + 20 * small, line, cams, 13 * small, palette.on_body)
    yield _fitted(said, left + width - 4 * small, measure)


def _narrowed(text: Text, room: float, measure: MeasureText) -> Text:
    """A text made smaller where it is wider than ``room``.

    Fonts come in whole sizes, and their widths do not shrink evenly: each size is measured.
    """
    size = text.size
    width = measure(text.text, size, text.bold)
    if width <= room:
        return text
    size = max(1.0, floor(size * room / width))
    while size > 1 and measure(text.text, size, text.bold) > room:
        size -= 1
    return replace(text, size=size)


def _fitted(text: Text, right: float, measure: MeasureText) -> Text:
    """A text whose ``y`` is its middle, made smaller where it would reach beyond ``right``."""
    fitting = _narrowed(text, max(1.0, right - text.x), measure)
    return replace(fitting, y=text.y + 0.36 * fitting.size)


def _cam(unit: float, palette: Palette, x: float, middle: float, *, on: bool) -> Iterator[Shape]:
    """A switch: turned up and full when the cams are on, down and empty when off."""
    half = 5 * unit
    point = -half if on else half
    path = polyline(
        (x, middle - point), (x + 2 * half, middle - point), (x + half, middle + point), closed=True
    )
    yield Shape(path, palette.on_body if on else None, Pen(palette.on_body, 1.4 * unit))


def _swatch(scene: BedScene, palette: Palette, x: float, y: float, radius: float) -> Iterator[Shape]:
    """The yarn in the feeder, or an empty ring with a stroke through it."""
    if scene.feeder < 0:
        ring = Pen(palette.on_body, max(1.2, radius * 0.2))
        yield Shape(circle(x, y, radius * 0.9), None, ring)
        yield Shape(
            polyline((x - radius * 0.6, y + radius * 0.6), (x + radius * 0.6, y - radius * 0.6)), pen=ring
        )
        return
    colour = scene.yarns[scene.feeder].colour
    yield Shape(circle(x, y, radius), colour, Pen(palette.on_body, max(1.4, radius * 0.18)))


# -- yarn --------------------------------------------------------------------------------------------


def feeder_point(layout: BedLayout, *, carriage_right: bool) -> tuple[float, float]:
    """Where the yarn leaves the carriage: below it, on the side of the needles."""
    left = layout.carriage_left(carriage_right)
    inset = 24 * layout.unit
    x = left + inset if carriage_right else left + layout.carriage_width - inset
    return x, layout.plate_top + 12 * layout.unit + layout.carriage_height


def yarn_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, *, carriage_right: bool
) -> tuple[Mark, ...]:
    """The strand from its last loop to the carriage; a short free end if there is no such loop on the bed."""
    if scene.feeder < 0:
        return ()
    shades = yarn_shades(scene.yarns[scene.feeder].colour, palette)
    path = _strand(
        scene, layout, feeder_point(layout, carriage_right=carriage_right), 1 if carriage_right else -1
    )
    width = max(1.6, min(0.26 * layout.row, 5.5 * layout.unit))
    rim = max(1.4, width * 0.3)
    return (
        Shape(path, pen=Pen(palette.paper, width + 2 * rim + 2)),
        Shape(path, pen=Pen(shades.rim, width + rim)),
        Shape(path, pen=Pen(shades.light, width)),
    )


def _strand(scene: BedScene, layout: BedLayout, feeder: tuple[float, float], side: int) -> Path:
    x, y = feeder
    if scene.tip < 0:
        fall = 40 * layout.unit
        return (
            ("M", (x, y)),
            ("C", (x, y + fall * 0.5, x - side * 12 * layout.unit, y + fall * 0.6, x, y + fall)),
        )
    tip_x = layout.x_of(scene.tip)
    start_x = tip_x + side * 0.34 * layout.cell
    start_y = wrap_line(layout, 0) if scene.tip_is_wrap else layout.loop_line + 0.45 * layout.row
    if (x - start_x) * side < 0:
        start_x = tip_x
    reach = x - start_x
    sag = min(26 * layout.unit, 6 * layout.unit + abs(reach) * 0.10)
    return (
        ("M", (start_x, start_y)),
        ("C", (start_x + 0.40 * reach, start_y + sag, start_x + 0.86 * reach, start_y + sag, x, y)),
    )


# -- the coming pass ---------------------------------------------------------------------------------


def coming_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, *, carriage_right: bool
) -> tuple[Mark, ...]:
    """The arrow along the rail, and rings where the pass will wrap."""
    coming = scene.coming
    if coming is None:
        return ()
    marks: list[Mark] = []
    wrapped = np.zeros(scene.needles, np.bool_)
    wrapped[coming.wrapped] = True
    shown = in_columns(wrapped, layout)
    if shown.any():
        tile = coming_wrap_tile(layout.cell, layout.row, palette.carriage, palette.paper)
        fresh = in_columns(scene.wraps, layout)
        for nth in range(2):
            here = shown & (np.minimum(fresh, 1) == nth)
            marks.append(tiles_where(tile, here, wrap_line(layout, nth), layout))
    marks.extend(_arrow(scene, coming, layout, palette, carriage_right=carriage_right))
    return tuple(marks)


def _arrow(
    scene: BedScene, coming: ComingPass, layout: BedLayout, palette: Palette, *, carriage_right: bool
) -> Iterator[Shape]:
    """From the carriage to just beyond the last needle that acts; broken where no yarn is in the feeder."""
    toward = -1 if carriage_right else 1
    near = layout.carriage_left(carriage_right)
    start = near - 12 * layout.unit if carriage_right else near + layout.carriage_width + 12 * layout.unit
    acting = np.concatenate((coming.knit, coming.dropped))
    xs = [layout.x_of(int(needle)) for needle in (acting[[0, -1]] if len(acting) else ())]
    far = (min(xs) if toward < 0 else max(xs)) if xs else layout.left if toward < 0 else layout.right
    end = min(max(far + toward * layout.cell * 0.5, layout.left), layout.right)
    y = (layout.plate_top + layout.rail_bottom) / 2 + 1
    width, head = 5.5 * layout.unit, 12 * layout.unit
    dash = () if len(coming.knit) or scene.feeder >= 0 else (3 * width, 2 * width)
    yield Shape(
        polyline((start, y), (end - toward * width * 0.6, y)), pen=Pen(palette.carriage, width, "flat", dash)
    )
    yield Shape(
        polyline((end - toward * head, y - head * 0.8), (end, y), (end - toward * head, y + head * 0.8)),
        pen=Pen(palette.carriage, width),
    )
