"""Unpick: from where the knitter stands back to an earlier row, pass by pass, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bedview.bed import actions as do
from bedview.bed.actions import Action
from bedview.bed.needles import Position
from bedview.bed.state import BedState
from bedview.bed.unpick import PassBack, unpick
from bedview.plan.procedure import Procedure
from bedview.session.place_finding import step_after_line


@dataclass(frozen=True, slots=True)
class RowBack:
    """One row taken back.

    Attributes:
        row: its number.
        loops: what to do with its loops.
        hands: what hands do when it is out, in order.
    """

    row: int
    loops: str
    hands: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WayBack:
    """The way back.

    Attributes:
        first: what hands do before any row, in order.
        rows: rows to take back, the latest first.
        step: the step that comes next then.
        line: the line after which the bed stands as it does then.
    """

    first: tuple[str, ...]
    rows: tuple[RowBack, ...]
    step: int
    line: int


def way_back(procedure: Procedure, line: int, to_row: int) -> WayBack:
    """From the bed after a line back to the bed straight after a row.

    Args:
        procedure: the procedure.
        line: the last line done.
        to_row: the row to go back to; 0 for the start.

    Raises:
        UnpickError: if there is no way back: something between was dropped, bound off or let go.
    """
    timeline = procedure.timeline
    from_row = timeline.pass_of_line(line)
    taken_back = unpick(timeline, from_row, to_row)
    after_pass = timeline.line_of_pass(from_row) if from_row else -1
    first = _undone(procedure, range(line, after_pass, -1))
    rows = tuple(_row_back(procedure, each) for each in taken_back.passes)
    target = timeline.line_of_pass(to_row) if to_row else -1
    return WayBack(first, rows, step_after_line(procedure, target), target)


def _row_back(procedure: Procedure, taken: PassBack) -> RowBack:
    timeline = procedure.timeline
    lines = (timeline.line_of_action(number) for number in taken.then)
    return RowBack(taken.pass_number, _loops(procedure, taken), _undone(procedure, lines))


def _loops(procedure: Procedure, taken: PassBack) -> str:
    """What to do with the loops of one row."""
    words = procedure.words
    _ = words.gettext
    side = words.side(taken.towards)
    if not taken.needles:
        return _("Nothing was knitted: move the carriage back to {side}.").format(side=side)
    line = procedure.timeline.line_of_pass(taken.pass_number)
    event = procedure.timeline.event_of(line)
    text = _("Hang the loops below back on {knit}, drawing the yarn out to {side}.")
    said = text.format(knit=words.needles(event.knit), side=side)
    if len(event.wrapped):
        text = words.ngettext(
            "Take the wrap off {needles}.", "Take the wraps off {needles}.", len(event.wrapped)
        )
        said = f"{said} {text.format(needles=words.needles(event.wrapped))}"
    return said


def _undone(procedure: Procedure, lines: Iterable[int]) -> tuple[str, ...]:
    """What undoes the hand actions on some lines."""
    timeline = procedure.timeline
    found: list[str] = []
    for line in lines:
        event = timeline.event_of(line)
        if not event.is_pass:
            found.extend(_undo(procedure, timeline.actions[event.action], line))
    return tuple(found)


def _undo(procedure: Procedure, action: Action, line: int) -> list[str]:
    """What undoes one hand action."""
    words = procedure.words
    before, after = (procedure.timeline.state_at(each) for each in (line - 1, line))
    match action:
        case do.Note():
            return []
        case do.Place(needles):
            return [
                text for place in _placed_back(needles, before, after) for text in words.hand(place, after)
            ]
        case do.HoldCams():
            return [*words.hand(do.HoldCams(before.hold_cams), after)]
        case do.Tension() if before.dial is not None:
            return [*words.hand(do.Tension(before.dial), after)]
        case do.SetCounter():
            return [*words.hand(do.SetCounter(before.row), after)]
        case do.FreeMove():
            return [*words.hand(action, after)]
        case _:
            parts = words.brief(action, before)
            return [words.gettext("Undo: {action}").format(action=", ".join(parts))]


def _placed_back(needles: Iterable[int], before: BedState, after: BedState) -> list[do.Place]:
    """Where needles go back to; those with a loop never from hold to working, or the latch closes."""
    groups: dict[Position, list[int]] = {}
    for needle in needles:
        was, now = Position(int(before.position[needle])), Position(int(after.position[needle]))
        closes = now > Position.WORK and was is Position.WORK and before.height[needle] > 0
        if was is not now:
            groups.setdefault(Position.UPPER if closes else was, []).append(needle)
    return [do.Place(tuple(group), position) for position, group in groups.items()]
