"""The half stitch beyond the last loop of a side, and the row below loops with free feet.

Nodes stand in the middle of their stitches, so a piece is a stitch wider than its nodes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedview.form.faces import Faces
from bedview.form.links import Nodes
from bedview.form.net import Net
from bedview.form.relaxing import SHORTEST_MM
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
    edges = net.rim
    first, second = edges.T
    across = (net.right[first] == second) | (net.left[first] == second)
    # Where a rim passes a node twice, as at a point, two strips would share its one rim point.
    once = (np.bincount(first, minlength=len(net)) <= 1)[edges].all(axis=1)
    based = (net.right[first] == second) & net.has_base[first] & net.has_base[second]
    sides = (
        (~across, net.left, net.right, net.width_mm / 2),
        (~across, net.right, net.left, net.width_mm / 2),
        (based, net.above, net.below, net.height_mm),
    )
    points, owners, quads = [places_mm], [np.arange(len(net), dtype=np.int32)], [net.faces.quads]
    count = len(net)
    for chosen, behind, beyond, reach_mm in sides:
        outermost = (behind >= 0) & (beyond < 0)
        begun, ended = edges[chosen & once & outermost[first] & outermost[second]].T
        nodes, place = np.unique(np.stack((begun, ended)), return_inverse=True)
        place = count + place.reshape(2, -1)
        ways = places_mm[nodes] - places_mm[behind[nodes]]
        lengths = np.maximum(np.linalg.norm(ways, axis=1), SHORTEST_MM)
        points.append(places_mm[nodes] + ways * (reach_mm[nodes] / lengths)[:, None])
        owners.append(nodes.astype(np.int32))
        # Seen from the face the rim lies beyond the edge, so it goes round the other way.
        quads.append(np.stack((ended, begun, place[0], place[1]), axis=1).astype(np.int32))
        count += len(nodes)
    return Surface(np.concatenate(points), np.concatenate(owners), np.concatenate(quads), net.faces.triangles)


def faces_of(surface: Surface) -> Faces:
    """The faces of a surface, by points."""
    return Faces(surface.quads, surface.triangles)
