"""A sheet that lies over the page while one thing is looked up or written down; Escape puts it away."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.theme import Theme

_WIDE, _TALL = 560, 600
_AIR = 48
"""What stays free of the window round the sheet, in usual pixels."""


class Sheet(QDialog):
    """The sheet: a title, a body that scrolls where it must, and buttons at its foot.

    Args:
        title: what it is about.
        theme: how it looks.
        parent: the page that it lies on.
        wide: how wide it would like to be, in usual pixels.
    """

    def __init__(self, title: str, theme: Theme, parent: QWidget, wide: int = _WIDE) -> None:
        super().__init__(parent.window())
        self._theme = theme
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_WindowPropagation)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.heading = Label(title, size="title", bold=True, wraps=True)
        self.wrong = Label(tone="warning", wraps=True)
        self.wrong.hide()
        inner = QWidget()
        inner.setProperty("part", "plain")
        self.body = QVBoxLayout(inner)
        self.body.setContentsMargins(0, 0, theme.px(8), 0)
        self.body.setSpacing(theme.px(8))
        self._scroll = ScrollingArea(inner)
        self.foot = QHBoxLayout()
        self.foot.setSpacing(theme.px(10))
        self.close_button = Button(self.tr("Close"), theme, ButtonKind.PLAIN)
        self.close_button.clicked.connect(self.reject)
        self.foot.addStretch(1)
        self.foot.addWidget(self.close_button)
        column = QVBoxLayout(self)
        edge = theme.px(22)
        column.setContentsMargins(edge, theme.px(18), theme.px(14), theme.px(18))
        column.setSpacing(theme.px(10))
        column.addWidget(self.heading)
        column.addWidget(self._scroll, 1)
        column.addWidget(self.wrong)
        column.addLayout(self.foot)
        room: QSize = parent.window().size()
        free = theme.px(_AIR)
        self.resize(
            min(theme.px(wide), max(room.width() - free, 320)),
            min(theme.px(_TALL), max(room.height() - free, 320)),
        )

    def primary(self, text: str) -> Button:
        """Add the button that does what the sheet is for; Return presses it."""
        button = Button(text, self._theme, ButtonKind.PRIMARY)
        button.setDefault(True)
        self.foot.addWidget(button)
        return button

    def say_wrong(self, why: str) -> None:
        """Say why it cannot be done; nothing if empty."""
        self.wrong.setText(f"{why[:1].upper()}{why[1:].rstrip('.')}." if why else "")
        self.wrong.setVisible(bool(why))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        focused = self.focusWidget()
        pressed = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if pressed and isinstance(focused, QPushButton):
            # Qt would press the button the sheet is for, wherever the keyboard is.
            focused.click()
        else:
            super().keyPressEvent(event)
