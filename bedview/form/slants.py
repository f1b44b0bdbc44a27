"""Distances across faces: what keeps fabric from shearing."""

from __future__ import annotations

import numpy as np

from bedview.form.faces import Faces
from bedview.form.links import LinkKind, Links, Nodes, make_links
from bedview.form.stitch_sizes import Floats


def quad_slants(faces: Faces, links: Links, nodes: int) -> Links:
    """Both diagonals of each quad, as long as in the rectangle of its mean sides.

    Args:
        faces: the faces.
        links: links that hold the sides of the quads.
        nodes: how many nodes there are.
    """
    quads = faces.quads
    if not len(quads) or not len(links):
        return make_links(quads[:0, 0], quads[:0, 0], np.empty(0), LinkKind.FLOAT)
    keys = _pairs(links.one, links.other, nodes)
    order = np.argsort(keys)
    keys, rest = keys[order], links.rest_mm[order]

    def side(a: int, b: int) -> Floats:
        pair = _pairs(quads[:, a], quads[:, b], nodes)
        place = np.minimum(np.searchsorted(keys, pair), len(keys) - 1)
        return np.where(keys[place] == pair, rest[place], 0.0)

    across, upward = _mean_of_known(side(0, 1), side(3, 2)), _mean_of_known(side(0, 3), side(1, 2))
    known = (across > 0) & (upward > 0)
    long = np.hypot(across, upward)[known]
    one = np.concatenate((quads[known, 0], quads[known, 1]))
    other = np.concatenate((quads[known, 2], quads[known, 3]))
    return make_links(one, other, np.tile(long, 2), LinkKind.FLOAT)


def _pairs(one: Nodes, other: Nodes, nodes: int) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    return np.minimum(one, other).astype(np.int64) * nodes + np.maximum(one, other)


def _mean_of_known(one: Floats, other: Floats) -> Floats:
    """Mean of two lengths of which one may be unknown (0)."""
    return np.where(one > 0, np.where(other > 0, (one + other) / 2, one), other)
