"""What is pressed: plain and primary buttons, links, chips and the pills of the pages."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QWidget
from typing_extensions import override

from bedview.ui.theme import Theme

_ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)


class ButtonKind(StrEnum):
    """What a button looks like."""

    PLAIN = ""
    PRIMARY = "primary"
    QUIET = "quiet"
    LINK = "link"
    LINE = "line"
    CHIP = "chip"
    PILL = "pill"
    TAB = "tab"


class Button(QPushButton):
    """A button. It is reached by Tab, and leaves the keyboard where it is when it is clicked.

    Args:
        text: what stands on it. An ampersand is one, never a mnemonic.
        theme: for the ring that shows where the keyboard is.
        kind: what it looks like.
        says: its name for a screen reader, and its tool tip, where the text alone does not say enough.
        large: for pages read at two metres.
        parent: as ever.
    """

    def __init__(
        self,
        text: str,
        theme: Theme,
        kind: ButtonKind = ButtonKind.PLAIN,
        *,
        says: str = "",
        large: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._kind = kind
        self.setProperty("part", kind.value)
        self.setProperty("large", large)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAutoDefault(False)
        self.say(text, says)

    def say(self, text: str, says: str = "") -> None:
        """Put another text on it."""
        if text != self.plain_text() or not self.accessibleName():
            self.setText(text.replace("&", "&&"))
        self.setAccessibleName(says or text)
        self.setToolTip(says)

    def plain_text(self) -> str:
        """What stands on it."""
        return self.text().replace("&&", "&")

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Arrows belong to the page, which steps by them; Qt would move the keyboard to a neighbour.
        if self._kind not in (ButtonKind.PILL, ButtonKind.TAB) and event.key() in _ARROWS:
            event.ignore()
        else:
            super().keyPressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.hasFocus():
            return
        look = self._theme.look
        dark_ground = self._kind in (ButtonKind.PILL, ButtonKind.TAB) and self.isChecked()
        colour = look.on_carriage if self._kind is ButtonKind.PRIMARY else look.ink
        colour = look.on_body if dark_ground or self.parent_is_strip() else colour
        inset = 1.5 if self._kind in (ButtonKind.LINK, ButtonKind.LINE) else 3.5
        frame = QRectF(self.rect()).adjusted(inset, inset, -inset, -inset)
        round_ends = self._kind in (ButtonKind.CHIP, ButtonKind.PILL, ButtonKind.TAB)
        radius = frame.height() / 2 if round_ends else self._theme.px(6)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(colour), 2))
            painter.drawRoundedRect(frame, radius, radius)

    def parent_is_strip(self) -> bool:
        """Whether it stands on a strip, whose ground is dark on light and light on dark."""
        parent = self.parentWidget()
        return parent is not None and parent.property("part") == "strip"
