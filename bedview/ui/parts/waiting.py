"""The empty plate of the bed, painted with nothing but the colours: what one sees while the rest loads."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.ui.theme import Theme


class WaitingPlate(QWidget):
    """A plate without needles."""

    painted = Signal()
    """It was painted for the first time."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._seen = False
        self.setAccessibleName(self.tr("The piece is being opened"))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        wide, unit = self.width(), max(0.5, self.height() / 640)
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(look.paper))
            top = 26 * unit
            for height, colour in ((32, look.rail), (103, look.plate), (9, look.lip)):
                painter.fillRect(QRectF(20, top, wide - 40, height * unit), QColor(colour))
                top += height * unit
        if not self._seen:
            self._seen = True
            self.painted.emit()
