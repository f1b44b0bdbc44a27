"""Energy, its slope, and the room inside, against differences and another library."""

from dataclasses import replace
from itertools import islice

import numpy as np
import numpy.typing as npt
import pytest
import trimesh
from scipy import sparse

from bedview.form.lids import Lids, make_lids, rim_edges
from bedview.form.relaxing import Load, Relaxer, Springs, differences
from bedview.form.stitch_sizes import Floats

SEED = 11


def ball() -> trimesh.Trimesh:
    mesh: trimesh.Trimesh = trimesh.creation.icosphere(subdivisions=2, radius=30)
    return mesh


def lids_of(mesh: trimesh.Trimesh, faces: npt.NDArray[np.int64]) -> Lids:
    triangles = faces[:, ::-1].astype(np.int32)
    return make_lids(triangles, rim_edges(triangles, len(mesh.vertices)), len(mesh.vertices))


def springs_of(mesh: trimesh.Trimesh, rest_mm: Floats, bends: npt.NDArray[np.int64]) -> Springs:
    rng = np.random.default_rng(SEED)
    edges, count = mesh.edges_unique.T, len(mesh.vertices)
    bending = differences(bends, (1, -2, 1), count)
    return Springs(
        spans=differences(edges, (1, -1), count),
        rest_mm=rest_mm,
        stiffness=rng.uniform(0.3, 1.0, edges.shape[1]),
        pulls_only=rng.random(edges.shape[1]) < 0.3,
        bending=sparse.csr_array(bending.T @ bending) * 0.2,
    )


def some_relaxer(mesh: trimesh.Trimesh) -> Relaxer:
    rng = np.random.default_rng(SEED)
    rest_mm = mesh.edges_unique_length * rng.uniform(0.9, 1.1, len(mesh.edges_unique))
    return Relaxer(springs_of(mesh, rest_mm, rng.permutation(len(mesh.vertices))[:60].reshape(3, 20)))


@pytest.mark.parametrize("air", [0.0, 0.01])
def test_the_slope_is_the_slope_of_the_energy(air: float) -> None:
    mesh = ball()
    # Without some faces there is a rim, and a lid over it.
    load = Load(0.4, air, lids_of(mesh, mesh.faces[40:]))
    relaxer = some_relaxer(mesh)
    places: Floats = mesh.vertices + np.random.default_rng(1).normal(size=mesh.vertices.shape)
    way = np.random.default_rng(2).normal(size=places.shape)
    _, gradient = relaxer.energy(places, load)
    ahead, behind = (relaxer.energy(places + side * 1e-5 * way, load)[0] for side in (1, -1))
    assert float(np.vdot(gradient, way)) == pytest.approx((ahead - behind) / 2e-5, rel=1e-5)


def test_steps_never_raise_the_energy() -> None:
    relaxer, load = some_relaxer(ball()), Load(0.4)
    places = ball().vertices + np.random.default_rng(SEED).normal(size=(len(ball().vertices), 3)) * 4
    energy = relaxer.energy(places, load)[0]
    for number, after in enumerate(relaxer.steps(places, load)):
        lower = relaxer.energy(after, load)[0]
        assert lower <= energy * (1 + 1e-12)
        energy = lower
        if number == 40:
            break


def test_springs_that_can_all_rest_come_to_rest() -> None:
    mesh = ball()
    springs = springs_of(mesh, mesh.edges_unique_length, np.empty((3, 0), np.int64))
    relaxer = Relaxer(replace(springs, pulls_only=np.zeros(len(springs.rest_mm), np.bool_)))
    places = mesh.vertices + np.random.default_rng(SEED).normal(size=mesh.vertices.shape)
    settled = next(islice(relaxer.steps(places, Load(0.0)), 300, None))
    assert relaxer.lengths_mm(settled) == pytest.approx(mesh.edges_unique_length, rel=1e-3)


def test_room_inside_a_ball_as_trimesh_has_it() -> None:
    mesh = ball()
    room, slope = lids_of(mesh, mesh.faces).enclosed(mesh.vertices)
    assert room == pytest.approx(float(mesh.volume))
    assert slope.sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-9)


def test_a_lid_closes_a_cup() -> None:
    mesh = trimesh.creation.cylinder(radius=20, height=30, sections=24)
    up = mesh.face_normals[:, 2] > 0.5
    lids = lids_of(mesh, mesh.faces[~up])
    room, _ = lids.enclosed(mesh.vertices + 50.0)
    assert room == pytest.approx(float(mesh.volume))


def test_air_drives_no_surface_away_whatever_its_triangles_are() -> None:
    # Some faces of a ball left out, some doubled and some turned over.
    mesh = ball()
    faces = np.concatenate((mesh.faces[30:], mesh.faces[90:100], mesh.faces[50:55, ::-1]))
    _, slope = lids_of(mesh, faces).enclosed(mesh.vertices + 7.0)
    assert slope.sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-9)
    turning = np.cross(mesh.vertices + 7.0, slope).sum(axis=0)
    assert turning == pytest.approx(np.zeros(3), abs=1e-6)
