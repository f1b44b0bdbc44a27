"""A published disc, angles as another library has them, and a helix on a tube."""

from math import hypot

import numpy as np
import pytest
import trimesh
from pygeodesic import geodesic

from bedview.form.measuring import way_between
from bedview.form.shape import Shape
from bedview.plan.piece import Piece
from tests.form.fabrics import heel_cup, tube, wedges
from tests.form.resting import shape_of, way_mm


def test_a_disc_of_twelve_garter_wedges() -> None:
    # 50 stitches, steps of 2, 12 wedges, sold as a full circle (goldenapple 2013/10). A garter row is half as
    # high as a stitch is wide: 12 x 2 rows to every 2 stitches make 12 / 2 = 6.0 rad.
    width, height = 5.0, 2.5
    shape = shape_of(wedges(50, 12, [2] * 24, gauge=(20, 40)))
    first = int(shape.needle.min())
    needles = np.arange(5, 48, 6)
    rings = np.array(
        [way_mm(shape, shape.wale_of(first + needle), round_it=True) for needle in needles.tolist()]
    )
    radians = float(np.polyfit(needles * width, rings, 1)[0])
    assert radians == pytest.approx(6.0, rel=0.05)
    # All 25 steps of a wedge reach the rim: 50 rows and, with the graft, one more in all.
    rim = way_mm(shape, shape.wale_of(first + 49), round_it=True)
    assert rim == pytest.approx((12 * 50 + 1) * height, rel=0.01)
    # 16 degrees short of flat, in steps of only two stitches, it is a little tight along its radius.
    assert way_mm(shape, shape.course_of(0)) == pytest.approx(49 * width, rel=0.02)
    assert shape.strain_mean < 0.01


@pytest.mark.parametrize(
    "piece", [tube(16, 14), wedges(24, 12, [4] * 5), heel_cup(24, 10, 8)], ids=["tube", "cone", "heel"]
)
def test_angles_missing_and_turned_as_trimesh_has_them(piece: Piece) -> None:
    shape = shape_of(piece)
    mesh = trimesh.Trimesh(shape.places_mm, shape.net.faces.triangulated(), process=False)
    at_rim = np.zeros(len(shape), np.bool_)
    at_rim[shape.net.rim] = True
    # At the rim trimesh, too, counts what is missing of a full turn; the rim's own turning is half that.
    total = float(mesh.vertex_defects.sum()) - np.pi * int(at_rim.sum())
    assert total == pytest.approx(2 * np.pi * mesh.euler_number, abs=1e-6)
    assert mesh.euler_number == 0


@pytest.fixture(scope="module")
def round_tube() -> Shape:
    return shape_of(tube(24, 50))


@pytest.mark.parametrize(("stitches", "rows"), [(6, 30), (11, 20), (3, 40), (8, 0)])
def test_a_way_round_a_tube_is_a_helix(round_tube: Shape, stitches: int, rows: int) -> None:
    low, high = round_tube.course_of(5), round_tube.course_of(5 + rows)
    start, end = int(low[4]), int(high[4 + stitches])
    exact, _ = geodesic.PyGeodesicAlgorithmExact(
        np.ascontiguousarray(round_tube.surface.places_mm), np.ascontiguousarray(round_tube.triangles)
    ).geodesicDistance(start, end)
    way = way_between(round_tube, start, end)
    assert way is not None
    # Cut open along a wale the tube lies flat, and the helix is a straight line.
    helix = hypot(5.0 * stitches, rows * 10 / 3)
    assert exact == pytest.approx(helix, rel=0.01)
    assert way.length_mm == pytest.approx(helix, rel=0.01)
    assert way.length_mm == pytest.approx(exact, rel=0.01)


def test_the_shorter_way_round_is_taken(round_tube: Shape) -> None:
    course = round_tube.course_of(20)
    way = way_between(round_tube, int(course[2]), int(course[20]))
    assert way is not None
    assert way.length_mm == pytest.approx(6 * 5.0, rel=0.01)
