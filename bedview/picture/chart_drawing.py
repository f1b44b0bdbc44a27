"""The chart as a display list.

Layers: ``cards``, ``guides``, ``bars``, ``wraps``, ``axes``, ``frame``, ``marks``.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import needle_name
from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.picture.chart import SEVERITIES, ChartPart, ChartScene
from bedview.picture.chart_layout import ChartLayout, lay_out_chart
from bedview.picture.finding_signs import finding_sign
from bedview.picture.lines_of_text import shortened
from bedview.picture.look import Palette
from bedview.picture.marks import (
    Box,
    Boxes,
    DisplayList,
    Dots,
    Floats,
    Layer,
    Lines,
    Mark,
    MeasureText,
    Pen,
    Shape,
    Text,
    cautious_width,
    polyline,
)
from bedview.picture.name_row import NameRow

_SIGN = 15.0
"""Size of a finding's sign, in pixels."""
_THICKNESS = np.array([1.0, 0.5, 0.25])
"""How much of its row a bar fills: fabric, waste, ravel cord."""


def draw_chart(
    scene: ChartScene,
    width: float,
    height: float,
    palette: Palette,
    *,
    measure: MeasureText = cautious_width,
    cards: bool = True,
    layout: ChartLayout | None = None,
) -> DisplayList:
    """The chart as a display list.

    Args:
        scene: the piece, flat.
        width: of the picture in pixels.
        height: likewise.
        palette: the look.
        measure: how wide a text is.
        cards: whether the parts stand in a column on the left.
        layout: where the caller has worked it out already.
    """
    layout = layout or lay_out_chart(scene, width, height, cards=cards)
    layers = (
        Layer("cards", tuple(_cards(scene, layout, palette, measure))),
        Layer("guides", tuple(_guides(scene, layout, palette))),
        Layer("bars", tuple(_bars(scene, layout, palette))),
        Layer("wraps", tuple(_wraps(scene, layout, palette))),
        Layer("axes", tuple(_axes(scene, layout, palette, measure))),
        Layer("frame", tuple(_frame(scene, layout, palette))),
        Layer("marks", tuple(_findings(scene, layout, palette))),
    )
    title = _("{rows} rows in {parts} parts").format(rows=scene.passes, parts=len(scene.parts))
    return DisplayList(width, height, palette.paper, layers, title)


# -- parts -------------------------------------------------------------------------------------------


def _cards(scene: ChartScene, layout: ChartLayout, palette: Palette, measure: MeasureText) -> Iterator[Mark]:
    for place, (part, (top, bottom)) in enumerate(zip(scene.parts, layout.cards, strict=False)):
        chosen = place == scene.chosen
        pen = Pen(palette.carriage, 3) if chosen else Pen(palette.line, 1)
        left, wide, tall = layout.cards_left + 2, layout.cards_right - layout.cards_left - 4, bottom - top
        radius = min(6.0, tall / 3)
        yield Box(left, top, wide, tall, radius, palette.card, pen)
        yield Box(left, top, 9, tall, min(4.0, radius), palette.tint(place))
        yield from _joins(layout, palette, place, part.first, part.last, chosen=chosen)
        size = min(15.0, tall - 4)
        if size < 8:
            continue
        rows = _rows_said(part)
        small = size - 1
        baseline = (top + bottom) / 2 + 0.36 * size
        yield Text(left + wide - 10, baseline, rows, small, palette.quiet_ink, "end")
        room = wide - 34 - measure(rows, small, False) - 8
        title = shortened(part.title, room, size, measure, bold=chosen)
        yield Text(left + 20, baseline, title, size, palette.ink, "start", bold=chosen)


def _rows_said(part: ChartPart) -> str:
    if not part.reached:
        return _("not yet")
    if not part.rows:
        return _("by hand")
    return ngettext("{count} row", "{count} rows", part.rows).format(count=part.rows)


def _joins(
    layout: ChartLayout, palette: Palette, place: int, first: int, last: int, *, chosen: bool
) -> Iterator[Mark]:
    """From a card to its rows: a wedge as high as both."""
    top, bottom = layout.cards[place]
    start, end = layout.cards_right, layout.cards_right + 34
    high, low = layout.top_of(last), layout.top_of(first - 1)
    if last < first:
        high, low = high - 0.5, high + 0.5
    tint = palette.tint(place)
    fill = f"{tint}{'66' if chosen else '2e'}"
    inset = min(4.0, (bottom - top) / 4)
    wedge = polyline((start, top + inset), (end, high), (end, low), (start, bottom - inset), closed=True)
    yield Shape(wedge, fill)


# -- the plot ----------------------------------------------------------------------------------------


def _guides(scene: ChartScene, layout: ChartLayout, palette: Palette) -> Iterator[Mark]:
    """A line down the centre of the bed, and one where each part begins."""
    half = scene.needles // 2
    if layout.first < half <= layout.last:
        x = layout.x_of(half) - layout.cell / 2
        top = layout.top_of(layout.passes)
        yield Lines(Pen(palette.line, 1, "flat", (2, 3)), np.array([[x, top, x, layout.bottom]]))
    start, end = layout.cards_right + 34, layout.left - 40
    if end > start and layout.cards:
        starts = np.array([layout.top_of(part.first - 1) for part in scene.parts])
        ends = np.column_stack((np.full(len(starts), start), starts, np.full(len(starts), end), starts))
        yield Lines(Pen(palette.line, 1, "flat"), ends)


def _bars(scene: ChartScene, layout: ChartLayout, palette: Palette) -> Iterator[Mark]:
    """One box a stretch, and as many passes as knit it alike where rows are too low to tell apart."""
    if not len(scene.bars):
        return
    numbers, firsts, lasts, parts = scene.bars.T
    role = scene.role[numbers]
    heights = np.ones(len(numbers), np.int64)
    if layout.row < 3:
        keep, heights = _blocks(scene.bars, role)
        numbers, firsts, lasts, parts, role = (part[keep] for part in (numbers, firsts, lasts, parts, role))
    gap = max(0.8, 0.16 * layout.row) if layout.row >= 3 else 0.0
    low = layout.bottom - (numbers - 1) * layout.row
    high = low - heights * layout.row
    thick = (low - high - gap) * np.where(heights > 1, 1.0, _THICKNESS[role])
    middle = (low + high) / 2
    x = layout.left + (firsts - layout.first) * layout.cell
    wide = (lasts - firsts + 1) * layout.cell
    boxes = np.column_stack((x, middle - thick / 2, wide, thick))
    if not gap:
        boxes = _on_pixels(boxes)
    for part in np.unique(parts).tolist():
        yield Boxes(palette.tint(part), boxes[parts == part])


def _blocks(
    bars: npt.NDArray[np.int32], role: npt.NDArray[np.uint8]
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.int64]]:
    """Bars that stand on one another unchanged, as blocks: the lowest of each, and how many there are.

    Only passes of a single bar are joined; others stay as they are.
    """
    number, first, last, part = bars.T
    alone = np.bincount(number, minlength=int(number.max()) + 2)[number] == 1
    same = np.zeros(len(bars), np.bool_)
    same[1:] = (
        alone[1:]
        & alone[:-1]
        & (np.diff(number) == 1)
        & (np.diff(first) == 0)
        & (np.diff(last) == 0)
        & (np.diff(part) == 0)
        & (role[1:] == role[:-1])
    )
    starts = np.flatnonzero(~same)
    return starts, np.diff(np.append(starts, len(bars))).astype(np.int64)


def _on_pixels(boxes: Floats) -> Floats:
    """Boxes whose upper and lower edges lie on whole pixels, so that neighbours meet without a seam."""
    top = np.round(boxes[:, 1])
    bottom = np.maximum(np.round(boxes[:, 1] + boxes[:, 3]), top + 1)
    return np.column_stack((boxes[:, 0], top, boxes[:, 2], bottom - top))


def _wraps(scene: ChartScene, layout: ChartLayout, palette: Palette) -> Iterator[Mark]:
    """A dot for every wrap; no larger than its place, no smaller than a pixel."""
    if not len(scene.wraps):
        return
    x = layout.left + (scene.wraps[:, 1] - layout.first + 0.5) * layout.cell
    y = layout.bottom - (scene.wraps[:, 0] - 0.5) * layout.row
    radius = min(0.34 * layout.cell, 0.36 * layout.row, 3.0)
    if radius >= 1:
        yield Dots(palette.ink, radius, np.column_stack((x, y)))
        return
    side = np.full(len(x), 1.0)
    yield Boxes(palette.ink, np.unique(np.column_stack((np.floor(x), np.floor(y), side, side)), axis=0))


def _axes(scene: ChartScene, layout: ChartLayout, palette: Palette, measure: MeasureText) -> Iterator[Mark]:
    """Row numbers on the left, needle names below."""
    size = 12.5
    at = layout.left - 12
    free_above = layout.height
    for number in _row_numbers(scene.passes, layout.row, 1.7 * size):
        y = layout.top_of(number) + layout.row / 2 + 0.36 * size
        if y > free_above or y - size < 0:
            continue
        free_above = y - 1.3 * size
        yield Text(at, y, str(number), size, palette.quiet_ink, "end")
    baseline = layout.bottom + 8 + size
    names = NameRow(lambda needle: needle_name(needle, scene.needles), layout.x_of, size, measure)
    for needles in _named_needles(scene, layout, measure, size):
        if names.takes(needles, 0, layout.width):
            for needle in needles:
                name = needle_name(needle, scene.needles)
                yield Text(layout.x_of(needle), baseline, name, size, palette.quiet_ink, "middle")


def _row_numbers(passes: int, row: float, need: float) -> list[int]:
    """Passes that are numbered, from below: the first, the last, and round numbers with room between."""
    every = next((step for step in (1, 5, 10, 20, 50, 100, 200, 500) if step * row >= need), 1000)
    last = [passes] if passes else []
    numbers = [1, *(n for n in range(every, passes + 1, every) if n > 1), *last]
    ordered = sorted(set(numbers))
    return [n for n in ordered if n in (1, passes) or ((passes - n) * row >= need and (n - 1) * row >= need)]


def _named_needles(
    scene: ChartScene, layout: ChartLayout, measure: MeasureText, size: float
) -> Iterator[list[int]]:
    """Needles that are named, in the order of who goes first; the two innermost together."""
    half = scene.needles // 2
    need = measure(f"L{half}", size, False) + 0.8 * size
    every = next((step for step in (1, 5, 10, 20, 50, 100) if step * layout.cell >= need), 200)
    if layout.first < half <= layout.last:
        yield [half - 1, half]
    for step in range(every, half + 1, every):
        for needle in (half - step, half + step - 1):
            if layout.first <= needle <= layout.last:
                yield [needle]


def _frame(scene: ChartScene, layout: ChartLayout, palette: Palette) -> Iterator[Mark]:
    """A frame round the rows of the chosen part."""
    if scene.chosen is None or not 0 <= scene.chosen < len(scene.parts):
        return
    part = scene.parts[scene.chosen]
    top, bottom = layout.top_of(part.last) - 2, layout.top_of(part.first - 1) + 2
    left = layout.left - 8
    yield Box(left, top, layout.right - left + 8, max(4.0, bottom - top), 5, None, Pen(palette.carriage, 2.4))


# -- findings ----------------------------------------------------------------------------------------


def _findings(scene: ChartScene, layout: ChartLayout, palette: Palette) -> Iterator[Mark]:
    """Signs where findings lie; where several crowd one place, the worst of them."""
    drawn: set[tuple[int, int]] = set()
    ordered = sorted(scene.marks, key=lambda mark: SEVERITIES.index(mark.severity))
    signs: list[tuple[Mark, ...]] = []
    for mark in ordered:
        x, y = place_of(mark.pass_number, mark.needle, layout)
        cell = (round(x / _SIGN), round(y / _SIGN))
        if cell not in drawn:
            drawn.add(cell)
            signs.append(finding_sign(mark.severity, x, y, _SIGN, palette))
    for sign in reversed(signs):
        yield from sign


def place_of(pass_number: int, needle: float | None, layout: ChartLayout) -> tuple[float, float]:
    """Where a finding stands in the chart; one without a needle stands at the right edge."""
    x = layout.right + 10 if needle is None else layout.x_of(needle)
    y = layout.top_of(max(1, min(pass_number, max(1, layout.passes)))) + layout.row / 2
    return x, y
