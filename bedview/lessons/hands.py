"""What a learner's hands can do: all that a piece can say, and taking rows back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import FailFast, Field
from typing_extensions import TypedDict

from bedview.bed.actions import Action
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.bed.unpick import UnpickError, unpick
from bedview.language import gettext as _
from bedview.plan.actions_file import AnyAction, to_action
from bedview.plan.fields import Rows

MAX_LESSON_ACTIONS = 2_000


class UnpickItem(TypedDict):
    """The last rows taken back, and what hands did in between."""

    do: Literal["unpick"]
    rows: Rows


LessonItem = AnyAction | UnpickItem
"""An action as a lesson's file writes it."""
LessonActionList = Annotated[
    tuple[Annotated[LessonItem, Field(discriminator="do")], ...],
    Field(strict=False, max_length=MAX_LESSON_ACTIONS),
    FailFast(),
]


@dataclass(frozen=True, slots=True)
class Unpick:
    """Take back the last ``rows`` passes: the bed then stands as it did straight after the pass before."""

    rows: int


LessonAction = Action | Unpick


def to_lesson_action(item: LessonItem, bed_needles: int) -> LessonAction:
    """What hands do, of an action as a file writes it.

    Args:
        item: an action that was read as an entry of a :data:`LessonActionList`.
        bed_needles: how many needles the bed has.

    Raises:
        NeedleError: if a needle list cannot be read on that bed.
    """
    if item["do"] == "unpick":
        return Unpick(item["rows"])
    return to_action(item, bed_needles)


def perform(timeline: Timeline, action: LessonAction) -> Timeline:
    """Do one action.

    Args:
        timeline: what was done so far; it grows.
        action: what to do.

    Returns:
        The timeline that stands then: the same, or a shorter one after rows were taken back.

    Raises:
        Refused: if it cannot be done; nothing has changed then.
    """
    if not isinstance(action, Unpick):
        timeline.append(action)
        return timeline
    number, made = len(timeline.actions), timeline.passes
    if action.rows > made:
        raise Refused(
            number,
            _("only {made} rows are knitted; {rows} cannot be taken back").format(
                made=made, rows=action.rows
            ),
        )
    try:
        unpick(timeline, made, made - action.rows)
    except UnpickError as error:
        raise Refused(number, str(error)) from None
    left = made - action.rows
    return timeline.fork(timeline.line_of_pass(left) if left else -1)


def perform_all(timeline: Timeline, actions: Iterable[LessonAction]) -> Timeline:
    """Do some actions, one after the other.

    Raises:
        Refused: by the first that cannot be done; its number is its place among ``actions``.
    """
    for place, action in enumerate(actions):
        try:
            timeline = perform(timeline, action)
        except Refused as refused:
            raise Refused(place, refused.message) from None
    return timeline
