"""The flat chart beside the shape, with the edges of a step where they were knitted."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.bed.fabric import Fabric
from bedview.painting.fonts import text_width
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.chart import ChartScene
from bedview.picture.chart_drawing import draw_chart, place_of
from bedview.picture.chart_layout import ChartLayout, lay_out_chart
from bedview.ui.finish.messages import Marks
from bedview.ui.parts.keyboard_frame import KeyboardFramed
from bedview.ui.theme import Theme

WALKS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}
"""Arrows, and where they lead: so many stitches to the right, so many rows up."""


class PlaceChart(KeyboardFramed):
    """The chart. A press points at a stitch; with the keyboard on it, arrows go from stitch to stitch.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    place_pressed = Signal(int, int)
    """A needle and a pass were pressed."""
    place_passed = Signal(object)
    """The pointer is over a needle and a pass, both in a tuple; None beside the fabric."""
    walk_wanted = Signal(int, int)
    """The stitch pointed at is to be the one so many to the right and so many up."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._scene: ChartScene | None = None
        self._fabric: Fabric | None = None
        self._marks = Marks()
        self._cache = TileCache(self.devicePixelRatio())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(
            self.tr("Chart of the piece, with the place of the step: arrows go from stitch to stitch")
        )
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        theme.look_changed.connect(self.update)

    def show_piece(self, scene: ChartScene, fabric: Fabric) -> None:
        """Show another piece."""
        self._scene, self._fabric = scene, fabric
        self._marks = Marks()
        self.update()

    def mark(self, marks: Marks) -> None:
        """Point something out."""
        self._marks = marks
        self.update()

    def places(self) -> ChartLayout | None:
        """Where what stands; None while nothing is shown."""
        if self._scene is None:
            return None
        return lay_out_chart(self._scene, self.width(), self.height(), cards=False)

    def place_of_loop(self, loop: int) -> tuple[float, float]:
        """Where a loop lies in the picture, in pixels."""
        layout, fabric = self.places(), self._fabric
        assert layout is not None, "nothing is shown"
        assert fabric is not None, "nothing is shown"
        passes = int(fabric.pass_of(np.array([loop]))[0])
        return place_of(passes, float(fabric.needle[loop]), layout)

    @override
    def sizeHint(self) -> QSize:
        return QSize(240, 460)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(130, 200)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._scene is None:
            return
        look, layout = self._theme.look, self.places()
        picture = draw_chart(
            self._scene, self.width(), self.height(), look, measure=text_width, cards=False, layout=layout
        )
        assert layout is not None, "there is a scene"
        radius = max(3.0, min(0.42 * layout.cell, 0.6 * layout.row, 6.0))
        with QPainter(self) as painter:
            paint(picture, painter, self._cache)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for colour, width in ((look.paper, 3.4), (look.ink, 1.4)):
                painter.setPen(QPen(QColor(colour), width))
                self._line(painter, self._marks.wale)
                self._line(painter, self._marks.course)
            painter.setPen(QPen(QColor(look.paper), 1))
            painter.setBrush(QColor(look.hands))
            self._dots(painter, self._marks.loops, radius)
            painter.setPen(QPen(QColor(look.carriage), 2))
            painter.setBrush(QColor(look.paper))
            self._dots(painter, self._marks.other_loops, radius)
            painter.setPen(QPen(QColor(look.paper), 2))
            painter.setBrush(QColor(look.ink))
            self._dots(painter, self._marks.pressed, 6.0)
            self.paint_frame(painter, look, self.rect().adjusted(1, 1, -2, -2), 6)

    def _line(self, painter: QPainter, loops: tuple[int, ...]) -> None:
        painter.drawPolyline(QPolygonF([QPointF(*self.place_of_loop(loop)) for loop in loops]))

    def _place_at(self, place: QPointF) -> tuple[int, int] | None:
        layout = self.places()
        if layout is None:
            return None
        needle, passes = layout.needle_at(place.x()), layout.pass_at(place.y())
        return None if needle is None or passes is None else (needle, passes)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.worked_by(keyboard=False)
        place = self._place_at(event.position())
        if place is not None and event.button() == Qt.MouseButton.LeftButton:
            self.place_pressed.emit(*place)

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.place_passed.emit(self._place_at(event.position()))

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self.place_passed.emit(None)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.worked_by(keyboard=True)
        walk = WALKS.get(Qt.Key(event.key()))
        if walk is None:
            super().keyPressEvent(event)
        else:
            self.walk_wanted.emit(*walk)

    def _dots(self, painter: QPainter, loops: tuple[int, ...], radius: float) -> None:
        for loop in loops:
            painter.drawEllipse(QPointF(*self.place_of_loop(loop)), radius, radius)
