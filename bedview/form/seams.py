"""What the piece's seams join, loop to loop.

A graft puts one course of stitches between two edges. A mattress seam takes the outermost stitches of both
sides into itself: they lie inside the piece, and the stitches next to them come to stand beside each other.
Sides of unequal length are eased evenly; a part that stays open is neither joined nor taken in.

How far the joined loops are apart follows from what lies between a loop's head and the edge of the fabric:
half a stitch at a side, nothing at an open edge or a cast-on, a whole row where a course is joined by its
feet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import MadeEdge, SideEdge
from bedview.bed.edges import EdgeError
from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Side
from bedview.bed.timeline import Timeline
from bedview.form.courses import Neighbours
from bedview.form.links import LinkKind, Links, Loops, Nodes, make_links
from bedview.form.stitch_sizes import Floats
from bedview.language import gettext as _
from bedview.plan.edges_file import AnyEdgeItem, to_edge
from bedview.plan.piece import Piece
from bedview.plan.sewn_part import sewn_part

LEAST_SHARE: Final = 0.25
"""No join is shorter than this share of a stitch's width: yarn lies between any two loops."""


@dataclass(frozen=True)
class Join:
    """One seam.

    Attributes:
        place: its index in the piece's seams.
        kind: ``graft``, ``mattress`` or ``overcast``.
        one: nodes of edge a, in its order; as long as ``other``, with nodes named twice where it is eased.
        other: nodes of edge b that they are joined to.
        rest_mm: distance of each pair.
        behind_one: node next to each of ``one``, away from the seam; -1 for none.
        behind_other: the same for ``other``.
        forward: whether a face between the two edges, seen from the purl side, goes along ``one`` forward.
    """

    place: int
    kind: str
    one: Nodes
    other: Nodes
    rest_mm: Floats
    behind_one: Nodes
    behind_other: Nodes
    forward: bool

    def links(self) -> Links:
        """The links of the seam."""
        return make_links(self.one, self.other, self.rest_mm, LinkKind.SEAM)


@dataclass(frozen=True)
class Seams:
    """All seams of a piece.

    Attributes:
        joins: those whose edges are there.
        swallowed: which nodes lie inside seams.
        notes: what could not be joined, a sentence each.
    """

    joins: tuple[Join, ...]
    swallowed: npt.NDArray[np.bool_]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class _Rim:
    """One edge of a seam: nodes, the nodes behind them, what lies between each and the fabric's edge."""

    nodes: Nodes
    behind: Nodes
    margin_mm: Floats
    forward: bool


def find_seams(piece: Piece, timeline: Timeline, loops: Loops, neighbours: Neighbours) -> Seams:
    """The seams of a piece; one whose edge is not there is left out and noted."""
    cutter = _Cutter(piece.bed.needles, timeline, loops, neighbours)
    joins: list[Join] = []
    notes: list[str] = []
    for place, seam in enumerate(piece.seams):
        inside = 0 if seam.kind == "graft" else seam.stitches_in
        try:
            one, other = (cutter.rim(item, inside, partial(sewn_part, seam)) for item in (seam.a, seam.b))
        except EdgeError as error:
            notes.append(_("Seam {number} is left open: {why}.").format(number=place + 1, why=error))
            continue
        if len(one.nodes) and len(other.nodes):
            joins.append(_join(place, seam.kind, one, other, loops))
    cutter.swallow_corners()
    return Seams(tuple(joins), cutter.swallowed, tuple(notes))


class _Cutter:
    """Finds rims, and remembers which nodes lie inside seams."""

    def __init__(self, bed_needles: int, timeline: Timeline, loops: Loops, neighbours: Neighbours) -> None:
        self._bed_needles = bed_needles
        self._timeline = timeline
        self._loops = loops
        self._neighbours = neighbours
        self._above = loops.above()
        self.swallowed = np.zeros(len(loops), np.bool_)

    def rim(self, item: AnyEdgeItem, inside: int, sewn: Callable[[Floats], slice]) -> _Rim:
        """An edge of a seam ``inside`` stitches from the side (of other edges it takes nothing).

        Args:
            item: the edge.
            inside: how many stitches it lies inside.
            sewn: which of its loops are joined, given what each takes up along it.

        Raises:
            EdgeError: if the edge is not there.
        """
        edge = to_edge(item, self._bed_needles)
        found = np.array(self._timeline.edge_loops(edge), np.int32)
        nodes = self._loops.node[found]
        if isinstance(edge, SideEdge):
            nodes = self._from_cast_on(nodes)
        if item.get("reverse", False):
            nodes = nodes[::-1]
        sizes = self._loops.sizes
        along = sizes.height_mm if isinstance(edge, SideEdge) else sizes.width_mm
        nodes = nodes[sewn(along[nodes])]
        if isinstance(edge, SideEdge):
            rim = self._side(nodes, edge.side, inside)
        else:
            rim = self._end(nodes, isinstance(edge, MadeEdge))
        return replace(rim, forward=rim.forward != item.get("reverse", False))

    def _side(self, nodes: Nodes, side: Side, inside: int) -> _Rim:
        inward = self._neighbours.right if side is Side.LEFT else self._neighbours.left
        for _stitch in range(inside):
            deeper = inward[nodes]
            # The last stitch of a course stays outside, or nothing would be left to join.
            deeper = np.where(deeper >= 0, deeper, nodes)
            self.swallowed[nodes[deeper != nodes]] = True
            nodes = deeper
        return _Rim(nodes, inward[nodes], self._loops.sizes.width_mm[nodes] / 2, side is Side.LEFT)

    def _from_cast_on(self, nodes: Nodes) -> Nodes:
        """The nodes of a side, with the cast-on loop before the first if it begins there: it is sewn in."""
        loops, first = self._loops, int(self._loops.below[nodes[0]])
        if first < 0 or loops.fabric.kind[loops.ids[first]] != LoopKind.CAST_ON:
            return nodes
        return np.concatenate(([first], nodes)).astype(np.int32)

    def _end(self, nodes: Nodes, made: bool) -> _Rim:
        loops = self._loops
        feet = loops.has_base[nodes] & made
        start = feet | (made & (loops.fabric.kind[loops.ids[nodes]] == LoopKind.CAST_ON))
        margin = np.where(feet, loops.sizes.height_mm[nodes], 0.0)
        behind = np.where(start, self._above[nodes], loops.below[nodes])
        return _Rim(nodes, behind, margin, 2 * int(start.sum()) <= len(start))

    def swallow_corners(self) -> None:
        """Take in loops at the end of a course that hang on nothing but swallowed loops: cast-on corners."""
        loops, gone = self._loops, self.swallowed
        if not gone.any():
            return
        above = self._above
        at_end = (self._neighbours.left < 0) | (self._neighbours.right < 0)
        for _way in range(2):
            held_up = (above >= 0) & gone[above]
            held_down = (loops.below >= 0) & gone[loops.below]
            loose = (held_up & (loops.below < 0)) | (held_down & (above < 0))
            gone |= loose & at_end


def _join(place: int, kind: str, one: _Rim, other: _Rim, loops: Loops) -> Join:
    most, least = max(len(one.nodes), len(other.nodes)), min(len(one.nodes), len(other.nodes))
    if kind == "graft":
        first = second = np.arange(least)
    else:
        first, second = _eased(len(one.nodes), most), _eased(len(other.nodes), most)
    a, b = one.nodes[first], other.nodes[second]
    sizes = loops.sizes
    rest = one.margin_mm[first] + other.margin_mm[second]
    if kind == "graft":
        rest = rest + (sizes.height_mm[a] + sizes.height_mm[b]) / 2
    rest = np.maximum(rest, LEAST_SHARE * sizes.width_mm[a])
    return Join(place, kind, a, b, rest, one.behind[first], other.behind[second], one.forward)


def _eased(count: int, over: int) -> npt.NDArray[np.intp]:
    """Which of ``count`` loops stands at each of ``over`` places, spread evenly with both ends kept."""
    if over < 2:
        return np.zeros(over, np.intp)
    return (2 * np.arange(over) * (count - 1) + over - 1) // (2 * (over - 1))
