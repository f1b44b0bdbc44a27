"""The time line: where in the piece one is, to be seen and to be moved."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap, QWheelEvent
from PySide6.QtWidgets import QAbstractSlider, QSizePolicy, QWidget
from typing_extensions import override

from bedview.painting.fonts import text_width
from bedview.painting.painter import paint
from bedview.painting.render import render_image
from bedview.painting.tile_cache import TileCache
from bedview.picture.chart import ChartMark, ChartPart
from bedview.picture.marks import DisplayList, Layer
from bedview.picture.time_line import TimeLineLayout, TimeLineScene, draw_time_line, lay_out_time_line
from bedview.ui.theme import Theme

_CLEAR = "#00000000"


class TimeLine(QAbstractSlider):
    """Parts side by side with the row one is at; a slider to readers and to the pointer.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    row_wanted = Signal(int)
    """The pointer asks for a row, from 1, while it is dragged too."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._scene = TimeLineScene((), 0, 0)
        self._cache = TileCache(self.devicePixelRatio())
        self._still: tuple[object, QPixmap] | None = None
        self.setOrientation(Qt.Orientation.Horizontal)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Time line"))
        theme.look_changed.connect(self.updateGeometry)

    def show_piece(self, parts: tuple[ChartPart, ...], passes: int, marks: tuple[ChartMark, ...]) -> None:
        """Show another piece, or what findings it has now."""
        self._scene = TimeLineScene(parts, passes, self._scene.at, marks)
        self.setRange(min(1, passes), passes)
        self.update()

    def show_row(self, row: int, words: str) -> None:
        """Show that one is at a row.

        Args:
            row: from 1.
            words: the same for a reader ("row 33 of 141, Heel").
        """
        self._scene = replace(self._scene, at=row)
        self.setSliderPosition(row)
        self.setAccessibleDescription(words)
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(600, self._tall())

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(200, self._tall())

    def _tall(self) -> int:
        # Its letters keep their size, so more height would be wasted on it.
        return min(self._theme.px(84), 96)

    def places(self) -> TimeLineLayout:
        """Where what stands in the widget."""
        return lay_out_time_line(self._scene.passes, self.width(), self.height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        picture = draw_time_line(self._scene, self.width(), self.height(), look, measure=text_width)
        places = self.places()
        still = self._still_part(picture)
        cursor = DisplayList(
            picture.width, picture.height, _CLEAR, (Layer("cursor", picture.layer("cursor")),)
        )
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, still)
            paint(cursor, painter, self._cache)
            if self.hasFocus():
                painter.setPen(QPen(QColor(look.ink), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                height = places.bottom - places.top
                painter.drawRoundedRect(1, int(places.top) - 2, self.width() - 2, int(height) + 4, 6, 6)

    def _still_part(self, picture: DisplayList) -> QPixmap:
        """Parts and findings as an image: only the cursor moves."""
        ratio = self.devicePixelRatio()
        key = (self._scene.parts, self._scene.marks, self.size(), ratio, self._theme.look.name)
        if self._still is None or self._still[0] != key:
            still = replace(picture, layers=tuple(each for each in picture.layers if each.name != "cursor"))
            image = render_image(still, ratio=ratio)
            image.setDevicePixelRatio(ratio)
            self._still = key, QPixmap.fromImage(image)
        return self._still[1]

    def _row_at(self, x: float) -> int:
        places = self.places()
        share = (x - places.left) / max(1.0, places.right - places.left)
        return max(1, min(int(share * self._scene.passes) + 1, self._scene.passes))

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._scene.passes:
            self.row_wanted.emit(self._row_at(event.position().x()))

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton and self._scene.passes:
            self.row_wanted.emit(self._row_at(event.position().x()))

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y() or event.angleDelta().x()
        if turned and self._scene.passes:
            self.row_wanted.emit(self._scene.at + (1 if turned < 0 else -1))
        event.accept()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        # The page steps by steps, of which some make no row; a slider's own keys would miss those.
        event.ignore()
