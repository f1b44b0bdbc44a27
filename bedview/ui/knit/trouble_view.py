"""Trouble: what happened, and the card for it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.needles import NeedleError, needle_index, needle_name
from bedview.picture.bed_scene import BedScene
from bedview.session.knitting_run import KnittingRun
from bedview.session.trouble import Card, Trouble, trouble_card
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.sheet_view import Choice, PressedButton, SheetView, numbered
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.theme import Theme


class TroubleView(SheetView):
    """First the question what happened, then its card."""

    unpick_wanted = Signal(int)
    """It would help to unpick back to this row."""
    place_wanted = Signal()
    """It would help to find the place by the needles."""

    def __init__(self, run: KnittingRun, scenes: BedScenes, theme: Theme) -> None:
        super().__init__(self.tr("Trouble"), theme)
        self._run = run
        self._scenes = scenes
        self._trouble: Trouble | None = None
        self._needle: int | None = None
        self._card: Card | None = None
        self._buttons: list[PressedButton] = []
        self._title = Label("", "title", bold=True, wraps=True)
        self._question = Label("", "lead", "hands", bold=True, wraps=True)
        self.needle = QLineEdit()
        self.needle.setAccessibleName(self.tr("The needle"))
        self.needle.setPlaceholderText(self.tr("or write it: R4"))
        self.needle.textEdited.connect(self._needle_written)
        for widget in (self._title, self._question, self.needle):
            self.column.addWidget(widget)
        self._body = QVBoxLayout()
        self._body.setSpacing(theme.px(10))
        self.column.addLayout(self._body)
        self.column.addStretch(1)

    @override
    def enter(self) -> None:
        self._trouble, self._needle = None, None
        self._show()

    @override
    def refresh(self) -> None:
        self._needle = None
        self.needle.clear()
        self._show()

    def choose(self, trouble: Trouble) -> None:
        """That happened."""
        self._trouble, self._needle = trouble, None
        self.needle.clear()
        self._show()

    @override
    def scene(self) -> BedScene | None:
        if self._card is None or not self._card.asks:
            return None
        pointed = [] if self._needle is None else [self._needle]
        return self._scenes.pointed_at(pointed, in_pass=self._trouble is Trouble.JAMMED)

    @override
    def caption(self) -> str:
        return self._card.asks if self._card is not None else ""

    @override
    def press_needle(self, needle: int) -> None:
        if self._card is not None and self._card.asks:
            self._needle = needle
            self.needle.setText(needle_name(needle, self._run.procedure.timeline.bed.needles))
            self._show()

    def _needle_written(self, text: str) -> None:
        try:
            needle = needle_index(text.strip().upper(), self._run.procedure.timeline.bed.needles)
        except NeedleError:
            return  # Still being written.
        self._needle = needle
        self._show()

    @override
    def first_field(self) -> QWidget | None:
        if self._card is not None and self._card.asks:
            return self.needle
        return self._buttons[0] if self._buttons else None

    def _show(self) -> None:
        focused = QApplication.focusWidget()
        goes_on = focused is not None and self.isAncestorOf(focused)
        self._show_card()
        field = self.first_field()
        if goes_on and field is not None and focused is not self.needle:
            # What was pressed is gone, and the keyboard would be on whatever stands next to the sheet.
            field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.bed_changed.emit()

    def _show_card(self) -> None:
        clear(self._body)
        self._buttons = []
        if self._trouble is None:
            self._card = None
            self._title.setText(self.tr("What happened?"))
            self._offer()
        else:
            self._card = trouble_card(self._run.procedure, self._run.cursor, self._trouble, self._needle)
            self._title.setText(self._card.title)
            self._tell(self._card)
        asks = self._card.asks if self._card is not None else ""
        self._question.setText(asks)
        self._question.setVisible(bool(asks))
        self.needle.setVisible(bool(asks))

    def _offer(self) -> None:
        for trouble, text in (
            (Trouble.DROPPED, self.tr("A stitch has dropped")),
            (Trouble.JAMMED, self.tr("The carriage is stuck half way")),
            (Trouble.CAMS, self.tr("The hold cams were forgotten")),
            (Trouble.COUNTER, self.tr("The row counter is wrong")),
            (Trouble.FORGOTTEN, self.tr("A needle was forgotten")),
        ):
            choice = Choice(text, "", self.theme)
            choice.clicked.connect(partial(self.choose, trouble))
            self._add_button(choice)

    def _tell(self, card: Card) -> None:
        self._body.addWidget(numbered(card.acts, self.theme))
        if card.unpick_to is not None and card.unpick_to < self._run.passes_done:
            self._add(self.tr("Unpick to row {row}").format(row=card.unpick_to), self._unpick)
        if self._trouble in (Trouble.COUNTER, Trouble.JAMMED, Trouble.CAMS):
            self._add(self.tr("Find my place by the needles"), self.place_wanted.emit)
        self._add(self.tr("Something else happened"), self.enter)

    def _add(self, text: str, act: object) -> None:
        button = PressedButton(text, self.theme)
        button.clicked.connect(act)
        self._add_button(button)

    def _add_button(self, button: PressedButton) -> None:
        self._body.addWidget(button)
        self._buttons.append(button)
        # At once, not only when it is laid out: what is hidden can't have the keyboard.
        button.show()

    def _unpick(self) -> None:
        if self._card is not None and self._card.unpick_to is not None:
            self.unpick_wanted.emit(self._card.unpick_to)
