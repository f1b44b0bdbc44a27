"""Set the bed up again: what needles, carriage, cams, dial, yarn and counter must be at one moment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bedview.bed.fabric import NOTHING
from bedview.bed.needles import Position
from bedview.bed.state import BedState
from bedview.plan.procedure import Procedure
from bedview.plan.words import Words
from bedview.session.machine_words import words_of_dial
from bedview.session.weights import weights_hang_below


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that must be so.

    Attributes:
        what: "Hold".
        how: "L15 to L11 and R11 to R15".
    """

    what: str
    how: str


def line_before_step(procedure: Procedure, step: int) -> int:
    """The line after which a step begins; ``len(steps)`` gives the last line of all."""
    steps = procedure.steps
    return steps[step].first_line - 1 if step < len(steps) else procedure.timeline.lines - 1


def set_up_before(procedure: Procedure, step: int) -> tuple[Fact, ...]:
    """How everything must be before a step; ``len(steps)`` asks for the end.

    Raises:
        IndexError: if there is no such step.
    """
    facts = set_up_after(procedure, line_before_step(procedure, step))
    below = weights_hang_below(procedure, step) if 0 <= step < len(procedure.steps) else ""
    if not below:
        return facts
    _ = procedure.words.gettext
    return (*facts, Fact(_("Claw weights"), _("below {needles}").format(needles=below)))


def set_up_after(procedure: Procedure, line: int) -> tuple[Fact, ...]:
    """How everything must be straight after a line; -1 is the start.

    Raises:
        IndexError: if there is no such line.
    """
    state = procedure.timeline.state_at(line)
    return (*_positions(state, procedure.words), *_loads(state, procedure.words), *_rest(procedure, state))


def _positions(state: BedState, words: Words) -> Iterator[Fact]:
    """Which needles stand where, those furthest forward first."""
    for position in (Position.HOLD, Position.UPPER, Position.WORK):
        needles = np.flatnonzero(state.position == position)
        if len(needles):
            yield Fact(_capital(words.position(position)), words.needles(needles))
    parked = state.position == Position.OUT
    if parked.any():
        bearing = np.flatnonzero(parked & (state.height > 0))
        _ = words.gettext
        others = _("all others") if not parked.all() else _("all needles")
        kept = _("{others}; {needles} keep their loops").format(others=others, needles=words.needles(bearing))
        yield Fact(_capital(words.position(Position.OUT)), kept if len(bearing) else others)


def _loads(state: BedState, words: Words) -> Iterator[Fact]:
    """What needles bear, where it is not one loop each."""
    _ = words.gettext
    loops = state.height - state.wraps
    for count in sorted(set(loops[loops > 1].tolist())):
        name = words.ngettext("{count} loop", "{count} loops", count).format(count=count)
        yield Fact(name, words.needles(np.flatnonzero(loops == count)))
    for count in sorted(set(state.wraps[state.wraps > 0].tolist())):
        name = words.ngettext("{count} wrap", "{count} wraps", count).format(count=count)
        yield Fact(name, words.needles(np.flatnonzero(state.wraps == count)))
    empty = np.flatnonzero((state.position != Position.OUT) & (state.height == 0))
    if len(empty):
        yield Fact(_("Empty"), words.needles(empty))


def _rest(procedure: Procedure, state: BedState) -> Iterator[Fact]:
    """Carriage, cams, dial, yarn and counter."""
    words = procedure.words
    _ = words.gettext
    yield Fact(_("Carriage"), _("on {side}").format(side=words.side(state.carriage)))
    yield Fact(_("Hold cams"), _("on") if state.hold_cams else _("off"))
    yield Fact(
        _("Tension dial"), _("not set yet") if state.dial is None else words_of_dial(words, state.dial)
    )
    yield Fact(_("Yarn"), _yarn(procedure, state))
    waiting = [procedure.piece.yarns[index].id for index in sorted(state.waiting)]
    if waiting:
        yield Fact(_("Waiting, uncut"), ", ".join(words.yarn(yarn) for yarn in waiting))
    yield Fact(_("Row counter"), str(state.row))


def _yarn(procedure: Procedure, state: BedState) -> str:
    words = procedure.words
    _ = words.gettext
    if not state.threaded:
        return _("none in the feeder")
    name = words.yarn(procedure.piece.yarns[state.yarn].id)
    tip = needle_of_tip(procedure, state)
    if tip == NOTHING:
        return name
    return _("{yarn}, leaving from {needle}").format(yarn=name, needle=words.needles([tip]))


def needle_of_tip(procedure: Procedure, state: BedState) -> int:
    """The needle on which the last loop of the strand in the feeder stands; -1 if on none."""
    if not state.threaded or state.tip == NOTHING:
        return NOTHING
    fabric = procedure.timeline.fabric
    made_on = int(fabric.needle[state.tip])
    for needle in (made_on, *np.flatnonzero(state.height).tolist()):
        if state.tip in fabric.stack(int(state.top[needle])):
            return int(needle)
    return NOTHING


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
