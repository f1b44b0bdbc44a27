"""Every demo and every starter, in a child's size, as a file for other programs, by the command itself."""

import io
import json
from pathlib import Path

import numpy as np
import pytest
import trimesh
from click.testing import CliRunner
from PySide6.QtGui import QGuiApplication, QImage

from bedview.cli.outputs import form_command
from bedview.form.resting import resting_shape
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import STARTERS, find_starter

DEMOS = Path(__file__).resolve().parents[2] / "resources" / "demos"
DEMO_NAMES = sorted(path.name.removesuffix(".piece.json") for path in DEMOS.glob("*.piece.json"))
STARTER_NAMES = [starter.name for starter in STARTERS]
SMALL = {"across": 6.0, "height": 5.0}
"""For starters that are not made by sizes of a body."""


def a_piece(name: str) -> Piece:
    if name in DEMO_NAMES:
        return Piece.read(json.loads((DEMOS / f"{name}.piece.json").read_text(encoding="utf-8")))
    starter = find_starter(name)
    keys = {parameter.key for parameter in starter.parameters}
    if starter.sizes:
        return starter.make({"size": starter.sizes[0].name})
    return starter.make({key: value for key, value in SMALL.items() if key in keys})


def lidded(mesh: trimesh.Trimesh) -> trimesh.Trimesh:
    """A mesh with a fan of triangles over each ring of edges that have no neighbour: closed all round."""
    edges = mesh.edges
    back = {(int(b), int(a)) for a, b in edges}
    rim = np.array([edge for edge in edges.tolist() if tuple(edge) not in back], np.int64).reshape(-1, 2)
    places, lids = [mesh.vertices], []
    graph = trimesh.graph.connected_components(rim, min_len=1, nodes=np.unique(rim)) if len(rim) else []
    for number, ring in enumerate(graph):
        mine = rim[np.isin(rim[:, 0], ring)]
        places.append(mesh.vertices[ring].mean(axis=0, keepdims=True))
        middle = np.full(len(mine), len(mesh.vertices) + number)
        lids.append(np.stack((mine[:, 1], mine[:, 0], middle), axis=1))
    return trimesh.Trimesh(np.concatenate(places), np.concatenate((mesh.faces, *lids)), process=False)


@pytest.fixture(scope="module", autouse=True)
def _screen() -> None:
    if QGuiApplication.instance() is None:
        QGuiApplication(["bedview"])


@pytest.mark.parametrize("name", [*DEMO_NAMES, *STARTER_NAMES])
def test_every_piece_goes_to_every_file(name: str, tmp_path: Path) -> None:
    piece = a_piece(name)
    path = tmp_path / f"{name}.piece.json"
    path.write_text(json.dumps(piece.model_dump(mode="json", exclude_none=True)), encoding="utf-8")
    figures = []
    for ending in ("obj", "ply", "png"):
        out = tmp_path / f"{name}.{ending}"
        told = CliRunner().invoke(form_command, [str(path), "--json", "-o", str(out)], catch_exceptions=False)
        assert told.exit_code == 0
        figures.append(json.loads(told.stdout))
    assert all(each["nodes"] == figures[0]["nodes"] > 0 for each in figures)
    assert figures[0]["strain_mean"] < 0.01
    assert not QImage(str(tmp_path / f"{name}.png")).isNull()
    sewn = resting_shape(piece, compile_piece(piece)).net.is_sewn
    for ending in ("obj", "ply"):
        data = io.BytesIO((tmp_path / f"{name}.{ending}").read_bytes())
        mesh = trimesh.load_mesh(data, file_type=ending, process=False)
        assert np.isfinite(mesh.vertices).all()
        assert mesh.extents == pytest.approx(figures[0]["extent_mm"], abs=0.01)
        assert mesh.is_winding_consistent
        assert np.unique(mesh.edges_sorted, axis=0, return_counts=True)[1].max() <= 2
        closed = lidded(mesh)
        there, back = (sorted(map(tuple, edges.tolist())) for edges in (closed.edges, closed.edges[:, ::-1]))
        assert there == back
        if sewn:
            assert closed.volume > 0
