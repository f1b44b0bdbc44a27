"""A learner at a lesson, and one who foretells."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bedview.bed.actions import HoldCams, Knit, Place
from bedview.bed.needles import Position
from bedview.lessons.grading import Graded
from bedview.lessons.lesson_file import read_lesson
from bedview.plan.procedure import compile_piece
from bedview.session.foretell_run import ForetellRun, PieceRows
from bedview.session.lesson_run import LessonRun
from bedview.store.learners import Learners
from tests.ui.desktop import small_piece


class Clock:
    """A clock that is turned by hand."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def learners(tmp_path: Path) -> Learners:
    return Learners(tmp_path)


def run(learners: Learners, learner: str | None = "Ada") -> LessonRun:
    return LessonRun("hold-cams", read_lesson("hold-cams"), learners, learner, Clock())


def test_a_goal_reached_by_hand_is_remembered(learners: Learners) -> None:
    here = run(learners)
    verdicts: list[Graded] = []
    here.graded.connect(verdicts.append)
    assert not here.check().reached
    right_half = tuple(range(10, 16))
    here.bench.do(HoldCams(on=True))
    here.bench.do(Place(right_half, Position.HOLD))
    here.bench.do(Knit(1))
    here.bench.do(Knit(1))
    assert here.check().reached
    assert [verdict.reached for verdict in verdicts] == [False, True]
    again = run(learners).progress
    assert (again.tries, again.shown, again.reached_at) == (2, False, Clock().now)


def test_looking_is_not_trying(learners: Learners) -> None:
    here = run(learners)
    assert not here.look().reached
    assert here.progress.tries == 0


def test_a_hint_is_given_when_asked(learners: Learners) -> None:
    here = run(learners)
    assert here.hint() == here.lesson.hint
    assert here.progress.hints == 1


def test_seeing_it_done_leaves_the_learners_bed_alone(learners: Learners) -> None:
    here = run(learners)
    lines = here.bench.timeline.lines
    shown = here.show(1)
    while not shown.at_end:
        shown.forward()
    assert here.bench.timeline.lines == lines
    assert shown.bench.timeline.passes == 6
    assert here.progress.shown
    shown.back()
    assert shown.bench.timeline.passes == 5, "rows are played one by one"
    assert shown.next_action == Knit(1)
    here.stop_showing()
    assert here.showing is None


def test_without_a_name_nothing_is_kept(learners: Learners) -> None:
    here = run(learners, None)
    here.check()
    here.hint()
    assert learners.names() == []


def test_what_was_missed_comes_back_another_day(learners: Learners) -> None:
    clock = Clock()
    lessons = {"hand-wraps": read_lesson("hand-wraps")}
    here = ForetellRun(lessons, learners, "Ada", clock)
    first = here.next()
    assert first is not None
    assert not here.answer([0]).right
    due = here.due_again()
    assert due is not None
    clock.now = due + timedelta(seconds=1)
    later = ForetellRun(lessons, learners, "Ada", clock)
    again = later.next()
    assert again is not None
    assert (again.asks, again.row) == (first.asks, first.row)
    assert later.answer(again.answer).right


def test_questions_end_when_none_is_due(learners: Learners) -> None:
    here = ForetellRun({"hand-wraps": read_lesson("hand-wraps")}, learners, None, Clock())
    asked = 0
    while (question := here.next()) is not None:
        assert here.answer(question.answer).right
        asked += 1
    assert asked > 0
    assert here.question is None
    assert here.timeline is None


def test_rows_of_a_piece_are_foretold_and_come_back(learners: Learners) -> None:
    clock = Clock()
    procedure = compile_piece(small_piece())
    here = ForetellRun({"mooring": PieceRows("mooring", procedure)}, learners, "Ada", clock)
    first = here.next()
    assert first is not None
    assert first.row == 3
    assert here.rows is not None
    assert here.rows.title == "Mooring sample"
    assert here.due == []
    here.answer([])
    due = here.due_again()
    assert due is not None
    assert here.next_due == due
    clock.now = due
    assert [prompt.lesson for prompt in here.due] == ["mooring"]
    # Cards of what is not asked about now are kept beside the new ones.
    ForetellRun({"hand-wraps": read_lesson("hand-wraps")}, learners, "Ada", clock).next()
    assert len(learners.load("Ada").cards) == 1
