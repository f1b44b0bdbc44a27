"""A button with the key that presses it, drawn as a small key cap."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.theme import TextSize, Theme


class ToolButton(Button):
    """The button.

    Args:
        text: what stands on it.
        key: the key, as it stands on a keyboard; empty for none.
        theme: how it looks.
        kind: what it looks like.
        says: its name for a reader, where the text does not say enough.
        parent: as ever.
    """

    def __init__(
        self,
        text: str,
        key: str,
        theme: Theme,
        kind: ButtonKind = ButtonKind.PLAIN,
        *,
        says: str = "",
        parent: QWidget | None = None,
    ) -> None:
        self.key = key
        super().__init__(text, theme, kind, says=says, parent=parent)
        theme.look_changed.connect(self.draw_key)
        self.draw_key()

    def say(self, text: str, says: str = "") -> None:
        """Put another text on it; readers hear the key too."""
        super().say(text, says)
        if self.key:
            named = self.tr("{what} (key {key})").format(what=says or text, key=self.key)
            self.setAccessibleName(named)
            self.setToolTip(named if says else "")

    def draw_key(self) -> None:
        """Draw the cap in the colours of the look."""
        if not self.key:
            return
        theme, look = self._theme, self._theme.look
        on_dark = self._kind is ButtonKind.PRIMARY
        ink = look.on_carriage if on_dark else look.quiet_ink
        font = theme.font(TextSize.SMALL, bold=True)
        wide = theme.px(22 if len(self.key) == 1 else 12 + 9 * len(self.key))
        size, ratio = QSize(wide, theme.px(22)), 2.0
        # A little air between the cap and the text.
        image = QPixmap((size + QSize(theme.px(5), 0)) * ratio)
        image.setDevicePixelRatio(ratio)
        image.fill(Qt.GlobalColor.transparent)
        with QPainter(image) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(ink), 1.2))
            frame = QRectF(0.8, 0.8, size.width() - 1.6, size.height() - 1.6)
            painter.drawRoundedRect(frame, theme.px(5), theme.px(5))
            painter.setFont(font)
            painter.drawText(frame, Qt.AlignmentFlag.AlignCenter, self.key)
        icon = QIcon(image)
        icon.addPixmap(image, QIcon.Mode.Disabled)
        self.setIcon(icon)
        self.setIconSize(size + QSize(theme.px(5), 0))
