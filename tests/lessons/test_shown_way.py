"""A lesson's right way as procedures: what is in which leg, counted in the lessons' files."""

from __future__ import annotations

import numpy as np
import pytest

from bedview.bed.actions import Knit
from bedview.lessons.grading import grade, solution_actions, started
from bedview.lessons.hands import Unpick, perform_all
from bedview.lessons.lesson_file import lesson_names, read_lesson
from bedview.lessons.shown_way import shown_way, taken_back_words


@pytest.mark.parametrize("name", list(lesson_names()))
def test_every_way_begins_where_the_learner_does_and_reaches_the_goals(name: str) -> None:
    lesson = read_lesson(name)
    for number in range(len(lesson.solutions)):
        way = shown_way(lesson, number)
        begun = started(lesson).state
        found = way.start.timeline.state_at(way.start_line)
        assert np.array_equal(found.position, begun.position)
        assert np.array_equal(found.height, begun.height)
        assert (found.passes, found.row, found.carriage) == (begun.passes, begun.row, begun.carriage)
        assert grade(lesson, way.end).reached


@pytest.mark.parametrize("name", list(lesson_names()))
def test_its_steps_make_every_row_of_the_solution_once(name: str) -> None:
    lesson = read_lesson(name)
    rows = sum(action.rows for action in solution_actions(lesson) if isinstance(action, Knit))
    way = shown_way(lesson)
    made = sum(step.makes_pass for leg in way.legs for step in leg.procedure.steps[leg.first :])
    assert made == rows


def test_rows_taken_back_begin_another_leg() -> None:
    lesson = read_lesson("cams-forgotten")
    assert isinstance(solution_actions(lesson)[0], Unpick)
    before, after = shown_way(lesson).legs
    assert before.first == len(before.procedure.steps), "nothing is done before the row is taken back"
    assert after.taken_back == 1
    assert before.timeline.passes == 5
    assert after.timeline.passes == 6
    assert after.procedure.steps[after.first].hands == ("Bring R4 to R6 to hold", "Set the hold cams to on")
    whole = perform_all(started(lesson), solution_actions(lesson))
    assert np.array_equal(after.timeline.state.height, whole.state.height)


def test_the_words_for_taking_back_count_the_rows() -> None:
    assert taken_back_words(1) == "Take the last row back, loop by loop"
    assert taken_back_words(3) == "Take the last 3 rows back, loop by loop"
