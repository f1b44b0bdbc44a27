"""Questions for a class about a piece, with their answers: all worked out from the bed, none made up.

Each asks about one row of the piece, chosen where something is to be learnt: needles held, wraps laid,
stitches dropped, rows counted. The same piece always asks the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import Position, Side
from bedview.bed.state import BedState
from bedview.export.row_list import stopped
from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step

EACH: Final = 2
"""Questions of one kind at most; they are spread over the piece."""


class Asks(StrEnum):
    """What is asked of a row."""

    WRAPPED = "wrapped"
    KNITTING = "knitting"
    DROPPED = "dropped"
    REACH = "reach"
    STANDS = "stands"


@dataclass(frozen=True, slots=True, eq=False)
class ClassQuestion:
    """A question about a row.

    Attributes:
        asks: what is asked.
        step: the step that makes the row; of a run of like rows its last.
        first_step: the step the question begins before.
        row: number of the row.
        before: what is done, a sentence each.
        says: the question.
        answer: the answer.
        why: why it is so; may be empty.
        after: the bed after the row.
    """

    asks: Asks
    step: int
    first_step: int
    row: int
    before: tuple[str, ...]
    says: str
    answer: str
    why: str
    after: BedState


def class_questions(procedure: Procedure) -> list[ClassQuestion]:
    """The questions a piece asks, in the order of its rows; none for a piece without rows."""
    asker = _Asker(procedure)
    chosen: dict[int, ClassQuestion] = {}
    for asks, steps in asker.worth_asking().items():
        # No row is asked about twice.
        for step in _spread([step for step in steps if step.number not in chosen], EACH):
            chosen[step.number] = asker.ask(asks, step)
    return [chosen[step] for step in sorted(chosen)]


def _spread(steps: Sequence[Step], most: int) -> list[Step]:
    """The first, the last, and what lies evenly between them."""
    if len(steps) <= most:
        return list(steps)
    places = np.linspace(0, len(steps) - 1, most).round().astype(int)
    return [steps[place] for place in places.tolist()]


class _Asker:
    def __init__(self, procedure: Procedure) -> None:
        self._procedure = procedure
        self._timeline = procedure.timeline
        self._words = procedure.words

    # -- which rows ---------------------------------------------------------------------------------------

    def worth_asking(self) -> dict[Asks, list[Step]]:
        """Rows worth each question. Of a run of like rows only the first is, but for where it ends."""
        found: dict[Asks, list[Step]] = {asks: [] for asks in Asks}
        turns: list[Step] = []
        held_before: set[int] = set()
        for step in self._procedure.steps:
            if not step.makes_pass:
                continue
            if step.in_group == step.of_group > 1:
                found[Asks.STANDS].append(step)
            if step.in_group > 1 or not len(step.actions) > 1:
                continue
            event = self._timeline.event_of(step.last_line)
            if len(event.wrapped):
                found[Asks.WRAPPED].append(step)
            if len(event.dropped):
                found[Asks.DROPPED].append(step)
            held = set(self._held(step).tolist())
            if held and held != held_before:
                turns.append(step)
            held_before = held
        # By turns, so that there are enough of either.
        return found | {Asks.KNITTING: turns[::2], Asks.REACH: turns[1::2]}

    def _held(self, step: Step) -> npt.NDArray[np.intp]:
        state = self._timeline.state_at(step.last_line)
        return np.flatnonzero((state.position == Position.HOLD) & (state.height > 0))

    # -- the question -------------------------------------------------------------------------------------

    def ask(self, asks: Asks, step: Step) -> ClassQuestion:
        """The question about a row."""
        first = self._procedure.steps[step.number - step.of_group + 1] if asks is Asks.STANDS else step
        state = self._timeline.state_at(step.last_line)
        return ClassQuestion(
            asks=asks,
            step=step.number,
            first_step=first.number,
            row=step.passes,
            before=tuple(self._done(asks, first)),
            says=self._says(asks, step),
            answer=self._answer(asks, step, state),
            why=stopped(step.why) if asks is not Asks.STANDS else "",
            after=state,
        )

    def _done(self, asks: Asks, first: Step) -> Iterator[str]:
        before = self._timeline.state_at(first.first_line - 1)
        if asks is Asks.STANDS:
            side = _("The carriage stands on the right.")
            if before.carriage is Side.LEFT:
                side = _("The carriage stands on the left.")
            yield side
            yield _("The row counter shows {counter}.").format(counter=before.row)
        for sentence in first.hands:
            yield stopped(sentence)
        if asks is Asks.STANDS:
            rows = first.of_group
            yield ngettext(
                "Then the carriage goes across {rows} time.",
                "Then the carriage goes across {rows} times.",
                rows,
            ).format(rows=rows)
        elif first.carriage:
            yield stopped(first.carriage)

    def _says(self, asks: Asks, step: Step) -> str:
        row = step.passes
        return {
            Asks.WRAPPED: _("Which held needles get a wrap in row {row}?"),
            Asks.KNITTING: _("Which needles knit in row {row}, and how many are they?"),
            Asks.DROPPED: _("Which needles lose their stitches in row {row}?"),
            Asks.REACH: _("How far does each needle reach out after row {row}? Mark it with a dot."),
            Asks.STANDS: _("Where does the carriage stand after row {row}, and what does the counter show?"),
        }[asks].format(row=row)

    def _answer(self, asks: Asks, step: Step, state: BedState) -> str:
        event = self._timeline.event_of(step.last_line)
        match asks:
            case Asks.WRAPPED:
                return self._needles(event.wrapped)
            case Asks.DROPPED:
                return self._needles(event.dropped)
            case Asks.KNITTING:
                count = len(event.knit)
                return ngettext("{count} needle: {needles}", "{count} needles: {needles}", count).format(
                    needles=self._needles(event.knit), count=count
                )
            case Asks.REACH:
                return _("In hold: {needles}").format(needles=self._needles(self._held(step)))
            case Asks.STANDS:
                text = _("On the right; the counter shows {counter}")
                if state.carriage is Side.LEFT:
                    text = _("On the left; the counter shows {counter}")
                return text.format(counter=state.row)

    def _needles(self, needles: npt.NDArray[np.intp]) -> str:
        return self._words.needles(needles.tolist()) if len(needles) else _("no needles")
