"""The resting shape as a mesh file: OBJ or PLY, in millimetres.

Each vertex of a PLY knows its loop, needle and pass; an OBJ holds the quads as they are.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Final

import numpy as np

from bedview.form.colouring import Colours
from bedview.form.shape import LEFT_OUT, Shape


def obj_bytes(shape: Shape, *, title: str = "") -> bytes:
    """The shape as Wavefront OBJ, every corner a line, quads kept."""
    surface = shape.surface
    text = io.StringIO()
    for line in (title, *shape.notes, LEFT_OUT):
        if line:
            text.write(f"# {_one_line(line)}\n")
    text.write("# millimetres\n")
    for x, y, z in surface.places_mm.tolist():
        text.write(f"v {x:.5f} {y:.5f} {z:.5f}\n")
    for faces in (_outside(surface.quads), _outside(surface.triangles)):
        for corners in (faces + 1).tolist():
            text.write("f " + " ".join(map(str, corners)) + "\n")
    return text.getvalue().encode()


def ply_bytes(shape: Shape, colours: Colours | None = None) -> bytes:
    """The shape as binary PLY: triangles, and for each vertex its loop id, needle index and pass.

    Args:
        shape: the shape.
        colours: of each node.
    """
    # trimesh takes a while to import and is needed here only.
    import trimesh

    node = shape.surface.node
    triangles = shape.triangles
    paint = None if colours is None else colours[node]
    mesh = trimesh.Trimesh(shape.surface.places_mm, _outside(triangles), vertex_colors=paint, process=False)
    for name, values in (("loop", shape.loop), ("needle", shape.needle), ("pass", shape.pass_number)):
        mesh.vertex_attributes[name] = values[node].astype(np.int32)
    data: bytes = trimesh.exchange.ply.export_ply(mesh, vertex_normal=False)
    return data


def _outside(
    faces: np.ndarray[tuple[int, int], np.dtype[np.int32]],
) -> np.ndarray[tuple[int, int], np.dtype[np.int32]]:
    """Faces turned round, to go counter-clockwise as seen from the knit side, which is outside."""
    return faces[:, ::-1]


def _one_line(text: str) -> str:
    return " ".join(text.split())


MESH_FILES: Final[dict[str, Callable[[Shape], bytes]]] = {".obj": obj_bytes, ".ply": ply_bytes}
"""How each kind of mesh file is written, by its ending."""
