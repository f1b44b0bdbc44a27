"""What becomes of a mistake: a dark strip that cannot be taken for the plan, and the way back."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.session.rehearsal import Rehearsal
from bedview.session.what_if import Outcome
from bedview.ui.parts.buttons import Button
from bedview.ui.parts.labels import Label, ShortenedLabel
from bedview.ui.theme import Theme

_MOST_FINDINGS = 3


class OutcomeWords(QFrame):
    """The strip.

    Args:
        rehearsal: where the mistake was slipped in.
        theme: how it looks.
        parent: as ever.
    """

    back_wanted = Signal()
    """The plan is to be looked at again."""

    def __init__(self, rehearsal: Rehearsal, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self.setProperty("part", "strip")
        self.heading = ShortenedLabel(size="title", bold=True)
        self.back = Button(self.tr("Back to the plan"), theme, says=self.tr("Back to the plan (Escape)"))
        self.back.clicked.connect(self.back_wanted)
        self.happens = Label(size="lead", wraps=True)
        self.findings = [ShortenedLabel(size="body") for _ in range(_MOST_FINDINGS)]
        self.next = ShortenedLabel(size="body")
        self._roomy = theme.px(210)
        edge = theme.px(20)
        column = QVBoxLayout(self)
        column.setContentsMargins(edge, theme.px(12), theme.px(12), theme.px(12))
        column.setSpacing(theme.px(4))
        top = QHBoxLayout()
        top.addWidget(self.heading, 1)
        top.addWidget(self.back)
        column.addLayout(top)
        column.addWidget(self.happens)
        for label in self.findings:
            column.addWidget(label)
        column.addStretch(1)
        column.addWidget(self.next)

    def refresh(self) -> None:
        """Say what the outcome is, and what comes next in it."""
        outcome = self._rehearsal.outcome
        if outcome is None:
            return
        self.heading.setText(self.tr("What if {mistake}?").format(mistake=outcome.slip.words))
        self.happens.setText(self._what_happens(outcome))
        self.happens.setVisible(bool(self.happens.text()))
        told = [f"{each.title}. {each.text}" for each in outcome.new]
        for place, label in enumerate(self.findings):
            label.setText(told[place] if place < len(told) else "")
            label.setVisible(place < len(told))
        self.next.setText(self._next(outcome))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Use what room there is: these words are read at two metres too."""
        roomy = self.height() > self._roomy
        self.happens.resize_text("title" if roomy else "lead")
        for label in (*self.findings, self.next):
            label.resize_text("lead" if roomy else "body")
        super().resizeEvent(event)

    def _what_happens(self, outcome: Outcome) -> str:
        why = outcome.steps[outcome.step].why if outcome.step < len(outcome.steps) else ""
        if why or outcome.new:
            return why
        return self.tr("Nothing goes wrong with the fabric.")

    def _next(self, outcome: Outcome) -> str:
        if not self._rehearsal.at_end:
            step = self._rehearsal.steps[self._rehearsal.cursor]
            return self.tr("Next: {step}").format(step=step.brief)
        if outcome.stopped:
            return self.tr("It cannot go on here: {why}.").format(why=outcome.stopped)
        return self.tr("As far as this was played on.")
