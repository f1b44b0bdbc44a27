"""A box to tick, drawn so that its tick is seen in every look."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QCheckBox, QSizePolicy, QWidget
from typing_extensions import override

from bedview.picture.colour import mix
from bedview.ui.parts.style_sheet import outline_of
from bedview.ui.theme import Theme


class TickBox(QCheckBox):
    """The box with its words.

    Args:
        words: what is wanted.
        theme: how it looks.
        parent: as ever.
    """

    put = Signal()
    """It was ticked, or no longer is."""

    def __init__(self, words: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(words.replace("&", "&&"), parent)
        self._theme = theme
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.clicked.connect(lambda _checked: self.put.emit())
        theme.look_changed.connect(self.updateGeometry)

    @override
    def sizeHint(self) -> QSize:
        wide = self.fontMetrics().horizontalAdvance(self.text()) + self._indent() + self._theme.px(8)
        return QSize(wide, max(self._theme.px(32), self.fontMetrics().height() + self._theme.px(8)))

    @override
    def hitButton(self, pos: QPoint) -> bool:
        return self.rect().contains(pos)

    def _side(self) -> int:
        return self._theme.px(18)

    def _indent(self) -> int:
        return self._theme.px(6) + self._side() + self._theme.px(10)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look, side = self._theme.look, self._side()
        box = QRectF(self._theme.px(6) + 0.5, round((self.height() - side) / 2) + 0.5, side, side)
        ink = QColor(look.ink if self.isEnabled() else mix(look.quiet_ink, look.card, 0.35))
        words = self.text().replace("&&", "&")
        room = self.rect().adjusted(self._indent(), 0, 0, 0)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            ticked = self.isChecked() and self.isEnabled()
            painter.setPen(QPen(QColor(look.carriage if ticked else outline_of(look)), 1.5))
            painter.setBrush(QColor(look.carriage if ticked else look.card))
            painter.drawRoundedRect(box, side / 5, side / 5)
            if ticked:
                painter.setPen(QPen(QColor(look.on_carriage), side / 8))
                painter.drawPolyline(_tick(box))
            painter.setPen(ink)
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
            shown = self.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room.width())
            painter.drawText(room, flags, shown)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(QColor(look.ink), 2))
                frame = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
                painter.drawRoundedRect(frame, self._theme.px(6), self._theme.px(6))


def _tick(box: QRectF) -> QPolygonF:
    """A tick inside a box."""
    points = ((0.22, 0.52), (0.42, 0.72), (0.78, 0.3))
    return QPolygonF([QPointF(box.x() + x * box.width(), box.y() + y * box.height()) for x, y in points])
