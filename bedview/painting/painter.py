"""A display list painted mark by mark."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QColor, QLinearGradient, QPainter

from bedview.painting.fonts import font, text_width
from bedview.painting.strokes import brush_of, colour_of, paint_shape, pen_of
from bedview.painting.tile_cache import TileCache
from bedview.picture.marks import Box, Boxes, DisplayList, Dots, Fade, Lines, Mark, Shape, Text, Tiles


def paint(picture: DisplayList, painter: QPainter, cache: TileCache) -> None:
    """Paint a picture with its top left corner at the painter's origin.

    Args:
        picture: what to paint.
        painter: its scale must be the cache's ratio, by itself or through its device.
        cache: the images of tiles.
    """
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(QRectF(0, 0, picture.width, picture.height), colour_of(picture.ground))
    for mark in picture.marks():
        if isinstance(mark, Tiles):
            _paint_tiles(mark, painter, cache)
        else:
            paint_mark(mark, painter)


def paint_mark(mark: Mark, painter: QPainter) -> None:
    """Paint one mark that is not tiles."""
    match mark:
        case Shape():
            paint_shape(painter, mark)
        case Box(radius=0, pen=None):
            painter.fillRect(QRectF(mark.x, mark.y, mark.width, mark.height), brush_of(mark.fill))
        case Box():
            painter.setPen(pen_of(mark.pen))
            painter.setBrush(brush_of(mark.fill))
            painter.drawRoundedRect(QRectF(mark.x, mark.y, mark.width, mark.height), mark.radius, mark.radius)
        case Boxes():
            fill = colour_of(mark.fill)
            for x, y, width, height in mark.boxes.tolist():
                painter.fillRect(QRectF(x, y, width, height), fill)
        case Lines():
            painter.setPen(pen_of(mark.pen))
            painter.drawLines([QLineF(*ends) for ends in mark.ends.tolist()])
        case Dots():
            painter.setPen(pen_of(mark.pen))
            painter.setBrush(brush_of(mark.fill))
            for x, y in mark.centres.tolist():
                painter.drawEllipse(QPointF(x, y), mark.radius, mark.radius)
        case Text():
            _paint_text(mark, painter)
        case Fade():
            _paint_fade(mark, painter)


def _paint_tiles(mark: Tiles, painter: QPainter, cache: TileCache) -> None:
    if not len(mark.count):
        return
    ratio = cache.ratio
    strip = cache.strip(mark.tile, mark.advance, int(mark.count.max()))
    pixmap, high = strip.pixmap, strip.pixmap.height()
    beyond = pixmap.width() - strip.advance * strip.count
    # Anchors lie on whole device pixels, but for the halves that all tiles of one row share.
    lefts = np.floor(mark.x * ratio + strip.left + 0.5).astype(np.int64).tolist()
    tops = np.floor(mark.y * ratio + strip.top + 0.5).astype(np.int64).tolist()
    longest = strip.count if strip.runs_on else 1
    for first, top, count in zip(lefts, tops, mark.count.tolist(), strict=True):
        for done in range(0, count, longest):
            wide = strip.advance * min(count - done, longest) + beyond
            left = first + done * strip.advance
            if ratio == 1:
                painter.drawPixmap(left, top, pixmap, 0, 0, wide, high)
            else:
                target = QRectF(left / ratio, top / ratio, wide / ratio, high / ratio)
                painter.drawPixmap(target, pixmap, QRectF(0, 0, wide, high))


def _paint_text(mark: Text, painter: QPainter) -> None:
    painter.setFont(font(mark.size, mark.bold))
    painter.setPen(colour_of(mark.colour))
    x = mark.x
    if mark.anchor != "start":
        width = text_width(mark.text, mark.size, mark.bold)
        x -= width / 2 if mark.anchor == "middle" else width
    painter.drawText(QPointF(x, mark.y), mark.text)


def _paint_fade(mark: Fade, painter: QPainter) -> None:
    full, clear = QColor(colour_of(mark.colour)), QColor(colour_of(mark.colour))
    clear.setAlpha(0)
    gradient = QLinearGradient(0, mark.y, 0, mark.y + mark.height)
    gradient.setColorAt(0, full if mark.upward else clear)
    gradient.setColorAt(1, clear if mark.upward else full)
    painter.fillRect(QRectF(mark.x, mark.y, mark.width, mark.height), gradient)
