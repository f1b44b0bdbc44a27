"""From a net to its shape at rest: first places, a breath of air, and steps until nothing moves any more."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from bedview.form.lids import make_lids
from bedview.form.links import LinkKind
from bedview.form.net import Net
from bedview.form.placing import place_nodes
from bedview.form.relaxing import Load, Relaxer, Springs
from bedview.form.stitch_sizes import Floats

SLACK_STIFFNESS: Final = 0.3
SLANT_STIFFNESS: Final = 0.05
BEND_STIFFNESS: Final = 0.05
"""Beside a link's stiffness of 1. Fabric shears far more easily than it stretches."""
BEND_AT_REST: Final = 0.05
"""Share of the bending stiffness that counts at the end: more would narrow tubes and rub out small shapes."""
AIR_AT_FIRST: Final = 0.05
AIR_AT_REST: Final = 0.005
"""Air, times the size of the piece. What is sewn shut rests lightly filled: empty it would lie in folds that
no gauge determines. It widens rings by less than half a percent."""
ROOMY: Final = 0.5
"""Room enclosed, as a share of what a ball of the same surface holds, from which on a piece is filled."""
FIRST_STEPS: Final = 20
LEAST_STEPS: Final = 20
MOST_STEPS: Final = 80
ENOUGH_STRAIN: Final = 0.009
NO_STRAIN: Final = 5e-4
STEPS_WATCHED: Final = 5
LITTLE_FALL: Final = 0.05
STILL: Final = 2e-3
"""A shape is settled when a step moves it less than this share of its size, and its mean strain, if it is low
enough, falls no more by a share worth naming in five steps."""

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
    for part in range(int(parts.max(initial=-1)) + 1):
        mine = np.flatnonzero(parts == part)
        whole = len(mine) == len(net)
        found = place_nodes(metric if whole else sparse.csr_array(metric[mine][:, mine]))
        places[mine] = _turned_out(net, mine, found)
    # Ways along links are a little longer than straight ones, so everything comes out a little too large.
    spans = np.linalg.norm(places[net.links.one] - places[net.links.other], axis=1)
    together = float(spans @ spans)
    return places * (float(spans @ net.links.rest_mm) / together) if together > 0 else places


def _turned_out(net: Net, mine: npt.NDArray[np.intp], found: Floats) -> Floats:
    """Places of one part, mirrored if its purl side lies outside: things are worn knit side out."""
    number = np.full(len(net), -1, np.int32)
    number[mine] = np.arange(len(mine))
    triangles = net.faces.renumbered(number).triangulated()
    volume, _ = make_lids(triangles, len(mine)).enclosed(found)
    return found * np.array([1.0, 1.0, -1.0]) if volume < 0 else found


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


def settle(net: Net, relaxer: Relaxer, places: Floats, watch: Watch, most_steps: int = MOST_STEPS) -> Floats:
    """Places at rest.

    Args:
        net: what is relaxed.
        relaxer: its springs.
        places: where to begin.
        watch: who follows.
        most_steps: the shape is taken as it is after so many steps.

    Raises:
        Stopped: if the watcher says so.
    """
    size = size_mm(places)
    loads = [(LEAST_STEPS, Load(BEND_AT_REST))]
    if (net.links.kind == LinkKind.SEAM).any():
        triangles = net.faces.triangulated()
        lids = make_lids(triangles, len(net))
        pressure = _filling(lids.enclosed(places)[0], places[triangles]) / size
        loads = [
            (FIRST_STEPS, Load(1.0, AIR_AT_FIRST * pressure, lids)),
            (LEAST_STEPS, Load(BEND_AT_REST, AIR_AT_REST * pressure, lids)),
        ]
    done = 0
    for least, load in loads:
        last = load is loads[-1][1]
        strains: list[float] = []
        for after in relaxer.steps(places, load):
            moved = _rms_mm(after - places)
            places = after
            done += 1
            watch.at(done / most_steps)
            strains.append(mean_strain(net, relaxer, places))
            settled = _settled(strains) and moved < STILL * size
            if len(strains) >= least and (not last or settled or done >= most_steps):
                break
    return places


def _filling(room_mm3: float, corners: Floats) -> float:
    """How much of the air a sewn piece gets: all if it is as roomy as a tube, none if it lies flat."""
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = float(np.linalg.norm(areas, axis=1).sum()) / 2
    of_ball = room_mm3 * 6 * np.sqrt(np.pi) / max(area, 1e-9) ** 1.5
    return float(np.clip(of_ball / ROOMY, 0.0, 1.0)) ** 2


def _settled(strains: list[float]) -> bool:
    """Whether mean strain has come as far down as it will, told from that of each step so far."""
    if strains[-1] < NO_STRAIN or len(strains) <= STEPS_WATCHED:
        return strains[-1] < NO_STRAIN
    falls = 1 - strains[-1] / strains[-1 - STEPS_WATCHED]
    return strains[-1] < ENOUGH_STRAIN and falls < LITTLE_FALL


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
