"""The lessons that come with bedview: in their order, and solved in every way they name."""

import json

import jsonschema
import pytest

from bedview.bed.actions import HoldCams, Wrap
from bedview.bed.rules import Refused
from bedview.lessons.grading import grade, solution_actions, start_actions, started, try_lesson
from bedview.lessons.lesson_file import lesson_names, lesson_paths, lesson_schema, read_lesson
from bedview.session.bench_run import BenchRun

NAMES = list(lesson_names())
# A toe with both ends in each row leaves hands no choice, only patience.
ONE_WAY = {"both-ends"}


def test_lessons_lead_from_positions_to_a_bootee() -> None:
    assert len(NAMES) >= 12
    assert NAMES[0] == "four-positions"
    assert NAMES[-1] == "flat-bootee"
    assert lesson_names()["four-positions"] == "The four positions"


@pytest.mark.parametrize("name", NAMES)
def test_lesson_is_not_done_before_it_begins(name: str) -> None:
    lesson = read_lesson(name)
    assert not grade(lesson, started(lesson)).reached


@pytest.mark.parametrize("name", NAMES)
def test_lesson_is_solved_by_hand_in_every_way_it_names(name: str) -> None:
    lesson = read_lesson(name)
    ways = {solution_actions(lesson, number) for number in range(len(lesson.solutions))}
    assert len(ways) >= (1 if name in ONE_WAY else 2)
    for actions in ways:
        bench = BenchRun(lesson.to_bed(), lesson.yarns, start_actions(lesson))
        for action in actions:
            assert bench.do(action) == ""
        assert grade(lesson, bench.timeline).reached
        assert try_lesson(lesson, actions) == {"reached": True, "says": lesson.done, "needles": []}


@pytest.mark.parametrize("name", NAMES)
def test_lesson_is_not_solved_by_half_of_what_is_to_be_done(name: str) -> None:
    lesson = read_lesson(name)
    actions = solution_actions(lesson)
    verdict = try_lesson(lesson, actions[: len(actions) // 2])
    assert not verdict["reached"]
    assert "{" not in verdict["says"]


@pytest.mark.parametrize("name", NAMES)
def test_lesson_file_is_as_its_schema_says(name: str) -> None:
    document = json.loads(lesson_paths()[name].read_bytes())
    jsonschema.Draft202012Validator(lesson_schema()).validate(document)


def test_schema_itself_is_sound() -> None:
    jsonschema.Draft202012Validator.check_schema(lesson_schema())


def test_refused_action_is_named_by_its_place_in_the_list() -> None:
    lesson = read_lesson("carriage-side")
    with pytest.raises(Refused, match="action 1: R1 is not in hold"):
        try_lesson(lesson, [HoldCams(on=True), Wrap(10)])
