"""The box before a step: its number while it is to be done, a tick when it is."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QWidget
from typing_extensions import override

from bedview.ui.theme import Theme

_SIDE = 30


class TickBox(QAbstractButton):
    """The box. It is pressed to tick a step off, and pressed again to take that back.

    Args:
        number: of the step, from 1.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, number: int, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setCheckable(True)
        self.setText(str(number))
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(self.tr("Step {number} is done").format(number=number))
        self.setToolTip(self.tr("Tick off when it is done"))
        side = theme.px(_SIDE)
        self.setFixedSize(side, side)
        theme.look_changed.connect(self.update)

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._theme.px(_SIDE), self._theme.px(_SIDE))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        frame = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            wide = 3.0 if self.hasFocus() or self.underMouse() else 1.6
            painter.setPen(QPen(QColor(look.ink if self.hasFocus() else look.hands), wide))
            painter.setBrush(QColor(look.hands if self.isChecked() else look.card))
            painter.drawRoundedRect(frame, 6, 6)
            if self.isChecked():
                self._paint_tick(painter, frame)
            else:
                painter.setPen(QColor(look.ink))
                painter.drawText(frame, Qt.AlignmentFlag.AlignCenter, self.text())

    def _paint_tick(self, painter: QPainter, frame: QRectF) -> None:
        pen = QPen(QColor(self._theme.look.on_hands), max(2.4, frame.width() / 9))
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        places = ((0.26, 0.52), (0.44, 0.70), (0.76, 0.32))
        corner, wide, tall = frame.topLeft(), frame.width(), frame.height()
        painter.drawPolyline(QPolygonF([corner + QPointF(x * wide, y * tall) for x, y in places]))
