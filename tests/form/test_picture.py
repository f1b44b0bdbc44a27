"""The painter's picture: what is near hides what is far, and clicks know what they mean."""

import numpy as np
import pytest

from bedview.form.camera import VIEWS, looking_at
from bedview.form.colouring import ColourBy, node_colours
from bedview.form.picture import painted_faces, shape_drawing
from bedview.picture.colour import channels
from bedview.picture.look import LIGHT
from bedview.picture.marks import Shape as Outline
from tests.form.fabrics import rectangle, tube
from tests.form.resting import shape_of


@pytest.mark.parametrize("view", VIEWS)
def test_every_view_shows_all_of_the_piece(view: str) -> None:
    shape = shape_of(tube(16, 12))
    places = shape.surface.places_mm
    seen = looking_at(places, view, 400, 300).seen(places)
    low, high = seen[:, :2].min(axis=0), seen[:, :2].max(axis=0)
    assert (low >= 23).all()
    assert (high <= (377, 277)).all()
    assert np.isclose(low, 24).any()


def test_turning_keeps_right_right_and_up_up() -> None:
    places = np.array([(0.0, 0, 0), (10, 0, 0), (0, 10, 0), (0, 0, 10)])
    middle, right, up, near = looking_at(places, "side", 100, 100).seen(places)
    assert right[0] > middle[0]
    assert up[1] < middle[1]
    assert near[2] > middle[2]
    assert near[:2] == pytest.approx(middle[:2])
    middle, right, up, near = looking_at(places, "front", 100, 100).seen(places)
    # The toe, which lies to the right, comes forward.
    assert right[2] > middle[2]
    middle, right, up, near = looking_at(places, "top", 100, 100).seen(places)
    assert up[2] > middle[2]
    middle, right, up, near = looking_at(places, "sole", 100, 100).seen(places)
    assert up[2] < middle[2]


def test_faces_come_the_farthest_first() -> None:
    shape = shape_of(tube(16, 12))
    camera = looking_at(shape.surface.places_mm, "side", 400, 300)
    faces = painted_faces(shape, camera, node_colours(shape, "row", tube(16, 12), LIGHT))
    depth = shape.places_mm[faces.node, 2]
    third = len(depth) // 3
    assert len(faces.corners) == len(shape.surface.quads) + len(shape.surface.triangles)
    assert depth[:third].max() < depth[-third:].min()


@pytest.mark.parametrize("by", ["segment", "strain", "row", "yarn"])
def test_each_way_of_colouring_gives_every_node_a_colour(by: ColourBy) -> None:
    piece = tube(16, 24)
    shape = shape_of(piece)
    colours = node_colours(shape, by, piece, LIGHT)
    assert colours.shape == (len(shape), 3)
    if by == "segment":
        assert set(map(tuple, colours.tolist())) == {channels(LIGHT.tint(0))}
    if by == "row":
        assert len(set(map(tuple, colours.tolist()))) == 25


def test_a_marked_course_is_painted_in_its_colour() -> None:
    piece = rectangle(8, 8)
    shape = shape_of(piece)
    camera = looking_at(shape.surface.places_mm, "side", 400, 300)
    course = shape.course_of(4)
    faces = painted_faces(
        shape, camera, node_colours(shape, "segment", piece, LIGHT), marked={"#ff0000": course.tolist()}
    )
    marked = np.isin(faces.node, course)
    assert marked.any()
    assert (faces.colours[marked][:, 1:] == 0).all()
    assert (faces.colours[~marked][:, 1:] > 0).all()


def test_a_drawing_has_a_mark_for_each_face_and_a_caption() -> None:
    piece = rectangle(6, 5)
    shape = shape_of(piece)
    camera = looking_at(shape.surface.places_mm, "corner", 400, 300)
    drawing = shape_drawing(
        shape,
        camera,
        node_colours(shape, "yarn", piece, LIGHT),
        LIGHT,
        title="A patch",
        caption="from a corner",
    )
    marks = drawing.layer("shape")
    # 6 stitches wide with half a stitch at either side, 5 rows high.
    assert len(marks) == (5 + 2) * 5
    assert all(isinstance(mark, Outline) for mark in marks)
    assert len(drawing.layer("caption")) == 1
    assert (drawing.width, drawing.height, drawing.title) == (400, 300, "A patch")
