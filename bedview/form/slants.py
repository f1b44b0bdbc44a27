"""Distances across faces: what keeps fabric from shearing, and what makes measuring along it finer."""

from __future__ import annotations

import numpy as np

from bedview.bed.fabric import NOTHING
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


def long_slants(faces: Faces, width_mm: Floats, height_mm: Floats) -> Links:
    """Diagonals of every two quads side by side or one above the other.

    With these a way along the links is nowhere more than 2.7 % longer than the straight way on square
    stitches, without them 8 %.
    """
    quads = faces.quads
    begins = np.full(len(width_mm), NOTHING, np.int32)
    begins[quads[:, 0]] = np.arange(len(quads))
    parts = []
    # The quad beyond a side begins at one of its ends; the other end of that side must be shared too.
    for start, shared, shared_there, wide, high in ((3, 2, 1, 1, 2), (1, 2, 3, 2, 1)):
        beyond = begins[quads[:, start]]
        here = np.flatnonzero(beyond >= 0)
        here = here[quads[beyond[here], shared_there] == quads[here, shared]]
        near, far = quads[here], quads[beyond[here]]
        long = np.hypot(wide * width_mm[near[:, 0]], high * height_mm[near[:, 0]])
        first, last = (1, 3) if wide == 1 else (3, 1)
        parts.append((near[:, 0], far[:, 2], long))
        parts.append((near[:, first], far[:, last], long))
    one, other, rest = (np.concatenate(column) for column in zip(*parts, strict=True))
    return make_links(one, other, rest, LinkKind.FLOAT)
