"""A sheet for a class: rows of the piece with blanks to fill in, and the answers on pages of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from bedview.export.class_questions import Asks, ClassQuestion
from bedview.export.paper.bed_on_paper import bed_on_paper
from bedview.export.paper.pages import INK, MM, Block, Paper, paragraph
from bedview.export.paper.reach_grid import TALL, ReachGrid, window
from bedview.export.paper.writing import BODY, SMALL, Writer, air
from bedview.language import gettext as _
from bedview.picture.bed_scene import YarnSeen
from bedview.picture.marks import Lines, Mark, MeasureText, Pen
from bedview.plan.procedure import Procedure

_INDENT: Final = 9.0 * MM
_BLANK: Final = Pen(INK.quiet_ink, 0.25 * MM, "flat")
_LINE_TALL: Final = 9.0 * MM
_PICTURE: Final = 0.82
"""Of the width, for a picture: three questions find room on a page."""


@dataclass(frozen=True, slots=True)
class ClassSheet:
    """Writes questions and answers as blocks.

    Attributes:
        title: of the piece.
        procedure: what is knitted.
        questions: about its rows.
        used: the first and last needle the piece uses.
        yarns: the yarns as they look.
        paper: its size.
        measure: how wide a text is.
    """

    title: str
    procedure: Procedure
    questions: Sequence[ClassQuestion]
    used: tuple[int, int]
    yarns: Sequence[YarnSeen]
    paper: Paper
    measure: MeasureText

    @property
    def _writer(self) -> Writer:
        return Writer(self.paper.room, self.measure)

    # -- with blanks --------------------------------------------------------------------------------------

    def blanks(self) -> Iterator[Block]:
        """The questions, each with its picture and room to write."""
        yield self._writer.title(_("For the class: {title}").format(title=self.title))
        yield self._to_write(_("Name:"), 0)
        if not self.questions:
            yield self._writer.text(
                _("This piece has no row to ask about: nothing is held or dropped in it.")
            )
        for number, question in enumerate(self.questions, 1):
            yield from self._question(number, question)

    def _question(self, number: int, question: ClassQuestion) -> Iterator[Block]:
        writer = self._writer
        head = _("{number}. Before row {row}").format(number=number, row=self._first_row(question))
        yield air(3)
        yield writer.text(head, bold=True, with_next=True)
        if question.asks is not Asks.STANDS:
            yield self._picture(question)
        yield writer.text(" ".join(question.before), indent=_INDENT, with_next=True)
        yield writer.text(question.says, bold=True, indent=_INDENT, below=1 * MM, with_next=True)
        if question.asks is Asks.REACH:
            yield Block(TALL, tuple(self._grid(question).empty()))
        else:
            yield self._to_write("", _INDENT)

    def _first_row(self, question: ClassQuestion) -> int:
        return self.procedure.steps[question.first_step].passes

    def _picture(self, question: ClassQuestion) -> Block:
        """The bed before the row, with what hands do; what the row will do is for the class to say."""
        step = self.procedure.steps[question.step]
        bed = bed_on_paper(
            self.procedure.timeline,
            step.first_line - 1,
            self.yarns,
            _PICTURE * self.paper.room,
            self.measure,
            range(step.first_line, step.last_line),
        )
        return Block(bed.height + 2 * MM, (), (replace(bed.placed, x=_INDENT),), with_next=True)

    def _to_write(self, words: str, indent: float) -> Block:
        """A line to write on."""
        marks: list[Mark] = []
        left = indent
        if words:
            lines, _tall = paragraph(words, self.paper.room, BODY, self.measure, at=(indent, 3 * MM))
            marks += lines
            left += self.measure(words, BODY, False) + 2 * MM
        y = _LINE_TALL - 1.5 * MM
        marks.append(Lines(_BLANK, np.array([[left, y, self.paper.room, y]])))
        return Block(_LINE_TALL, tuple(marks))

    def _grid(self, question: ClassQuestion) -> ReachGrid:
        touched = np.flatnonzero(question.after.position != self._before(question))
        first, last = window(touched, self.used)
        bed, words = len(question.after.position), self.procedure.words
        return ReachGrid(bed, first, last, self.paper.room, self.measure, words)

    def _before(self, question: ClassQuestion) -> np.ndarray[tuple[int], np.dtype[np.uint8]]:
        step = self.procedure.steps[question.first_step]
        return self.procedure.timeline.state_at(step.first_line - 1).position

    # -- with answers -------------------------------------------------------------------------------------

    def answers(self) -> Iterator[Block]:
        """What should stand there, with the reason."""
        writer = self._writer
        yield writer.title(_("Answers: {title}").format(title=self.title))
        for number, question in enumerate(self.questions, 1):
            yield writer.text(
                _("{number}. {question}").format(number=number, question=question.says),
                SMALL,
                colour=INK.quiet_ink,
                with_next=True,
            )
            grid = question.asks is Asks.REACH
            yield writer.text(
                f"{question.answer}.",
                bold=True,
                indent=_INDENT,
                with_next=grid or bool(question.why),
            )
            if question.why:
                yield writer.text(question.why, SMALL, indent=_INDENT, with_next=grid)
            if grid:
                marks = tuple(self._grid(question).filled(question.after.position))
                yield Block(TALL, marks)
            yield air(2.5)
