"""One lesson at the bed: the learner's hands, feedback, a hint, a way to see it done, what is remembered."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime

from psygnal import Signal

from bedview.bed.actions import Knit
from bedview.lessons.grading import Graded, grade, solution_actions, start_actions
from bedview.lessons.hands import LessonAction
from bedview.lessons.lesson import Lesson
from bedview.session.bench_run import BenchRun
from bedview.store.learners import Learner, Learners, LessonProgress


class LessonRun:
    """A learner at a lesson.

    Args:
        name: name of the lesson.
        lesson: the lesson, in the learner's language.
        learners: where progress is kept.
        learner: name of the learner; None keeps nothing.
        now: the clock, in UTC.

    Attributes:
        bench: the bed; send gestures to it, and listen to its ``changed``.

    Signals:
        graded: the bed was judged; the verdict is sent along.
        showing_moved: a right way is being shown, and the step shown is another.
    """

    graded = Signal(Graded)
    showing_moved = Signal()

    def __init__(
        self,
        name: str,
        lesson: Lesson,
        learners: Learners,
        learner: str | None,
        now: Callable[[], datetime],
    ) -> None:
        self.name, self.lesson = name, lesson
        self._learners, self._learner, self._now = learners, learner, now
        self.bench = self._new_bench()
        self.showing: Showing | None = None

    @property
    def progress(self) -> LessonProgress:
        """How far the learner came with this lesson; nothing yet, without a learner.

        Raises:
            PieceError: if the learner's file cannot be used.
        """
        if self._learner is None:
            return LessonProgress()
        return self._learners.load(self._learner).lessons.get(self.name, LessonProgress())

    def look(self) -> Graded:
        """Judge the bed without a word to anyone: for marks beside the goals while hands work."""
        return grade(self.lesson, self.bench.timeline)

    def check(self) -> Graded:
        """Judge the bed because the learner asks; what came of it is remembered.

        Raises:
            PieceError: if the learner's file cannot be used.
            OutputError: if it cannot be written.
        """
        verdict = self.look()
        before = self.progress
        reached_at = before.reached_at or (self._now() if verdict.reached else None)
        self._remember(before.model_copy(update={"tries": before.tries + 1, "reached_at": reached_at}))
        self.graded.emit(verdict)
        return verdict

    def hint(self) -> str:
        """The hint.

        Raises:
            PieceError: if the learner's file cannot be used.
            OutputError: if it cannot be written.
        """
        before = self.progress
        self._remember(before.model_copy(update={"hints": before.hints + 1}))
        return self.lesson.hint

    def start_over(self) -> None:
        """Put the bed back as the lesson found it; that can be undone gesture by gesture with redo."""
        self.bench.start_over()

    def show(self, solution: int = 0) -> Showing:
        """See it done: a bed of its own on which a right way is played; the learner's bed is not touched.

        Args:
            solution: which of the lesson's solutions.

        Raises:
            PieceError: if the learner's file cannot be used; it is shown all the same (:attr:`showing`).
            OutputError: if it cannot be written; likewise.
        """
        self.showing = Showing(self._new_bench(), solution_actions(self.lesson, solution))
        self.showing_moved.emit()
        before = self.progress
        if before.reached_at is None and not before.shown:
            self._remember(before.model_copy(update={"shown": True}))
        return self.showing

    def stop_showing(self) -> None:
        """Go back to the learner's own bed."""
        self.showing = None
        self.showing_moved.emit()

    def _new_bench(self) -> BenchRun:
        lesson = self.lesson
        return BenchRun(lesson.to_bed(), lesson.yarns, start_actions(lesson))

    def _remember(self, progress: LessonProgress) -> None:
        if self._learner is not None:
            learner: Learner = self._learners.load(self._learner)
            self._learners.keep(learner.with_lesson(self.name, progress))


class Showing:
    """A right way, played action by action on a bed of its own.

    Args:
        bench: a bed as the lesson starts.
        actions: what is to be done on it; rows are played one by one.
    """

    def __init__(self, bench: BenchRun, actions: tuple[LessonAction, ...]) -> None:
        self.bench = bench
        self._actions = tuple(_row_by_row(actions))
        self._next = 0

    @property
    def at_end(self) -> bool:
        """Whether all is done."""
        return self._next == len(self._actions)

    @property
    def next_action(self) -> LessonAction | None:
        """What comes next; None at the end."""
        return None if self.at_end else self._actions[self._next]

    @property
    def can_go_back(self) -> bool:
        """Whether anything is done that can be taken back."""
        return self._next > 0

    def forward(self) -> None:
        """Do the next action, if there is one."""
        if self.at_end:
            return
        refused = self.bench.do(self._actions[self._next])
        assert not refused, refused
        self._next += 1

    def back(self) -> None:
        """Take the last action back, if there is one."""
        if self._next:
            self.bench.undo()
            self._next -= 1


def _row_by_row(actions: Iterable[LessonAction]) -> Iterator[LessonAction]:
    for action in actions:
        if isinstance(action, Knit):
            yield from (Knit(1, action.start if row == 0 else None) for row in range(action.rows))
        else:
            yield action
