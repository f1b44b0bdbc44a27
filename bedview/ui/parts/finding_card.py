"""A finding with what to do about it, where it lies beside the part it lies in."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from bedview.checks.finding import Severity
from bedview.checks.folding import Folded
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.watch_list import FindingSign
from bedview.ui.theme import Theme


class FindingCard(Card):
    """The card.

    Args:
        folded: what was found.
        theme: how it looks.
        parent: as ever.
    """

    show_wanted = Signal()
    """It is to be seen on the bed."""

    def __init__(self, folded: Folded, theme: Theme, parent: QWidget | None = None) -> None:
        part = "card" if folded.severity is Severity.NOTE else "warning_card"
        super().__init__(theme, "card" if part == "card" else "warning_card", parent)
        sign = FindingSign(theme)
        sign.show_severity(folded.severity.value)
        self.title = Label(folded.title, bold=True, wraps=True)
        top = QHBoxLayout()
        top.setSpacing(theme.px(8))
        top.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
        top.addWidget(self.title, 1)
        self.column.addLayout(top)
        self.column.addWidget(Label(folded.text, wraps=True))
        self.show_it = Button(
            self.tr("Show it"),
            theme,
            ButtonKind.LINK,
            says=self.tr("Show on the bed: {finding}").format(finding=folded.title),
        )
        self.show_it.clicked.connect(self.show_wanted)
        self.column.addWidget(self.show_it, 0, Qt.AlignmentFlag.AlignLeft)
