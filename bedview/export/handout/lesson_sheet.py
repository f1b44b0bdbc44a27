"""A lesson on paper: what it is about, the bed to begin with, the task, questions; then the answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np

from bedview.bed.timeline import Timeline
from bedview.export.briefing import seen_yarns
from bedview.export.handout.questions import RowAsked, answer_words, rows_asked
from bedview.export.handout.tick_boxes import TICKS_TALL, TickBoxes
from bedview.export.paper.bed_on_paper import BedOnPaper, bed_on_paper
from bedview.export.paper.pages import INK, MM, Block, Page, Paper, disc, flow, paragraph, with_feet
from bedview.export.paper.reach_grid import TALL, ReachGrid, window
from bedview.export.paper.rows import RowPages
from bedview.export.paper.writing import BODY, SMALL, Writer, air
from bedview.export.row_list import row_list
from bedview.export.used_needles import used_needles
from bedview.language import gettext as _
from bedview.lessons.foretell import Question
from bedview.lessons.lesson import Lesson
from bedview.lessons.shown_way import ShownWay, shown_way, taken_back_words
from bedview.picture.bed_scene import YarnSeen
from bedview.picture.finding_signs import finding_sign
from bedview.picture.marks import Box, Lines, Mark, MeasureText, Pen
from bedview.picture.words import bed_in_words
from bedview.plan.safety import cautions

_INDENT: Final = 6.0 * MM
_FINE: Final = 3.5 * MM
_LEAST_TO_DRAW, _MOST_TO_DRAW = 24.0 * MM, 70.0 * MM
"""Height of the frame to draw in: what the first page leaves."""
_BLANK: Final = Pen(INK.quiet_ink, 0.25 * MM, "flat")
_LINE_TALL: Final = 9.0 * MM


def lesson_pages(lesson: Lesson, paper: Paper, measure: MeasureText) -> list[Page]:
    """The handout: pages for the learner, then pages with the answers.

    Args:
        lesson: the lesson, in the language of the class.
        paper: its size.
        measure: how wide a text is.
    """
    sheet = _LessonSheet(lesson, paper, measure)
    pages = flow(list(sheet.learner()), paper) + flow(list(sheet.answers()), paper)
    return with_feet(pages, lesson.title, _("page {page} of {pages}"), measure)


@dataclass(frozen=True)
class _LessonSheet:
    lesson: Lesson
    paper: Paper
    measure: MeasureText

    @cached_property
    def _way(self) -> ShownWay:
        return shown_way(self.lesson)

    @cached_property
    def _asked(self) -> list[RowAsked]:
        return rows_asked(self.lesson)

    @cached_property
    def _yarns(self) -> tuple[YarnSeen, ...]:
        return seen_yarns(self._way.start.piece)

    @property
    def _writer(self) -> Writer:
        return Writer(self.paper.room, self.measure)

    # -- for the learner ----------------------------------------------------------------------------------

    def learner(self) -> Iterator[Block]:
        """All that the learner is given: a page with the task, then what is to be foretold."""
        first = list(self._first_page())
        yield from first
        yield from self._to_draw(self.paper.height_of_text - sum(block.height for block in first))
        yield from self._questions()

    def _first_page(self) -> Iterator[Block]:
        writer, lesson = self._writer, self.lesson
        yield writer.title(lesson.title)
        yield self._lines_to_write()
        for text in lesson.says:
            yield writer.text(text, below=1.6 * MM)
        yield air(2)
        yield writer.heading(_("So the bed stands"))
        yield from self._start()
        yield air(3)
        yield writer.heading(_("Your task"))
        yield writer.text(lesson.task, bold=True, below=1.5 * MM, with_next=True)
        yield self._boxes((_("done on the screen"), _("done on the machine"), _("explained to someone")))
        yield from self._minds()
        yield air(3)
        yield writer.heading(_("How does the bed stand when you are done?"))
        yield writer.text(_("Mark with a dot how far each needle reaches out."), with_next=True)
        yield Block(TALL, tuple(self._grid.empty()))

    def _to_draw(self, left: float) -> Iterator[Block]:
        """A frame to draw in, where so much of the page is left that it is of use."""
        words = self._writer.text(_("Draw what hangs below the needles, and what you saw:"), with_next=True)
        tall = left - words.height - 2 * MM
        if tall >= _LEAST_TO_DRAW:
            tall = min(tall, _MOST_TO_DRAW)
            yield words
            yield Block(tall, (Box(0, 1 * MM, self.paper.room, tall - 1 * MM, 2 * MM, None, _BLANK),))

    def _lines_to_write(self) -> Block:
        """A name and a day."""
        marks: list[Mark] = []
        half = self.paper.room * 0.62
        for text, left, right in (
            (_("Name:"), 0.0, half - 6 * MM),
            (_("Day:"), half, self.paper.room),
        ):
            words, _tall = paragraph(text, right - left, BODY, self.measure, at=(left, 2 * MM))
            marks += words
            start = left + self.measure(text, BODY, False) + 2 * MM
            y = _LINE_TALL - 2.5 * MM
            marks.append(Lines(_BLANK, np.array([[start, y, right, y]])))
        return Block(_LINE_TALL + 2 * MM, tuple(marks))

    def _start(self) -> Iterator[Block]:
        bed = self._bed(self._way.start.timeline, self._way.start_line)
        yield Block(bed.height + 3 * MM, (), (bed.placed,), with_next=True)
        said = bed_in_words(bed.scene)
        yield self._writer.text(f"{said[:1].upper()}{said[1:]}.", SMALL, colour=INK.quiet_ink)

    def _bed(self, timeline: Timeline, line: int) -> BedOnPaper:
        return bed_on_paper(timeline, line, self._yarns, self.paper.room, self.measure)

    def _boxes(self, texts: tuple[str, ...]) -> Block:
        """Boxes to tick side by side, each with its words; below each other where they do not fit."""
        marks: list[Mark] = []
        side = 4.6 * MM
        widths = [side + 2 * MM + self.measure(text, BODY, False) + 8 * MM for text in texts]
        apart = sum(widths) <= self.paper.room
        x = y = 0.0
        for text, wide in zip(texts, widths, strict=True):
            marks.append(Box(x, y, side, side, 0.8 * MM, INK.paper, _BLANK))
            words, _tall = paragraph(
                text, self.paper.room, BODY, self.measure, at=(x + side + 2 * MM, y - 0.2 * MM)
            )
            marks += words
            x, y = (x + wide, y) if apart else (x, y + side + 1.5 * MM)
        return Block((side if apart else y) + 1.5 * MM, tuple(marks))

    def _minds(self) -> Iterator[Block]:
        """Where hands can be hurt on the way, each once."""
        told = [
            text
            for leg in self._way.legs
            for step in leg.procedure.steps[leg.first :]
            for text in cautions(leg.procedure, step.number)
        ]
        sign = 3.4 * MM
        for text in dict.fromkeys(told):
            words, tall = paragraph(
                text, self.paper.room - 1.6 * sign, BODY, self.measure, at=(1.6 * sign, 0.0)
            )
            marks = [*finding_sign("warning", sign / 2, 0.62 * BODY, sign, INK), *words]
            yield Block(tall + 0.8 * MM, tuple(marks))

    @cached_property
    def _grid(self) -> ReachGrid:
        end = self._way.end
        first, last = window(np.flatnonzero(end.state.height), used_needles(end))
        bed, words = self.lesson.bed.needles, self.lesson.words()
        return ReachGrid(bed, first, last, self.paper.room, self.measure, words)

    # -- questions ----------------------------------------------------------------------------------------

    def _questions(self) -> Iterator[Block]:
        if not self._asked:
            return
        heading = self._writer.heading(_("Foretell: first say it, then see"))
        yield replace(heading, new_page=True)
        number = 0
        for asked in self._asked:
            yield from self._row_asked(asked, number)
            number += len(asked.questions)

    def _row_asked(self, asked: RowAsked, number: int) -> Iterator[Block]:
        timeline = asked.timeline
        writer = self._writer
        yield writer.text(_("Before row {row}").format(row=asked.row), bold=True, with_next=True)
        bed = self._bed(timeline, timeline.lines - 1)
        yield Block(bed.height + 2 * MM, (), (bed.placed,), with_next=True)
        for place, question in enumerate(asked.questions, 1):
            text = _("{number}. {question}").format(number=number + place, question=question.text)
            yield writer.text(text, below=0.6 * MM, with_next=True)
            yield replace(self._to_answer(TickBoxes(bed), question), with_next=place < len(asked.questions))
        yield air(3)

    def _to_answer(self, boxes: TickBoxes, question: Question) -> Block:
        if boxes.fit:
            return Block(TICKS_TALL + 1.5 * MM, tuple(boxes.marks(question.asks)))
        line = [[_INDENT, _LINE_TALL - 1.5 * MM, self.paper.room, _LINE_TALL - 1.5 * MM]]
        return Block(_LINE_TALL, (Lines(_BLANK, np.array(line)),))

    # -- answers ------------------------------------------------------------------------------------------

    def answers(self) -> Iterator[Block]:
        """The way with its steps, the bed at the end, what was to be foretold, and why."""
        writer, lesson = self._writer, self.lesson
        yield writer.title(_("Answers: {title}").format(title=lesson.title))
        yield writer.text(_("A hint for those who ask: {hint}").format(hint=lesson.hint), below=2.5 * MM)
        for leg in self._way.legs:
            if leg.taken_back:
                yield self._taken_back(leg.taken_back)
            rows = RowPages(leg.procedure, self._yarns, self.paper.room, self.measure)
            parts = [part for part in row_list(leg.procedure) if part.lines[0].first_step >= leg.first]
            yield from rows.blocks(parts)
        yield writer.text(lesson.done, bold=True, below=2 * MM)
        yield from self._other_ways()
        yield writer.heading(_("So the bed stands when all is done"))
        yield Block(TALL + 3 * MM, tuple(self._grid.filled(self._way.end.state.position)))
        yield from self._foretold()

    def _taken_back(self, rows: int) -> Block:
        text = f"{taken_back_words(rows)}."
        words, tall = paragraph(
            text, self.paper.room - _INDENT, BODY, self.measure, at=(_INDENT, 0.0), bold=True
        )
        return Block(tall + 3 * MM, (disc(0.3 * _INDENT, 0.62 * BODY, 1.3 * MM), *words))

    def _other_ways(self) -> Iterator[Block]:
        others = [each.title for each in self.lesson.solutions[1:] if each.title]
        if others:
            yield self._writer.text(_("Other ways lead there too:"), with_next=True)
            for title in others:
                yield self._writer.point(title, _INDENT, BODY)
            yield air(2)

    def _foretold(self) -> Iterator[Block]:
        questions = [question for asked in self._asked for question in asked.questions]
        if questions:
            yield self._writer.heading(_("What was to be foretold"))
        for number, question in enumerate(questions, 1):
            told = answer_words(question, self.lesson.words())
            text = _("{number}. {answer}").format(number=number, answer=told)
            yield self._writer.text(text, _FINE, below=0.5 * MM)
