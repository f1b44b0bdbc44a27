"""Shapes that geometry or a published pattern knows, and the references that the measuring is held against.

What lies in the surface is measured: lengths, rings, angles. Heights only where a shape is far from flat.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, pi

import numpy as np
import numpy.typing as npt
import pytest
import trimesh
from pygeodesic import geodesic

from bedview.form.measuring import way_on
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from tests.form.fabrics import Writer, heel_cup, rectangle, tube, wedges
from tests.form.resting import shape_of, way_mm

INCH_MM = 25.4


@dataclass(frozen=True)
class Curvature:
    """Angles missing at inner corners and turned at the rim, in radians, and the Euler number."""

    inside: float
    rim: float
    euler: int


def curvature(places: Floats, triangles: npt.NDArray[np.int32]) -> Curvature:
    corners = places[triangles]
    angles = np.zeros(len(places))
    for corner in range(3):
        one, two = (corners[:, (corner + step) % 3] - corners[:, corner] for step in (1, 2))
        sizes = np.linalg.norm(one, axis=1) * np.linalg.norm(two, axis=1)
        share = np.clip(np.einsum("ij,ij->i", one, two) / sizes, -1, 1)
        np.add.at(angles, triangles[:, corner], np.arccos(share))
    sides = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    once, times = np.unique(sides, axis=0, return_counts=True)
    there, at_rim = np.zeros(len(places), bool), np.zeros(len(places), bool)
    there[triangles] = True
    at_rim[once[times == 1]] = True
    inside = float((2 * pi - angles)[there & ~at_rim].sum())
    rim = float((pi - angles)[at_rim].sum())
    return Curvature(inside, rim, int(there.sum() - len(once) + len(triangles)))


def cone_mesh(angle_degrees: float, slant: float, sections: int) -> tuple[Floats, npt.NDArray[np.int32]]:
    """A cone whose tip has this angle in all, made of flat triangles; its tip is corner 0."""
    radius = slant * angle_degrees / 360
    turns = np.linspace(0, 2 * pi, sections, endpoint=False)
    rim = np.stack((radius * np.cos(turns), radius * np.sin(turns), np.zeros(sections)), axis=1)
    places = np.concatenate(([(0, 0, np.sqrt(slant**2 - radius**2))], rim))
    each = np.arange(sections)
    triangles = np.stack((np.zeros(sections, int), 1 + each, 1 + (each + 1) % sections), axis=1)
    return places, triangles.astype(np.int32)


# -- the references, and the measuring against them -------------------------------------------------------


@pytest.mark.parametrize(
    ("mesh", "times_pi"),
    [
        (trimesh.creation.icosphere(subdivisions=2), 4),
        (trimesh.creation.torus(major_radius=3, minor_radius=1), 0),
    ],
    ids=["sphere", "torus"],
)
def test_angles_missing_as_trimesh_has_them(mesh: trimesh.Trimesh, times_pi: int) -> None:
    # trimesh 5.2 prints 4 pi for a sphere, 0 for a torus.
    found = curvature(mesh.vertices, mesh.faces.astype(np.int32))
    assert float(mesh.vertex_defects.sum()) == pytest.approx(times_pi * pi, abs=1e-9)
    assert found.inside == pytest.approx(times_pi * pi, abs=1e-6)
    assert found.euler * 2 == times_pi


def test_a_cone_of_300_degrees() -> None:
    # Slant 10: base radius 8.3333, 60 degrees missing at the tip.
    places, triangles = cone_mesh(300, 10, 720)
    assert float(np.linalg.norm(places[1, :2])) == pytest.approx(8.3333, abs=1e-4)
    assert degrees(curvature(places, triangles).inside) == pytest.approx(60, abs=0.01)


def test_the_way_over_a_cone_as_pygeodesic_has_it() -> None:
    # Rim points 90 degrees apart in the surface, slant 10: 14.1421 (pygeodesic 0.1.11; plane geometry).
    places, triangles = cone_mesh(300, 10, 120)
    exact, _ = geodesic.PyGeodesicAlgorithmExact(places, triangles).geodesicDistance(1, 1 + 36)
    assert exact == pytest.approx(14.1421, rel=1e-3)
    way = way_on(places, triangles, 1, 1 + 36)
    assert way is not None
    assert way.length_mm == pytest.approx(14.1421, rel=2e-3)


# -- flat pieces and tubes --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stitches", "rows", "gauge"),
    [(60, 90, (20, 30)), (50, 99, (28, 40)), (30, 30, (16, 22)), (12, 200, (20, 30))],
)
def test_a_rectangle_is_as_large_as_its_gauge_says(
    stitches: int, rows: int, gauge: tuple[float, float]
) -> None:
    shape = shape_of(rectangle(stitches, rows, gauge=gauge))
    width, height = 100 * stitches / gauge[0], 100 * rows / gauge[1]
    assert way_mm(shape, shape.course_of(rows // 2)) == pytest.approx(width * (1 - 1 / stitches), rel=0.01)
    assert way_mm(shape, shape.wale_of(int(shape.needle.max()))) == pytest.approx(height, rel=0.01)
    assert shape.extent_mm[:2] == pytest.approx((width, height), rel=0.01)
    assert shape.extent_mm[2] < 0.05 * width


@pytest.mark.parametrize(("stitches", "inside"), [(24, 0), (40, 0), (42, 1)])
def test_a_tube_is_as_wide_as_its_stitches(stitches: int, inside: int) -> None:
    shape = shape_of(tube(stitches, 50, inside=inside))
    circumference = 5.0 * (stitches - 2 * inside)
    assert way_mm(shape, shape.course_of(25), round_it=True) == pytest.approx(circumference, rel=0.01)
    # It is round: as deep as it is wide.
    x, height, z = shape.extent_mm
    assert (x, z) == pytest.approx((circumference / pi, circumference / pi), rel=0.05)
    assert height == pytest.approx(50 * 10 / 3, rel=0.01)


# -- cones and discs of wedges ----------------------------------------------------------------------------


def rings_mm(shape: Shape, needles: list[int]) -> Floats:
    first = int(shape.needle.min())
    return np.array([way_mm(shape, shape.wale_of(first + needle), round_it=True) for needle in needles])


def middles(steps: list[int], stitches: int) -> list[int]:
    """A needle in the middle of each group that was held, and of the rest."""
    starts = np.cumsum([0, *steps])
    return [int((low + high) // 2) for low, high in zip(starts, [*starts[1:], stitches], strict=True)]


@pytest.mark.parametrize("count", [8, 16, 24, 32])
def test_wedges_make_the_cone_of_plane_geometry(count: int) -> None:
    # 22 stitches and 28 rows to 10 cm, eight needles held at a time: W = 32.0 wedges lie flat.
    steps = [8] * 5
    shape = shape_of(wedges(48, count, steps, gauge=(22, 28)))
    width, height = 100 / 22, 100 / 28
    needles = middles(steps, 48)
    rings = rings_mm(shape, needles)
    # Rows of each group in a wedge, and the one that the graft adds.
    rows = np.array([2 * (group + 1) * count + 1 for group in range(6)])
    assert rings == pytest.approx(rows * height, rel=0.01)
    slope = np.polyfit(np.array(needles) * width, rings, 1)[0]
    assert degrees(slope) == pytest.approx(360 * count / (pi * 8 * 2.8 / 2.2), rel=0.02)
    assert way_mm(shape, shape.course_of(0)) == pytest.approx(47 * width, rel=0.01)
    assert shape.strain_mean < 0.01


def test_a_cone_of_16_wedges_is_as_high_as_it_should_be() -> None:
    shape = shape_of(wedges(48, 16, [8] * 5, gauge=(22, 28)))
    slant, share = 48 * 100 / 22, 16 / 32.0
    width, height, depth = shape.extent_mm
    assert height == pytest.approx(slant * np.sqrt(1 - share**2), rel=0.035)
    assert (width, depth) == pytest.approx((2 * slant * share, 2 * slant * share), rel=0.035)


def spread(total: int, parts: int) -> list[int]:
    """``total`` in ``parts`` whole numbers as even as can be."""
    return np.diff(np.arange(parts + 1) * total // parts).tolist()  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("stitches", "rows", "panels", "gauge", "round_in", "degrees_in_all"),
    [
        # 44 in across, 88 stitches, 166 rows a panel, at 4 stitches and 6 rows to the inch (alessandrina
        # 2011/06; 360.3 degrees in all, derived).
        (88, 166, 5, (4, 6), 828 / 6, 360.3),
        # 40 in across, 10 panels of 50 rows, 126 in round, 4 rows to the inch (joannsknittingbasket
        # 2008/01; 358.1 degrees derived); 3 stitches to the inch are ours.
        (60, 50, 10, (3, 4), 126, 358.1),
    ],
    ids=["5 panels", "10 panels"],
)
def test_a_circle_of_panels(
    stitches: int, rows: int, panels: int, gauge: tuple[float, float], round_in: float, degrees_in_all: float
) -> None:
    steps = spread(stitches - 2, rows // 2 - 1)
    to_inch = (gauge[0] * 100 / INCH_MM, gauge[1] * 100 / INCH_MM)
    shape = shape_of(wedges(stitches, panels, steps, gauge=to_inch))
    needles = list(range(4, stitches - 2, 5))
    rim = float(rings_mm(shape, [stitches - 1])[0]) / INCH_MM
    assert rim == pytest.approx(round_in, rel=0.01)
    assert way_mm(shape, shape.course_of(0)) / INCH_MM == pytest.approx((stitches - 1) / gauge[0], rel=0.01)
    slope = np.polyfit(np.array(needles) / gauge[0], rings_mm(shape, needles) / INCH_MM, 1)[0]
    assert degrees(slope) == pytest.approx(degrees_in_all, rel=0.02)


def test_a_heel_cup_closes() -> None:
    writer_stitches, rows = 40, 20
    shape = shape_of(heel_cup(writer_stitches, 14, rows))
    assert shape.seam_gap_mean_mm < 1
    assert shape.strain_mean < 0.01
    for pass_number in (5, int(shape.pass_number.max()) - 5):
        circumference = way_mm(shape, shape.course_of(pass_number), round_it=True)
        assert circumference == pytest.approx(5.0 * writer_stitches, rel=0.01)
    # Down the middle: 20 rows, 26 shaped ones and 26 back less the held turns, 20 rows.
    middle = shape.wale_of(int(np.median(shape.needle)))
    assert way_mm(shape, middle) == pytest.approx((len(middle) - 1) * 10 / 3, rel=0.01)


# -- Gauss and Bonnet -------------------------------------------------------------------------------------


def decreasing_cone() -> Shape:
    """A triangle narrowed at both edges, its sides joined: a cone with an open tip."""
    writer = Writer(24)
    writer.knit(2)
    left, right = 0, 24
    while right - left > 4:
        for edge, inner in ((left, left + 1), (right - 1, right - 2)):
            writer.do("transfer", **{"from": writer.name(edge), "to": writer.name(inner)})
            writer.do("place", needles=writer.name(edge), position="out")
        left, right = left + 1, right - 1
        writer.knit(2)
    writer.join_sides(1, writer.passes, kind="overcast")
    return shape_of(writer.piece())


@pytest.mark.parametrize(
    "shape",
    [
        shape_of(rectangle(12, 14)),
        shape_of(tube(16, 14)),
        shape_of(wedges(24, 12, [4] * 5)),
        shape_of(heel_cup(24, 10, 8)),
        decreasing_cone(),
    ],
    ids=["rectangle", "tube", "cone", "heel", "narrowed"],
)
def test_all_angles_together(shape: Shape) -> None:
    found = curvature(shape.places_mm, shape.net.faces.triangulated())
    assert found.inside + found.rim == pytest.approx(2 * pi * found.euler, abs=1e-6)
