"""One lesson: what it is about, the task, the bed, and what can be asked: check, hint, see it done."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.lessons.grading import Graded
from bedview.lessons.lesson import Lesson
from bedview.painting.tile_cache import TileCache
from bedview.plan.problems import PieceError
from bedview.session.lesson_run import LessonRun
from bedview.store.whole_file import OutputError
from bedview.ui.learn.fitted_label import FittedLabel
from bedview.ui.learn.hands import Hands
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.lesson_head import LessonHead
from bedview.ui.learn.showing_bench import ShowingBench
from bedview.ui.learn.told import Told, Tone
from bedview.ui.learn.tool_button import ToolButton
from bedview.ui.learn.tools import tools_of
from bedview.ui.learn.workbench import Workbench
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.theme import Theme


class LessonView(QWidget):
    """The lesson on screen.

    Args:
        run: the learner at the lesson.
        place: which of the lessons it is, from 1, and of how many.
        menu: what the last button opens (sheets, the view for a class).
        theme: how it looks.
        has_questions: whether there are rows in it worth foretelling.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    left = Signal()
    """Back to all lessons."""
    next_wanted = Signal()
    """On to the next lesson."""
    foretell_wanted = Signal()
    """The rows of this lesson are to be foretold."""
    trouble_met = Signal(str)
    """Progress could not be kept; one sentence says why."""
    showing_changed = Signal()
    """A right way is being shown, or no longer."""

    def __init__(
        self,
        run: LessonRun,
        place: tuple[int, int],
        menu: QMenu,
        theme: Theme,
        *,
        has_questions: bool = False,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.run = run
        self._theme = theme
        self._place = place
        self._has_questions, self._tiles = has_questions, tiles
        self.task = FittedLabel(theme, 2.375, bold=True)
        self.says = FittedLabel(theme, 1.5, tone="quiet")
        self.check = ToolButton(
            self.tr("Check"), "C", theme, ButtonKind.PRIMARY, says=self.tr("Check: is it right?")
        )
        self.hint = ToolButton(self.tr("Hint"), "I", theme)
        self.show_me = ToolButton(self.tr("Show me"), "S", theme, says=self.tr("Show me: see it done"))
        self.undo = Button("↶", theme, says=self.tr("Undo (Ctrl+Z)"))
        self.redo = Button("↷", theme, says=self.tr("Redo (Ctrl+Y)"))
        self.more = Button("⋯", theme, says=self.tr("For the class, and on paper"))
        self.more.setMenu(menu)
        self.next_lesson = Button(self.tr("Next lesson"), theme, ButtonKind.PRIMARY)
        self.foretell = Button(self.tr("Foretell its rows"), theme)
        self.hands = Hands(run.bench, parent=self)
        self.bench = Workbench(self.hands, tools_of(run.lesson), theme, tiles)
        self.showing: ShowingBench | None = None
        self._stack = QStackedWidget()
        self._stack.addWidget(self.bench)
        self._offer_ways()
        self._lay_out()
        self._connect()
        self._show_texts()

    @property
    def lesson(self) -> Lesson:
        """The lesson."""
        return self.run.lesson

    def beds(self) -> list[HandsBed]:
        """The beds on screen: the learner's, and the one on which it is shown."""
        return [self.bench.bed] if self.showing is None else [self.bench.bed, self.showing.bed]

    def shown_bed(self) -> HandsBed:
        """The bed that is looked at."""
        return self.bench.bed if self.showing is None else self.showing.bed

    def _lay_out(self) -> None:
        px = self._theme.px
        number, count = self._place
        title = self.tr("Lesson {number} of {count} · {title}").format(
            number=number, count=count, title=self.lesson.title
        )
        buttons = (self.undo, self.redo, self.hint, self.show_me, self.check, self.more)
        self.head = LessonHead(title, buttons, self._theme)
        self._words = QWidget()
        words = QHBoxLayout(self._words)
        words.setContentsMargins(px(24), 0, px(24), 0)
        words.setSpacing(px(28))
        words.addWidget(self.task, 5)
        words.addWidget(self.says, 6)
        for button in (self.foretell, self.next_lesson):
            self.bench.card.after.addWidget(button)
            button.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(self.head)
        column.addWidget(self._words)
        column.addWidget(self._stack, 1)

    def _connect(self) -> None:
        self.head.left.connect(self.left)
        self.check.clicked.connect(self._check)
        self.hint.clicked.connect(self._hint)
        self.undo.clicked.connect(self.hands.undo)
        self.redo.clicked.connect(self.hands.redo)
        self.next_lesson.clicked.connect(self.next_wanted)
        self.foretell.clicked.connect(self.foretell_wanted)
        self.hands.moved.connect(self._follow)

    def _show_texts(self) -> None:
        self.task.setText(self.lesson.task)
        self.says.setText("\n".join(self.lesson.says))
        self._follow()
        # Readers hear at once what others see at a glance.
        self.bench.say(Told(Tone.PLAIN, self.first_words()), self._read_out())

    def _read_out(self) -> str:
        """What a reader says of the lesson when it is opened: its title, what it is about, the task, keys."""
        keys = self.tr(
            "Arrows go along the needles, Space chooses, 0 to 3 bring to a position, question mark asks why."
        )
        return " ".join((f"{self.head.title.text()}.", *self.lesson.says, self.lesson.task, keys))

    def first_words(self) -> str:
        """What hands can do here, said before they do anything."""
        if self.bench.tools.positions:
            return self.tr(
                "Tap a needle or drag it forward; draw along the bed to choose several. Then press Check."
            )
        return self.tr("Use the tools below the bed, then press Check.")

    def _follow(self) -> None:
        self.undo.setEnabled(self.run.bench.can_undo)
        self.redo.setEnabled(self.run.bench.can_redo)
        self.next_lesson.hide()
        self.foretell.hide()

    # -- asking -------------------------------------------------------------------------------------------

    def _check(self) -> None:
        if self.showing is not None:
            self.stop_showing()
        try:
            verdict = self.run.check()
        except (PieceError, OutputError) as error:
            self._not_kept(error)
            verdict = self.run.look()
        self._tell(verdict)

    def _tell(self, verdict: Graded) -> None:
        tone = Tone.REACHED if verdict.reached else Tone.MISSED
        self.bench.say(Told(tone, verdict.says, verdict.needles))
        is_last = self._place[0] == self._place[1]
        self.next_lesson.setVisible(verdict.reached and not is_last)
        self.foretell.setVisible(verdict.reached and self._has_questions)
        if verdict.reached and not is_last:
            self.next_lesson.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.bench.bed.setFocus()

    def _hint(self) -> None:
        try:
            text = self.run.hint()
        except (PieceError, OutputError) as error:
            self._not_kept(error)
            text = self.lesson.hint
        (self.showing or self.bench).card.say(Told(Tone.HINT, text))

    def _not_kept(self, error: Exception) -> None:
        self.trouble_met.emit(self.tr("Your progress could not be kept: {why}.").format(why=error))

    def start_over(self) -> None:
        """Put the bed back as the lesson found it; redo brings it all again."""
        if self.run.bench.can_undo:
            self.run.start_over()
            self.hands.tell_stepped(self.tr("The bed is as the lesson found it."))

    # -- see it done --------------------------------------------------------------------------------------

    def _offer_ways(self) -> None:
        """One right way is shown at once; of several the learner chooses."""
        solutions = self.lesson.solutions
        if len(solutions) == 1:
            self.show_me.clicked.connect(partial(self.show_way, 0))
            return
        menu = QMenu(self)
        for number, solution in enumerate(solutions):
            text = solution.title or self.tr("Way {number}").format(number=number + 1)
            menu.addAction(text.replace("&", "&&")).triggered.connect(partial(self.show_way, number))
        self.show_me.setMenu(menu)

    def show_way(self, number: int, _checked: bool = False) -> None:
        """Play a right way on another bed."""
        self.stop_showing()
        try:
            self.run.show(number)
        except (PieceError, OutputError) as error:
            self._not_kept(error)
        assert self.run.showing is not None
        self.showing = ShowingBench(self.run.showing, self._theme, self._tiles)
        if self.bench.bed.scene.view.turned:
            self.showing.bed.turn_round()
        self.showing.over.connect(self.stop_showing)
        self._stack.addWidget(self.showing)
        self._stack.setCurrentWidget(self.showing)
        self.showing.setFocus()
        self.showing_changed.emit()

    def stop_showing(self) -> None:
        """Back to the learner's own bed."""
        if self.showing is None:
            return
        self.run.stop_showing()
        self._stack.setCurrentWidget(self.bench)
        self._stack.removeWidget(self.showing)
        self.showing.deleteLater()
        self.showing = None
        self.bench.bed.setFocus()
        self.showing_changed.emit()

    # -- Qt's calls ---------------------------------------------------------------------------------------

    def take_focus(self) -> None:
        """Put the keyboard where hands are."""
        (self.showing or self.bench.bed).setFocus()

    def press_key(self, event: QKeyEvent) -> bool:
        """Do what a key stands for, wherever the keyboard is.

        Returns:
            Whether it stands for anything.
        """
        if event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier):
            return False
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_C:
            self._check()
        elif key == Qt.Key.Key_I:
            self._hint()
        elif key == Qt.Key.Key_S:
            if self.show_me.menu() is None:
                self.show_way(0)
            else:
                self.show_me.showMenu()
        elif key == Qt.Key.Key_Escape and self.showing is None and not self.hands.chosen:
            self.left.emit()
        else:
            return False
        return True

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.press_key(event) and not (self.showing is None and self.bench.press_key(event)):
            super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # A fifth of the page belongs to words; the bed takes what is left.
        least = self._theme.px(104 if self.height() >= self._theme.px(560) else 72)
        self._words.setFixedHeight(max(least, round(0.18 * self.height())))
