"""The line above a lesson or the bench: the way back, what it is called, and what can be asked for."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import ShortenedLabel
from bedview.ui.theme import Theme


class LessonHead(QWidget):
    """The line.

    Args:
        title: what it is called.
        buttons: what stands on the right.
        theme: how it looks.
        parent: as ever.
    """

    left = Signal()
    """Back to all lessons."""

    def __init__(
        self, title: str, buttons: Sequence[QWidget], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        px = theme.px
        row = QHBoxLayout(self)
        row.setContentsMargins(px(24), px(2), px(20), 0)
        row.setSpacing(px(8))
        self.back = Button(self.tr("← All lessons"), theme, ButtonKind.LINK)
        self.back.clicked.connect(self.left)
        self.title = ShortenedLabel(title, size="lead", tone="quiet")
        row.addWidget(self.back)
        row.addSpacing(px(12))
        row.addWidget(self.title, 1)
        for button in buttons:
            row.addWidget(button, 1 if isinstance(button, QLineEdit) else 0)
