"""The pictures a stepping page is put together from, drawn once and used by name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

import numpy as np

from bedview.bed.needles import Position, Side
from bedview.export.stepping.geometry import (
    CARRIAGE_UNIT,
    CELL,
    EDGE,
    RAIL,
    ROW,
    SLOTS,
    PageBed,
)
from bedview.export.stepping.looks import LookSheet
from bedview.picture.bed_carriage import carriage_marks
from bedview.picture.bed_needles import COUNTED_FROM
from bedview.picture.bed_runs import tiles_where
from bedview.picture.bed_scene import BedScene, YarnSeen
from bedview.picture.look import Palette, yarn_shades
from bedview.picture.loop_tiles import LoopStyle, crown_tile
from bedview.picture.marks import Box, Mark, Shape, Text, Tile, move_path, polyline
from bedview.picture.needle_tiles import coming_wrap_tile, needle_style, needle_tile, slot_tile, wrap_tile

CARRIAGE_WIDTH: Final = 118.5 * CARRIAGE_UNIT
LETTERS: Final = "owuh"
"""Positions as data has them: out, work, upper, hold."""


class Cell(NamedTuple):
    """All there is to see of one needle.

    Attributes:
        position: where it stands.
        loops: loops on it, wraps aside.
        wraps: wraps on it.
        loop_yarn: index of the yarn of its uppermost loop, -1 for none.
        wrap_yarn: of its uppermost wrap.
    """

    position: int
    loops: int
    wraps: int
    loop_yarn: int
    wrap_yarn: int


@dataclass(frozen=True, slots=True)
class Symbols:
    """Draws what the page uses.

    Attributes:
        bed: sizes and places.
        yarns: the piece's yarns.
        sheet: gives the classes away.
    """

    bed: PageBed
    yarns: Sequence[YarnSeen]
    sheet: LookSheet

    # -- needles ------------------------------------------------------------------------------------------

    def cell(self, number: int, cell: Cell) -> str:
        """A needle with what hangs on it; anchor at the gate in the middle of its column."""
        drawn = self.sheet.markup(lambda palette: self._cell(cell, palette))
        facts = (
            f'data-position="{LETTERS[cell.position]}" data-loops="{cell.loops}" data-wraps="{cell.wraps}"'
        )
        return f'<g id="c{number}" {facts}>{drawn}</g>'

    def _cell(self, cell: Cell, palette: Palette) -> Iterator[Mark]:
        layout = self.bed.layout()
        crown = layout.loop_line - layout.gate
        position = Position(cell.position)
        yield from needle_tile(needle_style(layout, palette, position), position).shapes
        if cell.loops:
            style = self._style(cell.loop_yarn, palette, odd=False)
            if cell.loops > 1:
                yield from _moved(crown_tile(style, 0.62), crown)
            yield from _moved(crown_tile(style), crown)
        if cell.wraps:
            shades = yarn_shades(self.yarns[cell.wrap_yarn].colour, palette)
            tile = wrap_tile(CELL, ROW, shades, palette.paper, palette.ink)
            for nth in range(min(2, cell.wraps)):
                yield from _moved(tile, crown + (0.86 + 0.52 * nth) * ROW)
        most = max(cell.loops, cell.wraps)
        if most >= COUNTED_FROM:
            yield Box(-7, 8 - SLOTS, 14, 15, 3, palette.paper)
            yield Text(0, 20 - SLOTS, str(most), 13, palette.ink, "middle", bold=True)

    def _style(self, yarn: int, palette: Palette, *, odd: bool) -> LoopStyle:
        seen = self.yarns[yarn]
        return LoopStyle(CELL, ROW, yarn_shades(seen.colour, palette), odd, seen.role)

    def coming_wrap(self) -> str:
        """The ring where the coming pass will lay a wrap; anchor as of a needle."""
        layout = self.bed.layout()
        y = layout.loop_line - layout.gate + 0.86 * ROW
        drawn = self.sheet.markup(
            lambda palette: _moved(coming_wrap_tile(CELL, ROW, palette.carriage, palette.paper), y)
        )
        return f'<g id="ring">{drawn}</g>'

    # -- the plate ----------------------------------------------------------------------------------------

    def plate(self) -> str:
        """Rail, slots, lip, and the mark of the bed's centre."""
        return self.sheet.markup(self._plate)

    def _plate(self, palette: Palette) -> Iterator[Mark]:
        bed, gate = self.bed, self.bed.gate
        wide = bed.width - 4
        yield Box(2, 2, wide, gate - 2, 8, palette.plate)
        yield Box(2, 2, wide, RAIL - 2, 8, palette.rail)
        yield Box(2, RAIL - 10, wide, 10, 0, palette.rail)
        yield Box(2, RAIL, wide, 1, 0, palette.lip)
        yield Box(2, gate - 8, wide, 8, 0, palette.lip)
        slot = slot_tile(CELL, 4 - SLOTS, -8, palette.groove, palette.lip, 1.0)
        there = np.ones(bed.last - bed.first + 1, np.bool_)
        yield tiles_where(slot, there, gate, bed.layout())
        half = bed.needles // 2
        if bed.first < half <= bed.last:
            x = bed.x_of(half - 0.5)
            yield Shape(polyline((x - 6, RAIL), (x + 6, RAIL), (x, RAIL + 9), closed=True), palette.ink)

    # -- the carriage -------------------------------------------------------------------------------------

    def carriage(self, number: int, scene: BedScene) -> str:
        """The carriage as its dial, cams and yarn are set; anchor at its upper left corner."""
        layout = self.bed.layout(CARRIAGE_UNIT, CARRIAGE_WIDTH)
        left, top = layout.carriage_left(False), layout.plate_top + 7 * CARRIAGE_UNIT

        def draw(palette: Palette) -> tuple[Mark, ...]:
            return carriage_marks(scene, layout, palette, _narrow_letters, carriage_right=False)

        drawn = self.sheet.markup(draw)
        return f'<g id="k{number}"><g transform="translate({-left:g} {-top:g})">{drawn}</g></g>'

    def places(self) -> dict[str, float]:
        """Where the carriage stands on either side, and where its yarn leaves it."""
        high = 92 * CARRIAGE_UNIT
        return {
            "left": EDGE / 2,
            "right": self.bed.width - EDGE / 2 - CARRIAGE_WIDTH,
            "top": (RAIL - high) / 2 - 2,
            "width": CARRIAGE_WIDTH,
            "height": high,
        }


def _moved(tile: Tile, y: float) -> Iterator[Shape]:
    """The shapes of a tile, further down."""
    return (replace(shape, path=move_path(shape.path, 0, y)) for shape in tile.shapes)


def _narrow_letters(text: str, size: float, bold: bool) -> float:
    """Width of a text in whatever font the reader has, rather too wide than too narrow."""
    return len(text) * size * (0.62 if bold else 0.57)


def side_letter(side: Side) -> str:
    """A side as data has it."""
    return "r" if side is Side.RIGHT else "l"
