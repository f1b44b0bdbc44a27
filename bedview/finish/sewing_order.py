"""In which order seams are sewn, from which end, and with which tail.

Grafts come first, while hands still reach everything: they close what would be at the bottom of a bag. They
go where the thread leads: from the tail that hangs at a corner, then on with the same thread. Side seams
follow; one that leaves a part open is the last, and is sewn towards its opening.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from bedview.finish.seam_plan import SeamPlan
from bedview.finish.strand_ends import StrandEnd
from bedview.plan.yarn import GRAFT_END_CM

NEEDLES_AWAY: Final = 1
ROWS_AWAY: Final = 2
"""A tail so near to a corner hangs at it."""
LEEWAY_CM: Final = 1.0
"""Nobody measures a tail more closely."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place in the fabric: index of a needle, and passes made."""

    needle: int
    passes: int

    def is_near(self, other: Place) -> bool:
        """Whether a thread that hangs at one may begin at the other."""
        across = abs(self.needle - other.needle) <= NEEDLES_AWAY
        return across and abs(self.passes - other.passes) <= ROWS_AWAY


@dataclass(frozen=True, slots=True)
class Sewing:
    """One seam in its turn.

    Attributes:
        seam: the seam.
        backward: whether it begins where its edges end.
        tail: index of the strand end it is sewn with; None for new yarn.
        goes_on: whether it is sewn on with the thread of the seam before.
        short_cm: by how much a tail left there is too short; new yarn is taken then.
        short_tail: index of that tail.
    """

    seam: SeamPlan
    backward: bool
    tail: int | None = None
    goes_on: bool = False
    short_cm: float = 0.0
    short_tail: int | None = None

    @property
    def begin(self) -> tuple[Place, Place]:
        """The corners at which it begins, of edge a and edge b."""
        return corners(self.seam, at_end=self.backward)

    @property
    def end(self) -> tuple[Place, Place]:
        """The corners at which it ends."""
        return corners(self.seam, at_end=not self.backward)


def corners(seam: SeamPlan, *, at_end: bool) -> tuple[Place, Place]:
    """First or last places of both edges of a seam that joins something."""
    at = -1 if at_end else 0
    a, b = (Place(side.needles[at], side.passes[at]) for side in seam.sides)
    return a, b


def order_of_sewing(seams: Sequence[SeamPlan], ends: Sequence[StrandEnd]) -> list[Sewing]:
    """All seams that join anything, in the order of the hands.

    Args:
        seams: the seams of the piece.
        ends: the ends of its strands.
    """
    there = [seam for seam in seams if seam.a.loops and seam.b.loops]
    sewer = _Sewer(ends)
    sewer.take([seam for seam in there if seam.is_graft])
    sewer.take([seam for seam in there if not seam.is_graft and seam.open_at is None])
    sewer.take([seam for seam in there if not seam.is_graft and seam.open_at is not None])
    return sewer.done


class _Sewer:
    """Hands with a needle: what is sewn, and what is left of the thread."""

    def __init__(self, ends: Sequence[StrandEnd]) -> None:
        self._ends = ends
        self._used: set[int] = set()
        self._thread_cm = 0.0
        self.done: list[Sewing] = []

    def take(self, seams: list[SeamPlan]) -> None:
        """Sew some seams, each time the one that lies nearest to hand."""
        left = list(seams)
        while left:
            ways = [way for seam in left for way in self._ways(seam)]
            # Of equals the first: seams in the order of the piece, each forward before backward.
            _, best = min(ways, key=lambda way: way[0])
            self._sew(best)
            left.remove(best.seam)

    def _ways(self, seam: SeamPlan) -> Iterator[tuple[int, Sewing]]:
        """The ways to sew a seam, each with how far it lies from the hands; 0 is nearest."""
        open_first = {"start": (True,), "end": (False,), None: (False, True)}[seam.open_at]
        for backward in open_first:
            sewing = Sewing(seam, backward)
            begin = sewing.begin
            if self._thread_reaches(seam, begin):
                yield 0, replace(sewing, tail=self.done[-1].tail, goes_on=True)
                continue
            for number, end in self._tails_at(seam, begin):
                lacking = seam.sewing_cm + GRAFT_END_CM - (end.cm or 0.0)
                if end.cm is None:
                    yield 2, replace(sewing, tail=number)
                elif lacking <= LEEWAY_CM:
                    yield 1, replace(sewing, tail=number)
                elif seam.is_graft and end.cm > GRAFT_END_CM:
                    yield 2, replace(sewing, short_cm=lacking, short_tail=number)
            yield (3 if self._is_closed(begin) else 4), sewing

    def _thread_reaches(self, seam: SeamPlan, begin: tuple[Place, Place]) -> bool:
        """Whether the thread of the seam before hangs there and is long enough."""
        if not self.done or not seam.is_graft or self._thread_cm + LEEWAY_CM < seam.sewing_cm:
            return False
        before = self.done[-1]
        same_yarn = before.seam.yarn == seam.yarn and before.seam.is_graft
        return same_yarn and any(here.is_near(there) for here in begin for there in before.end)

    def _tails_at(self, seam: SeamPlan, begin: tuple[Place, Place]) -> Iterator[tuple[int, StrandEnd]]:
        for number, end in enumerate(self._ends):
            hangs = Place(end.needle, end.passes)
            if number in self._used or end.yarn != seam.yarn or not end.cut:
                continue
            if any(hangs.is_near(place) for place in begin):
                yield number, end

    def _is_closed(self, begin: tuple[Place, Place]) -> bool:
        """Whether a seam sewn before ends there: one sews from the closed end to the open one."""
        return any(
            here.is_near(there) for done in self.done for there in (*done.begin, *done.end) for here in begin
        )

    def _sew(self, sewing: Sewing) -> None:
        if sewing.goes_on:
            self._thread_cm -= sewing.seam.sewing_cm
        elif sewing.tail is not None:
            self._thread_cm = (self._ends[sewing.tail].cm or 0.0) - GRAFT_END_CM - sewing.seam.sewing_cm
        else:
            self._thread_cm = 0.0
        if sewing.tail is not None:
            self._used.add(sewing.tail)
        self.done.append(sewing)
