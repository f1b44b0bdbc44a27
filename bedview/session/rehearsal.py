"""Rehearsing: a cursor over the steps, before a needle is touched.

While a mistake is looked at, the same cursor moves over what becomes of it; the place in the plan is kept and
comes back with the plan.
"""

from __future__ import annotations

from bisect import bisect_right

from psygnal import Signal

from bedview.bed.timeline import Timeline
from bedview.checks.finding import Finding
from bedview.checks.folding import Folded
from bedview.plan.steps import Step
from bedview.session.open_piece import OpenPiece
from bedview.session.what_if import Outcome, Slip, slips_at, what_if


class Rehearsal:
    """Where the rehearsal of an open piece stands.

    The cursor is the index of the step that comes next; ``len(steps)`` when all is done.

    Signals:
        cursor_moved: the cursor stands elsewhere (its new value).
        outcome_changed: a mistake was slipped in, or taken back; the cursor may stand elsewhere too.
    """

    cursor_moved = Signal(int)
    outcome_changed = Signal()

    def __init__(self, opened: OpenPiece) -> None:
        self.opened = opened
        self._planned = 0
        self._beyond = 0
        self._outcome: Outcome | None = None
        self._watched: list[tuple[int, Folded]] | None = None
        opened.changed.connect(self._piece_changed)

    # -- what is looked at --------------------------------------------------------------------------------

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps of the plan, or of what becomes of a mistake."""
        return self._outcome.steps if self._outcome else self.opened.steps

    @property
    def timeline(self) -> Timeline:
        """What those steps do."""
        return self._outcome.timeline if self._outcome else self.opened.procedure.timeline

    @property
    def cursor(self) -> int:
        """Index of the step that comes next."""
        return self._beyond if self._outcome else self._planned

    @property
    def first(self) -> int:
        """The first step that can be gone to: that of the mistake while one is looked at."""
        return self._outcome.step if self._outcome else 0

    @property
    def at_start(self) -> bool:
        """Whether no step is before."""
        return self.cursor <= self.first

    @property
    def at_end(self) -> bool:
        """Whether no step is left."""
        return self.cursor >= len(self.steps)

    @property
    def line(self) -> int:
        """The line after which the bed stands as it is before the step at the cursor; -1 at the start."""
        return self.timeline.lines - 1 if self.at_end else self.steps[self.cursor].first_line - 1

    @property
    def row(self) -> int:
        """The row that is knitted next, from 1; after the last one, that one."""
        if self.at_end:
            return self.timeline.passes
        step = self.steps[self.cursor]
        return min(step.passes + (not step.makes_pass), self.timeline.passes)

    @property
    def watched(self) -> list[tuple[int, Folded]]:
        """What is worth watching, with the step it happens in, in order of time."""
        if self._watched is None:
            outcome = self._outcome
            folded = outcome.new if outcome else self.opened.folded
            pairs = [(self._step_of(each.first), each) for each in folded]
            self._watched = sorted(pairs, key=lambda pair: pair[0])
        return self._watched

    def _step_of(self, finding: Finding) -> int:
        if self._outcome is None:
            return self.opened.step_of_finding(finding)
        timeline, steps = self._outcome.timeline, self._outcome.steps
        if finding.action is None:
            return len(steps) - 1
        line = timeline.line_of_action(finding.action)
        if timeline.event_of(line).is_pass:
            line = timeline.line_of_pass(finding.pass_number)
        return max(bisect_right(steps, line, key=lambda step: step.first_line) - 1, 0)

    # -- moving -------------------------------------------------------------------------------------------

    def go_to(self, step: int) -> None:
        """Put the cursor before a step; beyond either end it stops there."""
        step = max(self.first, min(step, len(self.steps)))
        if step == self.cursor:
            return
        if self._outcome:
            self._beyond = step
        else:
            self._planned = step
        self.cursor_moved.emit(step)

    def on(self) -> None:
        """One step on."""
        self.go_to(self.cursor + 1)

    def back(self) -> None:
        """One step back."""
        self.go_to(self.cursor - 1)

    def go_to_row(self, pass_number: int) -> None:
        """Put the cursor before the step that makes a pass; the first or last one for a pass beyond."""
        if self.timeline.passes:
            wanted = max(1, min(pass_number, self.timeline.passes))
            self.go_to(bisect_right(self.steps, wanted - 1, key=_passes_after))

    def go_to_segment(self, segment: int) -> None:
        """Put the cursor before the first step of a segment of the piece, if it has any."""
        found = next((step.number for step in self.steps if step.segment == segment), None)
        if found is not None:
            self.go_to(found)

    def next_finding(self) -> Folded | None:
        """Go to the next thing to watch behind the cursor, from the start again after the last.

        Returns:
            What was found there, or None if there is nothing to watch.
        """
        if not self.watched:
            return None
        ahead = [pair for pair in self.watched if pair[0] > self.cursor]
        step, found = (ahead or self.watched)[0]
        self.go_to(step)
        return found

    # -- what if ------------------------------------------------------------------------------------------

    @property
    def slips(self) -> list[Slip]:
        """Mistakes that can be made at the cursor; none while one is looked at already."""
        if self._outcome or self.at_end:
            return []
        return slips_at(self.opened.procedure, self._planned)

    @property
    def outcome(self) -> Outcome | None:
        """What became of the mistake slipped in last, while it is looked at."""
        return self._outcome

    def slip_in(self, slip: Slip) -> None:
        """Make a mistake at the cursor of the plan, and look at the bed straight after it."""
        outcome = what_if(self.opened.procedure, self._planned, slip)
        self._look_at(outcome)

    def leave_outcome(self) -> None:
        """Take the mistake back; the cursor stands where it was made."""
        if self._outcome is not None:
            self._look_at(None)

    def _look_at(self, outcome: Outcome | None) -> None:
        self._outcome, self._watched = outcome, None
        if outcome:
            self._beyond = min(outcome.step + 1, len(outcome.steps))
        self.outcome_changed.emit()

    def _piece_changed(self) -> None:
        self._watched = None
        self._planned = min(self._planned, len(self.opened.steps))
        self.leave_outcome()
        self.cursor_moved.emit(self.cursor)


def _passes_after(step: Step) -> int:
    return step.passes
