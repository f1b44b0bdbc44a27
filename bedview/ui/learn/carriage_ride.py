"""The carriage rides across: what it has passed shows the bed after the row, the rest the bed before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QEasingCurve, QPointF, QRectF, QVariantAnimation
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QStyle, QWidget

from bedview.painting.painter import paint, paint_mark
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_layout import BedLayout
from bedview.picture.marks import DisplayList, Mark

RIDE_MS: Final = 380
_LEFT_OUT: Final = ("carriage", "yarn", "coming", "touches")
"""Layers that stand still in neither picture."""


def motion_wanted(widget: QWidget) -> bool:
    """Whether the system lets things move; whoever is made dizzy by it has it switched off."""
    return widget.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration, None, widget) > 0


class CarriageRide:
    """One ride of the carriage over a picture of the bed.

    Args:
        before: the picture before the row.
        after: paints the picture after it, of the same size; asked when it is first seen.
        layout: of both.
        to_right: whether the carriage goes to the right of the picture.
        cache: the images of tiles.
        on: the widget that shows it; it is asked to paint itself again and again.
    """

    def __init__(
        self,
        before: DisplayList,
        after: Callable[[], DisplayList],
        layout: BedLayout,
        *,
        to_right: bool,
        cache: TileCache,
        on: QWidget,
    ) -> None:
        self._before, self._after, self._cache = before, after, cache
        # Painted when they are first seen, one a frame, so that the push itself is answered at once.
        self._images: dict[bool, QPixmap] = {}
        self._layout, self._to_right, self._size = layout, to_right, (before.width, before.height)
        self._motion = QVariantAnimation(on)
        self._motion.setDuration(RIDE_MS)
        self._motion.setStartValue(0.0)
        self._motion.setEndValue(1.0)
        self._motion.setEasingCurve(QEasingCurve.Type.InOutQuad)
        self._motion.valueChanged.connect(on.update)
        self._motion.finished.connect(on.update)
        self._motion.start()

    @property
    def riding(self) -> bool:
        """Whether it is still under way."""
        return self._motion.state() == QVariantAnimation.State.Running

    def stop(self) -> None:
        """Be there at once."""
        self._motion.stop()

    def paint(self, painter: QPainter) -> None:
        """Paint the moment."""
        width, height = self._size
        start = self._layout.carriage_left(not self._to_right)
        end = self._layout.carriage_left(self._to_right)
        gone = float(self._motion.currentValue()) - 1
        left = end + (end - start) * gone
        middle = left + self._layout.carriage_width / 2
        behind, ahead = QRectF(0, 0, middle, height), QRectF(middle, 0, width - middle, height)
        if not self._to_right:
            behind, ahead = ahead, behind
        sets_off = gone == -1
        for is_after, part in ((False, ahead), (True, behind)):
            image = self._image(is_after=is_after and not sets_off)
            ratio = image.devicePixelRatio()
            source = QRectF(part.x() * ratio, part.y() * ratio, part.width() * ratio, part.height() * ratio)
            painter.drawPixmap(part, image, source)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(QPointF(0 if sets_off else left - end, 0))
        for mark in self._carriage(self._before if sets_off else self._after()):
            paint_mark(mark, painter)
        painter.restore()

    def _carriage(self, picture: DisplayList) -> list[Mark]:
        """The carriage, where a picture shows it."""
        return [mark for layer in picture.layers if layer.name == "carriage" for mark in layer.marks]

    def _image(self, *, is_after: bool) -> QPixmap:
        """One of the pictures without what moves, as an image."""
        if is_after not in self._images:
            picture, ratio = self._after() if is_after else self._before, self._cache.ratio
            layers = tuple(layer for layer in picture.layers if layer.name not in _LEFT_OUT)
            still = DisplayList(picture.width, picture.height, picture.ground, layers)
            image = QPixmap(round(picture.width * ratio), round(picture.height * ratio))
            image.setDevicePixelRatio(ratio)
            with QPainter(image) as painter:
                paint(still, painter, self._cache)
            self._images[is_after] = image
        return self._images[is_after]
