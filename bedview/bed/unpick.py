"""Go back: which rows to unpick, from which side, and how the bed stands then.

A row is unpicked loop by loop, the last one made first: the yarn is pulled out against the direction it was
knitted in, and each loop below goes back on its needle. What fell off or was bound cannot be taken back so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedview.bed.actions import Action, BindOff, FreeMove, Hang, Knit
from bedview.bed.events import Event
from bedview.bed.needles import Side, format_needles, needle_name
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _


class UnpickError(ValueError):
    """A way back that is not there, with the pass or action and the reason in one sentence."""


@dataclass(frozen=True, slots=True)
class PassBack:
    """One pass taken back, and the work of hands before it.

    Attributes:
        pass_number: the pass.
        needles: needles on which it made a loop or a wrap, ascending: their loops go back. None where nothing
            knitted.
        towards: the side the yarn is taken out towards, and the carriage goes back to.
        then: numbers of the hand actions between the pass before and this one, the latest first, to be undone
            when the row is out.
    """

    pass_number: int
    needles: tuple[int, ...]
    towards: Side
    then: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Unpicked:
    """The way back: passes, the latest first, and the state straight after the pass that was aimed at."""

    passes: tuple[PassBack, ...]
    state: BedState


def unpick(timeline: Timeline, from_pass: int, to_pass: int) -> Unpicked:
    """The way from the bed straight after one pass back to the bed straight after an earlier one.

    Args:
        timeline: the procedure.
        from_pass: the last pass made.
        to_pass: the pass to go back to; 0 is the start, before any action.

    Raises:
        UnpickError: if there is no such pass, ``to_pass`` is the later one, or a loop between them was
            dropped, bound off, or let go of when it was hung again.
    """
    for pass_number in (from_pass, to_pass):
        if not 0 <= pass_number <= timeline.passes:
            raise UnpickError(
                _("there is no pass {pass_number}; the procedure has {passes}").format(
                    pass_number=pass_number, passes=timeline.passes
                )
            )
    if to_pass > from_pass:
        raise UnpickError(
            _("pass {to_pass} comes after pass {from_pass}; unpicking goes back").format(
                to_pass=to_pass, from_pass=from_pass
            )
        )
    state = timeline.state_after_pass(to_pass)
    if from_pass == to_pass:
        return Unpicked((), state)
    first = timeline.line_of_pass(to_pass) + 1 if to_pass else 0
    carriage = state.carriage
    back: list[PassBack] = []
    hands: list[int] = []
    for event, lines in timeline.events_of(first, timeline.line_of_pass(from_pass) + 1):
        action = timeline.actions[event.action]
        _refuse_lost(timeline, event, action)
        if not isinstance(action, Knit):
            hands.append(event.action)
            carriage = carriage.other if isinstance(action, FreeMove) else carriage
            continue
        needles = tuple(np.union1d(event.knit, event.wrapped).tolist())
        for line in lines:
            back.append(PassBack(timeline.pass_of_line(line), needles, carriage, tuple(reversed(hands))))
            hands.clear()
            carriage = carriage.other
    return Unpicked(tuple(reversed(back)), state)


def _refuse_lost(timeline: Timeline, event: Event, action: Action) -> None:
    """Refuse an event that cannot be taken back."""
    needles = timeline.bed.needles
    if len(event.dropped):
        names = format_needles(event.dropped.tolist(), needles)
        raise UnpickError(
            _("pass {passes} dropped what stood on {names}; that can't be unpicked").format(
                passes=event.passes, names=names
            )
        )
    if isinstance(action, BindOff):
        names = format_needles(action.needles, needles)
        raise UnpickError(
            _("action {action} bound off {names}; that can't be unpicked").format(
                action=event.action, names=names
            )
        )
    if isinstance(action, Hang):
        entries = timeline.machine.ledger.hung_by(event.action)
        for needle, hung in zip(sorted(action.needles), entries, strict=True):
            if not hung.through:
                name = needle_name(needle, needles)
                raise UnpickError(
                    _(
                        "action {action} hung on {name} a loop that nothing else holds; that can't be "
                        "unpicked"
                    ).format(action=event.action, name=name)
                )
