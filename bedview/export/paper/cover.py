"""The first page: what the piece is and takes, what the signs mean, what to mind, and the chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from bedview.bed.needles import Position, Side
from bedview.checks.finding import Severity
from bedview.export.briefing import Briefing, Caution
from bedview.export.paper.pages import INK, MM, Block, Paper, Placed, disc, paragraph
from bedview.export.paper.rows import BOX_TALL, tick_box
from bedview.export.paper.writing import BODY, HEADING, SMALL, TITLE, Writer, air
from bedview.export.position_names import position_name
from bedview.picture.bed_layout import BedLayout
from bedview.picture.chart import ChartScene
from bedview.picture.chart_drawing import draw_chart
from bedview.picture.finding_signs import finding_sign
from bedview.picture.look import yarn_shades
from bedview.picture.marks import (
    Box,
    Mark,
    MeasureText,
    Pen,
    Shape,
    Text,
    circle,
    move_path,
    moved,
    polyline,
)
from bedview.picture.needle_tiles import needle_style, needle_tile, wrap_tile
from bedview.plan.words import Words

_CHART_MOST_MM: Final = 111.0
_CHART_LEAST_MM: Final = 60.0
"""With its air. A chart that would be lower goes on a page with room for it."""
_MOST_CAUTIONS: Final = 14
"""Cautions printed one by one; of more, the rest is counted."""


@dataclass(frozen=True, slots=True)
class Cover:
    """Writes the first page as blocks.

    Attributes:
        briefing: what to know.
        chart: the piece, flat.
        words: the language.
        paper: its size.
        measure: how wide a text is.
    """

    briefing: Briefing
    chart: ChartScene
    words: Words
    paper: Paper
    measure: MeasureText

    def blocks(self) -> list[Block]:
        """From the title to the signs; the chart takes what room the rest leaves on the page."""
        before, after = list(self._known()), list(self._key())
        left = self.paper.height_of_text - sum(block.height for block in (*before, *after))
        tall_mm = left / MM if left >= _CHART_LEAST_MM * MM else _CHART_MOST_MM
        return [*before, self._chart(min(tall_mm, _CHART_MOST_MM)), *after]

    def _known(self) -> Iterator[Block]:
        """What the piece is and takes, and what to mind."""
        yield self._writer.text(self.briefing.title, TITLE, bold=True, below=2 * MM)
        for fact in self.briefing.facts:
            yield self._writer.text(fact, BODY)
        yield air(1.5)
        yield from self._yarns()
        for gauge in self.briefing.gauges:
            yield self._writer.text(gauge, BODY, indent=6 * MM)
        yield from self._cautions(self.briefing.cautions)

    @property
    def _writer(self) -> Writer:
        return Writer(self.paper.room, self.measure)

    def _heading(self, text: str) -> Block:
        size = HEADING
        mark = Text(0, 3 * MM + size, text, size, INK.ink, bold=True)
        return Block(3 * MM + 1.5 * size, (mark,), with_next=True)

    def _yarns(self) -> Iterator[Block]:
        for yarn in self.briefing.yarns:
            text = self.words.gettext("{name}: {what}").format(name=yarn.name, what=yarn.text)
            text = text if yarn.text else yarn.name
            marks, tall = paragraph(text, self.paper.room - 6 * MM, BODY, self.measure, at=(6 * MM, 0.0))
            rim = Pen(yarn_shades(yarn.look.colour, INK).rim, 0.4 * MM)
            swatch = Shape(circle(2 * MM, 0.65 * BODY, 1.6 * MM), yarn.look.colour, rim)
            yield Block(tall + 0.3 * MM, (swatch, *marks))

    # -- what to mind -------------------------------------------------------------------------------------

    def _cautions(self, cautions: Sequence[Caution]) -> Iterator[Block]:
        if not cautions:
            return
        yield self._heading(self.words.gettext("Mind"))
        for caution in cautions[:_MOST_CAUTIONS]:
            yield self._caution(caution)
        more = len(cautions) - _MOST_CAUTIONS
        if more > 0:
            text = self.words.ngettext("and {count} more", "and {count} more", more)
            yield self._writer.text(text.format(count=more), BODY, indent=6 * MM)

    def _caution(self, caution: Caution) -> Block:
        indent = 6 * MM
        room = self.paper.room - indent
        marks: list[Mark] = list(finding_sign(str(caution.severity), 2 * MM, 0.7 * BODY, 3.6 * MM, INK))
        tall = 0.0
        if caution.title:
            title = caution.title[:1].upper() + caution.title[1:]
            bold = caution.severity is not Severity.NOTE
            lines, tall = paragraph(f"{title}.", room, BODY, self.measure, at=(indent, 0.0), bold=bold)
            marks += lines
        size, colour = (SMALL, INK.quiet_ink) if caution.title else (BODY, INK.ink)
        lines, high = paragraph(caution.text, room, size, self.measure, at=(indent, tall), colour=colour)
        return Block(tall + high + 1 * MM, (*marks, *lines))

    # -- the chart ----------------------------------------------------------------------------------------

    def _chart(self, most_mm: float) -> Block:
        """As wide as the text, as high as its rows ask for."""
        wide = 900.0
        scale = self.paper.room / wide
        air = 7 * MM
        most = (most_mm * MM - air) / scale
        tall = min(most, max(180.0, 9.0 * self.chart.passes + 44, 27.0 * len(self.chart.parts)))
        picture = draw_chart(self.chart, wide, tall, INK, measure=self.measure)
        return Block(tall * scale + air, (), (Placed(picture, 0, 4 * MM, scale),))

    # -- the key ------------------------------------------------------------------------------------------

    def _stands(self, position: Position, usual: str) -> tuple[tuple[Mark, ...], str]:
        """A needle in a position, and what that is called."""
        return _needle(position), position_name(self.words, position, usual)

    def _key(self) -> Iterator[Block]:
        """Small pictures of the signs, four a line, each with its meaning."""
        _ = self.words.gettext
        yield self._heading(_("Signs"))
        signs: list[tuple[tuple[Mark, ...], str]] = [
            self._stands(Position.OUT, _("needle out of work")),
            self._stands(Position.WORK, _("working")),
            self._stands(Position.UPPER, _("upper working: the stitch lies behind the open latch")),
            self._stands(Position.HOLD, _("hold")),
            (_wrap(), _("a wrap; a ring where the coming row will make one")),
            (_touched(), _("hands: these needles, this way")),
            (_ride(), _("the carriage goes this way")),
            (_box(), _("a row to tick, and where the carriage goes in it")),
        ]
        across, wide = 2, self.paper.room / 2
        for start in range(0, len(signs), across):
            marks: list[Mark] = []
            tall = 10.5 * MM
            for place, (sign, meaning) in enumerate(signs[start : start + across]):
                left = place * wide
                lines, high = paragraph(
                    meaning, wide - 26 * MM, BODY, self.measure, at=(left + 23 * MM, 1.6 * MM)
                )
                marks += [moved(mark, left + 11 * MM, 0) for mark in sign]
                marks += lines
                tall = max(tall, high + 2.5 * MM)
            yield Block(tall, tuple(marks))
        yield self._writer.text(
            _(
                "COR, COL: the carriage then stands on the right, on the left. RC: what the row counter "
                "shows then, where it is not the number of the row. In the chart a dot is a wrap, half a bar "
                "waste, a quarter of one ravel cord."
            ),
            BODY,
        )


# -- signs, about the middle of a space 10 mm high -----------------------------------------------------------


def _layout() -> BedLayout:
    """Needles of a natural size, for signs only."""
    return BedLayout(
        width=100,
        height=100,
        unit=1.0,
        cell=26,
        row=18,
        first=0,
        last=0,
        left=0,
        turned=False,
        needles=2,
        has_map=False,
        carriage_width=0,
    )


def _needle(position: Position) -> tuple[Mark, ...]:
    """A needle lying, its hook to the right, as far out as its position."""
    layout = _layout()
    tile = needle_tile(needle_style(layout, INK, position), position)
    shapes = [
        Shape(tuple((step, _turned(points)) for step, points in shape.path), shape.fill, shape.pen)
        for shape in tile.shapes
    ]
    gate = Shape(polyline((0, 1 * MM), (0, 9 * MM)), pen=Pen(INK.lip, 0.8 * MM, "flat"))
    return (gate, *(moved(shape, 0, 5 * MM) for shape in shapes))


def _turned(points: tuple[float, ...]) -> tuple[float, ...]:
    """Points turned by a quarter: what hung down lies to the right."""
    found: list[float] = []
    for x, y in zip(points[::2], points[1::2], strict=True):
        found += [y, -x]
    return tuple(found)


def _wrap() -> tuple[Mark, ...]:
    shades = yarn_shades("#3b6ea5", INK)
    tile = wrap_tile(40, 26, shades, INK.paper, INK.ink)
    stem = Shape(polyline((0, 1 * MM), (0, 9 * MM)), pen=Pen(INK.needle, 0.5 * MM))
    return (stem, *(Shape(move_path(shape.path, 0, 5 * MM), shape.fill, shape.pen) for shape in tile.shapes))


def _touched() -> tuple[Mark, ...]:
    pen = Pen(INK.hands, 0.5 * MM)
    halo = Box(-2 * MM, 0.8 * MM, 4 * MM, 8.4 * MM, 2 * MM, f"{INK.hands}29", pen)
    shaft = Shape(polyline((0, 2 * MM), (0, 7.8 * MM)), pen=pen)
    head = Shape(polyline((-1.1 * MM, 6.4 * MM), (0, 7.8 * MM), (1.1 * MM, 6.4 * MM)), pen=pen)
    return (halo, shaft, head, disc(5.5 * MM, 5 * MM, 1.3 * MM))


def _ride() -> tuple[Mark, ...]:
    pen = Pen(INK.carriage, 0.8 * MM)
    shaft = Shape(polyline((-4 * MM, 5 * MM), (5 * MM, 5 * MM)), pen=pen)
    head = Shape(polyline((3 * MM, 3.2 * MM), (5 * MM, 5 * MM), (3 * MM, 6.8 * MM)), pen=pen)
    return (shaft, head)


def _box() -> tuple[Mark, ...]:
    return tuple(tick_box(-5 * MM, (10 * MM - BOX_TALL) / 2, 12, Side.LEFT))
