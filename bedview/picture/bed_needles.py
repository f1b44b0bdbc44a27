"""Needles, the loops and wraps on them, and how many lie on one needle."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import Position
from bedview.picture.bed_fabric import loop_style
from bedview.picture.bed_layout import DETAILED_CELL, BedLayout
from bedview.picture.bed_runs import in_columns, runs_where, tiles_where
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import Palette, yarn_shades
from bedview.picture.loop_tiles import crown_tile
from bedview.picture.marks import Box, Boxes, Mark, MeasureText, Text, Tiles
from bedview.picture.needle_tiles import needle_style, needle_tile, wrap_tile

COUNTED_FROM = 3
"""Loops or wraps on one needle from which their number is written beside them."""


def needle_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """Every needle shown, stretches of one position as runs; bands on the lip where cells are narrow."""
    positions = in_columns(scene.positions, layout)
    marks: list[Mark] = []
    for position in Position:
        tile = needle_tile(needle_style(layout, palette, position), position)
        marks.append(tiles_where(tile, positions == position, layout.gate, layout))
    if layout.cell < DETAILED_CELL:
        marks += _bands(positions, layout, palette)
    return tuple(marks)


def _bands(positions: npt.NDArray[np.uint8], layout: BedLayout, palette: Palette) -> Iterator[Boxes]:
    """Positions once more on the lip: hold full, upper two thin lines, work one thin line, out nothing."""
    top, bottom = layout.lip_top, layout.gate
    line = max(1.0, round((bottom - top) / 5))
    heights = {
        Position.HOLD: ((top, bottom - top),),
        Position.UPPER: ((top, line), (bottom - line, line)),
        Position.WORK: ((bottom - line, line),),
    }
    for position, parts in heights.items():
        starts, counts = runs_where(positions == position)
        x, width = layout.left + starts * layout.cell, counts * layout.cell
        for y, height in parts:
            yield Boxes(
                palette.needle, np.column_stack((x, np.full(len(x), y), width, np.full(len(x), height)))
            )


def loop_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """A crown over every needle that bears a loop, and a second one behind it where it bears several."""
    loops, yarn = (in_columns(part, layout) for part in (scene.loops, scene.loop_yarn))
    odd = in_columns(_odd_tops(scene), layout)
    marks: list[Mark] = []
    for index in range(len(scene.yarns)):
        for lighter in (False, True):
            style = loop_style(scene, layout, palette, index, lighter)
            here = (yarn == index) & (odd == lighter)
            several = here & (loops >= 2)
            if several.any():
                marks.append(tiles_where(crown_tile(style, 0.62), several, layout.loop_line, layout))
            if here.any():
                marks.append(tiles_where(crown_tile(style), here & (loops >= 1), layout.loop_line, layout))
    return tuple(marks)


def _odd_tops(scene: BedScene) -> npt.NDArray[np.bool_]:
    """Whether the uppermost loop of each needle is painted lighter."""
    return scene.fabric.odd[0] if scene.fabric.depth else np.zeros(scene.needles, np.bool_)


def wrap_line(layout: BedLayout, nth: int) -> float:
    """Height of the middle of a needle's ``nth`` wrap, from 0."""
    return (
        layout.loop_line + (0.86 + 0.52 * nth) * layout.row
        if layout.cell >= DETAILED_CELL
        else layout.loop_line + 5 + 5 * nth
    )


def wrap_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """A slanted bar for a wrap, a second one for more."""
    wraps, yarn = (in_columns(part, layout) for part in (scene.wraps, scene.wrap_yarn))
    marks: list[Mark] = []
    for index in np.unique(yarn[yarn >= 0]).tolist():
        shades = yarn_shades(scene.yarns[index].colour, palette)
        tile = wrap_tile(layout.cell, layout.row, shades, palette.paper, palette.ink)
        for nth in range(2):
            here = (yarn == index) & (wraps > nth)
            if here.any():
                marks.append(tiles_where(tile, here, wrap_line(layout, nth), layout))
    return tuple(marks)


def count_marks(
    scene: BedScene, layout: BedLayout, palette: Palette, measure: MeasureText
) -> tuple[Mark, ...]:
    """Numbers on the plate beside needles that bear three or more loops, or three or more wraps."""
    size = max(9.0, 11 * layout.unit)
    marks: list[Mark] = []
    free_from = -1e9
    order = range(layout.first, layout.last + 1)
    for needle in reversed(order) if layout.turned else order:
        most = max(int(scene.loops[needle]), int(scene.wraps[needle]))
        if most < COUNTED_FROM:
            continue
        text, x = str(most), layout.x_of(needle)
        half = measure(text, size, True) / 2 + 2
        if x - half < free_from:
            continue
        free_from = x + half + 1
        y = layout.rail_bottom + 4 * layout.unit + size
        marks.append(Box(x - half, y - size * 0.95, 2 * half, size * 1.2, 3, palette.paper))
        marks.append(Text(x, y, text, size, palette.ink, "middle", bold=True))
    return tuple(marks)


def needles_painted(marks: tuple[Mark, ...], position: Position) -> int:
    """How many needles in a position these marks show."""
    tiles = [mark for mark in marks if isinstance(mark, Tiles)]
    return sum(
        mark.total for mark in tiles if "needle" in mark.tile.key[:2] and mark.tile.key[-1] == position
    )
