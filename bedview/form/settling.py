"""From first places to rest: a breath of air, and steps until nothing moves any more.

A large piece does so on few of its nodes first, see :mod:`bedview.form.levels`; on all of them it has little
left to do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

import numpy as np

from bedview.form.beginning import first_places
from bedview.form.levels import Level, SpringKind, net_level, thinned
from bedview.form.net import Net
from bedview.form.relaxing import SHORTEST_MM, Load, Relaxer
from bedview.form.stitch_sizes import Floats
from bedview.form.watching import Watch

FEW_NODES: Final = 3_000
"""A level of no more nodes is thinned no further: too little of the piece would be left."""
WORTH_THINNING: Final = 0.7
"""Share of the nodes that may be kept at most."""
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
MOST_STEPS: Final = 160
STEPS_EXPECTED: Final = 60
STEPS_WATCHED: Final = 4
ENOUGH_STRAIN: Final = 0.009
ENOUGH_FLAT_STRAIN: Final = 0.003
"""Mean strain to come down to on all nodes; a sewn piece that lies flat finds its small bumps late, and its
strain falls with them."""
FLAT_FILLING: Final = 0.2
NO_STRAIN: Final = 5e-4
AT_REST: Final = 1e-6
LITTLE_FALL: Final = 0.02
STILL: Final = 4e-3
"""A shape is settled when the steps watched move it by less than this share of its size in all, and its mean
strain, low enough, fell by less than ``LITTLE_FALL`` of itself in them."""
STILL_AT_ONCE: Final = 2e-3
"""The same for a piece of so few nodes that it comes to rest on all of them at once: it has the time."""
STUCK: Final = 1e-7
"""What moves less than this comes no nearer to rest, however much it is strained."""


class Burst(Exception):
    """A piece that hangs together by a few threads grew without end; it can't be filled."""


def make_relaxer(net: Net) -> Relaxer:
    """The springs of a net, ready to be relaxed: its links first, then its slants."""
    return Relaxer(net_level(net).springs)


def levels_of(net: Level) -> list[Level]:
    """A net's own level, and further ones of fewer and fewer nodes."""
    levels = [net]
    while len(levels[-1]) > FEW_NODES:
        fewer = thinned(levels[-1])
        if len(fewer) > WORTH_THINNING * len(levels[-1]) or fewer.part_count != net.part_count:
            break
        levels.append(fewer)
    return levels


def settle(net: Net, level: Level, watch: Watch) -> Floats:
    """Places at rest; parts lie on top of each other.

    Args:
        net: what is relaxed.
        level: its springs.
        watch: who follows.

    Raises:
        Stopped: if the watcher says so.
    """
    levels = levels_of(level)
    places = first_places(levels[-1], sewn=net.is_sewn)
    loads, enough = loads_for(net, levels[-1], places)
    try:
        return _Settling(levels, loads, enough, watch).run(places)
    except Burst:
        return _Settling(levels, [Load(BEND_AT_REST)], ENOUGH_STRAIN, watch).run(places)


@dataclass(frozen=True)
class _Settling:
    """Comes to rest on few nodes first.

    Attributes:
        levels: the net on all its nodes first.
        loads: what acts at first, and what acts at rest.
        enough_strain: mean strain to come down to.
        watch: who follows.
    """

    levels: Sequence[Level]
    loads: Sequence[Load]
    enough_strain: float
    watch: Watch

    def run(self, places: Floats) -> Floats:
        """Places at rest on all nodes, from places on the fewest."""
        first, rest = self.loads[:-1], self.loads[-1]
        for number in reversed(range(len(self.levels))):
            level = self.levels[number]
            relaxer, done = Relaxer(level.springs), 0
            for load in first if number == len(self.levels) - 1 else ():
                for after in islice(self._steps(number, relaxer, places, load, done), FIRST_STEPS):
                    places, done = after, done + 1
            places = self._at_rest(number, relaxer, places, rest, done)
            if level.spread is not None:
                places = np.asarray(level.spread @ places)
        return places

    def _steps(
        self, number: int, relaxer: Relaxer, places: Floats, load: Load, done: int
    ) -> Iterator[Floats]:
        """Places after each step on a level where ``done`` steps were taken before."""
        level = self.levels[number]
        if load.air:
            load = replace(load, lids=level.lids)
        most_mm = BURST * size_mm(places)
        coarser = sum(len(each) for each in self.levels[number + 1 :])
        work = sum(len(each) for each in self.levels)
        for step, after in enumerate(relaxer.steps(places, load), start=done + 1):
            if load.air and step % STEPS_WATCHED == 0 and size_mm(after) > most_mm:
                raise Burst
            self.watch.at((coarser + len(level) * min(step / STEPS_EXPECTED, 1.0)) / work)
            yield after

    def _at_rest(self, number: int, relaxer: Relaxer, places: Floats, load: Load, done: int) -> Floats:
        """Places at rest on a level where ``done`` steps were taken before."""
        level = self.levels[number]
        enough = self.enough_strain if number == 0 else np.inf
        still = STILL if len(self.levels) > 1 else STILL_AT_ONCE
        before, strain_before = places, _mean_strain(level, relaxer, places)
        if strain_before < AT_REST:
            return places
        for step, after in enumerate(self._steps(number, relaxer, places, load, done), start=1):
            places = after
            if step == MOST_STEPS:
                break
            if step % STEPS_WATCHED:
                continue
            strain = _mean_strain(level, relaxer, places)
            falls = strain > NO_STRAIN and strain < (1 - LITTLE_FALL) * strain_before
            moved = _rms_mm(places - before) / size_mm(places)
            if moved < STUCK or (strain < enough and not falls and moved < still):
                break
            before, strain_before = places, strain
        return places


def loads_for(net: Net, level: Level, places: Floats) -> tuple[list[Load], float]:
    """What acts at first and at rest, by first places on a level, and the mean strain that will do."""
    if not net.is_sewn:
        return [Load(BEND_AT_REST)], ENOUGH_STRAIN
    thickness, breadth = _depth_mm(places)
    filling = min(thickness / (THICK * max(breadth, SHORTEST_MM)), 1.0) ** 2
    breath = float(net.width_mm.mean() / net.height_mm.mean()) / _radius_mm(level, places, thickness)
    # What lies flat is breathed on only at first, so that its bumps all find the same side.
    first = WIDENED_AT_FIRST * max(filling, LEAST_FILLING) * breath
    loads = [
        Load(BEND_AT_REST + BEND_MORE * filling, first),
        Load(BEND_AT_REST, WIDENED_AT_REST * filling * breath),
    ]
    return loads, ENOUGH_STRAIN if filling > FLAT_FILLING else ENOUGH_FLAT_STRAIN


def _radius_mm(level: Level, places: Floats, thickness_mm: float) -> float:
    """About how wide a piece is: of a tube its radius, told from its room and surface and from its spread."""
    corners = places[level.triangles]
    areas = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area_mm2 = max(float(np.linalg.norm(areas, axis=1).sum()) / 2, SHORTEST_MM)
    room_mm3, _ = level.lids.enclosed(places)
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


def _mean_strain(level: Level, relaxer: Relaxer, places: Floats) -> float:
    """Mean strain, without signs, of all springs but the slants."""
    strain = relaxer.lengths_mm(places) / relaxer.rest_mm - 1
    strain[level.springs.pulls_only & (strain < 0)] = 0
    strain = strain[level.kind != SpringKind.SLANT]
    return float(np.abs(strain).mean()) if len(strain) else 0.0
