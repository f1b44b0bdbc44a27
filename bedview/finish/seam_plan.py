"""Each seam of the piece resolved: what joins what, how long, how much is eased, how much yarn it takes.

Yarn in a seam:

- a **graft** is one more course: 4.2 × its width (:data:`bedview.plan.yarn.GRAFT_WIDTHS`);
- a **mattress** seam runs up every row on both sides, twice its length, and crosses over twice a row, half a
  row's height at a time, as thick as yarn is in plain fabric: 3 × its length in all (geometry, no source);
- an **overcast** seam goes, for every loop, round the edge stitches of both sides, two widths there and back,
  and one loop further along (geometry, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import Edge, SideEdge
from bedview.bed.edges import EdgeError
from bedview.finish.open_groups import OpenGroup
from bedview.form.stitch_sizes import stitch_sizes
from bedview.plan.edges_file import SeamMadeItem, SeamOpenItem, SeamSideItem, to_edge
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.seams_file import Graft, Mattress, Overcast
from bedview.plan.sewn_part import sewn_part
from bedview.plan.yarn import GRAFT_END_CM, GRAFT_WIDTHS

MATTRESS_LENGTHS: Final = 3.0
OVERCAST_WIDTHS: Final = 2.0
LONGEST_THREAD_CM: Final = 50.0
"""Yarn frays where it is drawn through fabric again and again: it is sewn with in lengths of 15 to 20 inches
(Tradewind Knitwear Designs, "Refinements to mattress stitch"). Grafting draws it through once a loop."""
TOO_MUCH_EASING: Final = 0.10
TURN_ROWS: Final = 5
"""A turn begins and ends at one edge after the other: over half the needles it leaves one edge two rows more
before it and three after it, and these go in at its corners (geometry)."""
TURN_EASING: Final = 0.20
"""With a turn in it that does the easing, an edge may be so much longer (common practice)."""
FEW_ROWS: Final = 2
"""So few rows too many go in anywhere."""

Floats = npt.NDArray[np.float64]
SeamItem = SeamOpenItem | SeamMadeItem | SeamSideItem


@dataclass(frozen=True, slots=True)
class SeamSide:
    """One edge of a seam.

    Attributes:
        edge: the edge, as the bed understands it.
        loops: the loops that are joined, in the order in which the seam joins them.
        needles: index of the needle each was made on.
        passes: passes made when each was made.
        length_mm: how long it lies, by the gauge.
        left_open: loops of the edge that stay open, at an end of the seam.
        open_mm: how long that part is.
        group: index of the group of open loops that it takes loops of; None if it takes none.
    """

    edge: Edge
    loops: tuple[int, ...]
    needles: tuple[int, ...]
    passes: tuple[int, ...]
    length_mm: float
    left_open: int
    open_mm: float
    group: int | None

    @property
    def is_side(self) -> bool:
        """Whether it runs up the side of the fabric."""
        return isinstance(self.edge, SideEdge)

    @property
    def has_turn(self) -> bool:
        """Whether it runs up the side past rows that do not reach it: short rows."""
        if not isinstance(self.edge, SideEdge):
            return False
        return self.edge.last - self.edge.first + 1 > len(self.loops) + self.left_open


@dataclass(frozen=True, slots=True)
class SeamPlan:
    """A seam whose edges are both there.

    Attributes:
        place: its index in the piece's seams.
        kind: ``graft``, ``mattress`` or ``overcast``.
        a, b: its edges.
        stitches_in: how many stitches of each side lie in it; 0 for a graft.
        open_at: the end at which a part stays open; None if none does.
        yarn: index of the yarn that sews it, that of edge a.
        sewing_cm: yarn that lies in it.
    """

    place: int
    kind: str
    a: SeamSide
    b: SeamSide
    stitches_in: int
    open_at: str | None
    yarn: int
    sewing_cm: float

    @property
    def sides(self) -> tuple[SeamSide, SeamSide]:
        """Both edges."""
        return self.a, self.b

    @property
    def is_graft(self) -> bool:
        """Whether it joins loop to loop."""
        return self.kind == "graft"

    @property
    def length_mm(self) -> float:
        """How long it is: as the longer of its edges."""
        return max(self.a.length_mm, self.b.length_mm)

    @property
    def easing(self) -> float:
        """By what share of the shorter edge the other is longer; 0 for a graft."""
        shorter = min(self.a.length_mm, self.b.length_mm)
        if self.is_graft or shorter <= 0:
            return 0.0
        return self.length_mm / shorter - 1

    @property
    def puckers(self) -> bool:
        """Whether more is to be eased than goes in unseen."""
        differ = abs(len(self.a.loops) - len(self.b.loops))
        turns = self.a.has_turn or self.b.has_turn
        if turns and differ <= FEW_ROWS:
            return False
        most = TURN_EASING if turns and differ <= TURN_ROWS else TOO_MUCH_EASING
        # A tenth exactly, as rows have it, is not too much for want of a bit.
        return self.easing > most + 1e-9

    @property
    def lengths(self) -> int:
        """In how many lengths of yarn it is sewn, if none hangs there."""
        if self.is_graft:
            return 1
        return max(1, int(np.ceil(self.sewing_cm / (LONGEST_THREAD_CM - GRAFT_END_CM))))

    @property
    def yarn_cm(self) -> float:
        """New yarn to take for it: what lies in it, and an end for every length."""
        return self.sewing_cm + self.lengths * GRAFT_END_CM


@dataclass(frozen=True, slots=True)
class SeamProblem:
    """A seam with an edge that is not there.

    Attributes:
        place: its index in the piece's seams.
        edge: ``a`` or ``b``.
        message: what is wrong.
    """

    place: int
    edge: str
    message: str


def seam_plan(
    piece: Piece, procedure: Procedure, groups: list[OpenGroup]
) -> tuple[list[SeamPlan], list[SeamProblem]]:
    """All seams of a piece, in its order, and what keeps others from being planned.

    Args:
        piece: the piece.
        procedure: the piece compiled.
        groups: its open loops.
    """
    resolver = _Resolver(piece, procedure, groups)
    plans: list[SeamPlan] = []
    problems: list[SeamProblem] = []
    for place, seam in enumerate(piece.seams):
        sides: list[SeamSide] = []
        for name, item in (("a", seam.a), ("b", seam.b)):
            try:
                sides.append(resolver.side(seam, item))
            except EdgeError as error:
                problems.append(SeamProblem(place, name, str(error)))
        if len(sides) == 2:
            plans.append(resolver.plan(place, seam, sides[0], sides[1]))
    return plans, problems


class _Resolver:
    """Looks edges up and measures them."""

    def __init__(self, piece: Piece, procedure: Procedure, groups: list[OpenGroup]) -> None:
        self._piece = piece
        self._timeline = procedure.timeline
        self._group_of = {loop: place for place, group in enumerate(groups) for loop in group.loops}

    def side(self, seam: Graft | Mattress | Overcast, item: SeamItem) -> SeamSide:
        """One edge.

        Raises:
            EdgeError: if it is not there.
        """
        edge = to_edge(item, self._piece.bed.needles)
        fabric = self._timeline.fabric
        loops = np.array(self._timeline.edge_loops(edge), np.int32)
        if item.get("reverse", False):
            loops = loops[::-1]
        along = self._along_mm(edge, loops)
        kept = sewn_part(seam, along)
        sewn = loops[kept]
        taken = [self._group_of[loop] for loop in sewn.tolist() if loop in self._group_of]
        return SeamSide(
            edge=edge,
            loops=tuple(sewn.tolist()),
            needles=tuple(fabric.needle[sewn].tolist()),
            passes=tuple(fabric.pass_of(sewn).tolist()),
            length_mm=float(along[kept].sum()),
            left_open=len(loops) - len(sewn),
            open_mm=float(along.sum() - along[kept].sum()),
            group=max(set(taken), key=taken.count) if taken and not isinstance(edge, SideEdge) else None,
        )

    def plan(self, place: int, seam: Graft | Mattress | Overcast, a: SeamSide, b: SeamSide) -> SeamPlan:
        """A seam of two edges."""
        first = a.loops[0] if a.loops else 0
        yarn = int(self._timeline.fabric.yarn_of(np.array([first]))[0])
        if isinstance(seam, Graft):
            # Both widths are one width, but for a difference of gauge.
            sewing = GRAFT_WIDTHS * max(a.length_mm, b.length_mm) / 10
            return SeamPlan(place, seam.kind, a, b, 0, None, yarn, sewing)
        longer = max(a, b, key=lambda side: side.length_mm)
        if seam.kind == "mattress":
            sewing = MATTRESS_LENGTHS * longer.length_mm / 10
        else:
            width = float(stitch_sizes(self._piece, self._timeline, np.array([first])).width_mm[0])
            sewing = (OVERCAST_WIDTHS * width * len(longer.loops) + longer.length_mm) / 10
        opens = seam.open_at if a.left_open or b.left_open else None
        return SeamPlan(place, seam.kind, a, b, seam.stitches_in, opens, yarn, sewing)

    def _along_mm(self, edge: Edge, loops: npt.NDArray[np.int32]) -> Floats:
        """What each loop of an edge takes up along it: a row's height at a side, else a stitch's width."""
        sizes = stitch_sizes(self._piece, self._timeline, loops)
        return sizes.height_mm if isinstance(edge, SideEdge) else sizes.width_mm
