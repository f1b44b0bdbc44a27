"""All that is worked out about making a piece up, in one place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from bedview.finish.open_groups import OpenGroup, open_groups
from bedview.finish.seam_plan import SeamPlan, SeamProblem, seam_plan
from bedview.finish.sewing_order import Sewing, order_of_sewing
from bedview.finish.strand_ends import StrandEnd, strand_ends
from bedview.form.net import fabric_graph
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure

CORNER_ROWS: Final = 4


@dataclass(frozen=True)
class FinishPlan:
    """What is open, what joins what, and what hangs from the piece.

    Attributes:
        piece: the piece.
        procedure: its procedure.
        groups: open loops, as they came to be.
        seams: seams whose edges are there, in the order of the piece.
        problems: edges that are not there.
        sewing: the seams that join anything, in the order of the hands.
        ends: ends of the strands of fabric yarn.
        inside_seams: loops that lie inside seams, those of all edges.
        beside: by place of a seam, the loops that come to stand beside each other in it, edge a's first.
    """

    piece: Piece
    procedure: Procedure
    groups: tuple[OpenGroup, ...]
    seams: tuple[SeamPlan, ...]
    problems: tuple[SeamProblem, ...]
    sewing: tuple[Sewing, ...]
    ends: tuple[StrandEnd, ...]
    inside_seams: frozenset[int]
    beside: dict[int, tuple[tuple[int, ...], tuple[int, ...]]]

    def in_seam(self, group: OpenGroup) -> tuple[int, ...]:
        """The loops of a group that lie inside a seam."""
        return tuple(loop for loop in group.loops if loop in self.inside_seams)

    def grafts_of(self, group: int) -> list[SeamPlan]:
        """The grafts that take loops of a group."""
        return [seam for seam in self.seams if group in (seam.a.group, seam.b.group)]

    def left_over(self, group: int) -> tuple[int, ...]:
        """Loops of a group that no graft takes and no seam takes inside."""
        taken = {loop for seam in self.grafts_of(group) for side in seam.sides for loop in side.loops}
        return tuple(
            loop for loop in self.groups[group].loops if loop not in taken and loop not in self.inside_seams
        )


def finish_plan(piece: Piece, procedure: Procedure) -> FinishPlan:
    """Work out how a piece is made up.

    Args:
        piece: the piece.
        procedure: the piece compiled, to its end.
    """
    groups = open_groups(procedure)
    seams, problems = seam_plan(piece, procedure, groups)
    ends = strand_ends(procedure)
    # The graph that the resting shape is made of knows what a seam takes inside, corners too.
    graph = fabric_graph(piece, procedure)
    ids = graph.loops.ids
    beside = {
        join.place: (tuple(ids[join.one].tolist()), tuple(ids[join.other].tolist()))
        for join in graph.seams.joins
    }
    inside = set(ids[np.flatnonzero(graph.seams.swallowed)].tolist())
    inside |= _corners(procedure, groups, inside)
    return FinishPlan(
        piece=piece,
        procedure=procedure,
        groups=tuple(groups),
        seams=tuple(seams),
        problems=tuple(problems),
        sewing=tuple(order_of_sewing(seams, ends)),
        ends=tuple(ends),
        inside_seams=frozenset(inside),
        beside=beside,
    )


def _corners(procedure: Procedure, groups: list[OpenGroup], inside: set[int]) -> set[int]:
    """Open loops at the end of a group, a few rows above the edge stitches that lie in a seam.

    A toe that is turned after the side was counted leaves such corners; the seam's last stitch closes them.
    """
    fabric = procedure.timeline.fabric
    found: set[int] = set()
    for group in groups:
        for loop in {group.loops[0], group.loops[-1]}:
            below = loop
            for _ in range(CORNER_ROWS):
                below = int(fabric.upper_parents(np.array([below], np.int32))[0])
                if below < 0 or below in inside:
                    break
            if below in inside:
                found.add(loop)
    return found
