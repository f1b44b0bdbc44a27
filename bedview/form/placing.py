"""A first place in space for every node: landmark multidimensional scaling.

Distances along the links from a few landmarks, far from each other, are taken for distances in space, and
the places found that fit them best (de Silva and Tenenbaum 2004, "Sparse multidimensional scaling using
landmark points"; the formula from memory).
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import dijkstra

from bedview.form.stitch_sizes import Floats

LANDMARKS: Final = 20
DEPTH_GAIN: Final = 0.01
"""A third axis that brings lengths no nearer to what they should be, by at least this share, is mostly the
error of ways along links, which are longer than straight ones."""
FLATTENED: Final = 0.1
"""What is left of such an axis: enough that fabric which does not lie flat finds its way out."""


def place_nodes(lengths_mm: sparse.csr_array, flat_under: float = 1.0) -> Floats:
    """Places of the nodes of one connected piece.

    Args:
        lengths_mm: symmetric, lengths of the links.
        flat_under: a piece that comes out less deep than this share of its breadth, and would do as well with
            no depth at all, is laid nearly flat.

    Returns:
        Places, shape (n, 3); nothing is random about them.
    """
    nodes = lengths_mm.shape[0]
    if nodes == 1:
        return np.zeros((1, 3))
    distances, landmarks = _from_landmarks(lengths_mm, min(LANDMARKS, nodes))
    squared = distances**2
    among = squared[:, landmarks]
    mean = among.mean(axis=0)
    middle = np.eye(len(landmarks)) - 1 / len(landmarks)
    values, vectors = np.linalg.eigh(-middle @ among @ middle / 2)
    values, vectors = values[::-1][:3], vectors[:, ::-1][:, :3]
    # Of each axis the sign is free: the largest entry is made positive.
    largest = np.abs(vectors).argmax(axis=0)
    vectors = vectors * np.sign(vectors[largest, np.arange(vectors.shape[1])])
    good = values > max(float(values[0]), 0.0) * 1e-9
    places = np.zeros((nodes, 3))
    spread = vectors[:, good] / np.sqrt(values[good])
    places[:, : spread.shape[1]] = -np.einsum("ij,ik->jk", squared - mean[:, None], spread) / 2
    thin = len(values) > 2 and values[2] < flat_under**2 * values[1]
    if thin and _misfit(places[:, :2], lengths_mm) < _misfit(places, lengths_mm) + DEPTH_GAIN:
        places[:, 2] *= FLATTENED
    return places


def _misfit(places: Floats, lengths_mm: sparse.csr_array) -> float:
    """How far distances of linked nodes are from their lengths, as a share, once all are scaled to fit."""
    pairs = lengths_mm.tocoo()
    one, other = pairs.coords
    apart = np.linalg.norm(places[one] - places[other], axis=1) / pairs.data
    return float(np.abs(apart / max(float(apart.mean()), 1e-12) - 1).mean())


def _from_landmarks(lengths_mm: sparse.csr_array, count: int) -> tuple[Floats, npt.NDArray[np.intp]]:
    """Distances of all nodes from landmarks, each as far as can be from those before it."""
    distances = np.empty((count, lengths_mm.shape[0]))
    # From a node far from the first one: an end of the piece, not its middle.
    farthest = int(dijkstra(lengths_mm, indices=[0]).argmax())
    landmarks = []
    nearest = np.full(lengths_mm.shape[0], np.inf)
    for place in range(count):
        landmarks.append(farthest)
        distances[place] = dijkstra(lengths_mm, indices=[farthest])[0]
        nearest = np.minimum(nearest, distances[place])
        farthest = int(nearest.argmax())
    return distances, np.array(landmarks, np.intp)
