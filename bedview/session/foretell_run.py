"""Foretelling at the bed: one question after the other, and what was missed comes back later."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Self

from bedview.bed.timeline import Timeline
from bedview.lessons.deck import Deck, Prompt, prompts_along, prompts_of, timeline_of
from bedview.lessons.foretell import Answered, Question, answer, ask
from bedview.lessons.lesson import Lesson
from bedview.plan.piece import Piece, Yarn
from bedview.plan.procedure import Procedure
from bedview.plan.words import Words
from bedview.store.learners import Learners


@dataclass(frozen=True, slots=True)
class LessonRows:
    """The rows of a lesson's own solution.

    Attributes:
        name: of the lesson.
        lesson: the lesson, in the learner's language.
        asked: the questions worth asking, in order.
    """

    name: str
    lesson: Lesson
    asked: tuple[Prompt, ...]

    @classmethod
    def of(cls, name: str, lesson: Lesson) -> Self:
        """Those of a lesson; the solution is knitted once to find the questions."""
        return cls(name, lesson, tuple(prompts_of(name, lesson)))

    @property
    def title(self) -> str:
        """What people call it."""
        return self.lesson.title

    @property
    def yarns(self) -> tuple[Yarn, ...]:
        """What is knitted with."""
        return self.lesson.yarns

    def words(self) -> Words:
        """Sentences about its bed and yarns."""
        return self.lesson.words()

    def prompts(self) -> Sequence[Prompt]:
        """The questions worth asking, in order."""
        return self.asked

    def bed_before(self, prompt: Prompt) -> Timeline:
        """The bed that a question is about."""
        return timeline_of(self.lesson, prompt)


@dataclass(frozen=True, slots=True)
class PieceRows:
    """The rows of a piece.

    Attributes:
        name: what its questions are remembered by.
        procedure: the piece, worked out.
    """

    name: str
    procedure: Procedure

    @property
    def title(self) -> str:
        """What people call it."""
        return self.procedure.piece.title

    @property
    def yarns(self) -> tuple[Yarn, ...]:
        """What is knitted with."""
        return self.procedure.piece.yarns

    def words(self) -> Words:
        """Sentences about its bed and yarns."""
        piece: Piece = self.procedure.piece
        return Words(piece.bed.needles, piece.yarns)

    def prompts(self) -> Sequence[Prompt]:
        """The questions worth asking, in order."""
        return prompts_along(self.name, self.procedure.timeline)

    def bed_before(self, prompt: Prompt) -> Timeline:
        """The bed that a question is about."""
        return self.procedure.timeline.fork(prompt.line)


Rows = LessonRows | PieceRows
"""What can be asked about."""


class ForetellRun:
    """A learner who foretells.

    Args:
        lessons: the lessons whose rows are asked about, by name, in the order to learn them in; or
            other rows.
        learners: where it is kept when a question comes back.
        learner: name of the learner; None keeps nothing beyond this run.
        now: the clock, in UTC.

    Raises:
        PieceError: if the learner's file cannot be used.
    """

    def __init__(
        self,
        lessons: Mapping[str, Lesson | Rows],
        learners: Learners,
        learner: str | None,
        now: Callable[[], datetime],
    ) -> None:
        self._rows: dict[str, Rows] = {
            name: LessonRows.of(name, each) if isinstance(each, Lesson) else each
            for name, each in lessons.items()
        }
        self._learners, self._learner, self._now = learners, learner, now
        prompts = [prompt for rows in self._rows.values() for prompt in rows.prompts()]
        self._deck = Deck(prompts, learners.load(learner).cards if learner is not None else None)
        self._prompt: Prompt | None = None
        self._question: Question | None = None
        self._timeline: Timeline | None = None

    @property
    def question(self) -> Question | None:
        """The question that stands; None before the first and when nothing is due."""
        return self._question

    @property
    def timeline(self) -> Timeline | None:
        """The bed it is about, straight before the pass; what happens then is ``question.outcome``."""
        return self._timeline

    @property
    def rows(self) -> Rows | None:
        """The lesson or piece it is taken from."""
        return self._rows[self._prompt.lesson] if self._prompt is not None else None

    @property
    def due(self) -> list[Prompt]:
        """The questions answered before that are due again now."""
        return self._deck.due(self._now())

    @property
    def next_due(self) -> datetime | None:
        """When the next question comes back, in UTC; None if none was answered yet."""
        return self._deck.next_due()

    def next(self) -> Question | None:
        """Put the next question; None if nothing is due now."""
        self._prompt = self._deck.next(self._now())
        self._question = self._timeline = None
        rows = self.rows
        if self._prompt is not None and rows is not None:
            self._timeline = rows.bed_before(self._prompt)
            self._question = ask(self._timeline, self._prompt.asks, rows.words())
        return self._question

    def answer(self, chosen: Collection[int]) -> Answered:
        """Answer the question that stands; when it comes back is worked out and kept.

        Args:
            chosen: indices of the needles that were clicked; for gaps, of the needle on the left.

        Raises:
            PieceError: if the learner's file cannot be used.
            OutputError: if it cannot be written.
        """
        assert self._prompt is not None
        assert self._question is not None
        result = answer(self._question, chosen, self._rows[self._prompt.lesson].words())
        self._deck.answered(self._prompt, right=result.right, now=self._now())
        if self._learner is not None:
            learner = self._learners.load(self._learner)
            self._learners.keep(learner.with_cards(self._deck.cards))
        return result

    def due_again(self) -> datetime | None:
        """When the question that stands comes back, in UTC; None if it was not answered."""
        return self._deck.due_at(self._prompt) if self._prompt is not None else None
