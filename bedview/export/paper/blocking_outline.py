"""The outline of a piece in full size, to pin it out on: sheets to join, with a grid and a ruler.

Each wale is as long as it has loops of fabric, and stands where its needle stands. So a slope of short rows
comes out as one, and so do edges that were narrowed. A piece shaped in space (a heel) does not lie flat; its
outline says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil, prod
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import Fabric, is_wrap
from bedview.export.paper.pages import INK, MM, Page, Paper, Placed
from bedview.export.paper.ruler import TALL, ruler
from bedview.language import filled
from bedview.language import gettext as _
from bedview.picture.marks import Box, DisplayList, Layer, Lines, Mark, Pen, Shape, Text, moved, polyline
from bedview.plan.gauge import length_mm_of, width_mm_of
from bedview.plan.piece import Gauge, Piece
from bedview.plan.procedure import Procedure
from bedview.plan.words import Words

_HEAD: Final = 11.0 * MM
_OVERLAP: Final = 10.0 * MM
_GRID: Final = 50.0 * MM
_OUTLINE: Final = Pen(INK.ink, 0.7 * MM)
_FAINT: Final = Pen(INK.line, 0.2 * MM, "flat")
_STEEP_ROWS: Final = 3
_STEEP_NEEDLES: Final = 4


class NoGauge(ValueError):
    """Nothing says how large a stitch is."""


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A piece laid flat; arrays over its columns, from the left.

    Attributes:
        columns: needles whose columns bear fabric, ascending.
        bottom: level of the lowest loop in each.
        top: level above the highest.
        gauge: what a stitch measures.
    """

    columns: npt.NDArray[np.intp]
    bottom: npt.NDArray[np.int64]
    top: npt.NDArray[np.int64]
    gauge: Gauge

    @property
    def width_mm(self) -> float:
        """Width of the whole."""
        return width_mm_of(int(self.columns[-1] - self.columns[0]) + 1, self.gauge)

    @property
    def height_mm(self) -> float:
        """From the lowest edge to the highest."""
        return length_mm_of(int(self.top.max() - self.bottom.min()), self.gauge)

    @property
    def cups(self) -> bool:
        """Whether neighbouring wales differ so much in length that the piece stands up somewhere."""
        lengths = self.top - self.bottom
        apart = np.abs(lengths[_STEEP_NEEDLES:] - lengths[:-_STEEP_NEEDLES])
        return bool((apart >= _STEEP_ROWS).any())

    def rings(self) -> Iterator[list[tuple[float, float]]]:
        """Closed lines in mm, x from the leftmost edge, y down from the highest point."""
        stitch = width_mm_of(1, self.gauge)
        row = length_mm_of(1, self.gauge)
        highest = int(self.top.max())
        for part in np.split(np.arange(len(self.columns)), np.flatnonzero(np.diff(self.columns) > 1) + 1):
            x = (self.columns[part] - self.columns[0] + 0.5) * stitch
            xs = [float(x[0]) - stitch / 2, *x.tolist(), float(x[-1]) + stitch / 2]
            upper = ((highest - self.top[part]) * row).tolist()
            lower = ((highest - self.bottom[part]) * row).tolist()
            along = list(zip(xs, [upper[0], *upper, upper[-1]], strict=True))
            back = list(zip(xs, [lower[0], *lower, lower[-1]], strict=True))
            yield along + back[::-1]


def outline_of(piece: Piece, procedure: Procedure) -> Outline:
    """The outline of what stays of a piece.

    Raises:
        NoGauge: if no fabric yarn has a gauge, or there is no fabric.
    """
    fabric_yarns = [yarn.id for yarn in piece.yarns if yarn.role == "fabric"]
    gauge = next((gauge for gauge in piece.gauges if gauge.yarn in fabric_yarns), None)
    if gauge is None:
        raise NoGauge(_("a blocking outline needs the gauge of a yarn that stays in the piece"))
    needle, level = _kept(procedure.timeline.fabric)
    if not len(needle):
        raise NoGauge(_("there is no fabric to outline"))
    columns = np.unique(needle)
    bottom = np.full(int(columns[-1]) + 1, np.iinfo(np.int64).max)
    top = np.full(int(columns[-1]) + 1, -1, np.int64)
    np.minimum.at(bottom, needle, level)
    np.maximum.at(top, needle, level)
    return Outline(columns, bottom[columns], top[columns] + 1, gauge)


def _kept(fabric: Fabric) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.int64]]:
    """Column and level of every loop that stays, wraps aside."""
    loops = np.flatnonzero(~is_wrap(fabric.kind))
    loops = loops[~fabric.waste(loops)]
    return fabric.needle[loops].astype(np.intp), fabric.level[loops].astype(np.int64)


def outline_pages(outline: Outline, paper: Paper, words: Words) -> list[Page]:
    """The outline in full size, row by row from the top left, on paper laid so that fewest sheets do."""
    paper = min((paper, paper.sideways()), key=lambda each: prod(_sheets(outline, each)))
    across, down = _sheets(outline, paper)
    room, tall = _room_on(paper)
    whole_wide, whole_tall = outline.width_mm * MM + 4 * MM, outline.height_mm * MM + 4 * MM
    drawn = [moved(mark, 2 * MM, 2 * MM) for mark in _drawn(outline, whole_wide, whole_tall)]
    pages = []
    for row in range(down):
        for column in range(across):
            x, y = column * (room - _OVERLAP), row * (tall - _OVERLAP)
            marks = [moved(mark, -x, -y) for mark in drawn]
            tile = DisplayList(
                room, tall, INK.paper, (Layer("outline", (*_joins(column, row, room, tall), *marks)),)
            )
            left, top = paper.margin_mm * MM, paper.margin_mm * MM
            name = f"{chr(ord('A') + column % 26)}{row + 1}"
            head = _head(outline, words, name, (across, down))
            pages.append(
                Page(
                    paper,
                    (
                        *(moved(mark, left, top) for mark in head),
                        Box(left, top + _HEAD, room, tall, 0, None, Pen(INK.quiet_ink, 0.2 * MM)),
                        *ruler(
                            left + 2 * MM,
                            top + paper.height_of_text - TALL,
                            words.gettext("Must be 100 mm long"),
                        ),
                    ),
                    (Placed(tile, left, top + _HEAD, 1.0),),
                )
            )
    return pages


def _room_on(paper: Paper) -> tuple[float, float]:
    """Width and height of what a sheet takes of the outline."""
    return paper.room, paper.height_of_text - _HEAD - TALL


def _sheets(outline: Outline, paper: Paper) -> tuple[int, int]:
    """How many sheets side by side, and how many below each other."""
    room, tall = _room_on(paper)
    whole_wide, whole_tall = outline.width_mm * MM + 4 * MM, outline.height_mm * MM + 4 * MM
    across = max(1, ceil((whole_wide - _OVERLAP) / (room - _OVERLAP)))
    return across, max(1, ceil((whole_tall - _OVERLAP) / (tall - _OVERLAP)))


def _head(outline: Outline, words: Words, name: str, pages: tuple[int, int]) -> Iterator[Mark]:
    _ = words.gettext
    title = _("Blocking outline, sheet {name}; {across} across, {down} down").format(
        name=name, across=pages[0], down=pages[1]
    )
    yield Text(0, 4 * MM, title, 4.2 * MM, INK.ink, bold=True)
    gauge = outline.gauge
    size = filled(
        _("{wide:.1f} by {tall:.1f} cm; {stitches:g} stitches and {rows:g} rows over {cm:g} cm"),
        wide=outline.width_mm / 10,
        tall=outline.height_mm / 10,
        stitches=gauge.stitches,
        rows=gauge.rows,
        cm=gauge.over_mm / 10,
    )
    if outline.cups:
        size += "; " + _("shaped in space: pin only what lies flat")
    yield Text(0, 8.6 * MM, size, 3.2 * MM, INK.quiet_ink)


def _joins(column: int, row: int, room: float, tall: float) -> Iterator[Mark]:
    """Where the sheet before is to be laid on this one."""
    if column:
        yield Box(0, 0, _OVERLAP, tall, 0, f"{INK.idle}22")
    if row:
        yield Box(0, 0, room, _OVERLAP, 0, f"{INK.idle}22")


def _drawn(outline: Outline, wide: float, tall: float) -> Iterator[Mark]:
    """The grid of 5 cm, and the outline on it."""
    xs, ys = np.arange(0, wide + _GRID, _GRID), np.arange(0, tall + _GRID, _GRID)
    upright = np.column_stack((xs, np.zeros(len(xs)), xs, np.full(len(xs), tall)))
    level = np.column_stack((np.zeros(len(ys)), ys, np.full(len(ys), wide), ys))
    yield Lines(_FAINT, np.concatenate((upright, level)))
    for place, x in enumerate(xs[1:].tolist(), 1):
        for other, y in enumerate(ys[1:].tolist(), 1):
            label = f"{place * 5} / {other * 5} cm"
            yield Text(x + 1 * MM, y - 1 * MM, label, 2.4 * MM, INK.quiet_ink)
    for ring in outline.rings():
        points = [(x * MM, y * MM) for x, y in ring]
        yield replace(Shape(polyline(*points, closed=True)), pen=_OUTLINE)
