"""Pens, brushes and paths of a display list as Qt knows them."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from bedview.picture.colour import Colour
from bedview.picture.marks import Path, Pen, Shape


@lru_cache(maxsize=1024)
def colour_of(colour: Colour) -> QColor:
    """A colour; the last two digits of eight are its alpha."""
    made = QColor(colour[:7])
    if len(colour) > 7:
        made.setAlpha(int(colour[7:9], 16))
    return made


@lru_cache(maxsize=1024)
def brush_of(colour: Colour | None) -> QBrush:
    """A brush, none for None."""
    return QBrush(Qt.BrushStyle.NoBrush) if colour is None else QBrush(colour_of(colour))


@lru_cache(maxsize=1024)
def pen_of(pen: Pen | None) -> QPen:
    """A pen, none for None."""
    if pen is None:
        return QPen(Qt.PenStyle.NoPen)
    made = QPen(colour_of(pen.colour), pen.width)
    made.setCapStyle(Qt.PenCapStyle.RoundCap if pen.cap == "round" else Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if pen.dash:
        made.setDashPattern([length / pen.width for length in pen.dash])
    return made


def path_of(path: Path) -> QPainterPath:
    """A path."""
    made = QPainterPath()
    for step, points in path:
        match step:
            case "M":
                made.moveTo(points[0], points[1])
            case "L":
                made.lineTo(points[0], points[1])
            case "C":
                made.cubicTo(*points)
            case _:
                made.closeSubpath()
    return made


def paint_shape(painter: QPainter, shape: Shape) -> None:
    """Paint one outline."""
    painter.setPen(pen_of(shape.pen))
    painter.setBrush(brush_of(shape.fill))
    painter.drawPath(path_of(shape.path))
