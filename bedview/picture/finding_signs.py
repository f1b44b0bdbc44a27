"""Signs for findings, told apart by shape: error a full disc, warning a triangle, note a small ring."""

from __future__ import annotations

from bedview.picture.look import Palette
from bedview.picture.marks import Mark, Pen, Shape, circle, polyline


def finding_sign(severity: str, x: float, y: float, size: float, palette: Palette) -> tuple[Mark, ...]:
    """The sign of a finding about a point, ``size`` pixels wide."""
    half = size / 2
    edge = Pen(palette.paper, 2)
    if severity == "note":
        ring = circle(x, y, 0.27 * size)
        return (Shape(ring, palette.paper, edge), Shape(ring, None, Pen(palette.note, 0.15 * size)))
    if severity == "warning":
        outline = polyline(
            (x, y - half), (x + 1.1 * half, y + 0.8 * half), (x - 1.1 * half, y + 0.8 * half), closed=True
        )
        top, bottom, dot = y - 0.22 * size, y + 0.08 * size, y + 0.27 * size
    else:
        outline = circle(x, y, half)
        top, bottom, dot = y - 0.27 * size, y + 0.08 * size, y + 0.29 * size
    stroke = Pen(palette.on_warning, 0.15 * size)
    return (
        Shape(outline, palette.warning, edge),
        Shape(polyline((x, top), (x, bottom)), pen=stroke),
        Shape(circle(x, dot, 0.085 * size), palette.on_warning),
    )
