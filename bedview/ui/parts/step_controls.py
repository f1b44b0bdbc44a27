"""Buttons to step, play and jump; the row as a number one can type."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QMenu, QWidget
from typing_extensions import override

from bedview.language import filled
from bedview.session.rehearsal import Rehearsal
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.player import Player
from bedview.ui.remembered import SPEEDS, Remembered
from bedview.ui.theme import Theme


class StepControls(QWidget):
    """The controls.

    Args:
        rehearsal: what they move.
        player: what plays it.
        theme: how they look.
        remembered: how fast it played last.
        parent: as ever.
    """

    row_typed = Signal(int)
    """The number of a row was typed."""

    def __init__(
        self,
        rehearsal: Rehearsal,
        player: Player,
        theme: Theme,
        remembered: Remembered,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self._player = player
        self._remembered = remembered
        self._least_width = theme.px(420)
        self.first, self.back, self.on, self.next = (Button("", theme) for _ in range(4))
        self.play = Button("", theme, ButtonKind.PRIMARY)
        self.speed = Button("", theme, ButtonKind.QUIET)
        self.speed.setMenu(self._speed_menu())
        self.row = QLineEdit()
        self.of = Label(tone="quiet")
        self._lay_out(theme)
        self._connect()
        self._show_playing()
        self._show_speed()
        self._label(short=False)

    def _lay_out(self, theme: Theme) -> None:
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(theme.px(8))
        for button in (self.first, self.back, self.play, self.on, self.next):
            line.addWidget(button)
        line.addWidget(self.speed)
        line.addStretch(1)
        label = Label(self.tr("Row"), tone="quiet")
        label.setBuddy(self.row)
        self.row.setAccessibleName(self.tr("Row to go to"))
        self.row.setFixedWidth(theme.px(70))
        self.play.setMinimumWidth(theme.px(96))
        for widget in (label, self.row, self.of):
            line.addWidget(widget)

    def _label(self, *, short: bool) -> None:
        """Write on the buttons, in fewer words where there is little room."""
        for button, long, brief, says in (
            (self.first, self.tr("First"), self.tr("First"), self.tr("First row (Home)")),
            (self.back, self.tr("Back a row"), self.tr("Back"), self.tr("Back a row (left arrow)")),
            (self.on, self.tr("On a row"), self.tr("On"), self.tr("On a row (right arrow)")),
            (
                self.next,
                self.tr("Next thing to watch"),
                self.tr("To watch"),
                self.tr("Go to the next thing to watch (N)"),
            ),
        ):
            button.say(brief if short else long, says)

    @override
    def minimumSizeHint(self) -> QSize:
        # What is written on the buttons follows the width, so it must not keep the window from shrinking.
        return QSize(self._least_width, super().minimumSizeHint().height())

    def fit_into(self, wide: int) -> None:
        """Use fewer words, and then fewer controls, until all fits into so many pixels."""
        self._label(short=False)
        self.speed.setVisible(True)
        self.of.setVisible(True)
        if self.sizeHint().width() > wide:
            self._label(short=True)
        if self.sizeHint().width() > wide:
            self.speed.setVisible(False)
        if self.sizeHint().width() > wide:
            self.of.setVisible(False)

    def _connect(self) -> None:
        rehearsal = self._rehearsal
        self.first.clicked.connect(lambda: rehearsal.go_to(rehearsal.first))
        self.back.clicked.connect(rehearsal.back)
        self.on.clicked.connect(rehearsal.on)
        self.play.clicked.connect(self._player.toggle)
        self.next.clicked.connect(rehearsal.next_finding)
        self._player.playing_changed.connect(self._show_playing)
        self.row.returnPressed.connect(self._take_row)
        self.row.editingFinished.connect(self.refresh)

    def refresh(self) -> None:
        """Follow the cursor."""
        rehearsal = self._rehearsal
        passes = rehearsal.opened.procedure.timeline.passes
        if not (self.row.hasFocus() and self.row.isModified()):
            self.row.setText(str(rehearsal.row))
        of = self.tr("of {rows}").format(rows=passes)
        if of != self.of.text():
            self.row.setValidator(QIntValidator(1, max(1, passes), self.row))
            self.of.setText(of)
        self.first.setEnabled(not rehearsal.at_start)
        self.back.setEnabled(not rehearsal.at_start)
        self.on.setEnabled(not rehearsal.at_end)
        self.next.setEnabled(bool(rehearsal.watched))

    def _take_row(self) -> None:
        if self.row.hasAcceptableInput():
            self.row.setModified(False)
            self.row_typed.emit(int(self.row.text()))

    # -- playing ------------------------------------------------------------------------------------------

    def _show_playing(self) -> None:
        playing = self._player.playing
        text = self.tr("Pause") if playing else self.tr("Play")
        self.play.say(text, self.tr("{what} (space bar)").format(what=text))

    def _speed_menu(self) -> QMenu:
        menu = QMenu(self)
        for speed in SPEEDS:
            menu.addAction(self._speed_words(speed)).triggered.connect(partial(self._set_speed, speed))
        return menu

    def _speed_words(self, speed: float) -> str:
        if speed < 1:
            return filled(self.tr("a row every {seconds:g} seconds"), seconds=1 / speed)
        return (
            filled(self.tr("{rows:g} rows a second"), rows=speed) if speed > 1 else self.tr("a row a second")
        )

    def _set_speed(self, speed: float) -> None:
        self._remembered.rows_a_second = speed
        self._player.set_speed(speed)
        self._show_speed()

    def _show_speed(self) -> None:
        words = self._speed_words(self._remembered.rows_a_second)
        self.speed.say(f"{words} ▾", self.tr("Speed: {speed}").format(speed=words))
