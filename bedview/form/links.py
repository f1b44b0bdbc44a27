"""What holds loops together, and how far apart: the fabric as a graph.

The nodes are the loops of fabric yarns, wraps aside. A node stands at the head of its loop: the loop takes up
half a stitch to either side and one row below. Links join

* neighbours in a course, a stitch's width apart;
* a loop and each loop it is drawn through, a row's height apart;
* the two ends of a **turn**, where the strand goes from one pass to the next, or to a held needle that it
  wraps. A wrap lies round the neck of the held loop, so that loop is where its yarn is tied. Yarn pulls but
  does not push: a turn holds its ends no further apart than two stitches that lie askew;
* the ends of a **float** across needles that did not knit, pulling likewise;
* loops of two edges that a seam joins (see :mod:`bedview.form.seams`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING, Fabric, LoopKind, is_wrap
from bedview.form.stitch_sizes import Floats, StitchSizes

Nodes = npt.NDArray[np.int32]
"""Numbers of nodes, from 0 in the order in which the yarn made their loops; -1 for none."""

MOST_COLUMNS_LEANING: Final = 3
"""A stitch moved so many needles leans; one from further away was hung there, and stands upright."""
BOUND_HEIGHT: Final = 0.25
"""Height of a bound-off stitch, in rows: it lies on its side along the edge."""


class LinkKind(IntEnum):
    """What a link is; of two between the same loops the lower kind counts."""

    WALE = 0
    COURSE = 1
    SEAM = 2
    TURN = 3
    FLOAT = 4


@dataclass(frozen=True)
class Links:
    """Links between nodes; arrays of one length.

    Attributes:
        one: a node.
        other: the node at the other end; of a wale the one below, of strands the earlier one.
        rest_mm: their distance at rest.
        kind: :class:`LinkKind`.
    """

    one: Nodes
    other: Nodes
    rest_mm: Floats
    kind: npt.NDArray[np.uint8]

    def __len__(self) -> int:
        return len(self.one)

    @property
    def pulls_only(self) -> npt.NDArray[np.bool_]:
        """Which links may be slack."""
        return self.kind >= LinkKind.TURN

    def of_kind(self, kind: LinkKind) -> Links:
        """Those of one kind."""
        return self.where(self.kind == kind)

    def where(self, mask: npt.NDArray[np.bool_]) -> Links:
        """Those a mask picks."""
        return Links(self.one[mask], self.other[mask], self.rest_mm[mask], self.kind[mask])


def make_links(
    one: npt.NDArray[np.integer], other: npt.NDArray[np.integer], rest_mm: Floats, kind: LinkKind
) -> Links:
    """Links of one kind."""
    kinds = np.full(len(one), kind, np.uint8)
    return Links(one.astype(np.int32), other.astype(np.int32), rest_mm.astype(np.float64), kinds)


def join_links(parts: Sequence[Links], nodes: int) -> Links:
    """All links of some lists, each pair of nodes linked once (by the lowest kind) and none to itself."""
    one = np.concatenate([part.one for part in parts])
    other = np.concatenate([part.other for part in parts])
    rest = np.concatenate([part.rest_mm for part in parts])
    kind = np.concatenate([part.kind for part in parts])
    pair = np.minimum(one, other).astype(np.int64) * nodes + np.maximum(one, other)
    order = np.lexsort((kind, pair))
    first = np.ones(len(order), np.bool_)
    first[1:] = pair[order][1:] != pair[order][:-1]
    kept = np.sort(order[first])
    kept = kept[one[kept] != other[kept]]
    return Links(one[kept], other[kept], rest[kept], kind[kept])


@dataclass(frozen=True)
class Loops:
    """The loops that are nodes, with what is needed of each again and again.

    Attributes:
        fabric: where they are from.
        ids: loop id of each node, ascending.
        node: node of each loop of the fabric; of a wrap the node it is tied to; -1 where there is none.
        needle: column of each node.
        course: course of each node: an index into the fabric's table, one a pass or hand action.
        level: level of each node.
        pass_number: passes made when it was done.
        sizes: size of each node's stitch.
        below: node that each is drawn through, of several the latest of its own column; -1 for none.
        has_base: whether the node's foot is free: drawn through nothing but waste or wraps, and not cast on.
    """

    fabric: Fabric
    ids: npt.NDArray[np.int32]
    node: Nodes
    needle: npt.NDArray[np.int32]
    course: npt.NDArray[np.intp]
    level: npt.NDArray[np.int32]
    pass_number: npt.NDArray[np.int32]
    sizes: StitchSizes
    below: Nodes
    has_base: npt.NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.ids)

    def above(self) -> Nodes:
        """The node that is drawn through each and continues its wale, the last of several; -1 for none."""
        above = np.full(len(self), NOTHING, np.int32)
        drawn = np.flatnonzero(self.below >= 0).astype(np.int32)
        above[self.below[drawn]] = drawn
        return above


def fabric_loops(fabric: Fabric) -> npt.NDArray[np.int32]:
    """Ids of all loops of fabric yarns that are no wraps, ascending."""
    every = np.arange(len(fabric), dtype=np.int32)
    if not len(every):
        return every
    return every[~is_wrap(fabric.kind) & ~fabric.waste(every)]


def take_loops(fabric: Fabric, ids: npt.NDArray[np.int32], sizes: StitchSizes) -> tuple[Loops, Links]:
    """The nodes, and the links up their wales."""
    node = np.full(len(fabric), NOTHING, np.int32)
    node[ids] = np.arange(len(ids))
    _tie_wraps(fabric, node)
    needle = fabric.needle[ids].astype(np.int32)
    wales, below = _wales(fabric, ids, node, needle, sizes)
    has_base = (below < 0) & (fabric.kind[ids] != LoopKind.CAST_ON)
    course, passes = fabric.course_of(ids), fabric.pass_of(ids)
    loops = Loops(fabric, ids, node, needle, course, fabric.level[ids], passes, sizes, below, has_base)
    return loops, wales


def _tie_wraps(fabric: Fabric, node: Nodes) -> None:
    """Give each wrap of fabric yarn the node of the uppermost loop below it that has one."""
    wraps = np.flatnonzero(is_wrap(fabric.kind)).astype(np.int32)
    if not len(wraps):
        return
    wraps = wraps[~fabric.waste(wraps)]
    below = fabric.below_of(wraps)
    searching = wraps
    while len(searching := searching[(lying := below >= 0)]):
        below = below[lying]
        loops = fabric.loops_of(below)
        good = (node[loops] >= 0) & ~is_wrap(fabric.kind[loops])
        node[searching[good]] = node[loops[good]]
        searching, below = searching[~good], fabric.below_of(below[~good])


def _wales(
    fabric: Fabric, ids: npt.NDArray[np.int32], node: Nodes, needle: npt.NDArray[np.int32], sizes: StitchSizes
) -> tuple[Links, Nodes]:
    """Links from each node down to all nodes it is drawn through, and the one that continues its wale."""
    below = np.full(len(ids), NOTHING, np.int32)
    own_column = np.zeros(len(ids), np.bool_)
    uppers, lowers = [np.empty(0, np.int32)], [np.empty(0, np.int32)]
    upper = np.arange(len(ids), dtype=np.int32)
    nodes = fabric.under_of(ids)
    while len(upper := upper[(drawn := nodes >= 0)]):
        nodes = nodes[drawn]
        parents = fabric.loops_of(nodes)
        good = (node[parents] >= 0) & ~is_wrap(fabric.kind[parents])
        here, lower = upper[good], node[parents[good]]
        straight = needle[here] == needle[lower]
        # Of two in its own column, as where the edge of a hem hangs there, it continues the later one.
        better = (below[here] < 0) | (straight & (~own_column[here] | (lower > below[here])))
        below[here[better]] = lower[better]
        own_column[here[better]] = straight[better]
        uppers.append(here)
        lowers.append(lower)
        nodes = fabric.below_of(nodes)
    upper, lower = np.concatenate(uppers), np.concatenate(lowers)
    leaning = np.abs(needle[upper] - needle[lower])
    leaning[(leaning > MOST_COLUMNS_LEANING) | (below[upper] == lower)] = 0
    height = sizes.height_mm[upper] * np.where(fabric.kind[ids[upper]] == LoopKind.BIND, BOUND_HEIGHT, 1.0)
    rest = np.hypot(height, leaning * sizes.width_mm[upper])
    return make_links(upper, lower, rest, LinkKind.WALE), below


def strand_links(loops: Loops) -> Links:
    """Links along the strands: courses, turns and floats."""
    fabric, node, sizes = loops.fabric, loops.node, loops.sizes
    previous = _previous_with_node(fabric, node)
    later = np.flatnonzero((node >= 0) & (previous >= 0)).astype(np.int32)
    later = later[~fabric.waste(later)] if len(later) else later
    earlier = previous[later]
    one, other = node[later], node[earlier]
    columns = np.abs(loops.needle[one] - loops.needle[other])
    plain = ~is_wrap(fabric.kind[later]) & ~is_wrap(fabric.kind[earlier])
    plain &= loops.course[one] == loops.course[other]
    kind = np.where(plain, np.where(columns == 1, LinkKind.COURSE, LinkKind.FLOAT), LinkKind.TURN)
    width = (sizes.width_mm[one] + sizes.width_mm[other]) / 2 * columns
    height = (sizes.height_mm[one] + sizes.height_mm[other]) / 2
    rest = np.where(plain, width, np.hypot(width, height))
    # Yarn that waited is carried on with slack: it holds nothing together.
    near = np.abs(fabric.pass_of(later) - fabric.pass_of(earlier)) <= 1
    near &= rest > 0
    return Links(one[near], other[near], rest[near], kind[near].astype(np.uint8))


def _previous_with_node(fabric: Fabric, node: Nodes) -> npt.NDArray[np.int32]:
    """For each loop the loop before it on its strand, leaving out those that have no node; or -1."""
    previous = fabric.previous_in_strand(0, len(fabric)).astype(np.int32)
    while True:
        lost = np.flatnonzero(previous >= 0)
        lost = lost[node[previous[lost]] < 0]
        if not len(lost):
            return previous
        # Each look leaps over as many loops as the one before has found to leave out.
        previous[lost] = previous[previous[lost]]
