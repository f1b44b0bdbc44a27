"""The whole piece as a bar, part by part, filled as far as it is knitted."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QToolTip, QWidget
from typing_extensions import override

from bedview.session.glance import PartDone
from bedview.ui.knit.scaled_text import colour
from bedview.ui.theme import Theme

_GAP_PX = 3.0
_LEAST_PX = 5.0


def part_widths(parts: Sequence[PartDone], width: float) -> list[float]:
    """Widths of the parts: as their steps, but none too thin to be seen."""
    room = width - _GAP_PX * (len(parts) - 1)
    if not parts or room <= 0:
        return [0.0] * len(parts)
    least = min(_LEAST_PX, room / len(parts))
    steps = sum(part.steps for part in parts)
    spare = room - least * len(parts)
    return [least + spare * part.steps / steps for part in parts]


class PartsBar(QLabel):
    """The bar; to a screen reader a text that says the part and how much of it is done."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._theme = theme
        self._parts: tuple[PartDone, ...] = ()
        theme.look_changed.connect(self.update)

    def show_parts(self, parts: Sequence[PartDone]) -> None:
        """Show how far each part is."""
        self._parts = tuple(parts)
        done = sum(part.done == part.steps for part in parts)
        self.setText(self.tr("{done} of {parts} parts done").format(done=done, parts=len(parts)))
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(200, 12)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(20, 6)

    def _boxes(self) -> list[QRectF]:
        boxes, x = [], 0.0
        for width in part_widths(self._parts, self.width()):
            boxes.append(QRectF(x, 0, width, self.height()))
            x += width + _GAP_PX
        return boxes

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            for part, box in zip(self._parts, self._boxes(), strict=True):
                radius = min(3.0, box.width() / 2, box.height() / 2)
                painter.setBrush(colour(look, "groove" if look.name == "contrast" else "line"))
                painter.drawRoundedRect(box, radius, radius)
                if part.done:
                    painter.setBrush(colour(look, "carriage"))
                    filled = QRectF(box.x(), 0, max(2.0, box.width() * part.done / part.steps), box.height())
                    painter.drawRoundedRect(filled, radius, radius)

    @override
    def event(self, event: QHelpEvent) -> bool:  # type: ignore[override]  # every event comes here
        if event.type() == QHelpEvent.Type.ToolTip:
            for part, box in zip(self._parts, self._boxes(), strict=True):
                if box.contains(event.pos().toPointF()):
                    QToolTip.showText(event.globalPos(), part.title, self)
            return True
        return super().event(event)
