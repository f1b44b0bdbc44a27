"""What was knitted so far, remembered apart from the plan: the place is found again when the plan changes."""

from __future__ import annotations

from typing import Final

from bedview.bed.actions import Action, Knit
from bedview.bed.needles import Side
from bedview.bed.timeline import Timeline
from bedview.plan.procedure import Procedure
from bedview.session.place_finding import find_place, step_after_line
from bedview.session.setting_up import line_before_step

_COMPARED: Final = 400
"""Lines looked at to tell places apart where the bed looks the same."""


class KnittedSoFar:
    """The lines that were done, and how the bed stood then."""

    def __init__(self) -> None:
        self._lines: list[Action] = []
        self._held: tuple[int, ...] = ()
        self._carriage = Side.RIGHT
        self._passes = 0

    def remember(self, procedure: Procedure, line: int, *, anew: bool = False) -> None:
        """All lines of a procedure up to one have been done.

        Args:
            procedure: the procedure.
            line: the last line done, -1 for none.
            anew: it is another procedure than the last time.
        """
        timeline = procedure.timeline
        state = timeline.state_at(line)
        held = state.held[state.height[state.held] > 0]
        self._held, self._carriage, self._passes = tuple(held.tolist()), state.carriage, state.passes
        if anew:
            self._lines.clear()
        del self._lines[line + 1 :]
        self._lines.extend(_action_on(timeline, each) for each in range(len(self._lines), line + 1))

    def step_in(self, procedure: Procedure) -> int | None:
        """The step that comes next in another procedure, if it does the same up to here; else None."""
        timeline = procedure.timeline
        if len(self._lines) > timeline.lines:
            return None
        if any(_action_on(timeline, line) != action for line, action in enumerate(self._lines)):
            return None
        return step_after_line(procedure, len(self._lines) - 1)

    def step_like_here(self, procedure: Procedure) -> int:
        """The step of another procedure before which the bed stands as it does here.

        Of several the one before which most was done as it was here, then the nearest in rows. If there is
        none, the step after as many rows.
        """
        found = find_place(procedure, self._held, self._carriage)
        if not found.exact:
            return step_after_passes(procedure, self._passes)
        nearest = found.nearest_to(self._passes + 1, len(found.places))
        return max(nearest, key=lambda place: self._alike_before(procedure, place.step)).step

    def _alike_before(self, procedure: Procedure, step: int) -> int:
        """How many lines straight before a step are what was done last."""
        line = line_before_step(procedure, step)
        alike = 0
        for done in reversed(self._lines[-_COMPARED:]):
            if line < 0 or _action_on(procedure.timeline, line) != done:
                break
            alike, line = alike + 1, line - 1
        return alike


def step_after_passes(procedure: Procedure, passes: int) -> int:
    """The step after so many passes; after the last, if there are not so many."""
    last = procedure.timeline.passes
    return procedure.step_of_pass(min(passes, last)).number + 1 if passes and last else 0


def _action_on(timeline: Timeline, line: int) -> Action:
    """What is done on a line: a row of many as a row of its own, whatever side it names."""
    action = timeline.actions[timeline.action_of_line(line)]
    return Knit(1) if isinstance(action, Knit) else action
