"""A pointer that shows from the last row of seats: a ring that follows the hand, and the needle's name.

A mark is kept on a needle, so that it stays there from row to row; beside the needles it is kept in place.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.bed.needles import needle_name
from bedview.painting.fonts import font, text_width
from bedview.ui.bed_widget import BedWidget
from bedview.ui.theme import Theme

GLOW: Final = "#ffd400"
"""Under the ring; it is no colour of hands or carriage."""
_RADIUS: Final = 0.052
"""Of the ring, as a share of the view's height."""
_NAME: Final = 0.062
"""Size of a needle's name, likewise."""


@dataclass(slots=True)
class Pointing:
    """Where the pointer is and what it has marked.

    Attributes:
        needle: the needle it is on; None beside the needles.
        place: where it is, as shares of the view's width and height; None while it is not there.
        needles: needles marked.
        places: other places marked, as shares.
    """

    needle: int | None = None
    place: tuple[float, float] | None = None
    needles: set[int] = field(default_factory=set)
    places: list[tuple[float, float]] = field(default_factory=list)

    def keep_mark(self, near: float) -> None:
        """Keep a mark where the pointer is; or take the one away that is there.

        Args:
            near: so far off a place is the same, as a share.
        """
        if self.needle is not None:
            self.needles ^= {self.needle}
        elif self.place is not None:
            x, y = self.place
            rest = [each for each in self.places if max(abs(each[0] - x), abs(each[1] - y)) > near]
            self.places = [*self.places, self.place] if len(rest) == len(self.places) else rest

    def clear(self) -> None:
        """Take all marks away."""
        self.needles.clear()
        self.places.clear()


class PointerLayer(QWidget):
    """Paints the pointer and its marks over the whole view; the hand reaches through it.

    Args:
        bed: the bed pointed at.
        pointing: where.
        theme: colours.
        parent: the view.
    """

    def __init__(self, bed: BedWidget, pointing: Pointing, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._bed = bed
        self._pointing = pointing
        self._theme = theme
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    @property
    def radius(self) -> float:
        """Of the ring, in pixels."""
        return max(24.0, _RADIUS * self.height())

    def needle_place(self, needle: int) -> QRectF:
        """Where a needle is, in the view."""
        place = self._bed.needle_rect(needle)
        return place.translated(QPointF(self._bed.geometry().topLeft()))

    def point_of(self, needle: int) -> QPointF:
        """Where the ring lies round a needle that was chosen by keys: on its loop."""
        place, layout = self.needle_place(needle), self._bed.bed_layout()
        y = layout.height - layout.loop_line if layout.turned else layout.loop_line
        return QPointF(place.center().x(), self._bed.y() + y)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        pointing = self._pointing
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for needle in sorted(pointing.needles):
                if self._bed.bed_layout().shows(needle):
                    self._paint_marked(painter, needle)
            for place in pointing.places:
                self._paint_ring(painter, self._at(place), 0.7 * self.radius, glows=False)
            if pointing.place is not None:
                self._paint_pointer(painter, self._at(pointing.place))

    def _at(self, place: tuple[float, float]) -> QPointF:
        return QPointF(place[0] * self.width(), place[1] * self.height())

    def _paint_pointer(self, painter: QPainter, at: QPointF) -> None:
        needle = self._pointing.needle
        if needle is not None and needle not in self._pointing.needles:
            self._paint_frame(painter, needle, 0.25 * self.radius)
            self._paint_name(painter, needle, at, self.radius)
        self._paint_ring(painter, at, self.radius, glows=True)

    def _paint_ring(self, painter: QPainter, at: QPointF, radius: float, *, glows: bool) -> None:
        glow = QColor(GLOW)
        glow.setAlphaF(0.30)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(glow if glows else Qt.BrushStyle.NoBrush)
        painter.drawEllipse(at, radius, radius)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, wide in self._cushioned(radius):
            painter.setPen(QPen(colour, wide))
            painter.drawEllipse(at, radius, radius)

    def _cushioned(self, radius: float) -> tuple[tuple[QColor, float], ...]:
        """Pens of a line that shows on anything: paper under ink."""
        look = self._theme.look
        thick = max(2.0, 0.16 * radius)
        return (QColor(look.paper), 2.1 * thick), (QColor(look.ink), thick)

    def _paint_marked(self, painter: QPainter, needle: int) -> None:
        place = self.needle_place(needle)
        self._paint_frame(painter, needle, 0.6 * self.radius)
        self._paint_name(painter, needle, place.center(), place.height() / 2)

    def _paint_frame(self, painter: QPainter, needle: int, heft: float) -> None:
        place = self.needle_place(needle).adjusted(-3, 0, 3, 0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, wide in self._cushioned(heft):
            painter.setPen(QPen(colour, wide))
            painter.drawRoundedRect(place, 8, 8)

    def _paint_name(self, painter: QPainter, needle: int, at: QPointF, away: float) -> None:
        """The needle's name large, under what is pointed at; over it where there is no room."""
        look = self._theme.look
        text = needle_name(needle, self._bed.scene.needles)
        size = max(26.0, _NAME * self.height())
        wide, tall = text_width(text, size, True) + 0.8 * size, 1.35 * size
        left = min(max(4.0, at.x() - wide / 2), self.width() - wide - 4.0)
        top = at.y() + away + 0.25 * size
        if top + tall > self.height() - 4:
            top = at.y() - away - 0.25 * size - tall
        box = QRectF(left, top, wide, tall)
        painter.setPen(QPen(QColor(look.paper), 4))
        painter.setBrush(QColor(look.ink))
        painter.drawRoundedRect(box, tall / 4, tall / 4)
        painter.setPen(QColor(look.paper))
        painter.setFont(font(size, True))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
