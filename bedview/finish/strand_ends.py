"""Where every strand of the fabric begins and ends: the tails that hang from the piece."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from bedview.bed.actions import Cut, Park, Resume, Thread, YarnRole
from bedview.bed.fabric import Fabric
from bedview.plan.procedure import Procedure

_CHUNK = 1 << 20
"""Loops looked at in one go."""


@dataclass(frozen=True, slots=True)
class StrandEnd:
    """One end of a strand.

    Attributes:
        yarn: index into the piece's yarns.
        is_start: whether the strand begins here.
        loop: its first or last loop.
        needle: index of the needle that loop was made on.
        passes: passes made when it was made.
        cm: how long its tail is; None where the plan does not say.
        cut: whether it hangs free; else the strand still leads to its ball.
    """

    yarn: int
    is_start: bool
    loop: int
    needle: int
    passes: int
    cm: float | None
    cut: bool = True


@dataclass(slots=True)
class _Feeder:
    """Which strand is where while the actions are read; strands are numbered as the bed numbers them."""

    now: int = -1
    begun: int = 0
    waiting: dict[str, list[tuple[int, str]]] = field(default_factory=dict)
    yarn: str = ""
    cut: dict[int, float | None] = field(default_factory=dict)

    def thread(self, yarn: str) -> None:
        if self.now >= 0:
            self.cut[self.now] = None
        self.now, self.yarn = self.begun, yarn
        self.begun += 1

    def park(self) -> None:
        self.waiting.setdefault(self.yarn, []).append((self.now, self.yarn))
        self.now = -1

    def resume(self, yarn: str) -> None:
        strand = self.waiting[yarn].pop()
        if self.now >= 0:
            self.park()
        self.now, self.yarn = strand


def strand_ends(procedure: Procedure) -> list[StrandEnd]:
    """Both ends of every strand of fabric yarn that made a loop, in the order in which strands began."""
    fabric = procedure.timeline.fabric
    cut = _cuts(procedure)
    ends: list[StrandEnd] = []
    for strand, (first, last) in sorted(_reach(fabric).items()):
        yarn = int(fabric.strand_yarn.values[strand])
        if fabric.roles[yarn] is not YarnRole.FABRIC:
            continue
        ends.append(_end(fabric, yarn, first, is_start=True, cm=None, cut=True))
        ends.append(_end(fabric, yarn, last, is_start=False, cm=cut.get(strand), cut=strand in cut))
    return ends


def _end(fabric: Fabric, yarn: int, loop: int, *, is_start: bool, cm: float | None, cut: bool) -> StrandEnd:
    passes = int(fabric.pass_of(np.array([loop]))[0])
    return StrandEnd(yarn, is_start, loop, int(fabric.needle[loop]), passes, cm, cut)


def _reach(fabric: Fabric) -> dict[int, tuple[int, int]]:
    """First and last loop of each strand that made one."""
    reach: dict[int, tuple[int, int]] = {}
    for start in range(0, len(fabric), _CHUNK):
        loops = np.arange(start, min(start + _CHUNK, len(fabric)))
        strands = fabric.strand_of(loops)
        here, first = np.unique(strands, return_index=True)
        _, last = np.unique(strands[::-1], return_index=True)
        for strand, low, high in zip(here.tolist(), first.tolist(), last.tolist(), strict=True):
            begun = reach.get(strand, (start + low, 0))[0]
            reach[strand] = begun, start + len(loops) - 1 - high
    return reach


def _cuts(procedure: Procedure) -> dict[int, float | None]:
    """Strands that were cut, and the tail each was left with, where that was said."""
    feeder = _Feeder()
    for action in procedure.actions:
        match action:
            case Thread(yarn):
                feeder.thread(yarn)
            case Cut(tail_cm):
                feeder.cut[feeder.now] = tail_cm
                feeder.now = -1
            case Park():
                feeder.park()
            case Resume(yarn):
                feeder.resume(yarn)
            case _:
                pass
    return feeder.cut
