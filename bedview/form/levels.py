"""The net as springs, and the same springs on every second course and wale only, again and again.

What bends or fills a whole piece takes a step for every few nodes that lie between its ends; on a quarter of
the nodes it takes fewer steps and each of them less time (multigrid; Brandt 1977). So a piece comes to rest
on few nodes first, then on more.

A node left out lies half way between its two neighbours, in its course if its wale is left out, else in its
wale. What springs and bends then resist follows from how they are written as matrices, so that seams, turns
and stitches that lean need no rules of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.csgraph import connected_components

from bedview.bed.fabric import NOTHING
from bedview.form.faces import Triangles
from bedview.form.lids import Lids, make_lids, rim_edges
from bedview.form.links import LinkKind, Nodes
from bedview.form.net import Net
from bedview.form.relaxing import Springs, differences

SLACK_STIFFNESS: Final = 0.3
SLANT_STIFFNESS: Final = 0.05
BEND_STIFFNESS: Final = 0.05
"""Beside a link's stiffness of 1. Fabric shears far more easily than it stretches."""

DEPTH: Final = 3
"""Steps from a node left out, by way of others, to nodes that are kept; two where courses are regular."""
BEND_OF_KINKS: Final = 0.5
"""A curve drawn with half as many corners bends twice as much at all its nodes together."""
NO_WEIGHT: Final = 1e-12
SAME_WEIGHT: Final = 1.01

Mask = npt.NDArray[np.bool_]


class SpringKind(IntEnum):
    """What a spring stands for."""

    STITCH = 0
    """A wale or a course."""
    SLANT = 1
    OTHER = 2
    """A seam, a turn or a float."""


@dataclass(frozen=True)
class Level:
    """The springs of a net on all its nodes or on some.

    Attributes:
        springs: the springs.
        kind: :class:`SpringKind` of each.
        ends: shape (2, k): the nodes at, or nearest to, the ends of each.
        beside: shape (4, n): neighbours to the left, to the right, below and above; -1 for none.
        column, row: of each node: needle, from the first in use, and pass; halved each time.
        triangles: the surface.
        rim: edges of one triangle only; see :func:`bedview.form.lids.rim_edges`.
        kept: nodes of the finer level that these are, ascending; of the net's own level all.
        spread: matrix that gives the places of the finer level's nodes; None for the net's own level.
    """

    springs: Springs
    kind: npt.NDArray[np.uint8]
    ends: Nodes
    beside: Nodes
    column: Nodes
    row: Nodes
    triangles: Triangles
    rim: Nodes
    kept: Nodes
    spread: sparse.csr_array | None = None

    def __len__(self) -> int:
        return len(self.column)

    @cached_property
    def lids(self) -> Lids:
        """The surface with a lid over each rim."""
        return make_lids(self.triangles, self.rim, len(self))

    @cached_property
    def parts(self) -> Nodes:
        """Which connected part each node belongs to, numbered in the order of their first nodes."""
        if not len(self):
            return np.empty(0, np.int32)
        one, other = self.ends
        graph = sparse.coo_array((np.ones(len(one), np.bool_), (one, other)), shape=(len(self), len(self)))
        _, labels = connected_components(graph.tocsr(), directed=False)
        if not labels.any():
            return labels
        found, first = np.unique(labels, return_index=True)
        order = np.empty(len(found), np.int32)
        order[np.argsort(first)] = np.arange(len(found))
        return order[labels]

    @property
    def part_count(self) -> int:
        """How many parts there are."""
        return int(self.parts.max(initial=-1)) + 1


def net_level(net: Net) -> Level:
    """The springs of a net: its links first, then its slants."""
    links, slants, count = net.links, net.slants, len(net)
    ends = np.stack((np.r_[links.one, slants.one], np.r_[links.other, slants.other]))
    bends = differences(net.bends, (1, -2, 1), count)
    stitches = (links.kind == LinkKind.WALE) | (links.kind == LinkKind.COURSE)
    springs = Springs(
        spans=differences(ends, (1, -1), count),
        rest_mm=np.r_[links.rest_mm, slants.rest_mm],
        stiffness=np.r_[
            np.where(links.pulls_only, SLACK_STIFFNESS, 1.0), np.full(len(slants), SLANT_STIFFNESS)
        ],
        pulls_only=np.r_[links.pulls_only, np.zeros(len(slants), np.bool_)],
        bending=sparse.csr_array(bends.T @ bends) * BEND_STIFFNESS,
    )
    kind = np.r_[
        np.where(stitches, SpringKind.STITCH, SpringKind.OTHER), np.full(len(slants), SpringKind.SLANT)
    ]
    beside = np.stack((net.left, net.right, net.below, net.above))
    return Level(
        springs=springs,
        kind=kind.astype(np.uint8),
        ends=ends,
        beside=beside,
        column=net.needle - (net.needle.min() if count else 0),
        row=net.row,
        triangles=net.triangles,
        rim=net.rim,
        kept=np.arange(count, dtype=np.int32),
    )


def thinned(level: Level) -> Level:
    """The same on every second course and wale, and on all edges of courses and wales."""
    kept, spread = _kept_nodes(level)
    number = np.full(len(level), NOTHING, np.int32)
    number[kept] = np.arange(len(kept))
    nearest = _heaviest(spread)
    springs, kind, ends = _thinned_springs(level, spread, nearest)
    corners = nearest[level.triangles]
    triangles = corners[(corners != np.roll(corners, 1, axis=1)).all(axis=1)]
    return Level(
        springs=springs,
        kind=kind,
        ends=ends,
        beside=_beside_kept(level, kept, number),
        column=level.column[kept] // 2,
        row=level.row[kept] // 2,
        triangles=triangles,
        rim=rim_edges(triangles, len(kept)),
        kept=kept,
        spread=spread,
    )


def _kept_nodes(level: Level) -> tuple[Nodes, sparse.csr_array]:
    """Nodes to keep, and where the places of all follow from theirs."""
    left, right, below, above = level.beside
    of_kept_wale = (level.column % 2 == 0) | (left < 0) | (right < 0)
    of_kept_course = (level.row % 2 == 0) | (below < 0) | (above < 0)
    between = np.where(of_kept_wale, np.stack((below, above)), np.stack((left, right)))
    kept = of_kept_wale & of_kept_course
    spread = _between(between, kept)
    # Where courses are irregular a way may lead through nodes left out only: its last one is kept, too.
    missed = np.zeros(len(level), np.bool_)
    missed[spread.indices] = True
    if (missed & ~kept).any():
        kept |= missed
        spread = _between(between, kept)
    nodes = np.flatnonzero(kept).astype(np.int32)
    return nodes, sparse.csr_array(spread[:, nodes])


def _between(between: Nodes, kept: Mask) -> sparse.csr_array:
    """Matrix that puts each node not kept half way between two others, and those so in turn."""
    every = np.arange(len(kept))
    two = np.where(kept, every, between)
    half = (np.full(two.size, 0.5), (np.tile(every, 2), two.ravel()))
    step = sparse.csr_array(half, shape=(len(kept), len(kept)))
    ways = step
    for _ in range(DEPTH - 1):
        ways = ways @ step
    return sparse.csr_array(ways)


def _heaviest(spread: sparse.csr_array) -> Nodes:
    """Of each node the kept one that counts most in its place; of several the first."""
    pairs = spread.tocoo()
    row, column = pairs.coords
    order = np.lexsort((column, -pairs.data, row))
    first = np.diff(row[order], prepend=-1) > 0
    return column[order][first].astype(np.int32)


def _beside_kept(level: Level, kept: Nodes, number: Nodes) -> Nodes:
    """Neighbours among the nodes kept: the next node, or else the one after it; -1 for none."""
    numbered = np.append(number, NOTHING)
    found = []
    for beside in level.beside:
        onward = np.append(beside, NOTHING)
        near = onward[kept]
        found.append(np.where(numbered[near] >= 0, numbered[near], numbered[onward[near]]))
    return np.stack(found).astype(np.int32)


def _thinned_springs(
    level: Level, spread: sparse.csr_array, nearest: Nodes
) -> tuple[Springs, npt.NDArray[np.uint8], Nodes]:
    """The springs written by the places of the nodes kept, with their kinds and ends.

    Of the stitches and slants of a regular fabric half come to lie between just two of those nodes. They
    stand for the other half, and those of a pair become one. Where courses end within the fabric it bends
    between the nodes kept; stitches there, written by more of them, would hold it straight.
    """
    old = level.springs
    spans = sparse.csr_array(old.spans @ spread)
    spans.data[np.abs(spans.data) < NO_WEIGHT] = 0
    spans.eliminate_zeros()
    nodes, even = _shape_of_rows(spans)
    slant, other = level.kind == SpringKind.SLANT, level.kind == SpringKind.OTHER
    pairs = np.flatnonzero((nodes == 2) & even & ~other)
    alone = np.flatnonzero((nodes > 0) & other)

    begins = spans.indptr[pairs]
    two = np.sort(np.stack((spans.indices[begins], spans.indices[begins + 1])), axis=0).astype(np.int64)
    share = np.abs(spans.data[begins])
    count = spread.shape[1]
    weights = 2 * old.stiffness[pairs] * share**2
    # One row for the slants of a node and one for its stitches.
    at = 2 * two[0] + slant[pairs], two[1]
    together, long = (
        sparse.coo_array((each, at), shape=(2 * count, count)).tocsr()
        for each in (weights, weights * old.rest_mm[pairs] / share)
    )
    stiffness, rest_mm = together.data, long.data / together.data
    row = np.repeat(np.arange(2 * count), np.diff(together.indptr))
    ends = np.stack((row // 2, together.indices)).astype(np.int32)
    springs = Springs(
        spans=sparse.csr_array(sparse.vstack((differences(ends, (1, -1), count), spans[alone]))),
        rest_mm=np.r_[rest_mm, old.rest_mm[alone]],
        stiffness=np.r_[stiffness, old.stiffness[alone]],
        pulls_only=np.r_[np.zeros(len(row), np.bool_), old.pulls_only[alone]],
        bending=sparse.csr_array(spread.T @ old.bending @ spread) * BEND_OF_KINKS,
    )
    kind = np.r_[np.where(row % 2, SpringKind.SLANT, SpringKind.STITCH).astype(np.uint8), level.kind[alone]]
    return springs, kind, np.concatenate((ends, nearest[level.ends[:, alone]]), axis=1)


def _shape_of_rows(matrix: sparse.csr_array) -> tuple[npt.NDArray[np.intp], Mask]:
    """How many entries each row has, and whether they are equal but for their signs."""
    entries = np.diff(matrix.indptr)
    there = np.flatnonzero(entries)
    even = np.zeros(len(entries), np.bool_)
    if len(there):
        sizes, begins = np.abs(matrix.data), matrix.indptr[there]
        even[there] = np.maximum.reduceat(sizes, begins) < SAME_WEIGHT * np.minimum.reduceat(sizes, begins)
    return entries, even
