"""Where the nodes begin: as far from each other as can be told without moving anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse

from bedview.bed.fabric import NOTHING
from bedview.form.levels import Level
from bedview.form.lids import make_lids, rim_edges
from bedview.form.links import Nodes
from bedview.form.net import Net
from bedview.form.placing import place_nodes
from bedview.form.stitch_sizes import Floats
from bedview.form.strains import link_strains

EXACT: Final = 1e-3
"""An open piece that fits so well as it lay on the bed is left as it lay."""
THIN: Final = 0.25
"""How thick, as a share of how broad, a sewn piece must come out to be no flat one."""
MIRRORED: Final = np.array([1.0, 1.0, -1.0])


def near_lengths(level: Level) -> sparse.csr_array:
    """Lengths along the surface between near nodes, symmetric."""
    near = (*level.ends, level.springs.rest_mm)
    return _symmetric([near, *_far_lengths(level, _symmetric([near], len(level)))], len(level))


Lengths = tuple[Nodes, Nodes, Floats]
"""Nodes, other nodes, and how far apart they are."""


def _symmetric(lengths: Sequence[Lengths], count: int) -> sparse.csr_array:
    """Lengths as a matrix; of several for one pair the first counts, as a sum of them would be wrong."""
    one, other, long = (np.concatenate(column) for column in zip(*lengths, strict=True))
    pair = np.minimum(one, other).astype(np.int64) * count + np.maximum(one, other)
    order = np.argsort(pair, kind="stable")
    kept = order[np.diff(pair[order], prepend=-1) > 0]
    kept = kept[one[kept] != other[kept]]
    one, other = one[kept], other[kept]
    both = (np.concatenate((one, other)), np.concatenate((other, one)))
    return sparse.csr_array((np.tile(long[kept], 2), both), shape=(count, count))


def _far_lengths(level: Level, links: sparse.csr_array) -> Iterator[Lengths]:
    """Diagonals of every two meshes side by side or one above the other.

    With these a way along links is nowhere more than 2.7 % longer than the straight way on square stitches,
    without them 8 %.
    """
    beside = np.concatenate((level.beside, np.full((4, 1), NOTHING, np.int32)), axis=1)
    left, right, below, above = beside
    for ahead, aside in ((above, right), (above, left), (right, above), (right, below)):
        start = np.flatnonzero(aside[ahead[ahead[:-1]]] >= 0)
        near = ahead[start]
        far = ahead[near]
        end = aside[far]
        # The other way round the two meshes leads to the same place, or there are none.
        regular = ahead[ahead[aside[start]]] == end
        if not regular.any():
            continue
        start, near, far, end = start[regular], near[regular], far[regular], end[regular]
        long = np.hypot(links[start, near] + links[near, far], links[far, end])
        yield start[long > 0].astype(np.int32), end[long > 0], long[long > 0]


def first_places(level: Level, *, sewn: bool) -> Floats:
    """Places to begin from; parts lie on top of each other.

    Args:
        level: the nodes.
        sewn: whether seams are closed.
    """
    places = np.zeros((len(level), 3))
    flat_under = THIN if sewn else 1.0
    metric = near_lengths(level)
    for part in range(level.part_count):
        mine = np.flatnonzero(level.parts == part)
        whole = len(mine) == len(level)
        found = place_nodes(metric if whole else sparse.csr_array(metric[mine][:, mine]), flat_under)
        places[mine] = _turned_out(level, mine, found)
    return places * _scale(level, places)


def as_on_the_bed(net: Net) -> Floats | None:
    """Places by needle and level alone, if everything fits there: a plain piece that is not sewn."""
    if net.is_sewn or not len(net):
        return None
    places = np.zeros((len(net), 3))
    places[:, 0] = net.needle * net.width_mm.mean()
    places[:, 1] = net.level * net.height_mm.mean()
    lengths = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    misfit = float(np.abs(link_strains(net, lengths)).mean()) if len(net.links) else 0.0
    return places if misfit < EXACT else None


def _scale(level: Level, places: Floats) -> float:
    """How much larger everything must be to fit the springs best: ways along them are a little too long."""
    ways = level.springs.spans @ places
    spans = np.sqrt(np.einsum("ij,ij->i", ways, ways))
    together = float(np.einsum("i,i->", spans, spans))
    return float(np.einsum("i,i->", spans, level.springs.rest_mm)) / together if together > 0 else 1.0


def _turned_out(level: Level, mine: npt.NDArray[np.intp], found: Floats) -> Floats:
    """Places of one part, mirrored if its purl side lies outside: things are worn knit side out."""
    lids = level.lids
    if len(mine) < len(level):
        number = np.full(len(level), -1, np.int32)
        number[mine] = np.arange(len(mine))
        triangles = number[level.triangles]
        triangles = triangles[(triangles >= 0).all(axis=1)]
        lids = make_lids(triangles, rim_edges(triangles, len(mine)), len(mine))
    return found * MIRRORED if lids.enclosed(found)[0] < 0 else found
