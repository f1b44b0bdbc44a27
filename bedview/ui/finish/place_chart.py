"""The flat chart beside the shape, with the edges of a step where they were knitted."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
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
from bedview.ui.theme import Theme


class PlaceChart(QWidget):
    """The chart.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._scene: ChartScene | None = None
        self._fabric: Fabric | None = None
        self._marks = Marks()
        self._cache = TileCache(self.devicePixelRatio())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Chart of the piece, with the place of the step"))
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
            painter.setPen(QPen(QColor(look.paper), 1))
            painter.setBrush(QColor(look.hands))
            self._dots(painter, self._marks.loops, radius)
            painter.setPen(QPen(QColor(look.carriage), 2))
            painter.setBrush(QColor(look.paper))
            self._dots(painter, self._marks.other_loops, radius)
            painter.setPen(QPen(QColor(look.paper), 2))
            painter.setBrush(QColor(look.ink))
            self._dots(painter, self._marks.pressed, 6.0)

    def _dots(self, painter: QPainter, loops: tuple[int, ...], radius: float) -> None:
        for loop in loops:
            painter.drawEllipse(QPointF(*self.place_of_loop(loop)), radius, radius)
