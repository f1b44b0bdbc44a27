"""What a class looks at on the page Learn: the bed that is worked on, a way that is shown, a question."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer
from typing_extensions import override

from bedview.bed.actions import Knit
from bedview.picture.bed_scene import empty_scene
from bedview.session.lesson_run import LessonRun
from bedview.ui.bed_widget import BedWidget
from bedview.ui.class_view.sources import ClassSource, Moment
from bedview.ui.knit.acts_layout import ActLine, Sign
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.learn.told import Told, Tone

if TYPE_CHECKING:
    from bedview.ui.pages.learn_page import LearnPage

_SIGNS = {
    Tone.REFUSED: Sign.CAUTION,
    Tone.MISSED: Sign.CAUTION,
    Tone.REACHED: Sign.DONE,
}


class LearnSource(ClassSource):
    """Follows the page as the teacher works on it.

    On a lesson a step on shows the right way, step by step, and a step back goes back in it; on the free
    bench they do again and take back; where something is to be foretold a step on answers, and goes on.

    Args:
        page: the page.
        parent: as ever.
    """

    def __init__(self, page: LearnPage, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._page = page
        self._followed: BedWidget | None = None
        self._run: LessonRun | None = None
        # What is said and what is shown change one after the other; the class sees both at once.
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._changed)
        page.view_changed.connect(self._follow_view)
        self._follow_view()

    def _follow_view(self) -> None:
        view = self._page.view
        self._leave_run()
        if isinstance(view, LessonView):
            view.showing_changed.connect(self._follow_bed)
            self._run = view.run
            self._run.graded.connect(self._tell)
        self._follow_bed()

    def _leave_run(self) -> None:
        if self._run is not None:
            self._run.graded.disconnect(self._tell)
            self._run = None

    def _follow_bed(self) -> None:
        self._let_go()
        view = self._page.view
        self._followed = None if view is None else _bed_of(view)
        if self._followed is not None:
            self._followed.scene_shown.connect(self._tell)
            self._followed.destroyed.connect(self._forget)
        self._tell()

    def _let_go(self) -> None:
        if self._followed is not None:
            self._followed.scene_shown.disconnect(self._tell)
            self._followed.destroyed.disconnect(self._forget)
            self._followed = None

    def _forget(self) -> None:
        self._followed = None

    def _tell(self, _graded: object = None) -> None:
        self._soon.start()

    def _changed(self) -> None:
        self.changed.emit()

    # -- what there is to see -----------------------------------------------------------------------------

    @override
    def moment(self) -> Moment:
        view = self._page.view
        if view is None:
            line = ActLine(self.tr("Choose a lesson."), Sign.NOTHING)
            return Moment(self.tr("Learn"), "", (line,), empty_scene(40))
        return Moment(self._title(), self._where(), tuple(self._lines()), _bed_of(view).scene)

    def _title(self) -> str:
        lesson = self._page.lesson
        return self.tr("Learn") if lesson is None else lesson.title

    def _where(self) -> str:
        view = self._page.view
        if isinstance(view, LessonView):
            return self.tr("How it is done") if view.showing is not None else self.tr("The task")
        return self.tr("Foretell") if isinstance(view, ForetellView) else self.tr("Free bench")

    def _lines(self) -> Iterator[ActLine]:
        view = self._page.view
        if isinstance(view, LessonView):
            yield from self._lines_of_lesson(view)
        elif isinstance(view, ForetellView):
            yield ActLine(view.question.text(), Sign.NOTHING)
            if view.answered:
                yield _line_of(view.card.told)
        elif isinstance(view, BenchView):
            yield _line_of(view.bench.card.told)

    def _lines_of_lesson(self, view: LessonView) -> Iterator[ActLine]:
        if view.showing is not None and view.run.showing is not None:
            action = view.run.showing.next_action
            sign = Sign.CARRIAGE if isinstance(action, Knit) else Sign.HANDS
            if action is None:
                sign = Sign.DONE
            text = view.showing.card.told.text if action is not None else view.lesson.done
            yield ActLine(text, sign, 0 if sign is Sign.DONE else 1)
            return
        yield ActLine(view.lesson.task, Sign.NOTHING)
        if view.run.bench.can_undo or view.bench.card.told.tone is not Tone.PLAIN:
            yield _line_of(view.bench.card.told)

    # -- going on -----------------------------------------------------------------------------------------

    @override
    def forward(self) -> None:
        view = self._page.view
        if isinstance(view, LessonView):
            if view.showing is None:
                view.show_way(0)
            else:
                view.showing.step_on()
        elif isinstance(view, ForetellView):
            view.go.click()
        elif isinstance(view, BenchView):
            view.hands.redo()

    @override
    def back(self) -> None:
        view = self._page.view
        if isinstance(view, LessonView) and view.showing is not None:
            if view.run.showing is not None and view.run.showing.can_go_back:
                view.showing.step_back()
            else:
                view.stop_showing()
        elif isinstance(view, BenchView):
            view.hands.undo()

    @override
    def put_away(self) -> None:
        self._soon.stop()
        self._let_go()
        self._page.view_changed.disconnect(self._follow_view)
        view = self._page.view
        if isinstance(view, LessonView):
            view.showing_changed.disconnect(self._follow_bed)
        self._leave_run()


def _bed_of(view: LessonView | ForetellView | BenchView) -> BedWidget:
    return view.bed if isinstance(view, ForetellView) else view.shown_bed()


def _line_of(told: Told) -> ActLine:
    return ActLine(told.text, _SIGNS.get(told.tone, Sign.NOTHING))
