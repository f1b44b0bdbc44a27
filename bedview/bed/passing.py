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

from bedview.bed import actions as do
from bedview.bed.actions import YarnRole
from bedview.bed.events import NO_FACTS, NONE, Event, Facts, Indices
from bedview.bed.fabric import NOTHING, Ints, LoopKind, NewLoops
from bedview.bed.ledger import Fallen, stacked
from bedview.bed.needles import Position, Side
from bedview.bed.state import BedState, Reach

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


def _cross(state: BedState, rows: int) -> Event:
    """Move the carriage and the counters; the event is still empty."""
    event = Event(0, 0, rows, state.passes + 1, state.yarn, is_pass=True)
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
    order = reach.leftward if state.carriage is Side.RIGHT else reach.acting
    count = len(order)
    if machine.recording:
        level = state.highest[order] + 1
        new = NewLoops(order, LoopKind.KNIT, state.begun[order], level, state.top[order])
        machine.fabric.open_course(number, state.strand, state.passes + 1, state.tip, rows, count)
        machine.fabric.add_rows(new, rows)
    state.next_loop += count * rows
    state.tip = state.next_loop - 1
    last = order if rows % 2 else order[::-1]
    state.top[last] = np.arange(state.next_loop - count, state.next_loop, dtype=np.int32)
    state.highest[order] += rows
    state.level[order] = state.highest[order]
    event = _cross(state, rows)
    event.knit = reach.acting
    return event


def _threaded_pass(machine: Machine, state: BedState, number: int, reach: Reach) -> Event:
    acting = reach.acting
    empty = state.height[acting] == 0
    laid_in = acting[empty]
    outside, inside = _wrapped(machine, state, reach)
    facts = _facts_of_knitting(machine, state, reach, outside) if machine.recording else NO_FACTS
    stretch = _in_travel(state, np.sort(np.concatenate((acting, inside))) if len(inside) else acting)
    needles = np.concatenate((outside, stretch)) if len(outside) else stretch
    wrapped = np.concatenate((outside, inside))

    kind = np.full(state.needles, LoopKind.WRAP, np.uint8)
    kind[acting] = np.where(empty, LoopKind.LAID_IN, LoopKind.KNIT)
    level = state.level.copy()
    level[acting] = state.highest[acting] + 1
    state.begun[laid_in] += 1
    if machine.recording:
        machine.fabric.open_course(number, state.strand, state.passes + 1, state.tip)
        new = NewLoops(needles, kind[needles], state.begun[needles], level[needles], state.top[needles])
        machine.fabric.add(new)

    ids = np.arange(state.next_loop, state.next_loop + len(needles), dtype=np.int32)
    state.top[needles] = ids
    state.next_loop += len(needles)
    state.tip = state.next_loop - 1
    state.height[acting] = 1
    state.wraps[acting] = 0
    state.level[acting] = state.highest[acting] = level[acting]
    state.position[acting] = Position.WORK
    if len(wrapped):
        state.height[wrapped] += 1
        state.wraps[wrapped] += 1
        state.highest[wrapped] = np.maximum(state.highest[wrapped], level[wrapped])
        if machine.recording:
            many = np.sort(wrapped[state.wraps[wrapped] == MOST_WRAPS + 1])
            if len(many):
                facts = replace(facts, many_wraps=many)
    state.steady = not len(reach.inside)
    if not reach.settled:
        state.reach = None
        state.what_acts()
    event = _cross(state, 1)
    event.knit, event.laid_in, event.facts = acting, laid_in, facts
    event.wrapped = np.sort(wrapped)
    return event


def _wrapped(machine: Machine, state: BedState, reach: Reach) -> tuple[Indices, Indices]:
    """Needles the coming pass wraps: outside its stretch, from the tip inward, and inside, ascending."""
    if not state.hold_cams:
        return NONE, NONE
    inside = reach.inside
    outside = NONE
    if state.tip == NOTHING:
        return outside, inside
    stands = where_it_stands(machine, state, state.tip)
    start = stands if stands != NOTHING else int(machine.fabric.needle[state.tip])
    first, last = int(reach.acting[0]), int(reach.acting[-1])
    held = state.position == Position.HOLD
    if start > last:
        outside = start - np.flatnonzero(held[last + 1 : start + 1][::-1])
    elif start < first:
        outside = start + np.flatnonzero(held[start:first])
    if stands != NOTHING and machine.fabric.kind[state.tip] == LoopKind.HAND_WRAP:
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
    acting = reach.acting
    unformed = acting[state.height[acting] == state.wraps[acting]]
    held_knitted = _held_knitted(state, reach)
    caught = NONE
    if machine.fabric.roles[state.yarn] is YarnRole.FABRIC:
        caught = machine.waste_wrapped(state, acting[state.wraps[acting] > 0])
    if not (len(unformed) or len(held_knitted) or len(caught) or len(outside)):
        return NO_FACTS
    return Facts(held_knitted=held_knitted, unformed=unformed, outside=np.sort(outside), waste_caught=caught)


def _held_knitted(state: BedState, reach: Reach) -> Indices:
    """Needles that act from hold though the hold cams were not set off since they were placed there."""
    if state.hold_cams or reach.settled:
        return NONE
    held = state.position == Position.HOLD
    bears = state.height > 0
    ready = (state.position == Position.WORK) | (state.position == Position.UPPER)
    if not (ready & bears).any():
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
    state.position[acting] = Position.WORK
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
