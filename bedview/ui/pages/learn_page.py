"""Learn: lessons with a bed to work with one's own hands, foretelling, and a free bench.

It needs no piece, and outlives the pieces that are opened beside it: what lies on a lesson's bed or on the
bench stays there.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QMenu, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.needles import Bed
from bedview.lessons.lesson import Lesson
from bedview.lessons.lesson_file import lesson_names, read_lesson
from bedview.painting.tile_cache import TileCache
from bedview.plan.piece import Yarn
from bedview.plan.problems import PieceError
from bedview.session.bench_run import BenchRun
from bedview.session.foretell_run import ForetellRun, LessonRows, PieceRows, Rows
from bedview.session.lesson_run import LessonRun
from bedview.store.learners import Learner, Learners
from bedview.store.whole_file import OutputError
from bedview.ui.class_view.learn_source import LearnSource
from bedview.ui.class_view.sources import ClassSource
from bedview.ui.desk import Desk
from bedview.ui.in_background import Errand
from bedview.ui.learn.bench_shelf import BenchShelf
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.learn.overview import Overview
from bedview.ui.learn.standing import Standing
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

LearnView = LessonView | ForetellView | BenchView


def utc_now() -> datetime:
    """The clock."""
    return datetime.now(UTC)


class LearnPage(QWidget):
    """The page.

    Args:
        desk: the open piece, whose rows can be foretold and whose bed can lie on the bench.
        theme: how it looks.
        remembered: whose progress it was last.
        learners: where progress is kept.
        now: the clock, in UTC.
        bench_file: where what lies on the bench is kept from one start to the next; nowhere if left out.
        parent: as ever.
    """

    piece_wanted = Signal(object)
    """What was made on the bench (a :class:`~bedview.plan.piece.Piece`) is to be opened."""
    save_wanted = Signal(object)
    """The same is to be written to a file."""
    view_changed = Signal()
    """Another lesson, question or bench is shown, or the list of lessons."""
    said = Signal(str, str, object)
    """A sentence for the line at the top, what can be done about it, and what does it."""

    def __init__(
        self,
        desk: Desk,
        theme: Theme,
        remembered: Remembered,
        learners: Learners,
        now: Callable[[], datetime] = utc_now,
        bench_file: Path | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Learn"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._desk, self._theme, self._remembered = desk, theme, remembered
        self._learners, self._now = learners, now
        self._shelf = BenchShelf(desk, bench_file, self)
        self._rows: dict[str, Rows] = {}
        self._lessons: dict[str, Lesson] = {}
        self._runs: dict[tuple[str | None, str], LessonRun] = {}
        self._tiles = TileCache(self.devicePixelRatio())
        self._view: LearnView | None = None
        self._wanted = ""
        self.class_menu = QMenu(self)
        start_over = self.class_menu.addAction(self.tr("Start this lesson over"))
        start_over.triggered.connect(self._start_over)
        self.class_menu.addSeparator()
        self._standing = Standing(self)
        self.overview = Overview(theme)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.overview)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)
        self._connect()
        self._reading: Errand[list[LessonRows]] = Errand(self._take_lessons, self._no_lessons, self)
        self._reading.start(_read_lessons)

    def _connect(self) -> None:
        overview = self.overview
        overview.lesson_wanted.connect(self.open_lesson)
        overview.foretell_wanted.connect(self._foretell)
        overview.bench_wanted.connect(self.open_bench)
        overview.learner_chosen.connect(self.choose_learner)
        overview.wipe_wanted.connect(self.wipe_learner)
        self._desk.piece_opened.connect(self.refresh)
        self._shelf.trouble_met.connect(self._say_trouble)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def ready(self) -> bool:
        """Whether the lessons have been read."""
        return bool(self._lessons)

    @property
    def lesson(self) -> Lesson | None:
        """The lesson that is shown."""
        return self._view.lesson if isinstance(self._view, LessonView) else None

    @property
    def view(self) -> LearnView | None:
        """The lesson, question or bench that is shown; None for the list of lessons."""
        return self._view

    def beds(self) -> list[HandsBed]:
        """The beds on screen."""
        return [] if self._view is None else self._view.beds()

    @property
    def settled(self) -> bool:
        """Whether nothing moves on the page."""
        still = not any(bed.riding for bed in self.beds())
        return still and (not isinstance(self._view, LessonView | BenchView) or self._view.bench.settled)

    def turn_round(self) -> None:
        """See the beds on screen from the other side of the table, or no longer."""
        for bed in self.beds():
            bed.turn_round()

    def class_source(self) -> ClassSource:
        """What a class looks at while this page is shown."""
        return LearnSource(self)

    def _take_lessons(self, read: list[LessonRows]) -> None:
        self._lessons = {each.name: each.lesson for each in read}
        self._rows = {each.name: each for each in read}
        self.refresh()
        if self._wanted:
            self.open_lesson(self._wanted)
        elif self._view is None and self.hasFocus():
            self.overview.take_focus()

    def _no_lessons(self, error: Exception) -> None:
        if not isinstance(error, PieceError):
            raise error
        self.said.emit(self.tr("The lessons cannot be read: {why}.").format(why=error), "", None)

    def refresh(self) -> None:
        """Follow what the learner has done."""
        learner = self._load()
        self.overview.show_learners(self._learners.names(), self.learner)
        if not self._lessons:
            return
        run = self._foretelling(self._rows)
        self.overview.show_lessons(self._standing.seen(self._lessons, learner.lessons, run))
        piece = self._desk.title if self._desk.opened else ""
        self.overview.show_foretelling(self._standing.foretelling(run, self._now()), piece)

    def show_overview(self) -> None:
        """Show all lessons."""
        self._show(None)
        self.refresh()
        self.overview.take_focus()

    def _show(self, view: LearnView | None) -> None:
        old, self._view = self._view, view
        if view is not None:
            self._stack.addWidget(view)
            self._stack.setCurrentWidget(view)
            view.left.connect(self.show_overview)
            view.take_focus()
        else:
            self._stack.setCurrentWidget(self.overview)
        if isinstance(old, BenchView):
            self._shelf.keep()
        if old is not None:
            self._stack.removeWidget(old)
            old.deleteLater()
        self.view_changed.emit()

    # -- lessons ------------------------------------------------------------------------------------------

    def open_lesson(self, name: str) -> None:
        """Go to a lesson; its bed is as it was left. Before the lessons are read, it is opened then."""
        if not self._lessons:
            self._wanted = name
            return
        self._wanted = ""
        if name not in self._lessons:
            return
        known_as = (self.learner, name)
        if known_as not in self._runs:
            lesson = self._lessons[name]
            self._runs[known_as] = LessonRun(name, lesson, self._learners, self.learner, self._now)
        names = list(self._lessons)
        place = names.index(name) + 1, len(names)
        rows = {name: self._rows[name]}
        view = LessonView(
            self._runs[known_as],
            place,
            self.class_menu,
            self._theme,
            has_questions=bool(self._rows[name].prompts()),
            tiles=self._tiles,
        )
        view.next_wanted.connect(lambda: self.open_lesson(names[place[0] % len(names)]))
        view.trouble_met.connect(self._say_trouble)
        view.foretell_wanted.connect(lambda: self._ask(rows, self._lessons[name].title))
        self._show(view)

    def _start_over(self) -> None:
        if isinstance(self._view, LessonView):
            self._view.start_over()

    def _say_trouble(self, text: str) -> None:
        self.said.emit(text, "", None)

    # -- foretelling --------------------------------------------------------------------------------------

    def _foretelling(self, rows: dict[str, Rows]) -> ForetellRun | None:
        try:
            return ForetellRun(rows, self._learners, self.learner, self._now)
        except PieceError as error:
            self._say_unusable(error)
            return None

    def _foretell(self, of_piece: bool) -> None:
        opened = self._desk.opened
        if of_piece and opened is not None:
            name = str(self._desk.known_as or self._desk.title)
            self._ask({name: PieceRows(name, opened.procedure)}, self._desk.title)
        else:
            self._ask(self._rows)

    def _ask(self, rows: dict[str, Rows], of: str = "") -> None:
        """Put questions about rows; of a lesson or a piece with that title, or of all lessons."""
        run = self._foretelling(rows)
        if run is None:
            return
        title = self.tr("Foretell “{title}”").format(title=of) if of else self.tr("Foretell")
        view = ForetellView(run, title, self._now, self._theme, self._tiles)
        view.trouble_met.connect(self._say_trouble)
        self._show(view)

    def foretell(self) -> None:
        """Foretell rows of the lessons."""
        self._foretell(of_piece=False)

    # -- the bench ----------------------------------------------------------------------------------------

    def open_bench(self) -> None:
        """Go to the free bench; what lies on it is as it was left."""
        view = BenchView(self._shelf.bench, self._shelf.yarn_sets(), self._theme, self._tiles)
        view.bed_wanted.connect(self._lay_out_bed)
        view.yarns_wanted.connect(self._lay_out_yarns)
        view.rehearse_wanted.connect(self.piece_wanted)
        view.save_wanted.connect(self.save_wanted)
        self._show(view)

    def _lay_out_bed(self, bed: Bed, yarns: tuple[Yarn, ...]) -> None:
        before = self._shelf.lay(BenchRun(bed, yarns))
        self.open_bench()
        if before.timeline.actions:
            text = self.tr("Another bed lies on the bench.")
            self.said.emit(text, self.tr("Put the old one back"), lambda: self._put_back(before))

    def _lay_out_yarns(self, yarns: tuple[Yarn, ...]) -> None:
        try:
            bench = self._shelf.bench.with_yarns(yarns)
        except ValueError as refused:
            text = self.tr("The yarns stay as they are. {why}")
            self._say_trouble(text.format(why=refused))
            return
        before = self._shelf.lay(bench)
        self.open_bench()
        if before.yarns != bench.yarns:
            text = self.tr("Other yarns lie on the bench.")
            self.said.emit(text, self.tr("Undo"), lambda: self._put_back(before))

    def _put_back(self, bench: BenchRun) -> None:
        left = self._shelf.lay(bench)
        if isinstance(self._view, BenchView):
            self.open_bench()
        if len(left.timeline.actions) > len(bench.timeline.actions):
            text = self.tr("What was done since is put aside.")
            self.said.emit(text, self.tr("Put it back"), lambda: self._put_back(left))

    # -- learners -----------------------------------------------------------------------------------------

    @property
    def learner(self) -> str | None:
        """Whose progress is kept; None for nobody's."""
        return self._remembered.learner or None

    def _load(self) -> Learner:
        """What the learner has done; nothing if the file cannot be used."""
        if self.learner is None:
            return Learner(name="-")
        try:
            return self._learners.load(self.learner)
        except PieceError as error:
            self._say_unusable(error)
            return Learner(name="-")

    def _say_unusable(self, error: PieceError) -> None:
        text = self.tr("The progress of {name} cannot be read: {why}.")
        self.said.emit(text.format(name=self.learner, why=error), "", None)

    def choose_learner(self, name: str) -> None:
        """Somebody else learns; an empty name keeps nothing."""
        self._remembered.learner = name
        if name and name not in self._learners.names():
            self._keep(Learner(name=name))
        self.refresh()

    def wipe_learner(self, name: str) -> None:
        """Forget a learner; it can be taken back while the line stands."""
        known = self._load()
        try:
            self._learners.wipe(name)
        except OutputError as error:
            self._say_trouble(self.tr("Nothing was forgotten: {why}.").format(why=error))
            return
        self.choose_learner("")
        text = self.tr("{name} and all progress are forgotten.").format(name=name)
        self.said.emit(text, self.tr("Undo"), lambda: self._bring_back(known))

    def _bring_back(self, learner: Learner) -> None:
        self._keep(learner)
        self.choose_learner(learner.name)

    def _keep(self, learner: Learner) -> None:
        try:
            self._learners.keep(learner)
        except OutputError as error:
            self._say_trouble(self.tr("Progress cannot be kept: {why}.").format(why=error))

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def event(self, event: QEvent) -> bool:
        # Undo means the bed's while hands work on one, not the piece's.
        if isinstance(event, QKeyEvent) and self._undoes(event):
            if event.type() == QEvent.Type.ShortcutOverride:
                event.accept()
                return True
            if event.type() == QEvent.Type.KeyPress and isinstance(self._view, LessonView | BenchView):
                hands = self._view.hands
                (hands.undo if event.matches(QKeySequence.StandardKey.Undo) else hands.redo)()
                return True
        return super().event(event)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        if isinstance(self._view, BenchView):
            self._shelf.keep()
        super().hideEvent(event)

    def _undoes(self, event: QKeyEvent) -> bool:
        keys = QKeySequence.StandardKey
        return isinstance(self._view, LessonView | BenchView) and (
            event.matches(keys.Undo) or event.matches(keys.Redo)
        )


def _read_lessons() -> list[LessonRows]:
    """All lessons in the language in use, in the order to learn them in."""
    return [LessonRows.of(name, read_lesson(name).spoken()) for name in lesson_names()]
