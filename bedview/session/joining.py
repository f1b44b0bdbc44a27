"""New balls joined where they do no harm: a reminder at each place, all of them one edit."""

from __future__ import annotations

from collections.abc import Sequence

from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.segments.reminders import Reminder
from bedview.plan.yarn_on_hand import Join
from bedview.session import editing


def with_join_reminders(procedure: Procedure, joins: Sequence[Join], yarn: str) -> Piece:
    """The piece with a reminder before the first row of each new ball.

    Args:
        procedure: the piece compiled.
        joins: where new balls begin.
        yarn: what the yarn is called.

    Raises:
        EditError: if a part cannot hold so many reminders.
    """
    piece = procedure.piece
    for join in joins:
        place, row = _place_of(procedure, join.pass_number)
        part = piece.segments[place]
        words = _("Begin a new ball of {yarn}").format(yarn=yarn)
        new = Reminder(row=row, text=words)
        if new in part.reminders:
            continue
        written = [each.model_dump(exclude_unset=True) for each in (*part.reminders, new)]
        piece = editing.with_fields(piece, (place,), {"reminders": written})
    return piece


def _place_of(procedure: Procedure, pass_number: int) -> tuple[int, int]:
    """The part that makes a pass, and how many rows of it come before."""
    timeline = procedure.timeline
    for span in procedure.top_spans():
        before, after = (
            timeline.pass_of_line(timeline.line_of_action(each) - 1) for each in (span.start, span.stop)
        )
        if before < pass_number <= after:
            return span.path[0], pass_number - 1 - before
    raise IndexError(f"no part makes pass {pass_number}")
