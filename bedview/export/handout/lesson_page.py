"""A lesson to take home: its right way as a page to step through, one file that fetches nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bedview.export.briefing import brief
from bedview.export.row_list import ListedLine, ListedPart, row_list, stopped
from bedview.export.stepping.page import Contents, page_of
from bedview.language import gettext as _
from bedview.lessons.lesson import Lesson
from bedview.lessons.shown_way import Leg, shown_way, taken_back_words

_NO_FAULT = frozenset({"stitches-left"})
"""A lesson ends with stitches on the bed."""


def lesson_page(lesson: Lesson, solution: int = 0) -> str:
    """The page as HTML; it opens where the learner begins.

    Args:
        lesson: the lesson, in the language of the class.
        solution: which of its right ways is stepped through.
    """
    way = shown_way(lesson, solution)
    start = way.start
    briefing = brief(start.piece, start, leaving_out=_NO_FAULT)
    contents = Contents(
        piece=way.legs[-1].procedure.piece,
        legs=way.legs,
        briefing=briefing,
        parts=list(_parts(way.legs)),
        intro=(lesson.task, *lesson.says),
        begin=way.legs[0].first,
        finished=lesson.done,
    )
    return page_of(contents)


def _parts(legs: tuple[Leg, ...]) -> Iterator[ListedPart]:
    """The list of all rows, leg after leg, each line with the number its step has on the page."""
    steps = 0
    for place, leg in enumerate(legs):
        first = leg.first if place else 0
        if place:
            yield _taking_back(leg, steps)
            steps += 1
        for part in row_list(leg.procedure):
            if part.lines[0].first_step >= first:
                lines = [replace(line, first_step=line.first_step - first + steps) for line in part.lines]
                yield ListedPart(part.heading, tuple(lines))
        steps += len(leg.procedure.steps) - first


def _taking_back(leg: Leg, step: int) -> ListedPart:
    before = leg.procedure.steps[leg.first :]
    row = int(before[0].passes) if before else leg.timeline.passes
    line = ListedLine(
        first_row=row,
        rows=0,
        hands=(stopped(taken_back_words(leg.taken_back)),),
        carriage="",
        knits=False,
        why="",
        minds=(),
        at_end="",
        first_step=step,
        pictured=False,
    )
    return ListedPart(_("Taking back"), (line,))
