"""What does not fit, with a way out."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from bedview.finish.told import Misfit
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.watch_list import FindingSign
from bedview.ui.theme import Theme


class MisfitCard(Card):
    """The card.

    Args:
        misfit: what does not fit.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, misfit: Misfit, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, "warning_card", parent)
        sign = FindingSign(theme)
        sign.show_severity(misfit.severity)
        self.says = Label(misfit.says, bold=True, wraps=True)
        self.way_out = Label(misfit.way_out, wraps=True)
        top = QHBoxLayout()
        top.setSpacing(theme.px(8))
        top.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
        top.addWidget(self.says, 1)
        self.column.addLayout(top)
        self.column.addWidget(self.way_out)
