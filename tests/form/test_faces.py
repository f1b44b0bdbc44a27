"""The surface is one piece of cloth: no face missing, doubled or turned over."""

from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from bedview.form.net import fabric_graph, make_net
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from tests.form.fabrics import heel_cup, rectangle, tube, wedges


def mesh_of(piece: Piece, *, closed: bool) -> trimesh.Trimesh:
    net = make_net(fabric_graph(piece, compile_piece(piece)), closed=closed)
    rng = np.random.default_rng(5)
    return trimesh.Trimesh(rng.normal(size=(len(net), 3)), net.faces.triangulated(), process=False)


def euler(mesh: trimesh.Trimesh) -> int:
    return int(len(np.unique(mesh.faces)) - len(mesh.edges_unique) + len(mesh.faces))


CLOTHS: dict[str, tuple[Callable[[], Piece], bool, int]] = {
    # A disc has Euler number 1, a tube 0.
    "rectangle": (lambda: rectangle(7, 9), False, 1),
    "tube": (lambda: tube(12, 9), True, 0),
    "tube, a stitch inside": (lambda: tube(12, 9, inside=1), True, 0),
    "tube, left open": (lambda: tube(12, 9), False, 1),
    "wedges": (lambda: wedges(16, 4, [3, 3, 3, 3]), True, 0),
    "one needle a time": (lambda: wedges(12, 4, [1] * 9), True, 0),
    "heel": (lambda: heel_cup(20, 8, 6), True, 0),
}


@pytest.mark.parametrize("name", CLOTHS)
def test_cloth_is_whole(name: str) -> None:
    make, closed, number = CLOTHS[name]
    mesh = mesh_of(make(), closed=closed)
    assert mesh.is_winding_consistent
    assert euler(mesh) == number
    assert np.unique(mesh.edges_sorted, axis=0, return_counts=True)[1].max() == 2
    assert mesh.body_count == 1
