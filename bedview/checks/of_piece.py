"""The findings of a piece: its procedure judged by what its segments mean and its seams join."""

from __future__ import annotations

from bedview.bed.edges import EdgeError
from bedview.checks.finding import Finding
from bedview.checks.in_the_fabric import Join
from bedview.checks.judge import Meant, judge
from bedview.plan.edges_file import to_edge
from bedview.plan.piece import Piece
from bedview.plan.problems import PieceError
from bedview.plan.procedure import Procedure


def piece_findings(piece: Piece, procedure: Procedure) -> list[Finding]:
    """All findings, in order; see :func:`bedview.checks.judge.judge`."""
    meant = [
        Meant(span.start, span.stop, frozenset(span.segment.meant))
        for span in procedure.spans
        if span.segment.meant
    ]
    return judge(procedure.timeline, meant, joins(piece))


def joins(piece: Piece) -> list[Join]:
    """The seams of a piece, as checks see them."""
    needles = piece.bed.needles
    return [
        Join(seam.kind == "graft", to_edge(seam.a, needles), to_edge(seam.b, needles)) for seam in piece.seams
    ]


def refuse_lost_edges(piece: Piece, procedure: Procedure) -> None:
    """See that both edges of every seam are there at the end.

    Raises:
        PieceError: naming the first edge that is not.
    """
    for place, join in enumerate(joins(piece)):
        for side, edge in (("a", join.a), ("b", join.b)):
            try:
                procedure.timeline.edge_loops(edge)
            except EdgeError as error:
                raise PieceError(f"seams[{place}].{side}", str(error)) from None
