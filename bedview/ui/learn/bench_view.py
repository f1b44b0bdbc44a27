"""The free bench on screen: any bed, any action by hand, and out again as a piece."""

from __future__ import annotations

import json
from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.lessons.lesson_file import parse_lesson_actions
from bedview.painting.tile_cache import TileCache
from bedview.plan.problems import PieceError
from bedview.session.action_lines import read_actions
from bedview.session.bench_run import BenchRun
from bedview.session.editing import EditError
from bedview.ui.learn.bed_form import BedForm, YarnSet
from bedview.ui.learn.hands import Hands
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.lesson_head import LessonHead
from bedview.ui.learn.told import Told, Tone
from bedview.ui.learn.tools import ALL_TOOLS
from bedview.ui.learn.workbench import Workbench
from bedview.ui.learn.yarn_form import YarnForm
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.theme import Theme


class BenchView(QWidget):
    """The bench.

    Args:
        bench: what lies on it.
        yarns: sets of yarns to choose from, the present one first.
        theme: how it looks.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    left = Signal()
    """Back to all lessons."""
    bed_wanted = Signal(object, object)
    """Another bed, with these yarns."""
    yarns_wanted = Signal(object)
    """These yarns are to lie beside the bed, instead of those that do."""
    rehearse_wanted = Signal(object)
    """What was done (a :class:`~bedview.plan.piece.Piece`) is to be opened."""
    save_wanted = Signal(object)
    """What was done is to be written to a file."""

    def __init__(
        self,
        bench: BenchRun,
        yarns: Sequence[YarnSet],
        theme: Theme,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.hands = Hands(bench, tells_findings=True, parent=self)
        self.bench = Workbench(self.hands, ALL_TOOLS, theme, tiles)
        self.form = BedForm(bench.timeline.bed, yarns, theme)
        self.form.hide()
        self.yarns = YarnForm(bench.yarns, theme)
        self.yarns.hide()
        self.other = Button(self.tr("Another bed…"), theme, says=self.tr("Choose another bed and yarns"))
        self.other.setCheckable(True)
        self.undo = Button("↶", theme, says=self.tr("Undo (Ctrl+Z)"))
        self.redo = Button("↷", theme, says=self.tr("Redo (Ctrl+Y)"))
        self.save = Button(self.tr("Save…"), theme, says=self.tr("Save what was done as a piece"))
        self.rehearse = Button(self.tr("Rehearse it as a piece"), theme, ButtonKind.PRIMARY)
        self.line = QLineEdit()
        self.line.setPlaceholderText(self.tr("or type what hands do: R1-R5 to hold"))
        self.line.setAccessibleName(self.tr("Type what hands do, for example: wrap R1"))
        self._lay_out(theme)
        self._connect()
        self._follow()
        self.bench.say(Told(Tone.PLAIN, self.first_words()))

    def _lay_out(self, theme: Theme) -> None:
        px = theme.px
        self.line.setMinimumWidth(px(120))
        self.line.setMaximumWidth(px(330))
        self.head = LessonHead(
            self.tr("Free bench"),
            (self.line, self.other, self.undo, self.redo, self.save, self.rehearse),
            theme,
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(self.head)
        for each in (self.form, self.yarns):
            form = QHBoxLayout()
            form.setContentsMargins(px(24), 0, px(24), 0)
            form.addWidget(each)
            column.addLayout(form)
        column.addWidget(self.bench, 1)

    def _connect(self) -> None:
        self.head.left.connect(self.left)
        self.other.toggled.connect(self._show_form)
        self.bench.tools.yarns_wanted.connect(self.show_yarns)
        self.yarns.chosen.connect(self.yarns_wanted)
        self.form.laid_out.connect(self.bed_wanted)
        self.form.refused.connect(self.hands.refuse)
        self.undo.clicked.connect(self.hands.undo)
        self.redo.clicked.connect(self.hands.redo)
        self.hands.moved.connect(self._follow)
        self.line.returnPressed.connect(self._do_typed)
        self.save.clicked.connect(lambda: self.save_wanted.emit(self._piece()))
        self.rehearse.clicked.connect(lambda: self.rehearse_wanted.emit(self._piece()))

    def _show_form(self, shown: bool) -> None:
        self.form.setVisible(shown)
        if shown:
            self.yarns.hide()

    def show_yarns(self) -> None:
        """Let yarns be named and added."""
        self.other.setChecked(False)
        self.yarns.show()
        self.yarns.lines[0].name.selectAll()
        self.yarns.lines[0].name.setFocus()

    def _piece(self) -> object:
        return self.hands.bench.to_piece(self.tr("From the free bench"))

    def first_words(self) -> str:
        """What can be done here, said before anything is done."""
        return self.tr(
            "Thread a yarn, choose needles, cast on, push the carriage. "
            "Tap a loop of the fabric, or press ?, to hear why it is there."
        )

    def beds(self) -> list[HandsBed]:
        """The beds on screen."""
        return [self.bench.bed]

    def shown_bed(self) -> HandsBed:
        """The bed that is looked at."""
        return self.bench.bed

    def _follow(self) -> None:
        bench = self.hands.bench
        self.undo.setEnabled(bench.can_undo)
        self.redo.setEnabled(bench.can_redo)
        for button in (self.rehearse, self.save):
            button.setVisible(bool(bench.timeline.actions))

    def _do_typed(self) -> None:
        """Do what was typed, all of it or nothing."""
        bench = self.hands.bench
        try:
            items = read_actions(self.line.text())
            actions = parse_lesson_actions(json.dumps(items).encode(), bench.timeline.bed.needles)
        except (EditError, PieceError) as error:
            said = str(error)
            self.hands.refuse(f"{said[:1].upper()}{said[1:].rstrip('.')}.")
            return
        if actions and self.hands.do(*actions):
            self.line.clear()

    # -- Qt's calls ---------------------------------------------------------------------------------------

    def take_focus(self) -> None:
        """Put the keyboard where hands are."""
        self.bench.bed.setFocus()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and not self.yarns.isHidden():
            self.yarns.hide()
            self.take_focus()
        elif event.key() == Qt.Key.Key_Escape and not self.hands.chosen:
            self.left.emit()
        elif not self.bench.press_key(event):
            super().keyPressEvent(event)
