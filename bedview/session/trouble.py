"""When something went wrong at the machine: a card for the row at hand, with this row's needles in it.

What to do is common practice at a hand-operated flat bed with latch needles.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bedview.bed.actions import Action, Knit, Place, Wrap
from bedview.bed.events import Event, Indices
from bedview.bed.needles import Position, Side
from bedview.bed.state import BedState
from bedview.plan.procedure import Procedure
from bedview.plan.steps import Step
from bedview.session.setting_up import line_before_step


class Trouble(StrEnum):
    """What can have happened."""

    JAMMED = "jammed"
    DROPPED = "dropped"
    COUNTER = "counter"
    FORGOTTEN = "forgotten"
    CAMS = "cams"


@dataclass(frozen=True, slots=True)
class Card:
    """What to do about it.

    Attributes:
        title: what happened.
        asks: a question that a click on a needle answers; empty if the card needs none.
        acts: what to do, in order.
        unpick_to: the pass to unpick to, where the card says so; None where it does not.
    """

    title: str
    asks: str
    acts: tuple[str, ...]
    unpick_to: int | None = None


def trouble_card(procedure: Procedure, step: int, trouble: Trouble, needle: int | None = None) -> Card:
    """The card for a trouble straight before a step, or in the middle of its row.

    Args:
        procedure: the procedure.
        step: number of the coming step; ``len(steps)`` after the last.
        trouble: what happened.
        needle: where the carriage stopped, or which needle lost its stitch; None while nobody has said.
    """
    match trouble:
        case Trouble.JAMMED:
            return _jammed(procedure, step, needle)
        case Trouble.DROPPED:
            return _dropped(procedure, step, needle)
        case Trouble.COUNTER:
            return _counter(procedure, step)
        case Trouble.FORGOTTEN:
            return _forgotten(procedure, step)
        case Trouble.CAMS:
            return _cams(procedure, step)


# -- jammed -----------------------------------------------------------------------------------------------


def _jammed(procedure: Procedure, step: int, at: int | None) -> Card:
    _ = procedure.words.gettext
    title = _("The carriage is stuck half way")
    if step >= len(procedure.steps) or not procedure.steps[step].makes_pass:
        text = _("The carriage has no row to knit here. Lift it off, and set it down where it was.")
        return Card(title, "", (text,))
    here = procedure.steps[step]
    event = procedure.timeline.event_of(here.last_line)
    before = procedure.timeline.state_at(here.last_line - 1)
    asks = _("At which needle does the carriage stand? Click it.")
    acts = [_("Do not force it. The needle that knitted last is the last one with a new loop in its hook.")]
    acts += _what_is_done(procedure, before, event, at)
    acts += [
        _("Look for the cause: a closed latch, a bent needle, yarn that caught, a weight in the way."),
        *_standing_again(procedure, before),
    ]
    again = _("Set the carriage down on {side}, the counter to {count}, and knit row {row} again.")
    acts.append(again.format(side=procedure.words.side(before.carriage), count=before.row, row=here.passes))
    return Card(title, asks, tuple(acts))


def _what_is_done(procedure: Procedure, before: BedState, event: Event, at: int | None) -> list[str]:
    """Which needles have knitted when the carriage stands at one, and how to take their loops back."""
    words = procedure.words
    _ = words.gettext
    lift = _("Open the carriage's way or lift it straight off. The yarn stays in the feeder.")
    if at is None:
        return [
            lift,
            _("Take the new loops back one by one, the last first: hang the loop below on the needle again."),
        ]
    leftward = before.carriage is Side.RIGHT
    done, open_ones = _parted(event.knit, at, leftward=leftward)
    wrapped = _parted(event.wrapped, at, leftward=leftward)[0]
    told = []
    if len(done):
        told.append(_("{needles} have knitted.").format(needles=words.needles(done)))
    if len(open_ones):
        told.append(_("{needles} have not.").format(needles=words.needles(open_ones)))
    acts = [" ".join(told), lift] if told else [lift]
    if len(done):
        last, first = (done[0], done[-1]) if leftward else (done[-1], done[0])
        back = _("Take back the loops from {last} to {first}: hang the loop below on, draw the yarn out.")
        acts.append(back.format(last=words.needles([last]), first=words.needles([first])))
    if len(wrapped):
        text = words.ngettext("Take its wrap off {needles}.", "Take their wraps off {needles}.", len(wrapped))
        acts.append(text.format(needles=words.needles(wrapped)))
    return acts


def _parted(needles: Indices, at: int, *, leftward: bool) -> tuple[Indices, Indices]:
    """Needles that a carriage standing at one has passed or is on, and those still before it."""
    passed = needles >= at if leftward else needles <= at
    return needles[passed], needles[~passed]


def _standing_again(procedure: Procedure, before: BedState) -> list[str]:
    """How needles must stand before the row is knitted again."""
    words = procedure.words
    _ = words.gettext
    work = np.flatnonzero(before.position == Position.WORK)
    upper = np.flatnonzero(before.position == Position.UPPER)
    held = before.held
    told = []
    for needles, text in (
        (work, _("{needles} back to working, latches open.")),
        (upper, _("{needles} to upper working.")),
        (held, _("{needles} in hold, as before.")),
    ):
        if len(needles):
            told.append(text.format(needles=words.needles(needles)))
    return [" ".join(told)] if told else []


# -- dropped ----------------------------------------------------------------------------------------------


def _dropped(procedure: Procedure, step: int, needle: int | None) -> Card:
    words = procedure.words
    _ = words.gettext
    title = _("A stitch has dropped")
    asks = _("Which needle lost it? Click it.")
    acts = [_("Stop, and catch the loose loop with a transfer tool, so that it runs no further.")]
    if needle is None:
        name, held = _("its needle"), False
    else:
        state = procedure.timeline.state_at(line_before_step(procedure, step))
        name, held = words.needles([needle]), bool(state.position[needle] == Position.HOLD)
        if not state.height[needle]:
            return Card(title, asks, (_("{needle} bears no stitch here.").format(needle=name),))
        acts += _stack_words(procedure, state, needle)
    acts += [
        _("If it has run down: reach a latch tool up behind the fabric, into the first whole loop below."),
        _("Draw each bar of the ladder through with it, the lowest first, up to the needles."),
    ]
    if held:
        acts.append(_("Hang it on {needle} and leave the needle in hold.").format(needle=name))
    else:
        acts.append(_("Hang it on {needle}, the latch open.").format(needle=name))
    acts.append(_("Draw the fabric down with your hand and look at the needles beside it before you go on."))
    return Card(title, asks, tuple(acts))


def _stack_words(procedure: Procedure, state: BedState, needle: int) -> list[str]:
    """What belongs on a needle, where it is more than one loop."""
    words = procedure.words
    loops, wraps = int(state.height[needle] - state.wraps[needle]), int(state.wraps[needle])
    if loops == 1 and not wraps:
        return []
    parts = []
    if loops:
        parts.append(words.ngettext("{count} loop", "{count} loops", loops).format(count=loops))
    if wraps:
        parts.append(words.ngettext("{count} wrap", "{count} wraps", wraps).format(count=wraps))
    load = parts[0]
    if len(parts) > 1:
        load = words.gettext("{first} and {last}").format(first=parts[0], last=parts[1])
    text = words.gettext("{needle} bears {load} here: hang all of it back.")
    return [text.format(needle=words.needles([needle]), load=load)]


# -- counter ----------------------------------------------------------------------------------------------


def _counter(procedure: Procedure, step: int) -> Card:
    words = procedure.words
    _ = words.gettext
    timeline = procedure.timeline
    state = timeline.state_at(line_before_step(procedure, step))
    acts = [_("The counter must show {count} now.").format(count=state.row)]
    since = _rows_since_hands(procedure, step)
    if since:
        text = words.ngettext(
            "{rows} row has been knitted since hands were last needed: count it below the needles.",
            "{rows} rows have been knitted since hands were last needed: count them below the needles.",
            since,
        )
        acts.append(text.format(rows=since))
    held = state.held[state.height[state.held] > 0]
    if len(held):
        acts.append(_("{needles} must stand in hold.").format(needles=words.needles(held)))
    where = _("The carriage must stand on {side}.").format(side=words.side(state.carriage))
    acts.append(where)
    acts.append(_("If all of that is so, set the counter and go on. If not, find your place by the needles."))
    return Card(_("The row counter is wrong"), "", tuple(acts))


def _rows_since_hands(procedure: Procedure, step: int) -> int:
    """Rows knitted one after the other straight before a step."""
    rows = 0
    for here in reversed(procedure.steps[:step]):
        rows += here.makes_pass
        if not here.makes_pass or here.first_line < here.last_line:
            break
    return rows


# -- forgotten --------------------------------------------------------------------------------------------


def _forgotten(procedure: Procedure, step: int) -> Card:
    words = procedure.words
    _ = words.gettext
    title = _("A needle was forgotten")
    acts = []
    if step < len(procedure.steps):
        now = _touched(procedure, procedure.steps[step])
        if now:
            text = _("Now, before row {row}: {acts}.")
            acts.append(text.format(row=_row_of(procedure.steps[step]), acts="; ".join(now)))
    last = next((each for each in reversed(procedure.steps[:step]) if _touched(procedure, each)), None)
    if last is None:
        acts.append(_("No needle has been moved by hand so far."))
        return Card(title, "", tuple(acts))
    row = _row_of(last)
    text = _("The last time, before row {row}: {acts}.")
    acts.append(text.format(row=row, acts="; ".join(_touched(procedure, last))))
    acts += _remedy(procedure, last)
    return Card(title, "", tuple(acts), unpick_to=row - 1 if last.makes_pass else None)


def _remedy(procedure: Procedure, step: Step) -> list[str]:
    """What a forgotten needle has done meanwhile, and what helps."""
    words = procedure.words
    _ = words.gettext
    positions = {action.position for action in _hand_actions(procedure, step) if isinstance(action, Place)}
    acts = []
    if Position.HOLD in positions:
        acts.append(
            _("One that did not come to hold has knitted: it bears a loop more, and its wrap is missing.")
        )
        acts.append(
            _("Surest: unpick back to row {row}, then do it again.").format(row=_row_of(step) - 1)
            if step.makes_pass
            else _("Surest: unpick back to there, then do it again.")
        )
        acts.append(_("Or bring it to hold now and wrap it by hand: it is a row longer, which hardly shows."))
    elif positions:
        acts.append(_("One that stayed in hold has been wrapped and not knitted: it is a row shorter."))
        acts.append(_("Bring it back to upper working now; its wraps knit off with the stitch."))
    return acts


# -- cams -------------------------------------------------------------------------------------------------


def _cams(procedure: Procedure, step: int) -> Card:
    """The hold cams of the row at hand, and what comes of a pass with the others."""
    words = procedure.words
    _ = words.gettext
    steps = procedure.steps
    row = steps[step] if step < len(steps) and steps[step].makes_pass else None
    state = procedure.timeline.state_at(
        line_before_step(procedure, step) if row is None else row.last_line - 1
    )
    held = state.held[state.height[state.held] > 0]
    acts = [_("The hold cams must be on now.") if state.hold_cams else _("The hold cams must be off now.")]
    if not len(held):
        acts.append(_("No needle with a stitch stands in hold, so no harm is done. Set them, and go on."))
    elif state.hold_cams:
        acts += _taken_back(procedure, state, words.needles(held), row)
    else:
        acts.append(
            _("Where they were on, {needles} waited and were wrapped.").format(needles=words.needles(held))
        )
        acts.append(
            _("Set them off and go on: what waited knits with the next pass. It is a row shorter there.")
        )
    return Card(_("The hold cams were wrong"), "", tuple(acts))


def _taken_back(procedure: Procedure, state: BedState, held: str, row: Step | None) -> list[str]:
    """How a pass is undone that knitted all needles in hold."""
    words = procedure.words
    _ = words.gettext
    again = _("Set the hold cams on, the carriage down on {side}, and the counter to {count}.")
    acts = [
        _("With them off, {needles} knitted too and stand in work: a row too long there.").format(
            needles=held
        ),
        _("If that row is confirmed already, go back to it here first."),
        _("Take it back on every needle, theirs too: hang the loop below on again, and draw the yarn out."),
        _("Bring {needles} back to hold.").format(needles=held),
        again.format(side=words.side(state.carriage), count=state.row),
    ]
    if row is not None:
        acts.append(_("Knit row {row} again.").format(row=row.passes))
    return acts


def _row_of(step: Step) -> int:
    """The row a step makes, or the one it comes before."""
    return int(step.passes) if step.makes_pass else int(step.passes) + 1


def _hand_actions(procedure: Procedure, step: Step) -> list[Action]:
    actions = procedure.timeline.actions
    return [actions[number] for number in step.actions if not isinstance(actions[number], Knit)]


def _touched(procedure: Procedure, step: Step) -> list[str]:
    """What hands do to needles in a step, in few words."""
    found: list[str] = []
    line = step.first_line
    for action in _hand_actions(procedure, step):
        if isinstance(action, Place | Wrap):
            found.extend(procedure.words.brief(action, procedure.timeline.state_at(line - 1)))
        line += 1
    return found
