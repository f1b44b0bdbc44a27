"""The whole of what is relaxed: the fabric's links, what stiffens them, and the surface, open or made up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING
from bedview.form.courses import Neighbours, bend_lines, neighbours_in_courses
from bedview.form.faces import Faces, Triangles, all_faces, fabric_faces, seam_faces
from bedview.form.lids import Lids, make_lids, rim_edges
from bedview.form.links import (
    LinkKind,
    Links,
    Loops,
    Nodes,
    fabric_loops,
    join_links,
    strand_links,
    take_loops,
)
from bedview.form.seams import Seams, find_seams
from bedview.form.slants import quad_slants
from bedview.form.stitch_sizes import Floats, stitch_sizes
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure


@dataclass(frozen=True)
class FabricGraph:
    """The fabric of a procedure with its seams.

    Attributes:
        loops: the nodes.
        neighbours: who stands beside whom.
        wales: links up the wales.
        strands: links along the strands.
        seams: what is joined in making up.
        faces: the surface without the seams.
    """

    loops: Loops
    neighbours: Neighbours
    wales: Links
    strands: Links
    seams: Seams
    faces: Faces


def fabric_graph(piece: Piece, procedure: Procedure) -> FabricGraph:
    """The fabric of a procedure as a graph."""
    timeline = procedure.timeline
    ids = fabric_loops(timeline.fabric)
    loops, wales = take_loops(timeline.fabric, ids, stitch_sizes(piece, timeline, ids))
    strands = strand_links(loops)
    neighbours = neighbours_in_courses(loops, strands)
    seams = find_seams(piece, timeline, loops, neighbours)
    return FabricGraph(loops, neighbours, wales, strands, seams, fabric_faces(loops, neighbours, wales))


@dataclass(frozen=True)
class Net:
    """A fabric graph, open or made up, with its own numbers for nodes: loops inside seams are left out.

    Attributes:
        node: number in the graph of each node here, ascending; shape (n,).
        left, right: neighbours in the course; -1 for none.
        below, above: neighbours in the wale; -1 for none.
        needle: column of each node.
        level: level of each node.
        row: passes made when each node was done.
        width_mm, height_mm: of each node's stitch.
        has_base: whether a row's height of fabric lies below the node and nothing is joined there.
        links: what has a length by the gauge.
        slants: what resists shearing: both diagonals of every quad.
        bends: three nodes in a row, shape (3, k).
        faces: the surface.
        joined: which nodes a seam joins.
        seams: links of the seams, whether they are among ``links`` or not.
    """

    node: Nodes
    left: Nodes
    right: Nodes
    below: Nodes
    above: Nodes
    needle: npt.NDArray[np.int32]
    level: npt.NDArray[np.int32]
    row: npt.NDArray[np.int32]
    width_mm: Floats
    height_mm: Floats
    has_base: npt.NDArray[np.bool_]
    links: Links
    slants: Links
    bends: Nodes
    faces: Faces
    joined: npt.NDArray[np.bool_]
    seams: Links

    def __len__(self) -> int:
        return len(self.node)

    @cached_property
    def triangles(self) -> Triangles:
        """All faces as triangles."""
        return self.faces.triangulated()

    @cached_property
    def rim(self) -> npt.NDArray[np.int32]:
        """Edges of one face only; see :func:`bedview.form.lids.rim_edges`."""
        return rim_edges(self.triangles, len(self))

    @cached_property
    def lids(self) -> Lids:
        """The surface with a lid over each rim."""
        return make_lids(self.triangles, self.rim, len(self))

    @property
    def is_sewn(self) -> bool:
        """Whether seams are among its links."""
        return bool((self.links.kind == LinkKind.SEAM).any())


def make_net(graph: FabricGraph, *, closed: bool, drawn_near: bool = False) -> Net:
    """The net of a fabric, with its seams closed or left open.

    Args:
        graph: the fabric.
        closed: whether seams are closed, and loops inside them left out.
        drawn_near: seams are links, but not closed yet: there are no faces and nothing bends across them.
    """
    loops, seams = graph.loops, graph.seams
    count = len(loops)
    kept = ~seams.swallowed if closed else np.ones(count, np.bool_)
    number = np.where(kept, np.cumsum(kept) - 1, NOTHING).astype(np.int32)
    node = np.flatnonzero(kept).astype(np.int32)
    faced = closed and not drawn_near

    sewn = join_links([join.links() for join in seams.joins], count) if seams.joins else no_links()
    links = _among(join_links([graph.wales, graph.strands, *([sewn] if closed else [])], count), number)
    faces = all_faces(
        [graph.faces, *(seam_faces(join, loops.below) for join in seams.joins if faced)]
    ).renumbered(number)
    bends = [bend_lines(loops, graph.neighbours), *(_bends_over_seams(seams) if faced else [])]
    joined = np.zeros(count, np.bool_)
    if faced:
        joined[sewn.one] = joined[sewn.other] = True
    return _Numbers(node, number).net(graph, links, faces, np.concatenate(bends, axis=1), joined, sewn)


@dataclass(frozen=True)
class _Numbers:
    """The nodes of a net: ``node`` names them in the graph, ``number`` gives the graph's their own, or -1."""

    node: Nodes
    number: Nodes

    def here(self, nodes: Nodes) -> Nodes:
        """For each node of the net what ``nodes`` names for it in the graph."""
        mine = nodes[self.node]
        return np.where(mine >= 0, self.number[mine], NOTHING).astype(np.int32)

    def net(
        self,
        graph: FabricGraph,
        links: Links,
        faces: Faces,
        bends: Nodes,
        joined: npt.NDArray[np.bool_],
        sewn: Links,
    ) -> Net:
        """The net of these nodes; links and faces have its numbers already, the rest those of the graph."""
        loops, node = graph.loops, self.node
        bends = self.number[bends]
        width, height = loops.sizes.width_mm[node], loops.sizes.height_mm[node]
        return Net(
            node=node,
            left=self.here(graph.neighbours.left),
            right=self.here(graph.neighbours.right),
            below=self.here(loops.below),
            above=self.here(loops.above()),
            needle=loops.needle[node],
            level=loops.level[node],
            row=loops.pass_number[node],
            width_mm=width,
            height_mm=height,
            has_base=(loops.has_base & ~joined)[node],
            links=links,
            slants=quad_slants(faces, links, len(node)),
            bends=bends[:, (bends >= 0).all(axis=0)],
            faces=faces,
            joined=joined[node],
            seams=_among(sewn, self.number),
        )


def no_links() -> Links:
    """No links at all."""
    none = np.empty(0, np.int32)
    return Links(none, none, np.empty(0), np.empty(0, np.uint8))


def _among(links: Links, number: Nodes) -> Links:
    """Links with new numbers for nodes; those with an end that has none are left out."""
    one, other = number[links.one], number[links.other]
    good = (one >= 0) & (other >= 0)
    return Links(one[good], other[good], links.rest_mm[good], links.kind[good])


def _bends_over_seams(seams: Seams) -> list[Nodes]:
    """Three nodes in a row across each join, so that the fabric goes on smoothly there."""
    lines = []
    for join in seams.joins:
        for behind, near, far in (
            (join.behind_one, join.one, join.other),
            (join.behind_other, join.other, join.one),
        ):
            there = behind >= 0
            lines.append(np.stack((behind[there], near[there], far[there])))
    return lines
