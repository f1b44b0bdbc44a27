"""Display lists drawn for paper: every line as a line, nothing as pixels."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QTransform

from bedview.painting.painter import paint_mark
from bedview.painting.strokes import brush_of, colour_of, path_of, pen_of
from bedview.picture.colour import with_alpha
from bedview.picture.marks import DisplayList, Fade, Mark, Tiles

_SHADES: Final = 32
"""Strips that a veil is made of."""


def draw(picture: DisplayList, painter: QPainter) -> None:
    """Draw a picture with its top left corner at the painter's origin; nothing beyond its edges."""
    painter.save()
    bounds = QRectF(0, 0, picture.width, picture.height)
    painter.setClipRect(bounds)
    painter.fillRect(bounds, colour_of(picture.ground))
    for mark in picture.marks():
        draw_mark(mark, painter)
    painter.restore()


def draw_mark(mark: Mark, painter: QPainter) -> None:
    """Draw one mark."""
    match mark:
        case Tiles():
            _draw_tiles(mark, painter)
        case Fade():
            _draw_fade(mark, painter)
        case _:
            paint_mark(mark, painter)


def _draw_tiles(mark: Tiles, painter: QPainter) -> None:
    # A page of a long sheet has ten thousands of outlines: each is made once, not once a place.
    shapes = [(pen_of(shape.pen), brush_of(shape.fill), path_of(shape.path)) for shape in mark.tile.shapes]
    origin = painter.transform()
    for x, y, count in zip(mark.x.tolist(), mark.y.tolist(), mark.count.tolist(), strict=True):
        for place in range(count):
            painter.setTransform(QTransform.fromTranslate(x + place * mark.advance, y) * origin)
            for pen, brush, path in shapes:
                painter.setPen(pen)
                painter.setBrush(brush)
                painter.drawPath(path)
    painter.setTransform(origin)


def _draw_fade(mark: Fade, painter: QPainter) -> None:
    """A veil in strips: the PDF that Qt writes has no gradient from clear to full."""
    tall = mark.height / _SHADES
    for place in range(_SHADES):
        share = (place + 0.5) / _SHADES
        colour = with_alpha(mark.colour, 1 - share if mark.upward else share)
        painter.fillRect(QRectF(mark.x, mark.y + place * tall, mark.width, tall), colour_of(colour))
