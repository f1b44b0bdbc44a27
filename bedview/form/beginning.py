"""Where the nodes begin: as far from each other as can be told without moving anything."""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from bedview.form.lids import make_lids, rim_edges
from bedview.form.net import Net
from bedview.form.placing import place_nodes
from bedview.form.stitch_sizes import Floats
from bedview.form.strains import link_strains

EXACT: Final = 1e-3
"""An open piece that fits so well as it lay on the bed is left as it lay."""
THIN: Final = 0.25
"""How thick, as a share of how broad, a sewn piece must come out to be no flat one."""
MIRRORED: Final = np.array([1.0, 1.0, -1.0])


def parts_of(metric: sparse.csr_array) -> npt.NDArray[np.int32]:
    """Which connected part each node belongs to, numbered in the order of their first nodes."""
    if not metric.shape[0]:
        return np.empty(0, np.int32)
    _, labels = connected_components(metric, directed=False)
    found, first = np.unique(labels, return_index=True)
    order = np.empty(len(found), np.int32)
    order[np.argsort(first)] = np.arange(len(found))
    return order[labels]


def near_lengths(net: Net) -> sparse.csr_array:
    """Lengths along the surface between near nodes, symmetric."""
    parts = (net.links, net.slants, net.far)
    one = np.concatenate([part.one for part in parts])
    other = np.concatenate([part.other for part in parts])
    rest = np.concatenate([part.rest_mm for part in parts])
    # Of two lengths for one pair the first counts; a sum of them would be wrong.
    pair = np.minimum(one, other).astype(np.int64) * len(net) + np.maximum(one, other)
    order = np.argsort(pair, kind="stable")
    kept = order[np.diff(pair[order], prepend=-1) > 0]
    one, other, rest = one[kept], other[kept], rest[kept]
    both = (np.concatenate((one, other)), np.concatenate((other, one)))
    return sparse.csr_array((np.tile(rest, 2), both), shape=(len(net), len(net)))


def first_places(net: Net, metric: sparse.csr_array, parts: npt.NDArray[np.int32]) -> Floats:
    """Places to begin from; parts lie on top of each other.

    Args:
        net: the net.
        metric: lengths between near nodes, see :func:`near_lengths`.
        parts: which part each node belongs to.
    """
    places = np.zeros((len(net), 3))
    flat_under = THIN if net.is_sewn else 1.0
    for part in range(int(parts.max(initial=-1)) + 1):
        mine = np.flatnonzero(parts == part)
        whole = len(mine) == len(net)
        found = place_nodes(metric if whole else sparse.csr_array(metric[mine][:, mine]), flat_under)
        places[mine] = _turned_out(net, mine, found)
    places *= _scale(net, places)
    laid = _as_on_the_bed(net)
    return laid if not net.is_sewn and _misfit(net, laid) < EXACT else places


def _scale(net: Net, places: Floats) -> float:
    """How much larger everything must be to fit the links best: ways along links are a little too long."""
    spans = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    together = float(spans @ spans)
    return float(spans @ net.links.rest_mm) / together if together > 0 else 1.0


def _as_on_the_bed(net: Net) -> Floats:
    """Places by needle and level alone: right for plain pieces, nearly so for those narrowed at the edges."""
    places = np.zeros((len(net), 3))
    places[:, 0] = net.needle * net.width_mm.mean() if len(net) else 0.0
    places[:, 1] = net.level * net.height_mm.mean() if len(net) else 0.0
    return places


def _misfit(net: Net, places: Floats) -> float:
    """Mean strain of the links where nodes stand at some places."""
    lengths = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    return float(np.abs(link_strains(net, lengths)).mean()) if len(net.links) else 0.0


def _turned_out(net: Net, mine: npt.NDArray[np.intp], found: Floats) -> Floats:
    """Places of one part, mirrored if its purl side lies outside: things are worn knit side out."""
    lids = net.lids
    if len(mine) < len(net):
        number = np.full(len(net), -1, np.int32)
        number[mine] = np.arange(len(mine))
        triangles = net.faces.renumbered(number).triangulated()
        lids = make_lids(triangles, rim_edges(triangles, len(mine)), len(mine))
    return found * MIRRORED if lids.enclosed(found)[0] < 0 else found
