"""Which question comes next: what was missed comes back later, spaced out; what was known, much later.

A *card* is one question at one pass of a lesson's own solution. When each is due again is worked out by the
FSRS scheduler; the clock is the caller's, so that a test can turn it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from fsrs import Card, Rating, Scheduler

from bedview.bed.actions import Knit
from bedview.bed.timeline import Timeline
from bedview.lessons.foretell import Asks, worth_asking, worth_asking_at
from bedview.lessons.grading import solution_actions, started
from bedview.lessons.hands import Unpick
from bedview.lessons.lesson import Lesson

# The same answer on the same day is due on the same day for everyone: chance has no place in a lesson.
_SCHEDULER: Final = Scheduler(enable_fuzzing=False)


MOST_OF_A_PIECE: Final = 120
"""Questions about one piece; nobody answers more."""


@dataclass(frozen=True, slots=True)
class Prompt:
    """A question that can be asked.

    Attributes:
        key: what it is remembered by; the same as long as the lesson's solution is.
        lesson: name of the lesson, or of the piece.
        line: line of the solution's timeline straight before the pass.
        asks: what is to be foretold.
    """

    key: str
    lesson: str
    line: int
    asks: Asks


def prompts_of(name: str, lesson: Lesson) -> list[Prompt]:
    """The questions worth asking along a lesson's first solution, in its order."""
    timeline = started(lesson)
    prompts: list[Prompt] = []
    for action in solution_actions(lesson):
        if isinstance(action, Unpick):
            break
        for _ in range(action.rows if isinstance(action, Knit) else 1):
            if isinstance(action, Knit):
                prompts.extend(_at(name, timeline))
            timeline.append(Knit(1) if isinstance(action, Knit) else action)
    return prompts


def timeline_of(lesson: Lesson, prompt: Prompt) -> Timeline:
    """The bed that a question is about, straight before the pass."""
    timeline = started(lesson)
    for action in solution_actions(lesson):
        rows = action.rows if isinstance(action, Knit) else 1
        for _ in range(rows):
            if timeline.lines - 1 == prompt.line:
                return timeline
            assert not isinstance(action, Unpick)
            timeline.append(Knit(1) if isinstance(action, Knit) else action)
    return timeline


def prompts_along(name: str, timeline: Timeline, most: int = MOST_OF_A_PIECE) -> list[Prompt]:
    """The questions worth asking along a piece: about rows that follow something done by hand.

    Args:
        name: what the piece is remembered by.
        timeline: all that is done in it.
        most: how many questions at most; those of later rows are left out.
    """
    prompts: list[Prompt] = []
    asked: tuple[Asks, ...] = ()
    line = -1
    for event, row, state in timeline.walk():
        if event.is_pass and row == 0:
            number = event.passes
            prompts.extend(Prompt(f"{name}/row {number}/{asks}", name, line, asks) for asks in asked)
        line = event.line + row
        asked = () if event.is_pass else worth_asking_at(state)
        if len(prompts) >= most:
            break
    return prompts[:most]


class Deck:
    """The questions a learner meets, and when each is due.

    Args:
        prompts: all that can be asked, in the order to learn them in.
        cards: what is known of those asked before, by key, as :attr:`cards` gives it.
    """

    def __init__(self, prompts: Iterable[Prompt], cards: Mapping[str, dict[str, Any]] | None = None) -> None:
        self._prompts = {prompt.key: prompt for prompt in prompts}
        known = {key: _card_from(facts) for key, facts in (cards or {}).items()}
        self._cards = {key: card for key, card in known.items() if card is not None}

    @property
    def cards(self) -> dict[str, dict[str, Any]]:
        """What is known of each question asked so far, as JSON takes it."""
        return {key: dict(card.to_dict()) for key, card in self._cards.items()}

    def next(self, now: datetime) -> Prompt | None:
        """The question to ask now: the one longest due, else a new one; None if nothing is due.

        Args:
            now: in UTC.
        """
        due = [
            (card.due, key) for key, card in self._cards.items() if card.due <= now and key in self._prompts
        ]
        if due:
            return self._prompts[min(due)[1]]
        return next((prompt for key, prompt in self._prompts.items() if key not in self._cards), None)

    def due(self, now: datetime) -> list[Prompt]:
        """The questions asked before that are due again, in the order to learn them in."""
        return [
            prompt
            for key, prompt in self._prompts.items()
            if key in self._cards and self._cards[key].due <= now
        ]

    def next_due(self) -> datetime | None:
        """When the next of the questions asked before is due; None if none was asked."""
        return min((self._cards[key].due for key in self._prompts if key in self._cards), default=None)

    def due_at(self, prompt: Prompt) -> datetime | None:
        """When a question comes back; None if it was never asked."""
        card = self._cards.get(prompt.key)
        return None if card is None else card.due

    def answered(self, prompt: Prompt, *, right: bool, now: datetime) -> None:
        """Note how a question was answered.

        Args:
            prompt: the question.
            right: whether nothing was missed and nothing wrong.
            now: in UTC.
        """
        card = self._cards.get(prompt.key) or Card(card_id=len(self._cards), due=now)
        rating = Rating.Good if right else Rating.Again
        self._cards[prompt.key], _ = _SCHEDULER.review_card(card, rating, now)


def _card_from(facts: dict[str, Any]) -> Card | None:
    """The scheduler's card; None if these facts are none of its own: the question is then new again."""
    try:
        card = Card.from_dict(facts)  # type: ignore[arg-type]
    except (KeyError, TypeError, ValueError, AttributeError):
        return None
    return card if card.due.tzinfo is not None else None


def _at(name: str, timeline: Timeline) -> list[Prompt]:
    row = timeline.passes + 1
    asked = worth_asking(timeline)
    return [Prompt(f"{name}/row {row}/{asks}", name, timeline.lines - 1, asks) for asks in asked]
