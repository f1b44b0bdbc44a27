"""A text as large as its place allows."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.ui.parts.labels import Label, Tone
from bedview.ui.theme import Theme

_SHARES: Final = (2.75, 2.375, 2.0, 1.75, 1.5, 1.375, 1.25, 1.125, 1.0, 0.875, 0.75)
"""Shares of body text to try, the largest that fits first."""


class FittedLabel(Label):
    """A text in several lines, set in the largest size that fits into the label.

    A label to readers; painted by itself, so that another text costs no new layout of the page.

    Args:
        theme: how it looks.
        largest: share of body text that it never exceeds.
        tone: its colour.
        bold: its weight.
        parent: as ever.
    """

    def __init__(
        self,
        theme: Theme,
        largest: float = 1.375,
        tone: Tone = "",
        *,
        bold: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tone=tone, parent=parent)
        self._theme, self._largest, self._heavy = theme, largest, bold
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._theme.px(300), self._theme.px(40))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(self._theme.px(120), self._theme.px(24))

    @override
    def hasHeightForWidth(self) -> bool:
        return False

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        room = self.contentsRect()
        flags = int(self.alignment()) | int(Qt.TextFlag.TextWordWrap)
        font = self._theme.font(bold=self._heavy)
        body_px = font.pixelSize()
        for share in (each for each in _SHARES if each <= self._largest):
            font.setPixelSize(round(body_px * share))
            needed = QFontMetrics(font).boundingRect(QRect(0, 0, room.width(), 9999), flags, self.text())
            if needed.height() <= room.height() and needed.width() <= room.width():
                break
        with QPainter(self) as painter:
            painter.setFont(font)
            painter.setPen(QColor(self.palette().color(self.foregroundRole())))
            painter.drawText(room, flags, self.text())
