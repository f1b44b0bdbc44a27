"""The shape painted to an image on a thread beside the window; no graphics card is needed.

A shape of many thousand faces takes longer than a window may stand still. So it is painted aside, and while
it is being turned it is painted roughly: a square for each face, all at once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen

from bedview.form.camera import Camera
from bedview.form.colouring import ColourBy, node_colours
from bedview.form.picture import HAIR, PaintedFaces, painted_faces
from bedview.form.shape import Shape
from bedview.picture.colour import Colour
from bedview.picture.look import Palette
from bedview.plan.piece import Piece

FINE_FACES: Final = 6_000
"""A shape of no more faces is painted finely while it is turned, too."""


@dataclass(frozen=True, slots=True, eq=False)
class ShapeScene:
    """What is to be painted.

    Attributes:
        shapes: from flat to made up.
        position: which of them, or between which two; 0 is flat.
        camera: the view.
        colour_by: what colours mean.
        marked: loops to point out, by the colour to do it in.
        piece: the piece, for its parts and yarns.
        palette: the look.
        ratio: pixels of the screen to one of the window.
        moving: whether it is being turned.
    """

    shapes: tuple[Shape, ...]
    position: float
    camera: Camera
    colour_by: ColourBy
    marked: tuple[tuple[Colour, tuple[int, ...]], ...]
    piece: Piece
    palette: Palette
    ratio: float
    moving: bool


@dataclass(frozen=True, slots=True, eq=False)
class PaintedShape:
    """An image, and the shape and the view it was painted from."""

    image: QImage
    shape: Shape
    camera: Camera


def paint_shape(scene: ShapeScene) -> PaintedShape:
    """Paint it; may be called on any thread."""
    shape = blended(scene.shapes, scene.position)
    colours = node_colours(shape, scene.colour_by, scene.piece, scene.palette)
    marked = {}
    for colour, loops in scene.marked:
        nodes = shape.nodes_of_loops(np.array(loops, np.int32))
        marked[colour] = nodes[nodes >= 0].tolist()
    faces = painted_faces(shape, scene.camera, colours, marked=marked)
    rough = scene.moving and len(faces.node) > FINE_FACES
    image = _rough(faces, scene) if rough else _fine(faces, scene)
    return PaintedShape(image, shape, scene.camera)


def blended(shapes: tuple[Shape, ...], position: float) -> Shape:
    """The shape at a position, in between with every loop on its way from one shape to the next."""
    low = min(int(position), len(shapes) - 1)
    share = position - low
    if share < 1e-6 or low + 1 >= len(shapes):
        return shapes[low]
    before, after = shapes[low], shapes[low + 1]
    here = before.nodes_of_loops(after.loop)
    places = (1 - share) * before.places_mm[here] + share * after.places_mm
    return replace(after, places_mm=places, closed=(1 - share) * before.closed + share * after.closed)


def _fine(faces: PaintedFaces, scene: ShapeScene) -> QImage:
    """Every face as a polygon, with smooth edges."""
    camera, ratio = scene.camera, scene.ratio
    image = QImage(
        max(1, round(camera.width * ratio)),
        max(1, round(camera.height * ratio)),
        QImage.Format.Format_ARGB32_Premultiplied,
    )
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(ratio, ratio)
    for corners, (red, green, blue) in zip(faces.corners.tolist(), faces.colours.tolist(), strict=True):
        colour = QColor(red, green, blue)
        painter.setBrush(colour)
        painter.setPen(QPen(colour, HAIR))
        painter.drawConvexPolygon([QPointF(x, y) for x, y in corners])
    painter.end()
    image.setDevicePixelRatio(ratio)
    return image


def _rough(faces: PaintedFaces, scene: ShapeScene) -> QImage:
    """A square in the middle of every face, the nearest painted last."""
    wide, tall = max(1, round(scene.camera.width)), max(1, round(scene.camera.height))
    ground = QColor(scene.palette.card)
    pixels = np.empty((tall, wide, 3), np.uint8)
    pixels[:] = (ground.red(), ground.green(), ground.blue())
    middles = faces.corners.mean(axis=1)
    spans = np.ptp(faces.corners, axis=1).max(axis=1)
    side = int(np.clip(np.ceil(np.median(spans)) if len(spans) else 1, 1, 24))
    offsets = np.arange(side) - side // 2
    x = np.clip(np.rint(middles[:, 0]).astype(np.int64)[:, None, None] + offsets[None, None, :], 0, wide - 1)
    y = np.clip(np.rint(middles[:, 1]).astype(np.int64)[:, None, None] + offsets[None, :, None], 0, tall - 1)
    x, y = np.broadcast_arrays(x, y)
    # Of several colours for one pixel the last stays.
    pixels[y, x] = faces.colours[:, None, None, :]
    return _image_of(pixels)


def _image_of(pixels: npt.NDArray[np.uint8]) -> QImage:
    tall, wide, _ = pixels.shape
    return QImage(pixels.tobytes(), wide, tall, 3 * wide, QImage.Format.Format_RGB888).copy()
