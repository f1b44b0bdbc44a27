"""What a knitter sees at one glance: where they are, what to do now, why, and what comes then."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from enum import Enum

from bedview.plan.instructions import heading
from bedview.plan.procedure import Procedure
from bedview.plan.progress import progress, then
from bedview.plan.safety import cautions
from bedview.plan.steps import Step
from bedview.session.setting_up import line_before_step
from bedview.session.weights import weight_words


class Doer(Enum):
    """Who does an act."""

    HANDS = "hands"
    CARRIAGE = "carriage"


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do: "Bring R10 to hold"."""

    text: str
    doer: Doer


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the piece a step is.

    Attributes:
        part: title of the part.
        row: the row it makes, or the row that comes after it if it makes none.
        rows: rows of the piece.
        makes_row: whether it makes one.
        row_in_part: the row's number in the part, from 1; 0 if the part makes no rows.
        rows_in_part: rows of the part.
        counter: what the row counter shows before it.
    """

    part: str
    row: int
    rows: int
    makes_row: bool
    row_in_part: int
    rows_in_part: int
    counter: int


@dataclass(frozen=True, slots=True)
class Glance:
    """All of it for one step.

    Attributes:
        place: where it is.
        acts: what to do, in order.
        why: why; may be empty.
        cautions: what to mind.
        weights: where the claw weights hang; may be empty.
        weights_now: whether hands have to hang or move them first.
        then: the step after it in few words.
        progress: how long it goes on like this.
    """

    place: Place
    acts: tuple[Act, ...]
    why: str
    cautions: tuple[str, ...]
    weights: str
    weights_now: bool
    then: str
    progress: str

    @property
    def needs_hands(self) -> bool:
        """Whether more than the carriage has to be moved."""
        return self.weights_now or any(act.doer is Doer.HANDS for act in self.acts)


def glance_at(procedure: Procedure, step: int) -> Glance:
    """What there is to see of a step.

    Raises:
        IndexError: if there is no such step.
    """
    here = procedure.steps[step]
    weights, weights_now = weight_words(procedure, step)
    acts = [Act(text, Doer.HANDS) for text in here.hands]
    if here.carriage:
        acts.append(Act(here.carriage, Doer.CARRIAGE))
    return Glance(
        place=_place(procedure, here),
        acts=tuple(acts),
        why=here.why,
        cautions=cautions(procedure, step, weights_move=weights_now),
        weights=weights,
        weights_now=weights_now,
        then=then(procedure, step),
        progress=progress(procedure, step),
    )


def _place(procedure: Procedure, here: Step) -> Place:
    steps = procedure.steps
    timeline = procedure.timeline
    first = bisect_left(steps, here.span, key=lambda step: step.span)
    stop = bisect_right(steps, here.span, key=lambda step: step.span)
    before_part = int(steps[first - 1].passes) if first else 0
    row = int(here.passes) + (not here.makes_pass)
    return Place(
        part=heading(procedure, here.span),
        row=row,
        rows=timeline.passes,
        makes_row=here.makes_pass,
        row_in_part=row - before_part,
        rows_in_part=int(steps[stop - 1].passes) - before_part,
        counter=timeline.state_at(line_before_step(procedure, here.number)).row,
    )


@dataclass(frozen=True, slots=True)
class PartDone:
    """A part of the piece and how much of it is done, in steps."""

    title: str
    steps: int
    done: int


def parts_done(procedure: Procedure, cursor: int) -> tuple[PartDone, ...]:
    """The parts of the piece (its top segments) before a step; those without steps are left out."""
    steps = procedure.steps
    found = []
    for span in procedure.top_spans():
        segment = span.path[0]
        first = bisect_left(steps, segment, key=lambda step: step.segment)
        stop = bisect_right(steps, segment, key=lambda step: step.segment)
        if stop > first:
            found.append(PartDone(span.segment.called, stop - first, max(0, min(cursor, stop) - first)))
    return tuple(found)
