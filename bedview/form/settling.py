"""From a net to its shape at rest: first places, a breath of air, and steps until nothing moves any more."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from bedview.form.lids import make_lids, rim_edges
from bedview.form.links import LinkKind
from bedview.form.net import Net
from bedview.form.placing import place_nodes
from bedview.form.relaxing import SHORTEST_MM, Load, Relaxer, Springs
from bedview.form.stitch_sizes import Floats

SLACK_STIFFNESS: Final = 0.3
SLANT_STIFFNESS: Final = 0.05
BEND_STIFFNESS: Final = 0.05
"""Beside a link's stiffness of 1. Fabric shears far more easily than it stretches."""
BEND_MORE: Final = 0.45
"""What is added to it at first for what is filled: it smooths dents."""
BEND_AT_REST: Final = 0.05
"""Share of the bending stiffness that counts at the end: more would narrow tubes and rub out small shapes."""
WIDENED_AT_FIRST: Final = 0.011
WIDENED_AT_REST: Final = 0.0037
"""How much air would widen a tube, as a share. What is sewn shut rests lightly filled: empty it would lie in folds
that no gauge determines."""
EXACT: Final = 1e-3
"""An open piece that fits so well as it lay on the bed is left as it lay."""
THIN: Final = 0.25
"""How thick, as a share of how broad, a sewn piece must come out at first to be no flat one."""
THICK: Final = 0.3
"""How thick, as a share of how broad, a sewn piece must lie at first to be filled all the way."""
LEAST_FILLING: Final = 0.35
FIRST_STEPS: Final = 20
LEAST_STEPS: Final = 20
MOST_STEPS: Final = 160
ENOUGH_STRAIN: Final = 0.009
ENOUGH_FLAT_STRAIN: Final = 0.003
FLAT_FILLING: Final = 0.2
"""A sewn piece that lies flat finds its small bumps late, and its strain goes down with them."""
NO_STRAIN: Final = 5e-4
STEPS_WATCHED: Final = 5
LITTLE_FALL: Final = 0.02
STILL: Final = 7e-4
"""A shape is settled when a step moves it less than this share of its size, and its mean strain, if it is low
enough, falls no more by a share worth naming in five steps."""

MIRRORED: Final = np.array([1.0, 1.0, -1.0])

Progress = Callable[[float], None]
"""Told how much is done, 0 to 1."""
Stop = Callable[[], bool]
"""Asked now and then whether to give up."""


class Stopped(Exception):
    """The work was given up because the caller said so."""


@dataclass(frozen=True)
class Watch:
    """Who follows the work, and may end it."""

    progress: Progress | None = None
    stop: Stop | None = None

    def at(self, done: float) -> None:
        """Say how much is done.

        Raises:
            Stopped: if the caller wants it to end.
        """
        if self.stop is not None and self.stop():
            raise Stopped
        if self.progress is not None:
            self.progress(min(done, 1.0))


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
    """How much larger everything must be made to fit the links best: ways along links are a little too long."""
    spans = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    together = float(spans @ spans)
    return float(spans @ net.links.rest_mm) / together if together > 0 else 1.0


def _as_on_the_bed(net: Net) -> Floats:
    """Places by needle and level alone: right for plain pieces, and nearly so for those narrowed at the edges."""
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


def _scale(net: Net, places: Floats) -> float:
    """How much larger everything must be made to fit the links best: ways along links are a little too long."""
    spans = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    together = float(spans @ spans)
    return float(spans @ net.links.rest_mm) / together if together > 0 else 1.0


def _as_on_the_bed(net: Net) -> Floats:
    """Places by needle and level alone: right for plain pieces, and nearly so for those narrowed at the edges."""
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
    if len(mine) == len(net):
        volume, _ = net.lids.enclosed(found)
        return found * MIRRORED if volume < 0 else found
    number = np.full(len(net), -1, np.int32)
    number[mine] = np.arange(len(mine))
    triangles = net.faces.renumbered(number).triangulated()
    lids = make_lids(triangles, rim_edges(triangles, len(mine)), len(mine))
    volume, _ = lids.enclosed(found)
    return found * MIRRORED if volume < 0 else found


def make_relaxer(net: Net) -> Relaxer:
    """The springs of a net, ready to be relaxed: its links first, then its slants."""
    links, slants = net.links, net.slants
    stiffness = np.where(links.pulls_only, SLACK_STIFFNESS, 1.0)
    springs = Springs(
        one=np.concatenate((links.one, slants.one)),
        other=np.concatenate((links.other, slants.other)),
        stiffness=np.concatenate((stiffness, np.full(len(slants), SLANT_STIFFNESS))),
        pulls_only=np.concatenate((links.pulls_only, np.zeros(len(slants), np.bool_))),
        bends=net.bends,
        bend_stiffness=BEND_STIFFNESS,
        nodes=len(net),
    )
    return Relaxer(springs, np.concatenate((links.rest_mm, slants.rest_mm)))


def settle(net: Net, relaxer: Relaxer, places: Floats, watch: Watch) -> Floats:
    """Places at rest.

    Args:
        net: what is relaxed.
        relaxer: its springs.
        places: where to begin.
        watch: who follows.

    Raises:
        Stopped: if the watcher says so.
    """
    size = size_mm(places)
    loads, enough = loads_for(net, places)
    done = 0
    for least, load in loads:
        last = load is loads[-1][1]
        before = mean_strain(net, relaxer, places)
        if before < NO_STRAIN:
            break
        for place, after in enumerate(relaxer.steps(places, load), start=1):
            moved = _rms_mm(after - places)
            places = after
            done += 1
            watch.at(done / MOST_STEPS)
            if place % STEPS_WATCHED or place < least:
                continue
            strain = mean_strain(net, relaxer, places)
            falls = strain > NO_STRAIN and strain < (1 - LITTLE_FALL) * before
            settled = strain < enough and not falls and moved < STILL * size
            if not last or settled or done >= MOST_STEPS:
                break
            before = strain
    return places


def loads_for(net: Net, places: Floats) -> tuple[list[tuple[int, Load]], float]:
    """What acts at first and at rest, each for so many steps at least, and the mean strain that will do."""
    if not net.is_sewn:
        return [(LEAST_STEPS, Load(BEND_AT_REST))], ENOUGH_STRAIN
    lids = net.lids
    thickness, breadth = _depth_mm(places)
    filling = min(thickness / (THICK * max(breadth, SHORTEST_MM)), 1.0) ** 2
    breath = float(net.width_mm.mean() / net.height_mm.mean()) / _radius_mm(net, places, thickness)
    # What lies flat is breathed on only at first, so that its bumps all find the same side.
    first = WIDENED_AT_FIRST * max(filling, LEAST_FILLING) * breath
    loads = [
        (FIRST_STEPS, Load(BEND_AT_REST + BEND_MORE * filling, first, lids)),
        (LEAST_STEPS, Load(BEND_AT_REST, WIDENED_AT_REST * filling * breath, lids)),
    ]
    return loads, ENOUGH_STRAIN if filling > FLAT_FILLING else ENOUGH_FLAT_STRAIN


def _radius_mm(net: Net, places: Floats, thickness_mm: float) -> float:
    """About how wide a piece is: of a tube its radius, told from its room and surface and from its spread."""
    corners = places[net.triangles]
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area_mm2 = max(float(np.linalg.norm(areas, axis=1).sum()) / 2, SHORTEST_MM)
    room_mm3, _ = net.lids.enclosed(places)
    return max(2 * room_mm3 / area_mm2, np.sqrt(2) * thickness_mm, size_mm(places) / 4)


def _depth_mm(places: Floats) -> tuple[float, float]:
    """Root mean square spread along the axes with the least and the second least of it."""
    spread = np.linalg.svd(places - places.mean(axis=0), compute_uv=False) / np.sqrt(len(places))
    return float(spread[2]), float(spread[1])


def link_strains(net: Net, lengths_mm: Floats) -> Floats:
    """How much each link is stretched (or, below 0, pressed together), as a share of its rest length."""
    strain = lengths_mm / net.links.rest_mm - 1
    strain[net.links.pulls_only & (strain < 0)] = 0
    return strain


def mean_strain(net: Net, relaxer: Relaxer, places: Floats) -> float:
    """Mean of the links' strains without their signs."""
    strain = link_strains(net, relaxer.lengths_mm(places)[: len(net.links)])
    return float(np.abs(strain).mean()) if len(strain) else 0.0


def _rms_mm(moves: Floats) -> float:
    return float(np.sqrt(np.einsum("ij,ij->", moves, moves) / max(len(moves), 1)))


def size_mm(places: Floats) -> float:
    """Root mean square distance from the middle; never 0."""
    return max(_rms_mm(places - places.mean(axis=0)), 1.0)
