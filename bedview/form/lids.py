"""How much room a surface encloses, its openings closed by flat lids."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from bedview.form.faces import Triangles
from bedview.form.stitch_sizes import Floats


@dataclass(frozen=True)
class Lids:
    """A surface with lids.

    Attributes:
        middles: matrix that gives the middles of the lids from the places of the nodes; each is a node of
            its own, numbered after all others.
        back: the same, turned round: gives to the nodes what acts on the middles.
        sides: matrix that gives for each triangle, of surface and lids, the way from its first corner to its
            third, then for each the way to its second.
        around: matrix that adds up for each node the triangles round it.
    """

    middles: sparse.csr_array
    back: sparse.csr_array
    sides: sparse.csr_array
    around: sparse.csr_array

    def enclosed(self, places: Floats) -> tuple[float, Floats]:
        """Room enclosed in cubic millimetres, and its slope at each node.

        It is positive where triangles go round clockwise as seen from outside.
        """
        every = np.concatenate((places, self.middles @ places))
        ways = self.sides @ every
        many = len(ways) // 2
        (x, y, z), (u, v, w) = ways[:many].T, ways[many:].T
        slope = self.around @ np.stack((y * w - z * v, z * u - x * w, x * v - y * u), axis=1) / 6
        # The room is of the third degree in the places, so Euler's rule gives it from its slope.
        volume = float(np.einsum("ij,ij->", every, slope)) / 3
        return volume, slope[: len(places)] + self.back @ slope[len(places) :]


def rim_edges(triangles: Triangles, nodes: int) -> npt.NDArray[np.int32]:
    """Edges that triangles go along more often one way than the other, shape (k, 2), that way round.

    In a cloth these are the edges of one triangle only. Counted so, they go round in circles whatever the
    triangles are, so that lids over them close every surface: air inside never drives it away.
    """
    begins, ends = triangles.ravel(), triangles[:, [1, 2, 0]].ravel()
    low, high = np.minimum(begins, ends), np.maximum(begins, ends)
    times = sparse.coo_array(
        (np.where(begins < ends, 1, -1), (low, high)), shape=(nodes, nodes), dtype=np.int32
    ).tocsr()
    low, high = np.repeat(np.arange(nodes, dtype=np.int32), np.diff(times.indptr)), times.indices
    along = np.where(times.data > 0, np.stack((low, high)), np.stack((high, low)))
    return np.repeat(along, np.abs(times.data), axis=1).T.astype(np.int32)


def rim_labels(edges: npt.NDArray[np.int32], nodes: int) -> tuple[int, npt.NDArray[np.int32]]:
    """How many rims there are, and which each edge belongs to, in the order of their lowest nodes."""
    ones = np.ones(len(edges))
    graph = sparse.csr_array(sparse.coo_array((ones, (edges[:, 0], edges[:, 1])), shape=(nodes, nodes)))
    _, labels = connected_components(graph, directed=False)
    found, which = np.unique(labels[edges[:, 0]], return_inverse=True)
    return len(found), which.ravel().astype(np.int32)


def make_lids(triangles: Triangles, edges: npt.NDArray[np.int32], nodes: int) -> Lids:
    """A surface with a lid over each of its rims; ``edges`` are those of :func:`rim_edges`."""
    rims, which = rim_labels(edges, nodes)
    lids = np.stack((edges[:, 1], edges[:, 0], nodes + which), axis=1)
    counts = np.bincount(which, minlength=rims)
    middles = sparse.csr_array((1 / counts[which], (which, edges[:, 0])), shape=(rims, nodes))
    corners = np.concatenate((triangles, lids)).astype(np.int32).T
    many = corners.shape[1]
    each = np.arange(many)
    shape = nodes + rims, many
    around = sparse.csr_array((np.ones(3 * many), (corners.ravel(), np.tile(each, 3))), shape=shape)
    ends = np.concatenate((corners[2], corners[1], corners[0], corners[0]))
    sides = sparse.csr_array(
        (np.repeat((1.0, -1.0), 2 * many), (np.tile(np.arange(2 * many), 2), ends)),
        shape=(2 * many, nodes + rims),
    )
    return Lids(middles, sparse.csr_array(middles.T), sides, around)
