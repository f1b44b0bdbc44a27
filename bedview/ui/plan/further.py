"""Something to watch that lies further down than one sees: said, and gone to."""

from __future__ import annotations

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QScrollArea, QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.counting import counted
from bedview.ui.plan.findings_column import FindingsColumn
from bedview.ui.theme import Theme

_HEAD_PX = 48
"""So much of a finding must be seen for it to be noticed."""


class Further(Button):
    """The word for it; hidden while there is nothing, or it is seen.

    Args:
        side: what is scrolled.
        findings: what is watched in it.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(
        self, side: QScrollArea, findings: FindingsColumn, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__("", theme, ButtonKind.LINK, parent=parent)
        self._side, self._findings, self._theme = side, findings, theme
        self.hide()
        bar = side.verticalScrollBar()
        bar.valueChanged.connect(self.reckon)
        bar.rangeChanged.connect(self.reckon)
        self.clicked.connect(lambda: bar.setValue(findings.y()))

    def reckon(self) -> None:
        """Look again whether there is anything."""
        findings, bar, seen = self._findings, self._side.verticalScrollBar(), self._side.viewport()
        cards = findings.cards
        broken = not findings.trouble_says.isHidden()
        first = findings.trouble_says if broken else cards[0] if cards else None
        if first is None or findings.isHidden():
            self.hide()
            return
        one, many = self.tr("↓ One thing to watch here"), self.tr("↓ {count} things to watch here")
        self.say(self.tr("↓ It can't be knitted to its end") if broken else counted(one, many, len(cards)))
        head = first.mapTo(seen, QPoint(0, self._theme.px(_HEAD_PX))).y()
        self.setVisible(bar.value() < bar.maximum() and head > seen.height())
