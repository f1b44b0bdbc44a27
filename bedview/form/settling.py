"""From first places to rest: a breath of air, and steps until nothing moves any more."""

from __future__ import annotations

from typing import Final

import numpy as np

from bedview.form.net import Net
from bedview.form.relaxing import SHORTEST_MM, Load, Relaxer, Springs
from bedview.form.stitch_sizes import Floats
from bedview.form.strains import mean_strain
from bedview.form.watching import Watch

SLACK_STIFFNESS: Final = 0.3
SLANT_STIFFNESS: Final = 0.05
BEND_STIFFNESS: Final = 0.05
"""Beside a link's stiffness of 1. Fabric shears far more easily than it stretches."""
BEND_AT_REST: Final = 0.05
"""Share of the bending stiffness that counts in the end: more would narrow tubes and rub out small shapes."""
BEND_MORE: Final = 0.45
"""What is added to it at first for what is filled: it smooths dents."""

WIDENED_AT_FIRST: Final = 0.011
WIDENED_AT_REST: Final = 0.0037
"""How much air would widen a tube, as a share. What is sewn shut rests lightly filled: empty it would lie in
folds that no gauge determines."""
THICK: Final = 0.3
"""How thick, as a share of how broad, a sewn piece must lie at first to be filled all the way."""
BURST: Final = 1.5
"""What grows so many times as large can't be filled."""
LEAST_FILLING: Final = 0.35
"""What even a flat one gets at first."""

FIRST_STEPS: Final = 20
LEAST_STEPS: Final = 20
MOST_STEPS: Final = 160
STEPS_WATCHED: Final = 5
ENOUGH_STRAIN: Final = 0.009
ENOUGH_FLAT_STRAIN: Final = 0.003
"""Mean strain to come down to; a sewn piece that lies flat finds its small bumps late, and its strain falls
with them."""
FLAT_FILLING: Final = 0.2
NO_STRAIN: Final = 5e-4
AT_REST: Final = 1e-6
LITTLE_FALL: Final = 0.02
STILL: Final = 7e-4
"""A shape is settled when a step moves it less than this share of its size, and its mean strain, low enough,
fell by less than ``LITTLE_FALL`` of itself in the last steps watched."""


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
    loads, enough = loads_for(net, places)
    try:
        return _through(net, relaxer, places, watch, loads, enough)
    except Burst:
        return _through(net, relaxer, places, watch, [(LEAST_STEPS, Load(BEND_AT_REST))], ENOUGH_STRAIN)


class Burst(Exception):
    """A piece that hangs together by a few threads grew without end; it can't be filled."""


def _through(
    net: Net,
    relaxer: Relaxer,
    places: Floats,
    watch: Watch,
    loads: list[tuple[int, Load]],
    enough_strain: float,
) -> Floats:
    """Places at rest under the last of some loads, after some steps under those before it."""
    size = size_mm(places)
    done = 0
    for least, load in loads:
        last = load is loads[-1][1]
        before = mean_strain(net, relaxer, places)
        if before < AT_REST:
            break
        for place, after in enumerate(relaxer.steps(places, load), start=1):
            moved = _rms_mm(after - places)
            places = after
            done += 1
            watch.at(done / MOST_STEPS)
            if load.lids is not None and size_mm(places) > BURST * size:
                raise Burst
            if place % STEPS_WATCHED or place < least:
                continue
            strain = mean_strain(net, relaxer, places)
            falls = strain > NO_STRAIN and strain < (1 - LITTLE_FALL) * before
            settled = strain < enough_strain and not falls and moved < STILL * size
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
    return max(2 * room_mm3 / area_mm2, float(np.sqrt(2)) * thickness_mm, size_mm(places) / 4)


def _depth_mm(places: Floats) -> tuple[float, float]:
    """Root mean square spread along the axes with the least and the second least of it."""
    spread = np.linalg.svd(places - places.mean(axis=0), compute_uv=False) / np.sqrt(len(places))
    return float(spread[2]), float(spread[1])


def _rms_mm(moves: Floats) -> float:
    return float(np.sqrt(np.einsum("ij,ij->", moves, moves) / max(len(moves), 1)))


def size_mm(places: Floats) -> float:
    """Root mean square distance from the middle; never 0."""
    return max(_rms_mm(places - places.mean(axis=0)), 1.0)
