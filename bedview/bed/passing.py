"""The carriage crosses the bed: one pass, and many like passes at once.

The order of making in a pass is fixed by the rules: first the needles in hold that the yarn lies across on
its way from the strand's tip to the stretch, from the tip inward; then the stretch itself in the direction
of travel. Where the last pass left exactly one loop on every acting needle and nothing was touched since,
all further passes are alike, and their loops are written down as one block.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from bedview.bed import actions as do
from bedview.bed.actions import YarnRole
from bedview.bed.events import NO_FACTS, NONE, Event, Facts, Indices
from bedview.bed.fabric import HAND_WRAP, KNIT, LAID_IN, NOTHING, WRAP, Ints, NewLoops
from bedview.bed.ledger import Fallen, stacked
from bedview.bed.needles import Side
from bedview.bed.state import HOLD, OUT, WORK, BedState, Reach, index_of

if TYPE_CHECKING:
    from bedview.bed.rules import Machine

ENOUGH_WASTE_ROWS: Final = 4
MOST_WRAPS: Final = 4


def knit(machine: Machine, state: BedState, number: int, line: int, action: do.Knit) -> Iterator[Event]:
    """Make the passes of one ``knit``, an event at a time; see :meth:`bedview.bed.rules.Machine.apply`."""
    wrong_side = action.start is not None and action.start is not state.carriage
    done = 0
    while done < action.rows:
        left = action.rows - done
        reach = state.what_acts()
        if state.steady and state.threaded:
            event = _like_rows(machine, state, number, reach, left)
        elif _idle(state, reach):
            event = _cross(state, left)
        elif state.threaded:
            event = _threaded_pass(machine, state, number, reach)
        else:
            event = _unthreaded_pass(machine, state, number, reach)
        event.action, event.line = number, line + done
        if wrong_side and not done:
            event.facts = replace(event.facts, wrong_side=True)
        done += event.lines
        yield event


def _idle(state: BedState, reach: Reach) -> bool:
    """Whether only the carriage will move: no needle acts, or none that does has anything to drop."""
    if not len(reach.acting):
        return True
    return not state.threaded and reach.settled and not state.height[reach.acting].any()


def _cross(
    state: BedState,
    rows: int,
    knit: Indices = NONE,
    wrapped: Indices = NONE,
    laid_in: Indices = NONE,
    facts: Facts = NO_FACTS,
) -> Event:
    """Move the carriage and the counters; the event has neither action nor line yet."""
    event = Event(0, 0, rows, state.passes + 1, state.yarn, knit, wrapped, NONE, laid_in, facts, is_pass=True)
    state.passes += rows
    state.row += rows
    if rows % 2:
        state.carriage = state.carriage.other
    return event


def _in_travel(state: BedState, needles: Indices) -> Indices:
    """Ascending needles in the order in which the carriage will meet them."""
    return needles[::-1] if state.carriage is Side.RIGHT else needles


def _like_rows(machine: Machine, state: BedState, number: int, reach: Reach, rows: int) -> Event:
    """Rows over needles that each bear one loop, with the tip among them and nothing held between them."""
    order, back = reach.rightward, reach.leftward
    if state.carriage is Side.RIGHT:
        order, back = back, order
    count = len(reach.acting)
    level = state.highest[order] + 1
    if machine.recording:
        needles = _in_travel(state, reach.acting)
        new = NewLoops(needles, KNIT, state.begun[order], level, state.top[order])
        machine.fabric.open_course(number, state.strand, state.passes + 1, state.tip, rows, count)
        machine.fabric.add_rows(new, rows)
    level += rows - 1
    state.highest[order] = state.level[order] = level
    state.next_loop += count * rows
    state.tip = state.next_loop - 1
    last = order if rows % 2 else back
    state.top[last] = np.arange(state.next_loop - count, state.next_loop, dtype=np.int32)
    return _cross(state, rows, reach.acting)


def _threaded_pass(machine: Machine, state: BedState, number: int, reach: Reach) -> Event:
    acting, at = reach.acting, reach.rightward
    outside, inside = _wrapped(machine, state, reach)
    facts = _facts_of_knitting(machine, state, reach, outside) if machine.recording else NO_FACTS
    order = _in_travel(state, np.sort(np.concatenate((acting, inside))) if len(inside) else acting)
    wrapped = inside
    if len(outside):
        order = np.concatenate((outside, order))
        wrapped = np.sort(np.concatenate((outside, inside)))
    laid_in = NONE
    if np.count_nonzero(state.height[at]) < len(acting):
        laid_in = acting[state.height[at] == 0]
        state.begun[laid_in] += 1
    level = state.level.copy()
    level[at] = state.highest[at] + 1
    _make(machine, state, number, order, level, reach, laid_in)

    state.height[at] = 1
    state.wraps[at] = 0
    state.level[at] = state.highest[at] = level[at]
    if len(wrapped):
        facts = _wraps_laid(state, wrapped, facts)
    if not reach.settled:
        state.position[at] = WORK
        state.reach = Reach(acting, reach.inside, settled=True)
    state.steady = not len(reach.inside)
    return _cross(state, 1, acting, wrapped, laid_in, facts)


def _make(
    machine: Machine,
    state: BedState,
    number: int,
    order: Indices,
    level: Ints,
    reach: Reach,
    laid_in: Indices,
) -> None:
    """Let the strand make its loops on the needles of ``order``; ``level`` has one for each of the bed."""
    if machine.recording:
        kind: npt.NDArray[np.uint8] | int = KNIT
        if len(laid_in) or len(order) > len(reach.acting):
            kinds = np.full(state.needles, WRAP, np.uint8)
            kinds[reach.rightward] = KNIT
            kinds[laid_in] = LAID_IN
            kind = kinds[order]
        machine.fabric.open_course(number, state.strand, state.passes + 1, state.tip)
        machine.fabric.add(NewLoops(order, kind, state.begun[order], level[order], state.top[order]))
    end = state.next_loop + len(order)
    state.top[order] = np.arange(state.next_loop, end, dtype=np.int32)
    state.next_loop, state.tip = end, end - 1


def _wraps_laid(state: BedState, wrapped: Indices, facts: Facts) -> Facts:
    """Count the wraps on needles that the pass wraps; the facts, with those that bear too many now."""
    at = index_of(wrapped)
    state.height[at] += 1
    state.wraps[at] += 1
    state.highest[at] = np.maximum(state.highest[at], state.level[at])
    many = wrapped[state.wraps[at] == MOST_WRAPS + 1]
    return replace(facts, many_wraps=many) if len(many) else facts


def _wrapped(machine: Machine, state: BedState, reach: Reach) -> tuple[Indices, Indices]:
    """Needles the coming pass wraps: outside its stretch, from the tip inward, and inside, ascending."""
    if not state.hold_cams:
        return NONE, NONE
    outside, inside = NONE, reach.inside
    if state.tip == NOTHING:
        return outside, inside
    stands = where_it_stands(machine, state, state.tip)
    start = stands if stands != NOTHING else int(machine.fabric.needle[state.tip])
    if start > reach.last:
        outside = start - (state.position[reach.last + 1 : start + 1][::-1] == HOLD).nonzero()[0]
    elif start < reach.first:
        outside = start + (state.position[start : reach.first] == HOLD).nonzero()[0]
    if stands != NOTHING and machine.fabric.kind[state.tip] == HAND_WRAP:
        outside, inside = outside[outside != stands], inside[inside != stands]
    return outside, inside


def where_it_stands(machine: Machine, state: BedState, loop: int) -> int:
    """The needle on whose stack a loop lies now, or -1 if it has left the bed."""
    fabric = machine.fabric
    made_on = int(fabric.needle[loop])
    if state.top[made_on] == loop:
        return made_on
    at, loops, _ = stacked(fabric, np.arange(state.needles), state.top)
    found = at[loops == loop]
    return int(found[0]) if len(found) else NOTHING


def _facts_of_knitting(machine: Machine, state: BedState, reach: Reach, outside: Indices) -> Facts:
    at = reach.rightward
    wraps = state.wraps[at]
    formed = state.height[at] > wraps
    unformed = NONE if formed.all() else reach.acting[~formed]
    held_knitted = _held_knitted(state, reach)
    caught = NONE
    if np.count_nonzero(wraps) and machine.fabric.roles[state.yarn] is YarnRole.FABRIC:
        caught = machine.waste_wrapped(state, reach.acting[wraps > 0])
    if not (len(unformed) or len(held_knitted) or len(caught) or len(outside) > 1):
        return NO_FACTS
    outside = np.sort(outside)
    return Facts(held_knitted=held_knitted, unformed=unformed, outside=outside, waste_caught=caught)


def _held_knitted(state: BedState, reach: Reach) -> Indices:
    """Needles that act from hold though the hold cams were not set off since they were placed there."""
    if state.hold_cams or reach.settled:
        return NONE
    held = state.position == HOLD
    bears = state.height > 0
    acts_anyway = (state.position != HOLD) & (state.position != OUT)
    if not (acts_anyway & bears).any():
        return NONE
    return np.flatnonzero(held & bears & (state.held_since > state.cams_off_at))


def _unthreaded_pass(machine: Machine, state: BedState, number: int, reach: Reach) -> Event:
    """Every needle that acts drops all it bears."""
    acting = reach.acting
    dropped = acting[state.height[acting] > 0]
    facts = NO_FACTS
    if machine.recording and len(dropped):
        held = _held_knitted(state, reach)
        unsecured, short_waste = _record_drop(machine, state, number, dropped)
        facts = Facts(held_knitted=held, unsecured=unsecured, short_waste=short_waste)
    state.top[acting] = state.highest[acting] = NOTHING
    state.height[acting] = state.wraps[acting] = state.level[acting] = 0
    state.position[acting] = WORK
    state.touched()
    event = _cross(state, 1)
    event.dropped, event.facts = dropped, facts
    return event


def _record_drop(machine: Machine, state: BedState, number: int, dropped: Indices) -> tuple[Indices, Indices]:
    """Enter a drop into the ledger.

    Returns:
        Needles that lost fabric loops which nothing secures, and needles on too few rows of waste.
    """
    fabric, ledger = machine.fabric, machine.ledger
    first = ledger.note_drops(dropped, state.passes + 1, state.top[dropped])
    at, loops, wraps = stacked(fabric, dropped, state.top[dropped])
    at, loops = at[~wraps], loops[~wraps]
    if fabric.let_go:
        place = {needle: first + k for k, needle in enumerate(dropped.tolist())}
        for needle, loop in zip(at.tolist(), loops.tolist(), strict=True):
            if loop in fabric.let_go:
                ledger.again.append((loop, place[needle]))
    waste = fabric.waste(loops)
    lost = ~waste & ~ledger.secured(loops)
    if lost.any():
        ledger.fallen.append(Fallen(number, True, loops[lost]))
    return np.unique(at[lost]), np.unique(_on_short_waste(machine, at[waste], loops[waste]))


def _on_short_waste(machine: Machine, at: Indices, loops: Ints) -> Indices:
    """Needles on which waste loops reach a fabric loop in fewer than four rows."""
    fabric = machine.fabric
    short: list[Indices] = []
    for _ in range(ENOUGH_WASTE_ROWS - 1):
        loops = fabric.upper_parents(loops)
        at, loops = at[loops >= 0], loops[loops >= 0]
        waste = fabric.waste(loops)
        short.append(at[~waste])
        at, loops = at[waste], loops[waste]
    return np.concatenate(short)
