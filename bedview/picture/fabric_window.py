"""The last courses of fabric, seen from the needles: which loop hangs where, and what it joins.

Below each needle hangs its *wale*: the loop on the needle at depth 0, the loop that one was drawn through at
depth 1, and so on. A needle that was held while others knitted has fewer new loops, so its older ones hang
higher: a course that runs through both climbs towards it. Nothing here needs a rule for that; it follows from
the depths.

Each side of a loop's cell says how its yarn goes on there, as a *way*:

==============  =====================================================================================
-3 to 3         to the next column, by so many rows deeper (0: level)
``STEEP_*``     to the next column, by more rows than that
``ENDS``        not at all: the yarn comes from somewhere unseen, or ends
``TURNS_UP``    back into its own column, one row up (to a newer loop)
``TURNS_DOWN``  back into its own column, one row down
==============  =====================================================================================
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Self

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING, Fabric, LoopKind, is_wrap

GENTLE: Final = 3
"""Rows from one column to the next up to which a slope is painted true."""
STEEP_UP: Final = -4
STEEP_DOWN: Final = 4
ENDS: Final = 5
TURNS_UP: Final = 6
TURNS_DOWN: Final = 7

Grid = npt.NDArray[np.int32]
_IS_WRAP: Final = is_wrap(np.arange(len(LoopKind), dtype=np.uint8))
Ways = npt.NDArray[np.int8]


@dataclass(frozen=True, slots=True, eq=False)
class FabricWindow:
    """The top of every wale; arrays of shape (depth, needles) unless said otherwise.

    Attributes:
        loops: loop ids, -1 where no loop hangs.
        yarn: index of each loop's yarn, -1 where none hangs.
        odd: whether the pass that made the loop has an odd number; courses are shaded by it.
        left, right: how the yarn goes on at either side of the loop.
        floats: yarn that passes over columns without a loop: rows of column, depth, column, depth (left end
            first) and yarn; shape (k, 5).
    """

    loops: Grid
    yarn: Grid
    odd: npt.NDArray[np.bool_]
    left: Ways
    right: Ways
    floats: Grid

    @classmethod
    def empty(cls, needles: int = 0) -> Self:
        """No fabric below ``needles`` needles."""
        none = np.empty((0, needles), np.int32)
        ways = np.empty((0, needles), np.int8)
        return cls(none, none, np.empty((0, needles), np.bool_), ways, ways, np.empty((0, 5), np.int32))

    @property
    def depth(self) -> int:
        """Rows of the window."""
        return len(self.loops)


def wales(fabric: Fabric, top: npt.NDArray[np.int32], depth: int) -> Grid:
    """Loops below each needle, the newest first, shape (d, n) with d at most ``depth``; -1 for none.

    Args:
        fabric: all loops.
        top: node of the uppermost loop or wrap on each needle, -1 for none.
        depth: rows wanted.
    """
    rows: list[Grid] = []
    nodes = top
    for _ in range(depth):
        loops = _first_real(fabric, nodes)
        if not (loops >= 0).any():
            break
        rows.append(loops)
        nodes = np.where(loops >= 0, fabric.under[loops], NOTHING)
    return np.array(rows, np.int32).reshape(len(rows), len(top))


def _first_real(fabric: Fabric, nodes: npt.NDArray[np.int32]) -> Grid:
    """The uppermost loop that is no wrap on the stacks below ``nodes``."""
    loops = fabric.loops_of(nodes)
    while True:
        wraps = _wrap_mask(fabric, loops)
        if not wraps.any():
            return loops
        nodes = np.where(wraps, fabric.below_of(nodes), nodes).astype(np.int32)
        loops = fabric.loops_of(nodes)


def _wrap_mask(fabric: Fabric, loops: npt.NDArray[np.int32]) -> npt.NDArray[np.bool_]:
    """Which of these loops are wraps; -1 is none."""
    if not len(fabric):
        return np.zeros(len(loops), np.bool_)
    # The last loop stands in for -1; what it says is put aside.
    return _IS_WRAP[fabric.kind[loops]] & (loops >= 0)


def fabric_below(fabric: Fabric, top: npt.NDArray[np.int32], depth: int) -> FabricWindow:
    """The window of fabric below the needles, ``depth`` rows at most."""
    loops = wales(fabric, top, depth)
    if not loops.size:
        return FabricWindow.empty(len(top))
    there = loops >= 0
    ids = loops[there]
    yarn = np.full(loops.shape, -1, np.int32)
    yarn[there] = fabric.yarn_of(ids)
    odd = np.zeros(loops.shape, np.bool_)
    odd[there] = fabric.pass_of(ids) % 2 == 1
    left, right, floats = _joined(fabric, loops)
    return FabricWindow(loops, yarn, odd, left, right, floats)


def _joined(fabric: Fabric, loops: Grid) -> tuple[Ways, Ways, Grid]:
    """How the yarn goes on at the left and right of each loop, and what floats over empty columns."""
    depth_of, column_of = np.nonzero(loops >= 0)
    ids = loops[depth_of, column_of]
    start = int(ids.min())
    place = np.full(int(ids.max()) + 1 - start, -1, np.intp)
    place[ids - start] = np.arange(len(ids))
    before, by_way_of = _loops_before(fabric, ids, start)
    # A loop further down than the window has no place in it.
    partner = np.where(before >= start, place[np.maximum(before - start, 0)], -1)

    ways = np.full((2, *loops.shape), ENDS, np.int8)
    mine = np.flatnonzero(partner >= 0)
    theirs = partner[mine]
    across = column_of[theirs] - column_of[mine]
    drop = depth_of[theirs] - depth_of[mine]
    near = np.abs(across) == 1
    side = (across > 0).astype(np.intp)
    beyond = across != 0
    level = np.where(near, _way(drop), 0).astype(np.int8)
    ways[side[beyond], depth_of[mine[beyond]], column_of[mine[beyond]]] = level[beyond]
    passes_on = beyond & ~_turned_round(partner, column_of, mine, theirs)
    ways[1 - side[passes_on], depth_of[theirs[passes_on]], column_of[theirs[passes_on]]] = -level[passes_on]

    turn = ~beyond
    turn_side = _side_of_turn(partner, column_of, by_way_of, mine[turn])
    ways[turn_side, depth_of[mine[turn]], column_of[mine[turn]]] = TURNS_DOWN
    ways[turn_side, depth_of[theirs[turn]], column_of[theirs[turn]]] = TURNS_UP

    far = np.abs(across) > 1
    one, other = mine[far], theirs[far]
    swap = across[far] < 0
    one, other = np.where(swap, other, one), np.where(swap, one, other)
    yarn = fabric.yarn_of(ids[one])
    floats = np.column_stack((column_of[one], depth_of[one], column_of[other], depth_of[other], yarn))
    return ways[0], ways[1], floats.astype(np.int32)


def _turned_round(
    partner: npt.NDArray[np.intp],
    column_of: npt.NDArray[np.intp],
    mine: npt.NDArray[np.intp],
    theirs: npt.NDArray[np.intp],
) -> npt.NDArray[np.bool_]:
    """Where the yarn goes back to the side it had come from: round a wrap on the same needle.

    That side of the older loop belongs to the yarn that came; the turn itself is hidden by the wrap.
    """
    came = partner[theirs]
    came_from = np.where(came >= 0, column_of[came], column_of[theirs])
    goes_to = np.sign(column_of[mine] - column_of[theirs])
    there: npt.NDArray[np.bool_] = np.sign(came_from - column_of[theirs]) == goes_to
    return there


def _way(drop: npt.NDArray[np.intp]) -> npt.NDArray[np.intp]:
    """The way of a step of so many rows to the next column."""
    return np.clip(drop, STEEP_UP, STEEP_DOWN)


def _loops_before(fabric: Fabric, ids: Grid, start: int) -> tuple[Grid, Grid]:
    """The loop before each on its strand, wraps left out, and the column of a wrap left out, or -1 for none.

    Loops below ``start`` are not looked for: they count as -1.
    """
    previous = fabric.previous_in_strand(start, int(ids.max()) + 1)
    before = previous[ids - start].astype(np.int32)
    via = np.full(len(ids), -1, np.int32)
    while True:
        wraps = (before >= start) & _wrap_mask(fabric, before)
        if not wraps.any():
            return before, via
        via[wraps] = fabric.needle[before[wraps]]
        before[wraps] = previous[before[wraps] - start]


def _side_of_turn(
    partner: npt.NDArray[np.intp], column_of: npt.NDArray[np.intp], via: Grid, turning: npt.NDArray[np.intp]
) -> npt.NDArray[np.intp]:
    """0 for a turn on the left of its column, 1 on the right: round the wrap, or where it was heading."""
    column = column_of[turning]
    older = partner[turning]
    came = partner[older]
    came_from = np.where(came >= 0, column_of[came], column - 1)
    goes_right = np.where(via[turning] >= 0, via[turning] > column, came_from <= column)
    return goes_right.astype(np.intp)
