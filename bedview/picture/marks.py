"""A picture as data: what is painted, in which order, with no toolkit.

A :class:`DisplayList` holds named layers of marks in the order of painting. One pixel is one unit, x to the
right, y down, the origin at the top left. What repeats along the bed (needles, loops, wraps) is a
:class:`Tile`, a small picture in its own coordinates, laid down in runs by :class:`Tiles`: a painter keeps
each as an image, the SVG writer as a symbol.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final, Literal

import numpy as np
import numpy.typing as npt

from bedview.picture.colour import Colour

Floats = npt.NDArray[np.float64]
Step = tuple[str, tuple[float, ...]]
Path = tuple[Step, ...]
"""Steps as SVG writes them: ``M`` and ``L`` with x, y; ``C`` with two control points and the end; ``Z``."""
Anchor = Literal["start", "middle", "end"]

MeasureText = Callable[[str, float, bool], float]
"""Width in pixels of a text at a size in pixels, bold or not."""


def cautious_width(text: str, size: float, bold: bool) -> float:
    """Width of a text in a font that is not known: wider than most fonts set it."""
    return len(text) * size * (0.74 if bold else 0.67)


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn.

    Attributes:
        colour: of the line.
        width: in pixels.
        cap: ``round`` ends, or ``flat`` ones.
        dash: lengths of strokes and gaps in pixels; empty for an unbroken line.
    """

    colour: Colour
    width: float
    cap: Literal["round", "flat"] = "round"
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline with a filling, a line, or both."""

    path: Path
    fill: Colour | None = None
    pen: Pen | None = None


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle with round corners."""

    x: float
    y: float
    width: float
    height: float
    radius: float = 0
    fill: Colour | None = None
    pen: Pen | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Boxes:
    """Many filled rectangles of one colour: rows of x, y, width, height; shape (k, 4)."""

    fill: Colour
    boxes: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Straight lines of one pen: rows of x1, y1, x2, y2; shape (k, 4)."""

    pen: Pen
    ends: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Dots:
    """Filled circles of one colour and size: rows of x, y; shape (k, 2)."""

    fill: Colour
    radius: float
    centres: Floats
    pen: Pen | None = None


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``y`` is its baseline."""

    x: float
    y: float
    text: str
    size: float
    colour: Colour
    anchor: Anchor = "start"
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Fade:
    """A veil of one colour over a rectangle, from clear at the top to full at the bottom."""

    x: float
    y: float
    width: float
    height: float
    colour: Colour
    upward: bool = False


@dataclass(frozen=True, slots=True)
class Tile:
    """A small picture that is repeated.

    Attributes:
        key: says all that there is to the picture: two tiles of one key look the same.
        shapes: painted in order, about an anchor at 0, 0.
        left, top, right, bottom: what it takes up about its anchor; anything beyond is cut off.
    """

    key: tuple[object, ...]
    shapes: tuple[Shape, ...] = field(compare=False)
    left: float = field(compare=False)
    top: float = field(compare=False)
    right: float = field(compare=False)
    bottom: float = field(compare=False)


@dataclass(frozen=True, slots=True, eq=False)
class Tiles:
    """Runs of one tile.

    Attributes:
        tile: what is repeated.
        advance: from one tile of a run to the next, in pixels; only tiles no wider than that run on.
        x, y: anchor of each run's first tile, shape (k,).
        count: tiles in each run, shape (k,).
    """

    tile: Tile
    advance: float
    x: Floats
    y: Floats
    count: npt.NDArray[np.int64]

    @property
    def total(self) -> int:
        """Tiles in all runs together."""
        return int(self.count.sum())


Mark = Shape | Box | Boxes | Lines | Dots | Text | Fade | Tiles


@dataclass(frozen=True, slots=True)
class Layer:
    """Marks painted one after the other, under a name."""

    name: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class DisplayList:
    """A whole picture.

    Attributes:
        width, height: in pixels.
        ground: the colour behind everything.
        layers: in the order of painting.
        title: what the picture shows, in words.
    """

    width: float
    height: float
    ground: Colour
    layers: tuple[Layer, ...]
    title: str = ""

    def layer(self, name: str) -> tuple[Mark, ...]:
        """Marks of all layers of that name; none if there is no such layer."""
        return tuple(mark for layer in self.layers if layer.name == name for mark in layer.marks)

    def marks(self) -> Iterator[Mark]:
        """All marks in the order of painting."""
        for layer in self.layers:
            yield from layer.marks


ASCENT: Final = 0.78
"""Height of capitals and digits with a little air, as a share of a text's size."""
DESCENT: Final = 0.22


def text_box(mark: Text, measure: MeasureText) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a text."""
    width = measure(mark.text, mark.size, mark.bold)
    left = mark.x - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
    return left, mark.y - ASCENT * mark.size, left + width, mark.y + DESCENT * mark.size


def moved(mark: Mark, x: float, y: float) -> Mark:
    """A mark further to the right and further down."""
    match mark:
        case Box() | Text() | Fade():
            return replace(mark, x=mark.x + x, y=mark.y + y)
        case Shape():
            return replace(mark, path=move_path(mark.path, x, y))
        case Boxes():
            return replace(mark, boxes=mark.boxes + np.array([x, y, 0, 0]))
        case Lines():
            return replace(mark, ends=mark.ends + np.array([x, y, x, y]))
        case Dots():
            return replace(mark, centres=mark.centres + np.array([x, y]))
        case Tiles():
            return replace(mark, x=mark.x + x, y=mark.y + y)


def move_path(path: Path, x: float, y: float) -> Path:
    """A path further to the right and further down."""
    return tuple(
        (step, tuple(value + (y if place % 2 else x) for place, value in enumerate(points)))
        for step, points in path
    )


def upside_down(picture: DisplayList) -> DisplayList:
    """The picture turned top to bottom, with its texts left upright."""
    layers = tuple(
        Layer(layer.name, tuple(_flipped(mark, picture.height) for mark in layer.marks))
        for layer in picture.layers
    )
    return replace(picture, layers=layers)


def _flipped(mark: Mark, height: float) -> Mark:
    match mark:
        case Shape():
            return replace(mark, path=flip_path(mark.path, height))
        case Box():
            return replace(mark, y=height - mark.y - mark.height)
        case Boxes():
            boxes = mark.boxes.copy()
            boxes[:, 1] = height - boxes[:, 1] - boxes[:, 3]
            return replace(mark, boxes=boxes)
        case Lines():
            ends = mark.ends.copy()
            ends[:, 1::2] = height - ends[:, 1::2]
            return replace(mark, ends=ends)
        case Dots():
            return replace(mark, centres=np.column_stack((mark.centres[:, 0], height - mark.centres[:, 1])))
        case Text():
            return replace(mark, y=height - mark.y + (ASCENT - DESCENT) * mark.size)
        case Fade():
            return replace(mark, y=height - mark.y - mark.height, upward=not mark.upward)
        case Tiles():
            return replace(mark, tile=_flipped_tile(mark.tile), y=height - mark.y)


@lru_cache(maxsize=4096)
def _flipped_tile(tile: Tile) -> Tile:
    shapes = tuple(replace(shape, path=flip_path(shape.path, 0)) for shape in tile.shapes)
    return Tile(("flipped", *tile.key), shapes, tile.left, -tile.bottom, tile.right, -tile.top)


def flip_path(path: Path, height: float) -> Path:
    """A path with y turned round within ``height``."""
    return tuple(
        (step, tuple(height - value if place % 2 else value for place, value in enumerate(points)))
        for step, points in path
    )


def circle(x: float, y: float, radius: float) -> Path:
    """A circle of four arcs."""
    arm = radius * 0.5523
    return (
        ("M", (x + radius, y)),
        ("C", (x + radius, y + arm, x + arm, y + radius, x, y + radius)),
        ("C", (x - arm, y + radius, x - radius, y + arm, x - radius, y)),
        ("C", (x - radius, y - arm, x - arm, y - radius, x, y - radius)),
        ("C", (x + arm, y - radius, x + radius, y - arm, x + radius, y)),
        ("Z", ()),
    )


def polyline(*points: tuple[float, float], closed: bool = False) -> Path:
    """A path of straight lines through points."""
    steps = [("M" if place == 0 else "L", point) for place, point in enumerate(points)]
    return (*steps, ("Z", ())) if closed else tuple(steps)
