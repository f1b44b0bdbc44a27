"""The shape as a painter paints it: shaded faces, the farthest first; no graphics card needed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.form.camera import Camera
from bedview.form.colouring import Colours
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.picture.colour import Colour, channels
from bedview.picture.look import Palette
from bedview.picture.marks import DisplayList, Layer, Pen, Text
from bedview.picture.marks import Shape as Outline

LIGHT_FROM: Final = np.array((-0.42, 0.56, 0.71))
"""From above, the left and the front; right, up, towards the viewer."""
DARKEST: Final = 0.45
INSIDE: Final = 0.55
"""Brightness of the purl side, which is inside, beside the knit side."""
HAIR: Final = 0.7
"""Pixels of line round a face, in its own colour, so that no ground shines through between two."""


@dataclass(frozen=True)
class PaintedFaces:
    """Faces in the order of painting.

    Attributes:
        corners: shape (k, 4, 2), in pixels; a triangle names its last corner twice.
        colours: shape (k, 3).
        node: the node each face belongs to: a click on it means this loop.
    """

    corners: Floats
    colours: Colours
    node: npt.NDArray[np.int32]


def painted_faces(
    shape: Shape, camera: Camera, colours: Colours, *, marked: dict[Colour, Collection[int]] | None = None
) -> PaintedFaces:
    """The faces of a shape as they are seen.

    Args:
        shape: the shape.
        camera: the view.
        colours: of each node.
        marked: nodes to point out, by the colour to do it in: a wale, a course.
    """
    surface = shape.surface
    triangles = surface.triangles[:, [0, 1, 2, 2]]
    faces = np.concatenate((surface.quads, triangles))
    seen = camera.seen(surface.places_mm)
    corners = seen[faces]
    light, purl = _light_on(corners, camera.pixels_a_mm)
    node = surface.node[faces[:, 2]]
    if _is_sewn(shape):
        light = np.where(purl, INSIDE * light, light)
    depth = corners[:, 0, 2] + corners[:, 1, 2] + corners[:, 2, 2] + corners[:, 3, 2]
    order = np.argsort(depth, kind="stable")
    paint = _with_marks(colours, marked)[node[order]] * light[order, None]
    return PaintedFaces(corners[order, :, :2], np.rint(paint).astype(np.uint8), node[order])


def _light_on(corners: Floats, pixels_a_mm: float) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Brightness of faces with some corners as they are seen, 0 to 1, and which show their purl side."""
    # Normal of a quad from its diagonals; of a triangle it comes out the same way. Pixels run down.
    a, b, c = (corners[:, 2] - corners[:, 0]).T
    d, e, f = (corners[:, 3] - corners[:, 1]).T
    c, f = c * pixels_a_mm, f * pixels_a_mm
    x, y, z = c * e - b * f, c * d - a * f, b * d - a * e
    purl = z > 0
    along = x * LIGHT_FROM[0] + y * LIGHT_FROM[1] + z * LIGHT_FROM[2]
    along /= np.maximum(np.sqrt(x * x + y * y + z * z), 1e-12)
    return DARKEST + (1 - DARKEST) * np.maximum(np.where(purl, along, -along), 0.0), purl


def _is_sewn(shape: Shape) -> bool:
    """Whether the shape has an inside."""
    return bool(shape.net.joined.any())


def _with_marks(colours: Colours, marked: dict[Colour, Collection[int]] | None) -> Floats:
    paint = colours.astype(np.float64)
    for colour, nodes in (marked or {}).items():
        paint[list(nodes)] = channels(colour)
    return paint


def shape_drawing(
    shape: Shape,
    camera: Camera,
    colours: Colours,
    palette: Palette,
    *,
    title: str = "",
    caption: str = "",
    marked: dict[Colour, Collection[int]] | None = None,
) -> DisplayList:
    """The shape as a picture.

    Args:
        shape: the shape.
        camera: the view; its size is the picture's.
        colours: of each node.
        palette: the look.
        title: what the picture shows, in words.
        caption: a line below the shape.
        marked: nodes to point out, by colour.
    """
    faces = painted_faces(shape, camera, colours, marked=marked)
    outlines = []
    for corners, colour in zip(faces.corners.tolist(), faces.colours.tolist(), strict=True):
        fill = "#{:02x}{:02x}{:02x}".format(*colour)
        (a, b), (c, d), (e, f), (g, h) = corners
        path = (("M", (a, b)), ("L", (c, d)), ("L", (e, f)), ("L", (g, h)), ("Z", ()))
        outlines.append(Outline(path, fill, Pen(fill, HAIR)))
    layers = [Layer("shape", tuple(outlines))]
    if caption:
        text = Text(camera.width / 2, camera.height - 8, caption, 12, palette.quiet_ink, "middle")
        layers.append(Layer("caption", (text,)))
    return DisplayList(camera.width, camera.height, palette.paper, tuple(layers), title)
