"""A lesson's right way as something to follow: procedures with their steps, words and pictures.

What hands do is compiled as a piece is, so that a lesson is told, drawn and stepped through like one. A piece
cannot take rows back, though; so a way that unpicks comes in *legs*, and each goes on from the bed as it
stood after the rows that were left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from bedview.bed.needles import Bed
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.lessons.grading import solution_actions, started
from bedview.lessons.hands import LessonAction, Unpick, perform
from bedview.lessons.lesson import Lesson
from bedview.plan.actions_written import to_item
from bedview.plan.piece import FORMAT, Piece
from bedview.plan.procedure import Procedure, compile_piece


@dataclass(frozen=True)
class Leg:
    """A stretch of a way without unpicking.

    Attributes:
        procedure: all that stands on the bed at its end, from the first action of the lesson.
        first: the first step of it that belongs to this leg; those before were done, or begun with.
        taken_back: rows taken back before it.
    """

    procedure: Procedure
    first: int
    taken_back: int = 0

    @property
    def timeline(self) -> Timeline:
        """Its states and its fabric."""
        return self.procedure.timeline


@dataclass(frozen=True)
class ShownWay:
    """A right way.

    Attributes:
        legs: one, and another for each time rows are taken back.
    """

    legs: tuple[Leg, ...]

    @property
    def start(self) -> Procedure:
        """The procedure in which the bed stands at some time as the learner finds it."""
        return self.legs[0].procedure

    @property
    def start_line(self) -> int:
        """The line of it after which the bed stands so; -1 for a bed on which nothing is done."""
        first = self.legs[0].first
        steps = self.start.steps
        return steps[first].first_line - 1 if first < len(steps) else self.start.timeline.lines - 1

    @property
    def end(self) -> Timeline:
        """What stands on the bed when all is done."""
        return self.legs[-1].timeline


def shown_way(lesson: Lesson, solution: int = 0) -> ShownWay:
    """One of the lesson's right ways.

    Args:
        lesson: the lesson; that it can be done was seen when it was read.
        solution: which of its solutions.
    """
    title = lesson.solutions[solution].title or _("The way")
    timeline = started(lesson)
    legs, taken_back = [], 0
    for actions, unpicking in _stretches(solution_actions(lesson, solution)):
        begun = len(timeline.actions)
        for action in actions:
            timeline = perform(timeline, action)
        legs.append(_leg(lesson, timeline, begun, title, taken_back))
        taken_back = unpicking.rows if unpicking is not None else 0
        if unpicking is not None:
            timeline = perform(timeline.fork(timeline.lines - 1), unpicking)
    return ShownWay(tuple(legs))


def taken_back_words(rows: int) -> str:
    """What hands do between two legs, without a full stop."""
    return ngettext(
        "Take the last row back, loop by loop", "Take the last {rows} rows back, loop by loop", rows
    ).format(rows=rows)


def _stretches(
    actions: Sequence[LessonAction],
) -> Iterator[tuple[list[LessonAction], Unpick | None]]:
    """Actions up to each unpicking, and that; behind the last one there may be none."""
    stretch: list[LessonAction] = []
    for action in actions:
        if isinstance(action, Unpick):
            yield stretch, action
            stretch = []
        else:
            stretch.append(action)
    yield stretch, None


def _leg(lesson: Lesson, timeline: Timeline, begun: int, title: str, taken_back: int) -> Leg:
    bed = timeline.bed
    items = [to_item(action, bed.needles) for action in timeline.actions]
    before, now = items[:begun], items[begun:]
    segments = [
        {"kind": "actions", "title": name, "actions": part}
        for name, part in ((_("How the bed is set up"), before), (title, now))
        if part
    ]
    # A way is listed and stepped through, and both ask for every sentence.
    procedure = compile_piece(Piece.read(_document(lesson, bed, segments))).remembering()
    first = next((step.number for step in procedure.steps if step.actions.start >= begun), None)
    return Leg(procedure, len(procedure.steps) if first is None else first, taken_back)


def _document(lesson: Lesson, bed: Bed, segments: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "title": lesson.title,
        "bed": {"needles": bed.needles, "pitch_mm": bed.pitch_mm, "carriage": bed.carriage.value},
        "yarns": [yarn.model_dump(exclude_unset=True) for yarn in lesson.yarns],
        "segments": segments,
    }
