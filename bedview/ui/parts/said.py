"""One quiet line that says what happened, with something to do about it; where others show a dialog."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import ShortenedLabel
from bedview.ui.theme import Theme


class SaidLine(QWidget):
    """The line; hidden while there is nothing to say."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.text = ShortenedLabel(size="body")
        self.action = Button("", theme, ButtonKind.LINK)
        self.away = Button("×", theme, ButtonKind.QUIET, says=self.tr("Put this line away"))
        self.away.setFixedWidth(theme.px(40))
        self.action.clicked.connect(self._do)
        self.away.clicked.connect(self.clear)
        self._todo: Callable[[], object] | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(12))
        row.addWidget(self.text, 1, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self.action)
        row.addWidget(self.away)
        self.hide()

    def say(self, text: str, action: str = "", todo: Callable[[], object] | None = None) -> None:
        """Show a sentence, and perhaps a button for something that can be done about it."""
        self._todo = todo
        self.text.setText(text)
        self.action.say(action)
        self.action.setVisible(bool(action and todo))
        self.show()
        announce(self, text)

    def clear(self) -> None:
        """Nothing to say any more."""
        self._todo = None
        self.hide()

    def _do(self) -> None:
        todo = self._todo
        self.clear()
        if todo is not None:
            todo()


def announce(widget: QWidget, text: str) -> None:
    """Have a screen reader say something, if one is running."""
    QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, text))
