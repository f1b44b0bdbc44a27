"""Whatever hands do, a lesson has a word for it, every loop has a reason, and undo goes all the way back."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bedview.bed.actions import Cut, HoldCams, Knit, Place, Thread, Wrap
from bedview.bed.needles import Position
from bedview.lessons.foretell import Asks, answer, ask
from bedview.lessons.grading import grade, start_actions
from bedview.lessons.hands import LessonAction, Unpick
from bedview.lessons.lesson_file import lesson_names, read_lesson
from bedview.session.bench_run import BenchRun

LESSONS = {name: read_lesson(name) for name in lesson_names()}

needle = st.integers(0, 19)
hands: st.SearchStrategy[LessonAction] = st.one_of(
    st.builds(lambda first, position: Place((first,), position), needle, st.sampled_from(Position)),
    st.builds(HoldCams, st.booleans()),
    st.builds(Knit, st.just(1)),
    st.builds(Wrap, needle),
    st.builds(Thread, st.sampled_from(["main", "waste"])),
    st.just(Cut()),
    st.just(Unpick(1)),
)


@pytest.mark.parametrize("name", LESSONS)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(actions=st.lists(hands, max_size=14))
def test_any_hands_are_judged_and_explained(name: str, actions: list[LessonAction]) -> None:
    lesson = LESSONS[name]
    bench = BenchRun(lesson.to_bed(), lesson.yarns, start_actions(lesson))
    begun = bench.timeline.actions[:]
    for action in actions:
        bench.do(action)
    verdict = grade(lesson, bench.timeline)
    assert verdict.says
    assert "{" not in verdict.says
    assert verdict.reached == all(verdict.goals)
    for loop in range(len(bench.timeline.fabric)):
        assert bench.why_loop(loop)
    for index in range(lesson.bed.needles):
        assert bench.why_needle(index)
    question = ask(bench.timeline, Asks.WRAPPED, bench.words)
    assert answer(question, question.answer, bench.words).right
    assert answer(question, question.answer ^ {0}, bench.words).says
    bench.start_over()
    assert bench.timeline.actions == begun
