"""Edges: which loops a seam joins, or a hand hangs on needles.

Loops count from left to right, or from the first pass to the last.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from bedview.bed.actions import Edge, MadeEdge, Maker, OpenEdge, SideEdge, YarnRole
from bedview.bed.events import NONE, Event, Indices
from bedview.bed.fabric import Fabric, Ints, LoopKind, is_wrap
from bedview.bed.ledger import stacked
from bedview.bed.needles import NeedleIndex, Side, needle_name
from bedview.bed.state import BedState
from bedview.language import gettext as _
from bedview.language import marked

if TYPE_CHECKING:
    from bedview.bed.rules import Machine


class EdgeError(ValueError):
    """An edge that is not there, with the needle and the reason in one sentence."""


def edge_loops(machine: Machine, state: BedState, edge: Edge) -> list[int]:
    """The fabric loops of an edge.

    Args:
        machine: fabric and ledger as they are at ``state``.
        state: the present moment.
        edge: what to look for.

    Returns:
        Loop ids from left to right (of a side: from the first pass to the last).

    Raises:
        EdgeError: if there is no such loop, or fabric is already drawn through an open one.
    """
    match edge:
        case OpenEdge():
            return _open_loops(machine, state, sorted(edge.needles), edge.in_pass)
        case MadeEdge():
            return _made_loops(machine, edge)
        case SideEdge():
            return _side_loops(machine, edge)


def refuse_unhangable(machine: Machine, state: BedState, loops: list[int], places: int) -> None:
    """Check that an edge can be hung on ``places`` needles.

    Raises:
        EdgeError: if the counts differ, a loop is named twice, or one stands on a needle.
    """
    if len(loops) != places:
        raise EdgeError(
            _("the edge has {loops} loops, but {places} needles are named").format(
                loops=len(loops), places=places
            )
        )
    if len(set(loops)) < len(loops):
        raise EdgeError(_("the edge names a loop twice"))
    at, standing = stacked(machine.fabric, state.bearing, state.top[state.bearing])[:2]
    on_bed = at[np.isin(standing, np.array(loops, np.int32))]
    if len(on_bed):
        raise EdgeError(
            _("a loop of the edge stands on {needle}").format(needle=_name(machine, int(on_bed.min())))
        )


def waste_wrapped(fabric: Fabric, needles: Indices, tops: Ints) -> Indices:
    """Those of ``needles`` whose stack holds a wrap of waste yarn or ravel cord, ascending."""
    if not fabric.has_waste:
        return NONE
    at, loops, wraps = stacked(fabric, needles, tops)
    at, loops = at[wraps], loops[wraps]
    return np.unique(at[fabric.waste(loops)])


def _name(machine: Machine, needle: int) -> str:
    return needle_name(NeedleIndex(needle), machine.bed.needles)


# -- open loops -------------------------------------------------------------------------------------------


def _open_loops(machine: Machine, state: BedState, needles: list[int], in_pass: int | None) -> list[int]:
    loops = {needle: _uppermost(machine, state, needle, in_pass) for needle in needles}
    below = _fabric_below_each(machine.fabric, [loop for loop in loops.values() if loop is not None])
    return [_open_loop(machine, needle, in_pass, loop, below) for needle, loop in loops.items()]


def _open_loop(
    machine: Machine, needle: int, in_pass: int | None, loop: int | None, below: Mapping[int, int | None]
) -> int:
    """The fabric loop below the loop of a needle, if both are there and it is open."""
    fabric, name = machine.fabric, _name(machine, needle)
    if loop is None:
        if in_pass is None:
            raise EdgeError(_("no open loop stands on {name} or dropped from it").format(name=name))
        raise EdgeError(
            _("no open loop stands on {name} or dropped from it in pass {in_pass}").format(
                name=name, in_pass=in_pass
            )
        )
    found = below[loop]
    if found is None:
        raise EdgeError(_("the waste from {name} holds no fabric loop").format(name=name))
    if machine.ledger.drawn_through_by_fabric(fabric, found):
        raise EdgeError(_("the loop from {name} is not open: fabric is drawn through it").format(name=name))
    return found


def _uppermost(machine: Machine, state: BedState, needle: int, in_pass: int | None) -> int | None:
    """The uppermost loop, wraps aside, that stands on a needle or dropped from it last (or in that pass)."""
    fabric, ledger = machine.fabric, machine.ledger
    if in_pass is None and state.height[needle]:
        standing = fabric.stack(int(state.top[needle]))
        return next((loop for loop in standing if not fabric.is_wrap(loop)), None)
    for number in ledger.drops_of(needle):
        drop = ledger.drops[number]
        if in_pass is not None and drop.pass_number != in_pass:
            continue
        for loop in fabric.stack(drop.node):
            if not fabric.is_wrap(loop) and ledger.latest_drop(loop, number) == number:
                return loop
    return None


def _fabric_below_each(fabric: Fabric, loops: list[int]) -> dict[int, int | None]:
    """As :func:`fabric_below` for each of some loops, which go down together while the way is straight."""
    below = np.array(loops, np.int32)
    while len(waste := np.flatnonzero(below >= 0)):
        waste = waste[fabric.waste(below[waste])]
        if not len(waste):
            break
        below[waste] = fabric.upper_parents(below[waste])
    found: dict[int, int | None] = dict(zip(loops, below.tolist(), strict=True))
    return {loop: fabric_below(fabric, loop) if low == -1 else low for loop, low in found.items()}


def fabric_below(fabric: Fabric, loop: int) -> int | None:
    """The uppermost fabric loop that ``loop`` is or was drawn through as waste; None if there is none.

    Waste is followed downward, row by row, from the top of each stack it was drawn through.
    """
    to_see = [loop]
    while to_see:
        loop = to_see.pop()
        if not fabric.is_waste(loop):
            return loop
        to_see.extend(parent for parent in reversed(fabric.parents(loop)) if not fabric.is_wrap(parent))
    return None


# -- loops of one making ----------------------------------------------------------------------------------

_NONE_MADE = {
    Maker.PASS: marked("pass {in_pass} made no fabric loop"),
    Maker.CAST_ON: marked("cast-on after pass {in_pass} made no fabric loop"),
    Maker.BIND_OFF: marked("bind-off after pass {in_pass} made no fabric loop"),
}
_NONE_MADE_ON = {
    Maker.PASS: marked("pass {in_pass} made no fabric loop on {needle}"),
    Maker.CAST_ON: marked("cast-on after pass {in_pass} made no fabric loop on {needle}"),
    Maker.BIND_OFF: marked("bind-off after pass {in_pass} made no fabric loop on {needle}"),
}


def _made_loops(machine: Machine, edge: MadeEdge) -> list[int]:
    by = edge.by or (Maker.CAST_ON if edge.in_pass == 0 else Maker.PASS)
    kinds = {
        Maker.PASS: (LoopKind.KNIT, LoopKind.LAID_IN),
        Maker.CAST_ON: (LoopKind.CAST_ON,),
        Maker.BIND_OFF: (LoopKind.BIND,),
    }[by]
    fabric = machine.fabric
    start, end = fabric.loops_of_pass(edge.in_pass)
    loops = start + np.flatnonzero(np.isin(fabric.kind[start:end], kinds))
    loops = loops[~fabric.waste(loops)] if len(loops) else loops
    last_on: dict[int, int] = dict(zip(fabric.needle[loops].tolist(), loops.tolist(), strict=True))
    needles = sorted(last_on) if edge.needles is None else sorted(edge.needles)
    for needle in needles:
        if needle not in last_on:
            raise EdgeError(_(_NONE_MADE_ON[by]).format(in_pass=edge.in_pass, needle=_name(machine, needle)))
    if not needles:
        raise EdgeError(_(_NONE_MADE[by]).format(in_pass=edge.in_pass))
    return [last_on[needle] for needle in needles]


# -- sides ------------------------------------------------------------------------------------------------


def _side_loops(machine: Machine, edge: SideEdge) -> list[int]:
    end = -1 if edge.side is Side.RIGHT else 0
    found: list[int] = []
    for event, state in machine.walk_passes(edge.first, edge.last):
        # The passes of one event knit the same needles, so the same one is outermost after each of them.
        if len(event.knit) and event.knit[end] == _outermost_bearing(machine, state, end):
            rows = range(max(edge.first - event.passes, 0), min(edge.last + 1 - event.passes, event.lines))
            found.extend(_knitted_on(machine.fabric, event, int(event.knit[end]), rows))
    if not found:
        text = _("no left edge in passes {first} to {last}")
        if edge.side is Side.RIGHT:
            text = _("no right edge in passes {first} to {last}")
        raise EdgeError(text.format(first=edge.first, last=edge.last))
    return found


def _knitted_on(fabric: Fabric, event: Event, needle: int, rows: range) -> list[int]:
    """The loop that some of an event's passes each knitted on a needle; none if they are of waste."""
    start = fabric.loops_of_pass(event.passes)[0]
    if fabric.roles[event.yarn] is not YarnRole.FABRIC:
        return []
    width = len(event.knit) + len(event.wrapped)
    first, stop = start + rows.start * width, start + rows.stop * width
    made = (fabric.needle[first:stop] == needle) & ~is_wrap(fabric.kind[first:stop])
    loops: list[int] = (first + np.flatnonzero(made)).tolist()
    return loops


def _outermost_bearing(machine: Machine, state: BedState, end: int) -> int:
    """The outermost needle on one side that bears fabric yarn (a wrap alone counts, as everywhere)."""
    bearing = state.bearing
    if not machine.fabric.has_waste:
        return int(bearing[end])
    at, loops, _wraps = stacked(machine.fabric, bearing, state.top[bearing])
    fabric_at = np.sort(at[~machine.fabric.waste(loops)])
    return int(fabric_at[end]) if len(fabric_at) else -1
