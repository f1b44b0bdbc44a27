"""Repairs of parts that are single actions: an action put in, or one put right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final, cast

from bedview.bed.actions import YarnRole
from bedview.bed.needles import Position, needle_name
from bedview.checks.finding import Finding
from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.procedure import Procedure
from bedview.plan.segments.actions import ActionsSegment
from bedview.session.editing import part_with

TAIL_CM: Final = 40
"""A tail that is long enough to graft a toe, or to be shortened."""
WASTE_ROWS: Final = 8
_PASSES_BACK: Final = 6
"""How far before the row that closes a gap its wrap may belong."""

Item = dict[str, Any]
Ways = tuple[str, tuple[ActionsSegment, ...]]

_BEFORE: Final[Mapping[str, tuple[str, Item]]] = {
    "held-knitted": (marked("Set the hold cams on"), {"do": "hold_cams", "on": True}),
    "carriage-side": (marked("Lift the carriage across"), {"do": "free_move"}),
    "cut-without-tail": (marked("Leave a tail of {cm} cm"), {"do": "cut", "tail_cm": TAIL_CM}),
}


def repairs(finding: Finding, part: ActionsSegment, procedure: Procedure) -> Iterator[Ways]:
    """What could be done about a finding in a part of single actions.

    Yields:
        What stands on the button, and the part as it would be, each way one.
    """
    place = _place_in(finding, part, procedure)
    if place is None:
        return
    item, row = place
    if finding.rule in _BEFORE:
        title, new = _BEFORE[finding.rule]
        yield _(title).format(cm=TAIL_CM), (_put_in(part, item, row, [new], procedure),)
    elif finding.rule == "latch-closes":
        raised = dict(part.actions[item]) | {"position": "upper"}
        yield _("Bring them to upper working"), (_with(part, item, [raised], procedure),)
    elif finding.rule == "unsecured-stitches":
        waste = next((yarn for yarn, role in procedure.piece.yarn_roles() if role is YarnRole.WASTE), None)
        if waste is not None:
            secured: list[Item] = [
                {"do": "thread", "yarn": waste},
                {"do": "knit", "rows": WASTE_ROWS},
                {"do": "cut"},
            ]
            yield _("Knit waste on them first"), (_put_in(part, item, row, secured, procedure),)
    elif finding.rule == "opening":
        yield _("Add a hand wrap"), tuple(_wraps(finding, part, procedure))


def _wraps(finding: Finding, part: ActionsSegment, procedure: Procedure) -> Iterator[ActionsSegment]:
    """A wrap on a held needle at the gap, before one of the rows that lead to it."""
    timeline = procedure.timeline
    for number in range(finding.pass_number, max(0, finding.pass_number - _PASSES_BACK), -1):
        line = timeline.line_of_pass(number)
        state = timeline.state_at(line - 1)
        here = _place_of_pass(number, part, procedure)
        for needle in finding.needles:
            if here and state.position[needle] == Position.HOLD and state.height[needle] and state.threaded:
                name = needle_name(needle, state.needles)
                yield _put_in(part, *here, [{"do": "wrap", "needle": name}], procedure)


def _place_in(finding: Finding, part: ActionsSegment, procedure: Procedure) -> tuple[int, int] | None:
    """Which of the part's actions a finding is about, and which of its rows, from 0."""
    if finding.action is None:
        return None
    event = procedure.timeline.event_of(procedure.timeline.line_of_action(finding.action))
    if event.is_pass:
        return _place_of_pass(finding.pass_number, part, procedure)
    return _item(finding.action, part, procedure), 0


def _place_of_pass(number: int, part: ActionsSegment, procedure: Procedure) -> tuple[int, int] | None:
    timeline = procedure.timeline
    line = timeline.line_of_pass(number)
    action = timeline.action_of_line(line)
    span = _span(part, procedure)
    if span is None or not span[0] <= action < span[1]:
        return None
    return _item(action, part, procedure), line - timeline.line_of_action(action)


def _item(action: int, part: ActionsSegment, procedure: Procedure) -> int:
    span = _span(part, procedure)
    return action - (span[0] if span else 0)


def _span(part: ActionsSegment, procedure: Procedure) -> tuple[int, int] | None:
    """First action of the part, and the one behind its last; None where reminders stand among them."""
    found = next((span for span in procedure.spans if span.segment is part), None)
    return None if found is None or part.reminders else (found.start, found.stop)


def _put_in(
    part: ActionsSegment, item: int, row: int, new: list[Item], procedure: Procedure
) -> ActionsSegment:
    """Actions put in before a row of one of the part's, which is parted there if need be."""
    there = cast("Item", dict(part.actions[item]))
    if not row:
        return _with(part, item, [*new, there], procedure)
    first, second = there | {"rows": row}, there | {"rows": there["rows"] - row}
    second.pop("from", None)
    return _with(part, item, [first, *new, second], procedure)


def _with(part: ActionsSegment, item: int, items: list[Item], procedure: Procedure) -> ActionsSegment:
    actions = [*part.actions[:item], *items, *part.actions[item + 1 :]]
    made = part_with(part, {"actions": actions}, procedure.piece.bed.needles)
    assert isinstance(made, ActionsSegment)
    return made
