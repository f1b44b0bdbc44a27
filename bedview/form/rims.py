"""The half stitch beyond the last loop of a side, and the row below loops with free feet.

Nodes stand in the middle of their stitches, so a piece is a stitch wider than its nodes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedview.form.faces import Faces
from bedview.form.lids import rim_edges
from bedview.form.links import Nodes
from bedview.form.net import Net
from bedview.form.stitch_sizes import Floats


@dataclass(frozen=True)
class Surface:
    """Nodes and rim points with the faces between them.

    Attributes:
        places_mm: shape (n + k, 3): the nodes, then the points of the rims.
        node: node of each point; a rim point belongs to the node beside it.
        quads, triangles: faces by points.
    """

    places_mm: Floats
    node: Nodes
    quads: Nodes
    triangles: Nodes


def with_rims(net: Net, places_mm: Floats) -> Surface:
    """The surface of a net up to the edge of the fabric."""
    edges = rim_edges(net.faces.triangulated(), len(net))
    first, second = edges[:, 0], edges[:, 1]
    free = ~(net.joined[first] & net.joined[second])
    # A face lies to the left of its edges, so an edge that runs up a wale has the rim to its right.
    kinds = (
        (net.above[first] == second, net.left, net.right, net.width_mm / 2),
        (net.above[second] == first, net.right, net.left, net.width_mm / 2),
        (
            (net.right[first] == second) & net.has_base[first] & net.has_base[second],
            net.above,
            net.below,
            net.height_mm,
        ),
    )
    points, owners, quads = [places_mm], [np.arange(len(net), dtype=np.int32)], [net.faces.quads]
    count = len(net)
    for chosen, behind, beyond, reach_mm in kinds:
        chosen = chosen & free
        for end in (first, second):
            chosen = chosen & (behind[end] >= 0) & (beyond[end] < 0)
        nodes, place = np.unique(edges[chosen], return_inverse=True)
        place = place.reshape(-1, 2)
        ways = places_mm[nodes] - places_mm[behind[nodes]]
        lengths = np.maximum(np.linalg.norm(ways, axis=1), 1e-9)
        points.append(places_mm[nodes] + ways * (reach_mm[nodes] / lengths)[:, None])
        owners.append(nodes.astype(np.int32))
        begun, ended = edges[chosen].T
        quads.append(
            np.stack((ended, begun, count + place[:, 0], count + place[:, 1]), axis=1).astype(np.int32)
        )
        count += len(nodes)
    return Surface(np.concatenate(points), np.concatenate(owners), np.concatenate(quads), net.faces.triangles)


def faces_of(surface: Surface) -> Faces:
    """The faces of a surface, by points."""
    return Faces(surface.quads, surface.triangles)
