"""Why: for one needle in one pass, for one loop, for one gap; told from what the bed did.

A sentence about a pass holds before it is made as well as after, so the same words serve for *foretell*, for
the feedback of a lesson and for the free bench.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from bedview.bed.edges import fabric_below
from bedview.bed.events import Event
from bedview.bed.fabric import NOTHING, LoopKind
from bedview.bed.needles import Position, Side
from bedview.bed.openings import Opening
from bedview.bed.passing import where_it_stands
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.plan.words import Words

_NO_ROWS: Final = range(0)


# -- one needle in one pass -------------------------------------------------------------------------------


def why_in_pass(timeline: Timeline, words: Words, pass_number: int, needle: int) -> str:
    """What a pass does on one needle, and why.

    Args:
        timeline: a timeline with that pass.
        words: the language.
        pass_number: the pass, from 1.
        needle: index from the left.
    """
    line = timeline.line_of_pass(pass_number)
    before, event = timeline.state_at(line - 1), timeline.event_of(line)
    if not before.threaded:
        text = _unthreaded(words, before, event, needle)
    elif needle in event.knit:
        text = _knits(words, before, event, needle)
    elif needle in event.wrapped:
        text = _is_wrapped(words, event, needle)
    else:
        text = _is_left(timeline, words, before, event, needle)
    return text.format(needle=words.needles([needle]))


def _unthreaded(words: Words, before: BedState, event: Event, needle: int) -> str:
    _ = words.gettext
    if needle in event.dropped:
        return _("There is no yarn in the feeder, so what {needle} bears falls off.")
    if before.position[needle] == Position.HOLD and before.hold_cams:
        return _("{needle} is in hold and the hold cams are on, so it keeps what it bears.")
    if before.position[needle] == Position.OUT:
        return _("{needle} is out of work, so the carriage passes it by.")
    return _("There is no yarn in the feeder, so {needle} does not knit.")


def _knits(words: Words, before: BedState, event: Event, needle: int) -> str:
    _ = words.gettext
    if needle in event.laid_in:
        return _("{needle} is empty, so the yarn is only laid into its hook.")
    if before.position[needle] == Position.HOLD:
        return _("{needle} is in hold, but the hold cams are off, so it knits.")
    if before.height[needle] == before.wraps[needle]:
        return _("{needle} bears only a wrap, so no firm stitch forms there.")
    if before.wraps[needle]:
        return _("{needle} knits its stitch and what is wrapped round it together.")
    if before.height[needle] > 1:
        return _("{needle} bears more than one stitch; they knit together.")
    if before.position[needle] == Position.UPPER:
        return _("{needle} is in upper working, so it knits.")
    return _("{needle} is in work, so it knits.")


def _is_wrapped(words: Words, event: Event, needle: int) -> str:
    _ = words.gettext
    if event.knit[0] < needle < event.knit[-1]:
        return _("{needle} is in hold between needles that knit, so the yarn goes round it.")
    return _("{needle} is in hold where the yarn comes from, so the row wraps it.")


def _is_left(timeline: Timeline, words: Words, before: BedState, event: Event, needle: int) -> str:
    """A needle that a threaded pass neither knits nor wraps: it is out, or in hold."""
    _ = words.gettext
    if before.position[needle] == Position.OUT:
        return _("{needle} is out of work, so the carriage passes it by.")
    if not len(event.knit):
        return _("No needle works, so only the carriage moves.")
    if before.tip == NOTHING:
        return _("{needle} is in hold, and this new strand has no loop yet to come from: no wrap.")
    fabric = timeline.fabric
    stands = where_it_stands(timeline.machine, before, before.tip)
    if stands == needle and fabric.kind[before.tip] == LoopKind.HAND_WRAP:
        return _("{needle} is wrapped by hand already, so the row lays no second wrap on it.")
    beyond = needle > event.knit[-1] if before.carriage is Side.LEFT else needle < event.knit[0]
    if beyond:
        return _("{needle} is in hold on the far side: the yarn turns before it and does not wrap it.")
    return _("{needle} is in hold, and the yarn does not pass it: no wrap.")


# -- one loop ---------------------------------------------------------------------------------------------


def why_loop(timeline: Timeline, words: Words, loop: int) -> str:
    """How a loop or wrap came about, and why.

    Args:
        timeline: a timeline with that loop.
        words: the language.
        loop: its id.
    """
    _ = words.gettext
    fabric = timeline.fabric
    needle, row = int(fabric.needle[loop]), int(fabric.pass_of(np.array([loop]))[0])
    names = {"needle": words.needles([needle]), "row": row}
    match LoopKind(int(fabric.kind[loop])):
        case LoopKind.CAST_ON:
            return _("A closed loop, wound on {needle} when it was cast on.").format(**names)
        case LoopKind.HAND_WRAP:
            return _("A wrap laid on {needle} by hand after row {row}, while it was in hold.").format(**names)
        case LoopKind.BIND:
            return _("The loop that closes {needle}: it was bound off after row {row}.").format(**names)
    return _("Row {row}: {why}").format(row=row, why=why_in_pass(timeline, words, row, needle))


# -- one needle now ---------------------------------------------------------------------------------------


def why_dropped(timeline: Timeline, words: Words, needle: int) -> str:
    """Why a needle lost what it bore; empty if nothing ever fell from it."""
    _ = words.gettext
    ledger = timeline.machine.ledger
    drops = ledger.drops_of(needle)
    if not drops:
        return ""
    drop = ledger.drops[drops[0]]
    names = {"needle": words.needles([needle]), "row": drop.pass_number}
    loops = timeline.fabric.stack(drop.node)
    if any(timeline.fabric.is_waste(loop) for loop in loops):
        held = any(fabric_below(timeline.fabric, loop) is not None for loop in loops)
        if held:
            return _(
                "Row {row} ran with an empty feeder, so {needle} fell off; its stitch is safe in the waste."
            ).format(**names)
    return _("Row {row} ran with an empty feeder, so {needle} fell off with nothing to hold it.").format(
        **names
    )


def why_now(timeline: Timeline, words: Words, needle: int) -> str:
    """What the last pass did on a needle, and why; before the first pass, how the needle stands."""
    if timeline.passes:
        row = timeline.passes
        why = why_in_pass(timeline, words, row, needle)
        return words.gettext("Row {row}: {why}").format(row=row, why=why)
    position = Position(int(timeline.state.position[needle]))
    return stands(words, [needle], position)


def stands(words: Words, needles: list[int], position: Position) -> str:
    """Where needles stand ("R3 and R4 stand in hold.")."""
    if position is Position.OUT:
        text = words.ngettext("{needles} is out of work.", "{needles} are out of work.", len(needles))
        return text.format(needles=words.needles(needles))
    text = words.ngettext("{needles} stands in {position}.", "{needles} stand in {position}.", len(needles))
    return text.format(needles=words.needles(needles), position=words.position(position))


# -- one gap ----------------------------------------------------------------------------------------------


@dataclass(slots=True)
class _Waiting:
    """How long a needle was last held with loops: its rows, those that wrapped it, and where it lay."""

    rows: range = _NO_ROWS
    wraps: int = 0
    far_side: bool = False
    ended: bool = False


def why_gap(timeline: Timeline, words: Words, opening: Opening) -> str:
    """Why a gap came between two needles: which of them waited, how long, and that nothing was wrapped."""
    until = int(timeline.fabric.pass_of(np.array([opening.loop]))[0])
    pair = (opening.boundary, opening.boundary + 1)
    waits = {needle: _last_wait(timeline, needle, until) for needle in pair}
    needle = max(waits, key=lambda each: (len(waits[each].rows) > 0, waits[each].rows.stop))
    return _told(words, needle, waits[needle])


def why_unwrapped(timeline: Timeline, words: Words, needle: int) -> str:
    """How a needle waited in hold and was not wrapped, or how it stands if it did not wait."""
    told = _told(words, needle, _last_wait(timeline, needle, timeline.passes))
    return told or stands(words, [needle], Position(int(timeline.state.position[needle])))


def _told(words: Words, needle: int, wait: _Waiting) -> str:
    _ = words.gettext
    if not wait.rows:
        return ""
    if wait.wraps:
        text = _("{needle} waited in hold from row {first} to row {last} while its neighbour knitted on.")
    elif wait.far_side:
        text = _("{needle} went to hold on the far side before row {first}, and nothing was wrapped.")
    else:
        text = _("{needle} waited in hold from row {first} to row {last}, and nothing was wrapped.")
    return text.format(needle=words.needles([needle]), first=wait.rows[0], last=wait.rows[-1])


def _last_wait(timeline: Timeline, needle: int, until_pass: int) -> _Waiting:
    """The last stretch of passes up to ``until_pass`` in which a needle waited in hold with loops."""
    wait = _Waiting(ended=True)
    before = timeline.state_at(-1)
    side, wraps = before.carriage, 0
    for event, row, state in timeline.walk():
        number = event.passes + row if event.is_pass else event.passes
        if number > until_pass:
            break
        if event.is_pass:
            wait = _one_more(wait, event, number, needle, side, waits=_waits(state, needle))
        elif state.wraps[needle] > wraps:
            wait = _Waiting() if wait.ended else wait
            wait.wraps += 1
        side, wraps = state.carriage, int(state.wraps[needle])
    return wait


def _waits(state: BedState, needle: int) -> bool:
    """Whether a needle stands in hold with loops (a needle that a pass knits leaves hold)."""
    return bool(state.position[needle] == Position.HOLD and state.height[needle])


def _one_more(wait: _Waiting, event: Event, number: int, needle: int, side: Side, *, waits: bool) -> _Waiting:
    """The wait of a needle with one more pass; ``side`` is where the carriage stood before it."""
    if not waits or not len(event.knit):
        wait.ended = True
        return wait
    wait = _Waiting() if wait.ended else wait
    if not wait.rows:
        wait.rows = range(number, number)
        wait.far_side = bool(needle > event.knit[-1] if side is Side.LEFT else needle < event.knit[0])
    wait.rows = range(wait.rows.start, number + 1)
    wait.wraps += needle in event.wrapped
    return wait
