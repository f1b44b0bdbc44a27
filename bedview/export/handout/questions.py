"""Questions to foretell along a lesson's way, chosen for one handout: a few rows, the same for everyone."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Final

import numpy as np

from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.lessons.deck import prompts_of, timeline_of
from bedview.lessons.foretell import Asks, Question, answer, ask
from bedview.lessons.lesson import Lesson
from bedview.plan.words import Words

MOST_ROWS: Final = 2
"""Rows asked about; each takes a picture."""


@dataclass(frozen=True)
class RowAsked:
    """A row of the way, and what is asked about it.

    Attributes:
        timeline: the bed straight before the row.
        questions: about it.
    """

    timeline: Timeline
    questions: tuple[Question, ...]

    @property
    def row(self) -> int:
        """Number of the row, from 1."""
        return self.timeline.passes + 1


def rows_asked(lesson: Lesson) -> list[RowAsked]:
    """The first row worth asking about, and the last."""
    by_row = [list(prompts) for _line, prompts in groupby(prompts_of("", lesson), lambda each: each.line)]
    if not by_row:
        return []
    places = np.unique(np.linspace(0, len(by_row) - 1, MOST_ROWS).round().astype(int)).tolist()
    found = []
    for place in places:
        timeline = timeline_of(lesson, by_row[place][0])
        asked = tuple(ask(timeline, prompt.asks, lesson.words()) for prompt in by_row[place])
        found.append(RowAsked(timeline, asked))
    return found


def answer_words(question: Question, words: Words) -> str:
    """What answers a question, and why."""
    why = answer(question, question.answer, words).says
    if question.asks is Asks.GAP and len(question.answer) == 1:
        return why  # It names the gap.
    if question.asks is Asks.KNIT:
        told, nothing = _("Row {row} knits {needles}."), _("Row {row} knits nothing.")
    elif question.asks is Asks.WRAPPED:
        told, nothing = _("Row {row} wraps {needles}."), _("Row {row} wraps nothing.")
    else:
        told, nothing = _("A gap shows to the right of {needles}."), _("No gap shows.")
    needles = words.needles(sorted(question.answer))
    said = (told if question.answer else nothing).format(row=question.row, needles=needles)
    return f"{said} {why}".strip()
