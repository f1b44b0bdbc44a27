"""Claw weights: where they hang for the coming rows, and when they move.

They hang below the outermost stitches that knit, never below stitches in hold: those must not be drawn down.
So they hang as far out as needles are sure to knit for the next rows, and move when one of them is about to
be held, when the edge has moved away from them, or when the fabric has grown long below (common practice).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from bedview.bed.actions import Note
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.plan.procedure import Procedure
from bedview.session.machine_words import claws_of

AHEAD: Final = 8
"""Rows for which the needles above a weight should go on knitting, where the shaping allows it."""
FAR: Final = 4
"""Needles that the edge may move away from a weight."""
LONGEST: Final = 20
"""Rows after which weights are hung higher in any case."""
ROWS_FIRST: Final = 4
"""Rows of fabric that a claw needs to bite into."""
_PAGE: Final = 200
"""Rows are looked at from a page's beginning, so that the answer is soon had in a long piece too."""


@dataclass(frozen=True, slots=True)
class Hung:
    """Two weights, below these needles.

    Attributes:
        left: index of the needle above the left one.
        right: above the right one.
        since: the pass before which they are hung there.
        until: the pass before which they move; None while nothing in sight asks for it.
        moved: they hung elsewhere in the row before.
    """

    left: int
    right: int
    since: int
    until: int | None
    moved: bool


@dataclass(frozen=True, slots=True)
class _Row:
    """A pass that knits, and its outermost needles."""

    number: int
    left: int
    right: int


def weights_in(procedure: Procedure, step: int) -> Hung | None:
    """Where the weights hang while the row of a step is knitted.

    Args:
        procedure: the procedure.
        step: number of a step.

    Returns:
        None where none is wanted: while the fabric is short, where the step makes no pass that knits, or
        where the piece has notes of its own about weights.
    """
    here = procedure.steps[step]
    if not here.makes_pass or _says_itself(procedure):
        return None
    timeline = procedure.timeline
    page = (here.passes - 1) // _PAGE
    first = max(1, (page - 1) * _PAGE + 1)
    rows = _rows(timeline, first, here.passes + LONGEST + AHEAD)
    hung: Hung | None = None
    for place, row in enumerate(rows):
        if row.number > here.passes:
            break
        if hung is None or _must_move(hung, row, len(rows) - place):
            near = hung is not None and _is_near(hung, row)
            hung = (
                _hang(rows[place:], moved=hung is not None) if near or _long_enough(timeline, row) else None
            )
        if row.number == here.passes:
            return hung and replace(hung, until=_next_move(hung, rows[place + 1 :]))
    return None


def _rows(timeline: Timeline, first: int, last: int) -> list[_Row]:
    """The passes of a range that knit."""
    found: list[_Row] = []
    number = first
    last = min(last, timeline.passes)
    while number <= last:
        event = timeline.event_of(timeline.line_of_pass(number))
        stop = min(event.passes + event.lines, last + 1)
        if event.yarn >= 0 and len(event.knit):
            left, right = int(event.knit[0]), int(event.knit[-1])
            found.extend(_Row(each, left, right) for each in range(number, stop))
        number = stop
    return found


def _must_move(hung: Hung, row: _Row, rows_to_come: int) -> bool:
    if hung.left < row.left or hung.right > row.right:
        return True
    far_from_edge = max(hung.left - row.left, row.right - hung.right) > FAR
    # For the last few rows it is not worth the trouble.
    return rows_to_come >= AHEAD and (far_from_edge or row.number - hung.since >= LONGEST)


def _is_near(hung: Hung, row: _Row) -> bool:
    """Whether the row's edges hang from the same fabric as the weights, which is long enough then."""
    return max(hung.left - row.left, row.right - hung.right) <= 2 * FAR


def _hang(rows: Sequence[_Row], *, moved: bool) -> Hung:
    """Below the outermost needles that knit in as many of the coming rows as can be."""
    here = rows[0]
    left, right = here.left, here.right
    for row in rows[1:AHEAD]:
        inner = max(left, row.left), min(right, row.right)
        if inner[0] >= inner[1]:
            break
        left, right = inner
    return Hung(left, right, here.number, None, moved)


def _next_move(hung: Hung, rows: Sequence[_Row]) -> int | None:
    places = range(len(rows))
    return next((rows[at].number for at in places if _must_move(hung, rows[at], len(rows) - at)), None)


def _says_itself(procedure: Procedure) -> bool:
    """Whether the piece says in its own notes where weights go; that counts then."""
    notes = (action.text for action in procedure.actions if isinstance(action, Note))
    words = ("weight", _("weight").lower())
    return any(word in text.lower() for text in notes for word in words)


def _long_enough(timeline: Timeline, row: _Row) -> bool:
    """Whether so many rows hang from the outermost needles already."""
    state = timeline.state_after_pass(row.number - 1)
    return bool(min(state.level[row.left], state.level[row.right]) >= ROWS_FIRST - 1)


def weight_words(procedure: Procedure, step: int) -> tuple[str, bool]:
    """A sentence about the weights for a step, and whether hands have to do it now; empty for none."""
    words = procedure.words
    hung = weights_in(procedure, step) if claws_of(words) else None
    if hung is None:
        return "", False
    _ = words.gettext
    below = words.needles(_hung_below(hung, claws_of(words)))
    here = int(procedure.steps[step].passes)
    if hung.since == here:
        if claws_of(words) == 1:
            text = (
                _("Move the claw weight below {needles}")
                if hung.moved
                else _("Hang the claw weight below {needles}")
            )
        else:
            text = (
                _("Move the claw weights below {needles}")
                if hung.moved
                else _("Hang claw weights below {needles}")
            )
        return text.format(needles=below), True
    if hung.until is None or hung.until - here > AHEAD:
        return _("Weights below {needles}").format(needles=below), False
    text = words.ngettext(
        "Weights below {needles}; they move in {rows} row",
        "Weights below {needles}; they move in {rows} rows",
        hung.until - here,
    )
    return text.format(needles=below, rows=hung.until - here), False


def weights_hang_below(procedure: Procedure, step: int) -> str:
    """The needles below which the weights hang while a row is knitted; empty for none."""
    words = procedure.words
    hung = weights_in(procedure, step) if claws_of(words) else None
    return "" if hung is None else words.needles(_hung_below(hung, claws_of(words)))


def _hung_below(hung: Hung, claws: int) -> list[int]:
    """Needles above the weights: the outermost that knit, or of one weight the one between them."""
    return [(hung.left + hung.right) // 2] if claws == 1 else [hung.left, hung.right]
