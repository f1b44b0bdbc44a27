"""Loops that are still open at the end: on waste, above or below the fabric, or on the bed.

A loop is open at its head if waste and nothing else is drawn through it, or if it stands on a needle; it is
open at its foot if it is drawn through waste. Waste lets go of a loop that is hung on a needle again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import YarnRole
from bedview.bed.fabric import KNIT, Fabric, is_wrap
from bedview.bed.ledger import stacked
from bedview.bed.timeline import Timeline
from bedview.plan.procedure import Procedure
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment

Loops = npt.NDArray[np.int32]


class Where(StrEnum):
    """What holds open loops."""

    WASTE = "waste"
    """Waste is drawn through them."""
    WASTE_START = "waste_start"
    """They are the first row, drawn through waste."""
    BED = "bed"
    """They stand on needles."""


@dataclass(frozen=True, slots=True)
class OpenGroup:
    """Open loops that left the machine together, or still stand on it.

    Attributes:
        name: what the piece calls it; empty if it does not.
        where: what holds the loops.
        loops: loop ids, from left to right.
        needles: index of the needle each of them hung on, from the left.
        passes: the pass that dropped them on their waste; of a waste start the first pass of the fabric; on
            the bed (and on waste that never dropped) the passes made in all.
        waste_rows: rows of waste on them, ravel cord counted.
        cord: whether the row next to them is of ravel cord.
    """

    name: str
    where: Where
    loops: tuple[int, ...]
    needles: tuple[int, ...]
    passes: int
    waste_rows: int = 0
    cord: bool = False

    @property
    def on_waste(self) -> bool:
        """Whether waste has to be taken out."""
        return self.where is not Where.BED


def open_groups(procedure: Procedure) -> list[OpenGroup]:
    """All groups of open loops at the end, in the order in which they came to be."""
    timeline = procedure.timeline
    if not len(timeline.fabric):
        return []
    groups = [*_started(procedure), *_scrapped_off(procedure)]
    standing = _standing(timeline)
    return [*groups, standing] if standing is not None else groups


# -- on waste ---------------------------------------------------------------------------------------------


def _scrapped_off(procedure: Procedure) -> Iterator[OpenGroup]:
    """Groups with waste above them, one for each row of waste that begins on fabric."""
    timeline = procedure.timeline
    fabric = timeline.fabric
    loops, waste = _drawn_through_by_waste(fabric)
    ledger = timeline.machine.ledger
    free = [not ledger.drawn_through_by_fabric(fabric, loop) for loop in loops.tolist()]
    loops, waste = loops[free], waste[free]
    passes = fabric.pass_of(waste)
    for number in np.unique(passes).tolist():
        mine = passes == number
        order = np.argsort(fabric.needle[waste[mine]], kind="stable")
        group, above = loops[mine][order], waste[mine][order]
        dropped, rows = _drop_of(timeline, int(above[0]), number)
        yield OpenGroup(
            name=_name(procedure, int(above[0]), ScrapOffSegment),
            where=Where.WASTE,
            loops=tuple(group.tolist()),
            needles=tuple(fabric.needle[above].tolist()),
            passes=dropped,
            waste_rows=rows,
            cord=_is_cord(fabric, int(above[0])),
        )


def _drawn_through_by_waste(fabric: Fabric) -> tuple[Loops, Loops]:
    """Fabric loops that waste is drawn through, and the waste loop through each."""
    every = np.arange(len(fabric), dtype=np.int32)
    waste = every[fabric.kind == KNIT]
    waste = waste[fabric.waste(waste)]
    found, through = [np.empty(0, np.int32)], [np.empty(0, np.int32)]
    nodes = fabric.under_of(waste)
    while len(waste := waste[there := nodes >= 0]):
        nodes = nodes[there]
        loops = fabric.loops_of(nodes)
        let_go = np.array([fabric.let_go.get(loop, -1) for loop in loops.tolist()])
        held = ~fabric.waste(loops) & ~is_wrap(fabric.kind[loops]) & (waste >= let_go)
        found.append(loops[held])
        through.append(waste[held])
        nodes = fabric.below_of(nodes)
    return np.concatenate(found), np.concatenate(through)


def _drop_of(timeline: Timeline, waste: int, since: int) -> tuple[int, int]:
    """The pass that dropped a waste loop's wale, and its rows of waste; all passes if none did."""
    fabric, ledger = timeline.fabric, timeline.machine.ledger
    for number in reversed(ledger.drops_of(int(fabric.needle[waste]))):
        drop = ledger.drops[number]
        if drop.pass_number < since:
            continue
        top = next((loop for loop in fabric.stack(drop.node) if not fabric.is_wrap(loop)), -1)
        return drop.pass_number, _rows_of_waste(fabric, top)
    return timeline.passes, 0


def _rows_of_waste(fabric: Fabric, top: int) -> int:
    """Rows of waste in a wale from ``top`` down to fabric or the cast-on."""
    rows = 0
    while top >= 0 and fabric.is_waste(top) and fabric.kind[top] == KNIT:
        rows += 1
        top = int(fabric.upper_parents(np.array([top], np.int32))[0])
    return rows


def _started(procedure: Procedure) -> Iterator[OpenGroup]:
    """First rows of fabric that were knitted on waste, and are not hung elsewhere since."""
    fabric = procedure.timeline.fabric
    if not fabric.has_waste:
        return
    loops = np.arange(len(fabric), dtype=np.int32)
    loops = loops[fabric.kind == KNIT]
    loops = loops[~fabric.waste(loops)]
    below = fabric.upper_parents(loops)
    first = below >= 0
    first[first] = fabric.waste(below[first])
    loops, below = loops[first], below[first]
    hung = np.array([loop in fabric.let_go for loop in loops.tolist()], np.bool_)
    loops, below = loops[~hung], below[~hung]
    passes = fabric.pass_of(loops)
    for number in np.unique(passes).tolist():
        mine = np.flatnonzero(passes == number)
        mine = mine[np.argsort(fabric.needle[loops[mine]], kind="stable")]
        yield OpenGroup(
            name=_name(procedure, int(below[mine[0]]), CastOnSegment),
            where=Where.WASTE_START,
            loops=tuple(loops[mine].tolist()),
            needles=tuple(fabric.needle[loops[mine]].tolist()),
            passes=number,
            waste_rows=_rows_of_waste(fabric, int(below[mine[0]])),
            cord=_is_cord(fabric, int(below[mine[0]])),
        )


def _is_cord(fabric: Fabric, waste: int) -> bool:
    return fabric.roles[int(fabric.yarn_of(np.array([waste]))[0])] is YarnRole.RAVEL


def _name(procedure: Procedure, waste: int, kind: type[ScrapOffSegment] | type[CastOnSegment]) -> str:
    """What the segment that made a waste loop calls the loops it holds."""
    action = int(procedure.timeline.fabric.action_of(np.array([waste]))[0])
    for span in reversed(procedure.spans_of_action(action)):
        if isinstance(span.segment, kind):
            return span.segment.group
    return ""


# -- on the bed -------------------------------------------------------------------------------------------


def _standing(timeline: Timeline) -> OpenGroup | None:
    """Fabric loops that still stand on needles, the uppermost of each."""
    state, fabric = timeline.state, timeline.fabric
    at, loops, wraps = stacked(fabric, state.bearing, state.top[state.bearing])
    kept = ~wraps & ~fabric.waste(loops)
    top: dict[int, int] = {}
    for needle, loop in zip(at[kept].tolist(), loops[kept].tolist(), strict=True):
        top.setdefault(needle, loop)
    if not top:
        return None
    needles = tuple(sorted(top))
    return OpenGroup("", Where.BED, tuple(top[needle] for needle in needles), needles, timeline.passes)
