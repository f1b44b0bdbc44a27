"""Foretelling at the bed: one question after the other, and what was missed comes back later."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import datetime

from bedview.bed.timeline import Timeline
from bedview.lessons.deck import Deck, Prompt, prompts_of, timeline_of
from bedview.lessons.foretell import Answered, Question, answer, ask
from bedview.lessons.lesson import Lesson
from bedview.store.learners import Learners


class ForetellRun:
    """A learner who foretells.

    Args:
        lessons: the lessons whose rows are asked about, by name, in the order to learn them in.
        learners: where it is kept when a question comes back.
        learner: name of the learner; None keeps nothing beyond this run.
        now: the clock, in UTC.

    Raises:
        PieceError: if the learner's file cannot be used.
    """

    def __init__(
        self,
        lessons: Mapping[str, Lesson],
        learners: Learners,
        learner: str | None,
        now: Callable[[], datetime],
    ) -> None:
        self._lessons = dict(lessons)
        self._learners, self._learner, self._now = learners, learner, now
        prompts = [prompt for name, lesson in lessons.items() for prompt in prompts_of(name, lesson)]
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
    def lesson(self) -> Lesson | None:
        """The lesson it is taken from."""
        return self._lessons[self._prompt.lesson] if self._prompt is not None else None

    def next(self) -> Question | None:
        """Put the next question; None if nothing is due now."""
        self._prompt = self._deck.next(self._now())
        self._question = self._timeline = None
        if self._prompt is not None:
            lesson = self._lessons[self._prompt.lesson]
            self._timeline = timeline_of(lesson, self._prompt)
            self._question = ask(self._timeline, self._prompt.asks, lesson.words())
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
        result = answer(self._question, chosen, self._lessons[self._prompt.lesson].words())
        self._deck.answered(self._prompt, right=result.right, now=self._now())
        if self._learner is not None:
            learner = self._learners.load(self._learner)
            self._learners.keep(learner.with_cards(self._deck.cards))
        return result

    def due_again(self) -> datetime | None:
        """When the question that stands comes back, in UTC; None if it was not answered."""
        return self._deck.due_at(self._prompt) if self._prompt is not None else None
