"""The fabric below the needles: cells of equal loops side by side become runs of tiles."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_runs import in_columns
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import Palette, yarn_shades
from bedview.picture.loop_tiles import SINK, LoopStyle, loop_tiles
from bedview.picture.marks import Box, Fade, Lines, Mark, Pen, Tile, Tiles

_WAYS = 16
"""Room for a way (-4 to 7, moved up by 4) in a packed code."""


def fabric_marks(scene: BedScene, layout: BedLayout, palette: Palette) -> tuple[Mark, ...]:
    """Floats, then legs, then bumps of all loops, then a veil where the fabric runs out of the picture."""
    if not scene.fabric.depth:
        return ()
    behind: list[Mark] = list(_floats(scene, layout, palette))
    before: list[Mark] = []
    for back, front in _loop_runs(scene, layout, palette):
        behind.append(back)
        if front is not None:
            before.append(front)
    deep = 0.42 * (layout.fabric_bottom - layout.loop_line)
    veil = Fade(0, layout.fabric_bottom - deep, layout.width, deep, palette.paper)
    below = Box(
        0,
        layout.fabric_bottom - 0.5,
        layout.width,
        layout.height - layout.fabric_bottom + 1,
        0,
        palette.paper,
    )
    return (*behind, *before, veil, below)


def loop_style(scene: BedScene, layout: BedLayout, palette: Palette, yarn: int, odd: bool) -> LoopStyle:
    """How loops of a yarn are painted."""
    seen = scene.yarns[yarn]
    return LoopStyle(
        layout.cell, layout.row, yarn_shades(seen.colour, palette), odd, seen.role, layout.turned
    )


def _loop_runs(scene: BedScene, layout: BedLayout, palette: Palette) -> Iterator[tuple[Tiles, Tiles | None]]:
    """Runs of every kind of cell: the tile behind and the tile in front."""
    codes = _codes(scene, layout)
    rows, starts, counts, kinds = _runs_of(codes)
    if not len(kinds):
        return
    order = np.argsort(kinds, kind="stable")
    cuts = np.flatnonzero(np.diff(kinds[order])) + 1
    x = (layout.left + (starts + 0.5) * layout.cell).astype(np.float64)
    y = (layout.loop_line + rows * layout.row).astype(np.float64)
    for group in np.split(order, cuts):
        yarn, odd, left, right = _unpacked(int(kinds[group[0]]))
        back, front = loop_tiles(loop_style(scene, layout, palette, yarn, odd), left, right)
        place = x[group], y[group], counts[group]
        yield Tiles(back, layout.cell, *place), None if front is None else Tiles(front, layout.cell, *place)


def _codes(scene: BedScene, layout: BedLayout) -> npt.NDArray[np.int64]:
    """One number a cell that says how it looks, -1 for none; shape (rows, columns shown)."""
    window = scene.fabric
    rows = min(window.depth, layout.fabric_rows)
    yarn, odd, left, right = (
        in_columns(part[:rows], layout).astype(np.int64)
        for part in (window.yarn, window.odd, window.left, window.right)
    )
    if layout.turned:
        left, right = right, left
    codes = ((yarn * 2 + odd) * _WAYS + left + 4) * _WAYS + right + 4
    return np.where(yarn >= 0, codes, -1)


def _unpacked(code: int) -> tuple[int, bool, int, int]:
    rest, right = divmod(code, _WAYS)
    rest, left = divmod(rest, _WAYS)
    yarn, odd = divmod(rest, 2)
    return yarn, bool(odd), left - 4, right - 4


def _runs_of(
    codes: npt.NDArray[np.int64],
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp], npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Row, first column, length and code of every stretch of equal cells in a row."""
    rows, columns = codes.shape
    first = np.ones((rows, columns), np.bool_)
    first[:, 1:] = codes[:, 1:] != codes[:, :-1]
    flat = np.flatnonzero(first)
    counts = np.diff(np.append(flat, rows * columns))
    kinds = codes.ravel()[flat]
    real = kinds >= 0
    flat = flat[real]
    return flat // columns, flat % columns, counts[real], kinds[real]


def _floats(scene: BedScene, layout: BedLayout, palette: Palette) -> Iterator[Lines]:
    """Yarn over columns without a loop: straight lines, from sinker to sinker."""
    floats = scene.fabric.floats
    sink = SINK * layout.row
    half = 0.3 * layout.cell
    for yarn in np.unique(floats[:, 4]).tolist():
        one, depth_one, other, depth_other = floats[floats[:, 4] == yarn][:, :4].T
        if layout.turned:
            one, depth_one, other, depth_other = other, depth_other, one, depth_one
        column_one = layout.last - one if layout.turned else one - layout.first
        column_other = layout.last - other if layout.turned else other - layout.first
        ends = np.column_stack(
            (
                layout.left + (column_one + 0.5) * layout.cell + half,
                layout.loop_line + depth_one * layout.row + sink,
                layout.left + (column_other + 0.5) * layout.cell - half,
                layout.loop_line + depth_other * layout.row + sink,
            )
        )
        ends = ends[(ends[:, 1] < layout.fabric_bottom) & (ends[:, 3] < layout.fabric_bottom)]
        style = loop_style(scene, layout, palette, yarn, odd=False)
        yield Lines(Pen(style.shades.rim, 0.7 * style.thickness + 1.6, "flat"), ends)
        yield Lines(Pen(style.shades.body, 0.7 * style.thickness, "flat"), ends)


def loops_painted(marks: tuple[Mark, ...], kind: str) -> int:
    """How many loops these marks show; ``kind`` is ``back``, ``front`` or ``whole``."""
    return sum(mark.total for mark in marks if isinstance(mark, Tiles) and _is_loop(mark.tile, kind))


def _is_loop(tile: Tile, kind: str) -> bool:
    return "loop" in tile.key[:2] and kind in tile.key[:4]
