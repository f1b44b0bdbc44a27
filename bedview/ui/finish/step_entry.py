"""One step of making up in the list: a line, or, when it is the chosen one, all that is to be said."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.finish.cards import technique_card
from bedview.finish.told import MakingStep, StepKind
from bedview.ui.finish.technique_view import TechniqueView
from bedview.ui.finish.tick_box import TickBox
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme


class StepEntry(QFrame):
    """The entry.

    Args:
        number: of the step, from 1.
        step: the step.
        theme: how it looks.
        parent: as ever.
    """

    chosen = Signal()
    """It was pressed."""
    ticked = Signal(bool)
    """Its box was pressed: it is done, or it is not after all."""
    card_opened = Signal()
    """A technique card is open now."""

    def __init__(self, number: int, step: MakingStep, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._step = step
        self._opened = ""
        self._is_chosen = False
        self._body: QWidget | None = None
        self._lines = QVBoxLayout()
        self._card: TechniqueView | None = None
        self.links: dict[str, Button] = {}
        self._number = number
        self.title = Label(step.title, bold=True, wraps=True)
        self.box = TickBox(number, theme)
        self.box.clicked.connect(self.ticked)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_done(done=False)
        self._column = QVBoxLayout(self)
        edge = theme.px(14)
        self._column.setContentsMargins(edge, theme.px(9), edge, theme.px(9))
        self._column.setSpacing(theme.px(8))
        head = QHBoxLayout()
        head.setSpacing(theme.px(8))
        head.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.title, 1)
        self._column.addLayout(head)

    @property
    def step(self) -> MakingStep:
        """The step."""
        return self._step

    @property
    def card(self) -> TechniqueView | None:
        """The technique card that is open."""
        return self._card

    @property
    def opened_card(self) -> str:
        """Name of the technique card that is open; empty for none."""
        return self._opened

    def choose(self, chosen: bool) -> None:
        """Open it, or fold it to its line."""
        if chosen == self._is_chosen:
            return
        self._is_chosen = chosen
        self.setProperty("part", "card" if chosen else "plain")
        self.style().unpolish(self)
        self.style().polish(self)
        self.title.resize_text("lead" if chosen else "body")
        if chosen and self._body is None:
            self._body = self._made_body()
            self._column.addWidget(self._body)
        if self._body is not None:
            self._body.setVisible(chosen)

    def show_done(self, *, done: bool) -> None:
        """Show whether the step is done."""
        text = self.tr("Step {number}, done: {title}") if done else self.tr("Step {number}: {title}")
        self.setAccessibleName(text.format(number=self._number, title=self._step.title))
        self.box.setChecked(done)
        tone = "quiet" if done else ""
        if self.title.property("tone") != tone:
            self.title.setProperty("tone", tone)
            self.title.style().unpolish(self.title)
            self.title.style().polish(self.title)

    def open_card(self, name: str) -> None:
        """Open a technique card below it, or close the one that is open."""
        assert self._body is not None, "only the chosen step has links"
        if self._card is not None:
            self._card.hide()
            self._card.deleteLater()
            self._card = None
        self._opened = "" if name == self._opened else name
        for known, link in self.links.items():
            link.setChecked(known == self._opened)
        if self._opened:
            self._card = TechniqueView(technique_card(self._opened), self._theme)
            below = self._lines.indexOf(self.links[name]) + 1
            self._lines.insertWidget(below, self._card)
            self.card_opened.emit()

    def _made_body(self) -> QWidget:
        made = QWidget()
        column = self._lines = QVBoxLayout(made)
        column.setContentsMargins(self._theme.px(38), 0, 0, 0)
        column.setSpacing(self._theme.px(6))
        column.addWidget(Label(self._step.says, "lead", wraps=True))
        for line in self._step.details:
            column.addWidget(Label(line, tone="quiet", wraps=True))
        if self._step.kind in (StepKind.GRAFT, StepKind.SEW):
            column.addWidget(self._key())
        for name in self._step.cards:
            link = Button(technique_card(name).title, self._theme, ButtonKind.LINK)
            link.setCheckable(True)
            link.clicked.connect(partial(self.open_card, name))
            self.links[name] = link
            column.addWidget(link, 0, Qt.AlignmentFlag.AlignLeft)
        return made

    def _key(self) -> QWidget:
        """Which edge has which colour on chart and shape."""
        made = QWidget()
        row = QHBoxLayout(made)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(self._theme.px(16))
        row.addWidget(Label(self.tr("● the first edge"), size="small", tone="hands"))
        row.addWidget(Label(self.tr("○ the second edge"), size="small", tone="carriage"))
        row.addStretch(1)
        return made

    @override
    def mousePressEvent(self, event: object) -> None:
        self.chosen.emit()
