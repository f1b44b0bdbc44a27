import numpy as np
import pytest

from bedview.picture.marks import (
    Box,
    Boxes,
    DisplayList,
    Dots,
    Fade,
    Layer,
    Lines,
    Mark,
    Pen,
    Shape,
    Text,
    Tile,
    Tiles,
    moved,
    polyline,
)
from bedview.picture.svg import to_svg

PEN = Pen("#000000", 1)
TILE = Tile(("dash",), (Shape(polyline((0, 0), (1, 1)), pen=PEN),), 0, 0, 1, 1)
MARKS = [
    (Box(1, 2, 3, 4), Box(11, 22, 3, 4)),
    (Text(1, 2, "a", 10, "#000000"), Text(11, 22, "a", 10, "#000000")),
    (Fade(1, 2, 3, 4, "#000000"), Fade(11, 22, 3, 4, "#000000")),
    (Shape(polyline((1, 2), (3, 4)), pen=PEN), Shape(polyline((11, 22), (13, 24)), pen=PEN)),
    (
        Boxes("#000000", np.array([[1.0, 2, 3, 4], [5, 6, 7, 8]])),
        Boxes("#000000", np.array([[11.0, 22, 3, 4], [15, 26, 7, 8]])),
    ),
    (Lines(PEN, np.array([[1.0, 2, 3, 4]])), Lines(PEN, np.array([[11.0, 22, 13, 24]]))),
    (Dots("#000000", 1, np.array([[1.0, 2]])), Dots("#000000", 1, np.array([[11.0, 22]]))),
    (
        Tiles(TILE, 4, np.array([1.0]), np.array([2.0]), np.array([3])),
        Tiles(TILE, 4, np.array([11.0]), np.array([22.0]), np.array([3])),
    ),
]


def written(mark: Mark) -> str:
    return to_svg(DisplayList(100, 100, "#ffffff", (Layer("marks", (mark,)),)))


@pytest.mark.parametrize(("mark", "there"), MARKS, ids=lambda mark: type(mark).__name__)
def test_a_mark_moves_as_a_whole(mark: Mark, there: Mark) -> None:
    assert written(moved(mark, 10, 20)) == written(there)
    assert written(moved(moved(mark, 10, 20), -10, -20)) == written(mark)
