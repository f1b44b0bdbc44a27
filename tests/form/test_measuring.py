"""Pointing and measuring, against another library and plain geometry."""

import numpy as np
import pytest
from pygeodesic import geodesic

from bedview.form.camera import looking_at
from bedview.form.measuring import node_at, way_between, way_on
from tests.form.fabrics import Writer, heel_cup, rectangle, tube
from tests.form.resting import shape_of


def test_ways_are_as_long_as_the_exact_ones() -> None:
    shape = shape_of(heel_cup(24, 10, 10))
    exact = geodesic.PyGeodesicAlgorithmExact(
        np.ascontiguousarray(shape.surface.places_mm), np.ascontiguousarray(shape.triangles)
    )
    rng = np.random.default_rng(8)
    for start, end in rng.integers(0, len(shape), size=(8, 2)).tolist():
        way = way_between(shape, start, end)
        assert way is not None
        length, _ = exact.geodesicDistance(start, end)
        assert length - 1e-6 <= way.length_mm <= 1.005 * length
        assert way.places_mm[0] == pytest.approx(shape.places_mm[start])
        assert way.places_mm[-1] == pytest.approx(shape.places_mm[end])


def test_the_way_over_a_flat_square_is_straight() -> None:
    places = np.array([(x, y, 0.0) for y in range(11) for x in range(11)])
    below = np.array([(k, k + 1, k + 12, k + 11) for k in range(109) if k % 11 != 10], np.int32)
    triangles = below[:, [0, 1, 2, 0, 2, 3]].reshape(-1, 3)
    way = way_on(places, triangles, 10, 11 * 10 + 3)
    assert way is not None
    assert way.length_mm == pytest.approx(np.hypot(7, 10), rel=0.005)


def test_no_way_leads_from_one_part_to_another() -> None:
    writer = Writer(6)
    writer.knit(3)
    for yarn, rows in (("scrap", 2), ("main", 3)):
        writer.do("thread", yarn=yarn)
        writer.knit(rows)
    shape = shape_of(writer.piece())
    assert way_between(shape, 0, len(shape) - 1) is None


def test_from_a_node_to_itself_there_is_no_way_to_go() -> None:
    way = way_between(shape_of(rectangle(4, 4)), 3, 3)
    assert way is not None
    assert way.length_mm == 0.0


@pytest.mark.parametrize("view", ["front", "side", "corner"])
def test_a_click_on_a_node_finds_it(view: str) -> None:
    shape = shape_of(tube(16, 12))
    camera = looking_at(shape.places_mm, view, 640, 480)
    seen = camera.seen(shape.places_mm)
    # The nearest node of each is not hidden by anything.
    nearest = int(np.argmax(seen[:, 2]))
    x, y, _ = seen[nearest]
    assert node_at(shape, *camera.ray(x, y)) == nearest


def test_a_click_beside_the_piece_finds_nothing() -> None:
    shape = shape_of(rectangle(8, 8))
    camera = looking_at(shape.places_mm, "side", 640, 480)
    assert node_at(shape, *camera.ray(1.0, 1.0)) is None
