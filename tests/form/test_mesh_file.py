"""Mesh files, read again by another library."""

import io

import numpy as np
import pytest
import trimesh

from bedview.export.mesh_file import MESH_FILES, obj_bytes, ply_bytes
from bedview.form.colouring import node_colours
from bedview.picture.look import LIGHT
from tests.form.fabrics import rectangle, tube
from tests.form.resting import shape_of


@pytest.mark.parametrize("ending", MESH_FILES)
def test_a_file_holds_the_whole_surface(ending: str) -> None:
    shape = shape_of(tube(16, 12))
    mesh = trimesh.load_mesh(io.BytesIO(MESH_FILES[ending](shape)), file_type=ending[1:], process=False)
    assert len(mesh.vertices) == len(shape.surface.places_mm)
    assert mesh.vertices == pytest.approx(shape.surface.places_mm, abs=1e-4)
    assert len(mesh.faces) == len(shape.triangles)
    assert mesh.is_winding_consistent


@pytest.mark.parametrize("ending", MESH_FILES)
def test_faces_look_outward(ending: str) -> None:
    shape = shape_of(tube(16, 12))
    mesh = trimesh.load_mesh(io.BytesIO(MESH_FILES[ending](shape)), file_type=ending[1:], process=False)
    away = mesh.triangles_center - mesh.vertices.mean(axis=0)
    away[:, 1] = 0
    assert (np.einsum("ij,ij->i", mesh.face_normals, away) > 0).all()


@pytest.mark.parametrize("ending", MESH_FILES)
def test_a_rectangle_is_as_large_in_the_file_as_its_gauge_says(ending: str) -> None:
    data = MESH_FILES[ending](shape_of(rectangle(30, 30)))
    mesh = trimesh.load_mesh(io.BytesIO(data), file_type=ending[1:], process=False)
    assert np.ptp(mesh.vertices, axis=0)[:2] == pytest.approx([150, 100], rel=0.01)


def test_a_ply_knows_loops_and_colours() -> None:
    piece = rectangle(6, 5)
    shape = shape_of(piece)
    colours = node_colours(shape, "row", piece, LIGHT)
    mesh = trimesh.load_mesh(io.BytesIO(ply_bytes(shape, colours)), file_type="ply", process=False)
    data = mesh.metadata["_ply_raw"]["vertex"]["data"]
    assert data["loop"].tolist() == shape.loop[shape.surface.node].tolist()
    assert data["needle"].tolist() == shape.needle[shape.surface.node].tolist()
    assert data["pass"].tolist() == shape.pass_number[shape.surface.node].tolist()
    painted = np.stack([data[channel] for channel in ("red", "green", "blue")], axis=1)
    assert painted.tolist() == colours[shape.surface.node].tolist()


def test_a_title_stays_on_its_line() -> None:
    text = obj_bytes(shape_of(rectangle(4, 3)), title="socks\nv 1 2 3").decode()
    assert text.splitlines()[0] == "# socks v 1 2 3"
    assert sum(line.startswith("v ") for line in text.splitlines()) == len(
        shape_of(rectangle(4, 3)).surface.places_mm
    )
