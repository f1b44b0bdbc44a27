"""Foretell: before a pass, say what will knit, what will be wrapped, where a gap will come; then see.

The answer is never written down anywhere: the bed makes the pass on a copy of the timeline, and what happened
there is the answer.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bedview.bed.actions import HoldCams, Knit, Place
from bedview.bed.needles import Position
from bedview.bed.openings import Opening
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.lessons.because import why_gap, why_in_pass
from bedview.plan.words import Words


class Asks(StrEnum):
    """What is to be foretold."""

    KNIT = "knit"
    """The needles that draw a loop."""
    WRAPPED = "wrapped"
    """The needles that are wrapped."""
    GAP = "gap"
    """The needles left of a gap: if the bed stays so for two passes and what is held then comes back."""


@dataclass(frozen=True, slots=True)
class Question:
    """A question about the next pass.

    Attributes:
        asks: what is to be foretold.
        text: the question in words.
        answer: needle indices; for gaps, of the needle on the left of each.
        outcome: a copy of the timeline with the pass made (for gaps, played on until they show).
        row: the pass it is about, from 1.
    """

    asks: Asks
    text: str
    answer: frozenset[int]
    outcome: Timeline
    row: int


@dataclass(frozen=True, slots=True)
class Answered:
    """How well it was foretold.

    Attributes:
        right: nothing missed and nothing wrong.
        missed: what should have been chosen, ascending.
        wrong: what should not have been.
        says: a sentence for the first of each, with the reason.
    """

    right: bool
    missed: tuple[int, ...]
    wrong: tuple[int, ...]
    says: str


def ask(timeline: Timeline, asks: Asks, words: Words) -> Question:
    """Ask about the pass that would come next.

    Args:
        timeline: what was done so far; it stays as it is.
        asks: what is to be foretold.
        words: the language.
    """
    _ = words.gettext
    outcome = timeline.fork(timeline.lines - 1)
    row = timeline.passes + 1
    event = outcome.append(Knit(1))
    side = words.side(outcome.state.carriage)
    if asks is Asks.GAP:
        _bring_back(outcome)
        answer = frozenset(opening.boundary for opening in _gaps(outcome, timeline))
        text = _("Two rows are knitted so, then the held needles come back. Where will a gap show?")
        return Question(asks, text, answer, outcome, row)
    if asks is Asks.KNIT:
        text = _("The carriage goes to {side}. Which needles will knit?")
    else:
        text = _("The carriage goes to {side}. Which needles will be wrapped?")
    found = event.knit if asks is Asks.KNIT else event.wrapped
    return Question(asks, text.format(side=side), frozenset(found.tolist()), outcome, row)


def answer(question: Question, chosen: Collection[int], words: Words) -> Answered:
    """Compare what was chosen with what happened.

    Args:
        question: what was asked.
        chosen: indices of the needles that were clicked; for gaps, of the needle on the left.
        words: the language.
    """
    _ = words.gettext
    missed = tuple(sorted(question.answer.difference(chosen)))
    wrong = tuple(sorted(set(chosen) - question.answer))
    if not missed and not wrong:
        return Answered(True, (), (), _first_reason(question, words))
    told = []
    if missed:
        told.append(_reason(question, missed[0], words))
    if wrong:
        told.append(_reason(question, wrong[0], words))
    return Answered(False, missed, wrong, " ".join(each for each in told if each))


def worth_asking(timeline: Timeline) -> tuple[Asks, ...]:
    """What is worth asking about the next pass: nothing of a plain row with nothing held."""
    return worth_asking_at(timeline.state)


def worth_asking_at(state: BedState) -> tuple[Asks, ...]:
    """What is worth asking about the pass that follows a state."""
    if not state.threaded or not len(state.what_acts().acting):
        return ()
    held = state.held
    if not len(held[state.height[held] > 0]):
        return ()
    if not state.hold_cams:
        return (Asks.KNIT,)
    return (Asks.KNIT, Asks.WRAPPED, Asks.GAP)


def _bring_back(outcome: Timeline) -> None:
    """Make one more pass, bring what is held back, and knit two rows, so that any gap is closed and shows."""
    outcome.append(Knit(1))
    state = outcome.state
    back = tuple(int(needle) for needle in state.held if state.height[needle])
    if back:
        outcome.append(Place(back, Position.UPPER))
    outcome.append(HoldCams(on=True))
    outcome.append(Knit(2))


def _gaps(outcome: Timeline, before: Timeline) -> list[Opening]:
    """Gaps that show and were not there before: those that a check would warn of."""
    warned = {
        finding.needles[0]
        for finding in judge(outcome)
        if finding.rule == "opening"
        and finding.severity is Severity.WARNING
        and finding.pass_number > before.passes
    }
    made = len(before.fabric)
    return [each for each in outcome.openings.openings() if each.loop >= made and each.boundary in warned]


def _first_reason(question: Question, words: Words) -> str:
    if not question.answer:
        return _why_none(question, words)
    if question.asks is Asks.KNIT:
        # That what is in work knits is no news.
        held = question.outcome.state_at(question.outcome.line_of_pass(question.row) - 1).held
        inside = np.setdiff1d(held, list(question.answer))
        return why_in_pass(question.outcome, words, question.row, int(inside[0])) if len(inside) else ""
    return _reason(question, min(question.answer), words)


def _why_none(question: Question, words: Words) -> str:
    """Why nothing is wrapped, or no gap comes: told of the held needle next to those that knit."""
    line = question.outcome.line_of_pass(question.row)
    before, knit = question.outcome.state_at(line - 1), question.outcome.event_of(line).knit
    held = [int(needle) for needle in before.held if before.height[needle]]
    if not held or not len(knit):
        return ""
    nearest = min(held, key=lambda needle: int(np.abs(knit - needle).min()))
    return why_in_pass(question.outcome, words, question.row, nearest)


def _reason(question: Question, needle: int, words: Words) -> str:
    """Why a needle is in the answer, or is not."""
    outcome = question.outcome
    if question.asks is not Asks.GAP:
        return why_in_pass(outcome, words, question.row, needle)
    _ = words.gettext
    for opening in outcome.openings.openings():
        if opening.boundary == needle and needle in question.answer:
            pair = words.needles([needle, needle + 1])
            told = _("A gap shows between {pair}.").format(pair=pair)
            return f"{told} {why_gap(outcome, words, opening)}".strip()
    pair = words.needles([needle, needle + 1])
    return _("No gap shows between {pair}: they keep pace, or a wrap ties them.").format(pair=pair)
