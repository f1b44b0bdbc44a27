"""Whether a lesson's task is done: judged by what the fabric became, never by the clicks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from bedview.bed.needles import needle_name
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.lessons.goals import Fault, Look
from bedview.lessons.hands import LessonAction, perform, perform_all, to_lesson_action
from bedview.lessons.lesson import Lesson


@dataclass(frozen=True, slots=True)
class Graded:
    """What a lesson says of a bed.

    Attributes:
        reached: whether all goals are.
        says: the feedback on the first goal that is not, with the needle and the reason; or the last word.
        needles: the needles at fault, indices from the left; none where all is well.
        goals: of each goal, in order, whether it is reached.
    """

    reached: bool
    says: str
    needles: tuple[int, ...]
    goals: tuple[bool, ...]


def started(lesson: Lesson) -> Timeline:
    """The lesson's bed as the learner finds it.

    Raises:
        Refused: if the bed cannot do what the lesson starts with; a lesson that was read from a file can.
    """
    return perform_all(lesson.new_timeline(), start_actions(lesson))


def start_actions(lesson: Lesson) -> tuple[LessonAction, ...]:
    """What is done before the learner begins."""
    return tuple(to_lesson_action(item, lesson.bed.needles) for item in lesson.start)


def solution_actions(lesson: Lesson, number: int = 0) -> tuple[LessonAction, ...]:
    """What hands and carriage do in one of the right ways."""
    items = lesson.solutions[number].actions
    return tuple(to_lesson_action(item, lesson.bed.needles) for item in items)


def grade(lesson: Lesson, timeline: Timeline) -> Graded:
    """Judge a bed by the lesson's goals.

    Args:
        lesson: the lesson.
        timeline: its start, and what the learner did on it.
    """
    look = Look(timeline, lesson.words())
    faults = [goal.fault(look) for goal in lesson.goals]
    reached = tuple(fault is None for fault in faults)
    for goal, fault in zip(lesson.goals, faults, strict=True):
        if fault is not None:
            return Graded(False, _told(look, goal.says, fault), fault.needles, reached)
    return Graded(True, lesson.done, (), reached)


def try_lesson(lesson: Lesson, actions: Sequence[LessonAction]) -> dict[str, Any]:
    """Do some actions on a lesson's bed and judge what came of them.

    Returns:
        ``{"reached": bool, "says": str, "needles": [names from the left]}``.

    Raises:
        Refused: by the first action that the bed cannot do; its number is its place among ``actions``.
    """
    timeline = started(lesson)
    for place, action in enumerate(actions):
        try:
            timeline = perform(timeline, action)
        except Refused as refused:
            raise Refused(place, refused.message) from None
    graded = grade(lesson, timeline)
    names = [needle_name(needle, lesson.bed.needles) for needle in graded.needles]
    return {"reached": graded.reached, "says": graded.says, "needles": names}


def _told(look: Look, says: str, fault: Fault) -> str:
    """The lesson's feedback with the needles in it, and the reason behind it."""
    told = says.replace("{needles}", look.words.needles(fault.needles))
    return f"{told} {fault.because}" if fault.because else told
