"""Rehearsing: a cursor over the steps, before a needle is touched."""

from __future__ import annotations

from psygnal import Signal

from bedview.checks.folding import Folded
from bedview.session.open_piece import OpenPiece
from bedview.session.what_if import Outcome, Slip, slips_at, what_if


class Rehearsal:
    """Where the rehearsal of an open piece stands.

    The cursor is the index of the step that comes next; ``len(steps)`` when all is done.

    Signals:
        cursor_moved: the cursor stands elsewhere (its new value).
        outcome_changed: a mistake was slipped in, or taken back.
    """

    cursor_moved = Signal(int)
    outcome_changed = Signal()

    def __init__(self, opened: OpenPiece) -> None:
        self.opened = opened
        self._cursor = 0
        self._outcome: Outcome | None = None
        opened.changed.connect(self._piece_changed)

    @property
    def cursor(self) -> int:
        """Index of the step that comes next."""
        return self._cursor

    @property
    def at_end(self) -> bool:
        """Whether no step is left."""
        return self._cursor >= len(self.opened.steps)

    def go_to(self, step: int) -> None:
        """Put the cursor before a step; beyond either end it stops there."""
        step = max(0, min(step, len(self.opened.steps)))
        self.leave_outcome()
        if step != self._cursor:
            self._cursor = step
            self.cursor_moved.emit(step)

    def on(self) -> None:
        """One step on."""
        self.go_to(self._cursor + 1)

    def back(self) -> None:
        """One step back."""
        self.go_to(self._cursor - 1)

    def go_to_row(self, pass_number: int) -> None:
        """Put the cursor before the step of a pass."""
        last = self.opened.procedure.timeline.passes
        if last:
            self.go_to(self.opened.step_of_pass(max(1, min(pass_number, last))))

    def next_finding(self) -> Folded | None:
        """Go to the next thing to watch behind the cursor, from the start again after the last.

        Returns:
            What was found there, or None if there is nothing to watch.
        """
        watched = [(self.opened.step_of_finding(each.first), each) for each in self.opened.folded]
        if not watched:
            return None
        watched.sort(key=lambda pair: pair[0])
        ahead = [pair for pair in watched if pair[0] > self._cursor]
        step, found = (ahead or watched)[0]
        self.go_to(step)
        return found

    # -- what if ------------------------------------------------------------------------------------------

    @property
    def slips(self) -> list[Slip]:
        """Mistakes that can be made at the cursor."""
        return [] if self.at_end else slips_at(self.opened.procedure, self._cursor)

    @property
    def outcome(self) -> Outcome | None:
        """What became of the mistake slipped in last, while it is looked at."""
        return self._outcome

    def slip_in(self, slip: Slip) -> None:
        """Make a mistake at the cursor, and look at what becomes of the fabric."""
        self._outcome = what_if(self.opened.procedure, self._cursor, slip)
        self.outcome_changed.emit()

    def leave_outcome(self) -> None:
        """Take the mistake back."""
        if self._outcome is not None:
            self._outcome = None
            self.outcome_changed.emit()

    def _piece_changed(self) -> None:
        self.leave_outcome()
        self._cursor = min(self._cursor, len(self.opened.steps))
        self.cursor_moved.emit(self._cursor)
