"""The row list on paper: a box to tick for every row, with its number and the way the carriage goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from bedview.bed.needles import Side
from bedview.export.paper.bed_on_paper import bed_on_paper
from bedview.export.paper.pages import INK, LEADING, MM, Block, disc, paragraph
from bedview.export.paper.writing import BODY, SMALL, Writer, air
from bedview.export.row_list import ListedLine, ListedPart, row_list, rows_in_words
from bedview.picture.bed_scene import YarnSeen
from bedview.picture.finding_signs import finding_sign
from bedview.picture.marks import Box, Mark, MeasureText, Pen, Shape, Text, polyline
from bedview.plan.procedure import Procedure

BOX_WIDE: Final = 12.0 * MM
BOX_TALL: Final = 7.2 * MM
GAP: Final = 1.0 * MM


@dataclass(frozen=True, slots=True)
class RowPages:
    """Writes the rows of a procedure as blocks.

    Attributes:
        procedure: what is knitted.
        yarns: the yarns as they look.
        room: width of the text.
        measure: how wide a text is.
    """

    procedure: Procedure
    yarns: Sequence[YarnSeen]
    room: float
    measure: MeasureText

    @property
    def _writer(self) -> Writer:
        return Writer(self.room, self.measure)

    def _rows_of(self, part: ListedPart) -> str:
        return rows_in_words(part.rows, self.procedure.words) if part.rows else ""

    def blocks(self, parts: Iterable[ListedPart] | None = None) -> Iterator[Block]:
        """All parts, in order; or some of them."""
        for part in row_list(self.procedure) if parts is None else parts:
            yield self._writer.heading(part.heading, self._rows_of(part))
            for line in part.lines:
                if line.pictured:
                    yield self._picture(line)
                yield from self._line(line)
            yield air(3)

    # -- a line -------------------------------------------------------------------------------------------

    def _line(self, line: ListedLine) -> Iterator[Block]:
        yield self._words(line)
        if line.rows > 1:
            yield from self._grid(line)

    def _words(self, line: ListedLine) -> Block:
        """A single row with its box, or the words before many, or what is done before the next row."""
        single = line.rows == 1
        left = BOX_WIDE + 3 * MM
        room = self.room - left - 20 * MM
        top = (BOX_TALL - LEADING * BODY) / 2
        carriage = line.what(self.procedure.words)
        marks, tall = self._sentence(" ".join(line.hands), carriage, left, top, room)
        if line.why:
            words, high = paragraph(
                line.why, room, SMALL, self.measure, at=(left, tall), colour=INK.quiet_ink
            )
            marks += words
            tall += high
        for mind in line.minds:
            sign = 3.2 * MM
            words, high = paragraph(
                mind, room - 1.5 * sign, SMALL, self.measure, at=(left + 1.5 * sign, tall)
            )
            marks += [*finding_sign("warning", left + sign / 2, tall + 0.65 * SMALL, sign, INK), *words]
            tall += high
        if single:
            marks += tick_box(0, 0, line.first_row, _ways(line)[0])
        elif line.hands:
            marks.append(disc(BOX_WIDE / 2, BOX_TALL / 2, 1.3 * MM))
        marks.append(Text(self.room, top + 0.95 * BODY, line.at_end, SMALL, INK.quiet_ink, "end"))
        return Block(max(tall, BOX_TALL) + GAP, tuple(marks), with_next=line.rows > 1)

    def _sentence(
        self, hands: str, carriage: str, left: float, top: float, room: float
    ) -> tuple[list[Mark], float]:
        """What hands do, bold, and what the carriage does, on the same line if there is room; their foot."""
        marks: list[Mark] = []
        measure = self.measure
        if hands:
            words, high = paragraph(hands, room, BODY, measure, at=(left, top), bold=True)
            marks += words
            last = words[-1]
            after = last.x + measure(last.text, BODY, True) + 0.35 * BODY
            top += high
            if after + measure(carriage, BODY, False) <= left + room:
                marks.append(Text(after, last.y, carriage, BODY, INK.ink))
                carriage = ""
        if carriage:
            words, high = paragraph(carriage, room, BODY, measure, at=(left, top))
            marks += words
            top += high
        return marks, top

    def _grid(self, line: ListedLine) -> Iterator[Block]:
        """Boxes for many like rows, by tens where they fit."""
        left = BOX_WIDE + 3 * MM
        fit = int((self.room - left + GAP) // (BOX_WIDE + GAP))
        across = min(10, fit)
        boxes = list(zip(line.numbers, _ways(line), strict=True))
        for start in range(0, len(boxes), across):
            marks: list[Mark] = []
            for place, (number, way) in enumerate(boxes[start : start + across]):
                marks += tick_box(left + place * (BOX_WIDE + GAP), 0, number, way)
            yield Block(BOX_TALL + GAP, tuple(marks))

    # -- a picture ----------------------------------------------------------------------------------------

    def _picture(self, line: ListedLine) -> Block:
        """The bed before a row, with what hands do marked on it."""
        step = self.procedure.steps[line.first_step]
        coming = range(step.first_line, step.last_line + 1)
        line_before = step.first_line - 1
        bed = bed_on_paper(self.procedure.timeline, line_before, self.yarns, self.room, self.measure, coming)
        return Block(bed.height + 3 * MM, (), (bed.placed,), with_next=True)


def _ways(line: ListedLine) -> list[Side]:
    """Where the carriage goes in each row: it ends on the side that is named, and goes to and fro."""
    last = Side.RIGHT if line.at_end.startswith("COR") else Side.LEFT
    return [last if (line.rows - 1 - place) % 2 == 0 else last.other for place in range(line.rows)]


def tick_box(x: float, y: float, number: int, way: Side) -> Iterator[Mark]:
    """A box to tick, with the row's number and an arrow small in its upper corners."""
    yield Box(x, y, BOX_WIDE, BOX_TALL, 1.2 * MM, INK.paper, Pen(INK.quiet_ink, 0.25 * MM))
    size = 3.2 * MM if number < 10_000 else 2.6 * MM
    yield Text(x + 1.1 * MM, y + 3.9 * MM, str(number), size, INK.ink)
    end, start = x + BOX_WIDE - 1.2 * MM, x + BOX_WIDE - 3.8 * MM
    if way is Side.LEFT:
        start, end = end, start
    head = 0.8 * MM if start < end else -0.8 * MM
    middle = y + 5.6 * MM
    pen = Pen(INK.carriage, 0.35 * MM)
    yield Shape(polyline((start, middle), (end, middle)), pen=pen)
    yield Shape(
        polyline((end - head, middle - abs(head)), (end, middle), (end - head, middle + abs(head))), pen=pen
    )
