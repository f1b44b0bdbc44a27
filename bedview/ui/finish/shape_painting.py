"""The shape painted to an image, with what is pointed out on it; no graphics card and no window is needed.

A shape of many thousand faces takes a while. While it is being turned it is painted roughly: a square for
each face, all at once, on fewer pixels if the squares would be large, which are then drawn out smoothly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen

from bedview.finish.body_in_shape import PlacedBody
from bedview.form.camera import Camera
from bedview.form.colouring import node_colours
from bedview.form.links import Nodes
from bedview.form.picture import HAIR, PaintedFaces, painted_faces
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.picture.colour import Colour
from bedview.picture.look import Palette
from bedview.plan.piece import Piece
from bedview.ui.finish.messages import Picture, PictureWanted

FINE_FACES: Final = 6_000
"""A shape of no more faces is painted finely while it is turned, too."""
LARGEST_SQUARE: Final = 4
"""Pixels to the side of a square in a rough picture."""
MOST_SHRUNK: Final = 6.0
MOVING_RATIO: Final = 1.0
"""Pixels of the screen to one of the window in a rough picture, at most."""
SPANS_LOOKED_AT: Final = 500
DOT: Final = 6.0
LEAST_LINE: Final = 3
"""Fewer loops than this, the ends of strands, are dots and no line."""
LEAP: Final = 4.0
"""Loops more than so many stitches apart do not lie beside each other in an edge."""


@dataclass(frozen=True, slots=True, eq=False)
class PaintedShape:
    """A picture, the shape it was painted from, and its faces, the nearest last."""

    picture: Picture
    shape: Shape
    faces: PaintedFaces


def paint_shape(
    wanted: PictureWanted,
    shapes: tuple[Shape, ...],
    piece: Piece,
    way_mm: Floats | None,
    body: PlacedBody | None = None,
) -> PaintedShape:
    """Paint it.

    Args:
        wanted: what is to be seen.
        shapes: from flat to made up.
        piece: the piece, for its parts and yarns.
        way_mm: a way along the surface to be drawn, shape (k, 3).
        body: whom the piece is for, in the last shape; drawn there only.
    """
    shape = blended(shapes, wanted.position)
    seen_body = body if wanted.with_body and shape is shapes[-1] else None
    around = None if seen_body is None else np.concatenate(seen_body.curves)
    camera = wanted.turning.camera(shapes, shape, wanted.width, wanted.height, around)
    look = wanted.palette
    edges = ((look.hands, wanted.marks.loops), (look.carriage, wanted.marks.other_loops))
    marked = {colour: _nodes(shape, loops).tolist() for colour, loops in edges}
    colours = node_colours(shape, wanted.colour_by, piece, look)
    faces = painted_faces(shape, camera, colours, marked=marked)
    rough = wanted.moving and len(faces.node) > FINE_FACES
    ratio = min(wanted.ratio, MOVING_RATIO) if rough else wanted.ratio
    image = _ground(wanted.width * ratio, wanted.height * ratio)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(ratio, ratio)
    if rough:
        _paint_roughly(painter, faces, wanted, ratio)
    else:
        _paint_faces(painter, faces)
    over = _Over(painter, shape, camera, look)
    for colour, loops in edges:
        over.paint_edge(loops, colour)
    for line in (wanted.marks.wale, wanted.marks.course):
        over.paint_line(line)
    if way_mm is not None:
        over.paint_way(way_mm)
    figures = () if seen_body is None else over.paint_body(seen_body)
    over.paint_dots(wanted.marks.pressed, look.ink)
    painter.end()
    pixels = bytes(image.constBits())
    return PaintedShape(Picture(image.width(), image.height(), ratio, pixels, figures), shape, faces)


def loop_seen_at(painted: PaintedShape, x: float, y: float) -> int | None:
    """The loop of the nearest face at a point of the picture; None beside the shape."""
    faces, place = painted.faces, np.array((x, y))
    low, high = faces.corners.min(axis=1), faces.corners.max(axis=1)
    near = np.flatnonzero(((low <= place) & (place <= high)).all(axis=1))
    corners = faces.corners[near] - place
    following = np.roll(corners, -1, axis=1)
    turns = corners[:, :, 0] * following[:, :, 1] - corners[:, :, 1] * following[:, :, 0]
    # A point lies inside where every side turns the same way round it.
    inside = near[(turns >= 0).all(axis=1) | (turns <= 0).all(axis=1)]
    return int(painted.shape.loop[faces.node[inside[-1]]]) if len(inside) else None


def blended(shapes: tuple[Shape, ...], position: float) -> Shape:
    """The shape at a position; between two shapes every loop is on its way from one to the other."""
    low = min(int(position), len(shapes) - 1)
    share = position - low
    if share < 1e-6 or low + 1 >= len(shapes):
        return shapes[low]
    before, after = shapes[low], shapes[low + 1]
    here = before.nodes_of_loops(after.loop)
    places = (1 - share) * before.places_mm[here] + share * after.places_mm
    return replace(after, places_mm=places, closed=(1 - share) * before.closed + share * after.closed)


# -- the fabric -------------------------------------------------------------------------------------------


def _ground(wide: float, tall: float) -> QImage:
    """An image with nothing on it but the ground."""
    image = QImage(max(1, round(wide)), max(1, round(tall)), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    return image


def _paint_faces(painter: QPainter, faces: PaintedFaces) -> None:
    """Every face as a polygon, with smooth edges."""
    for corners, (red, green, blue) in zip(faces.corners.tolist(), faces.colours.tolist(), strict=True):
        colour = QColor(red, green, blue)
        painter.setBrush(colour)
        painter.setPen(QPen(colour, HAIR))
        painter.drawConvexPolygon([QPointF(x, y) for x, y in corners])


def _paint_roughly(painter: QPainter, faces: PaintedFaces, wanted: PictureWanted, ratio: float) -> None:
    """A square in the middle of every face, the nearest painted last."""
    corners = faces.corners
    some = corners[:: max(len(corners) // SPANS_LOOKED_AT, 1)]
    span = float(np.median(np.ptp(some, axis=1).max(axis=1)))
    scale = ratio / min(max(span * ratio / LARGEST_SQUARE, 1.0), MOST_SHRUNK)
    image = _ground(wanted.width * scale, wanted.height * scale)
    tall, wide = image.height(), image.width()
    side = int(np.clip(np.ceil(span * scale), 1, LARGEST_SQUARE))
    x, y = ((corners[:, 0] + corners[:, 1] + corners[:, 2] + corners[:, 3]) * (scale / 4)).T
    red, green, blue = faces.colours.T.astype(np.uint32)
    paint = np.uint32(0xFF000000) | red << 16 | green << 8 | blue
    seen = (x > -side) & (x < wide + side) & (y > -side) & (y < tall + side)
    column, row = (np.rint(place[seen]).astype(np.int32)[:, None] - side // 2 for place in (x, y))
    every = np.arange(side, dtype=np.int32)
    columns, rows = np.clip(column + every, 0, wide - 1), np.clip(row + every, 0, tall - 1) * wide
    pixels = np.frombuffer(image.bits(), np.uint32)
    # Of several colours for one pixel the last stays.
    pixels[(rows[:, :, None] + columns[:, None, :]).ravel()] = np.repeat(paint[seen], side * side)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawImage(QRectF(0, 0, wide / scale, tall / scale), image)


# -- over the fabric --------------------------------------------------------------------------------------


def _nodes(shape: Shape, loops: tuple[int, ...]) -> Nodes:
    nodes = shape.nodes_of_loops(np.array(loops, np.int32))
    return nodes[nodes >= 0]


@dataclass(frozen=True, slots=True)
class _Over:
    """Paints what is seen through the fabric: edges, a way, places that were pressed."""

    painter: QPainter
    shape: Shape
    camera: Camera
    look: Palette

    def paint_edge(self, loops: tuple[int, ...], colour: Colour) -> None:
        """The line of an edge, dotted, parted where it leaps; a few loops alone, or ends of yarn, as dots."""
        nodes = _nodes(self.shape, loops)
        if not len(nodes):
            return
        lengths = np.linalg.norm(np.diff(self.shape.places_mm[nodes], axis=0), axis=1)
        leaps = np.flatnonzero(lengths > LEAP * float(np.median(self.shape.net.width_mm)))
        for run in np.split(nodes, leaps + 1):
            if len(run) < LEAST_LINE:
                self._dots(run, colour)
            else:
                self.painter.setPen(QPen(QColor(colour), 2.0, Qt.PenStyle.DotLine))
                self._polyline(self.shape.places_mm[run])

    def paint_line(self, loops: tuple[int, ...]) -> None:
        """A wale or a course, thin, light below and dark above."""
        places = self.shape.places_mm[_nodes(self.shape, loops)]
        for colour, width in ((self.look.card, 3.6), (self.look.ink, 1.4)):
            self.painter.setPen(QPen(QColor(colour), width))
            self._polyline(places)

    def paint_way(self, places_mm: Floats) -> None:
        """A way, light below and dark above."""
        for colour, width in ((self.look.card, 6.0), (self.look.ink, 2.6)):
            pen = QPen(QColor(colour), width)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            self.painter.setPen(pen)
            self._polyline(places_mm)

    def paint_body(self, body: PlacedBody) -> tuple[tuple[float, float, float], ...]:
        """The outline of a body, seen through the fabric.

        Returns:
            Where its figures stand in pixels, and what they say in millimetres.
        """
        for colour, width in ((self.look.card, 5.0), (self.look.ink, 2.2)):
            pen = QPen(QColor(colour), width)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            self.painter.setPen(pen)
            for curve in body.curves:
                self._polyline(curve)
        places = self.camera.seen(np.array([place for place, _ in body.marks]))
        return tuple((x, y, mm) for (x, y, _), (__, mm) in zip(places.tolist(), body.marks, strict=True))

    def paint_dots(self, loops: tuple[int, ...], colour: Colour) -> None:
        """Dots on loops."""
        self._dots(_nodes(self.shape, loops), colour)

    def _dots(self, nodes: Nodes, colour: Colour) -> None:
        self.painter.setPen(QPen(QColor(self.look.card), 2))
        self.painter.setBrush(QColor(colour))
        for x, y, _ in self.camera.seen(self.shape.places_mm[nodes]).tolist():
            self.painter.drawEllipse(QPointF(x, y), DOT, DOT)

    def _polyline(self, places_mm: Floats) -> None:
        self.painter.drawPolyline([QPointF(x, y) for x, y, _ in self.camera.seen(places_mm).tolist()])
