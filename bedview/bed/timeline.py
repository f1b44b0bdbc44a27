"""All states of a procedure, reachable at once, and cheap to change at the end.

A timeline grows by :meth:`Timeline.append`. It keeps every event, the fabric, and a copy of the state every
few events; any other state is worked out from the copy before it. To edit, put the pen back with
:meth:`Timeline.rewind` and append again: as long as the actions are the ones that stood there, nothing is
done twice; the first that differs drops the rest.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Final

from bedview.bed.actions import Action, Edge, Knit, YarnRole
from bedview.bed.again import LOOKING_FURTHER, Snapshot, Standing, Stretch
from bedview.bed.edges import edge_loops
from bedview.bed.events import Event
from bedview.bed.fabric import Fabric
from bedview.bed.needles import Bed
from bedview.bed.openings import OpeningScan
from bedview.bed.rules import Machine
from bedview.bed.state import BedState

EVENTS_A_SNAPSHOT: Final = 64
STATES_KEPT: Final = 8
"""States looked at last that are kept besides, so that a step on costs a step."""


class Timeline:
    """A procedure as it runs on a bed.

    Args:
        bed: the bed.
        yarns: id and role of each yarn of the piece.
    """

    def __init__(self, bed: Bed, yarns: Sequence[tuple[str, YarnRole]]) -> None:
        self.bed = bed
        self.machine = Machine(bed, yarns, self.walk_passes)
        self.events: list[Event] = []
        self._actions: list[Action] = []
        self._first_event: list[int] = []
        self._event_lines: list[int] = []
        self._live = BedState.start(bed)
        self._pen = 0
        self._snapshots = [Snapshot(0, self._live.copy())]
        self._openings: OpeningScan | None = None
        self._recent: dict[int, BedState] = {}
        self._edges: dict[Edge, tuple[int, ...]] = {}

    # -- writing ------------------------------------------------------------------------------------------

    def append(self, action: Action) -> Event:
        """Do the next action.

        Returns:
            Its (last) event.

        Raises:
            Refused: if the bed cannot do it; nothing before the pen has changed then, and nothing stands
                behind it any more.
        """
        if self._pen < len(self._actions):
            if self._actions[self._pen] == action:
                self._pen += 1
                return self.events[self._event_end(self._pen - 1) - 1]
            self.finish()
        self._edges.clear()
        number, first = len(self._actions), len(self.events)
        for event in self.machine.apply(self._live, number, self.lines, action):
            self.events.append(event)
            self._event_lines.append(event.line)
            self._keep_snapshot()
        self._actions.append(action)
        self._first_event.append(first)
        self._pen = len(self._actions)
        return self.events[-1]

    def rewind(self, action: int) -> None:
        """Put the pen back before an action; what stands there and after is kept until it differs."""
        self._pen = min(action, self._pen)

    def finish(self) -> None:
        """Drop whatever stands behind the pen."""
        if self._pen == len(self._actions):
            return
        self._edges.clear()
        kept = self._first_event[self._pen]
        live = self._live = self._state_before(kept)
        del self.events[kept:], self._event_lines[kept:]
        del self._actions[self._pen :], self._first_event[self._pen :]
        while self._snapshots[-1].event > kept:
            self._snapshots.pop()
        self.fabric.cut_back(live.next_loop, live.moved, live.strands)
        self.machine.ledger.cut_back(self._pen, live.passes, self.fabric)
        if self._openings is not None:
            self._openings.cut_back(live.next_loop)
        self._recent.clear()

    def can_be_done_again(self, actions: range) -> bool:
        """Whether what some actions did depends on nothing but how the bed stood before them."""
        if not actions:
            return True
        if any(isinstance(each, LOOKING_FURTHER) for each in self._actions[actions.start : actions.stop]):
            return False
        first, last = self._first_event[actions.start], self._event_end(actions.stop - 1) - 1
        passes = range(self._passes_before(first) + 1, self._passes_before(last + 1) + 1)
        if not self.machine.ledger.is_empty_between(actions, passes):
            return False
        # A loop drawn through nothing begins a column, whose levels count from 0 wherever the others stand.
        return bool((self.fabric.under[self.fabric.made_by(actions)] >= 0).all())

    def stretch(self, actions: range, before: BedState | None = None) -> Stretch:
        """A copy of what some actions did, which can be done again, to be done behind others.

        Args:
            actions: their numbers.
            before: the state before them, if it is known.
        """
        first, stop = self._first_event[actions.start], self._event_end(actions.stop - 1)
        before = before or self._state_before(first)
        end = self._state_before(stop)
        low, high = (
            bisect_right(self._snapshots, each, key=lambda kept: kept.event) for each in (first, stop)
        )
        return Stretch(
            Standing.of(self.fabric, before),
            actions.start,
            self.events[first].line,
            self._actions[actions.start : actions.stop],
            self.events[first:stop],
            [each - first for each in self._first_event[actions.start : actions.stop]],
            [Snapshot(each.event - first, each.state) for each in self._snapshots[low:high]],
            end,
            self.fabric.between(before.made, end.made),
        )

    def go_on_with(self, stretch: Stretch) -> bool:
        """Append all actions of a stretch, without doing them, if the bed stands as it stood before them.

        Returns:
            Whether it does; if not, nothing has changed.
        """
        if self._pen < len(self._actions):
            return False
        again = stretch.again(self.fabric, self._live, len(self._actions), self.lines)
        if again is None:
            return False
        first = len(self.events)
        self.events += again.events
        self._event_lines += [event.line for event in again.events]
        self._actions += again.actions
        self._first_event += [first + each for each in again.first_event]
        self._snapshots += [Snapshot(first + each.event, each.state) for each in again.snapshots]
        self.fabric.go_on_with(again.made)
        self._live, self._pen = again.end, len(self._actions)
        self._edges.clear()
        self._keep_snapshot()
        return True

    def _keep_snapshot(self) -> None:
        """Keep the state at the end, if the last one kept is some way back."""
        before = self._snapshots[-1]
        if len(self.events) - before.event >= EVENTS_A_SNAPSHOT:
            self._snapshots.append(Snapshot(len(self.events), self._live.copy_beside(before.state)))

    @property
    def at_its_end(self) -> bool:
        """Whether nothing stands behind the pen."""
        return self._pen == len(self._actions)

    def fork(self, line: int) -> Timeline:
        """An independent timeline, as this one was after ``line``."""
        twin = self._copy()
        last = self.action_of_line(line) if line >= 0 else -1
        twin.rewind(max(last, 0))
        twin.finish()
        if last >= 0:
            action = self._actions[last]
            if isinstance(action, Knit):
                action = Knit(line - self.line_of_action(last) + 1, action.start)
            twin.append(action)
        return twin

    def _copy(self) -> Timeline:
        twin = Timeline(self.bed, self.machine.yarns)
        twin.machine.fabric, twin.machine.ledger = self.fabric.copy(), self.machine.ledger.copy()
        twin.machine.hangs = dict(self.machine.hangs)
        twin.events, twin._event_lines = self.events[:], self._event_lines[:]
        twin._actions, twin._first_event = self._actions[:], self._first_event[:]
        twin._live, twin._pen, twin._snapshots = self._live.copy(), self._pen, self._snapshots[:]
        if self._openings is not None:
            twin._openings = self._openings.copy_for(twin.fabric)
        return twin

    # -- reading ------------------------------------------------------------------------------------------

    @property
    def actions(self) -> Sequence[Action]:
        """The actions before the pen."""
        return self._actions if self._pen == len(self._actions) else self._actions[: self._pen]

    @property
    def fabric(self) -> Fabric:
        """All loops made."""
        return self.machine.fabric

    @property
    def lines(self) -> int:
        """How many lines: one a hand action, one a pass."""
        return self.events[-1].line + self.events[-1].lines if self.events else 0

    @property
    def passes(self) -> int:
        """Passes made in all."""
        return self._live.passes

    @property
    def state(self) -> BedState:
        """The state after the last action before the pen. To be read at once, neither kept nor changed."""
        if self._pen == len(self._actions):
            return self._live
        return self.state_at(self.line_of_action(self._pen) - 1)

    def state_at(self, line: int) -> BedState:
        """A copy of the state after a line; -1 is the start.

        Raises:
            IndexError: if there is no such line.
        """
        if not -1 <= line < self.lines:
            raise IndexError(f"line {line} of {self.lines}")
        known = self._recent.get(line)
        if known is not None:
            return known.copy()
        event = bisect_right(self._event_lines, line) - 1
        whole = event < 0 or line == self._last_line_of(event)
        stop = event + 1 if whole else event
        state = self._state_before(max(stop, 0))
        if not whole:
            rows = line - self.events[event].line + 1
            self._replay_event(state, self.events[event], rows)
        self._remember(line, state)
        return state

    def _remember(self, line: int, state: BedState) -> None:
        """Keep a state, since whoever asks for one asks for its neighbours next."""
        while len(self._recent) >= STATES_KEPT:
            del self._recent[next(iter(self._recent))]
        self._recent[line] = state.copy()

    def state_after_pass(self, pass_number: int) -> BedState:
        """A copy of the state straight after a pass; 0 is the start."""
        return self.state_at(self.line_of_pass(pass_number)) if pass_number else self.state_at(-1)

    def walk(self) -> Iterator[tuple[Event, int, BedState]]:
        """Every line in order: its event, its place among the event's lines, and the state after it.

        The state is the same object each time, changed in place; read what you need at once.
        """
        state = self._snapshots[0].state.copy()
        for event in self.events:
            for row in range(event.lines):
                self._replay_event(state, event, 1)
                yield event, row, state

    def walk_events(self) -> Iterator[tuple[Event, BedState]]:
        """Every event in order, and the state after the last of its lines; the same object each time."""
        state = self._snapshots[0].state.copy()
        for event in self.events:
            self._replay_event(state, event, event.lines)
            yield event, state

    def walk_passes(self, first: int, last: int) -> Iterator[tuple[Event, BedState]]:
        """The events that made the passes ``first`` to ``last``, each with the state after it.

        The state is the same object each time, changed in place; read what you need at once.
        """
        first = max(first, 1)
        if first > min(last, self.passes):
            return
        start = bisect_right(self._event_lines, self.line_of_pass(first)) - 1
        state = self._state_before(start)
        for event in islice(self.events, start, None):
            if event.is_pass and event.passes > last:
                return
            self._replay_event(state, event, event.lines)
            if event.is_pass:
                yield event, state

    def events_of(self, first: int, stop: int) -> Iterator[tuple[Event, range]]:
        """The events that the lines ``first`` to ``stop`` - 1 belong to, each with those of its lines."""
        start = max(bisect_right(self._event_lines, first) - 1, 0)
        for event in islice(self.events, start, None):
            if event.line >= stop:
                return
            yield event, range(max(event.line, first), min(event.line + event.lines, stop))

    def event_of(self, line: int) -> Event:
        """The event a line belongs to."""
        return self.events[bisect_right(self._event_lines, line) - 1]

    def line_of_action(self, action: int) -> int:
        """First line of an action; ``len(actions)`` gives the number of lines."""
        return self.events[self._first_event[action]].line if action < len(self._actions) else self.lines

    def action_of_line(self, line: int) -> int:
        """Number of the action a line belongs to."""
        return self.event_of(line).action

    def pass_of_line(self, line: int) -> int:
        """Passes made after a line; 0 for -1."""
        if line < 0:
            return 0
        event = self.event_of(line)
        return event.passes + line - event.line if event.is_pass else event.passes

    def line_of_pass(self, pass_number: int) -> int:
        """The line of a pass, from 1.

        Raises:
            IndexError: if there is no such pass.
        """
        if not 1 <= pass_number <= self.passes:
            raise IndexError(f"pass {pass_number} of {self.passes}")
        low, high = 0, len(self.events)
        while low < high:
            middle = (low + high) // 2
            event = self.events[middle]
            last = event.passes + event.lines - 1 if event.is_pass else event.passes
            low, high = (middle + 1, high) if last < pass_number else (low, middle)
        event = self.events[low]
        return event.line + pass_number - event.passes

    def edge_loops(self, edge: Edge) -> list[int]:
        """The loops of an edge as everything stands at the end; see :func:`bedview.bed.edges.edge_loops`."""
        # Seams, yarn and fit ask for the same ones after each edit.
        known = self._edges.get(edge)
        if known is None:
            known = self._edges[edge] = tuple(edge_loops(self.machine, self._live, edge))
        return list(known)

    @property
    def openings(self) -> OpeningScan:
        """Openings between columns, and floats, brought up to date."""
        if self._openings is None:
            self._openings = OpeningScan(self.fabric, self.bed.needles, self.bed.float_columns)
        self._openings.run()
        return self._openings

    # -- working out --------------------------------------------------------------------------------------

    def _event_end(self, action: int) -> int:
        return self._first_event[action + 1] if action + 1 < len(self._actions) else len(self.events)

    def _passes_before(self, event: int) -> int:
        """Passes made before an event, or at the end."""
        if not event:
            return 0
        before = self.events[event - 1]
        return before.passes + before.lines - 1 if before.is_pass else before.passes

    def _last_line_of(self, event: int) -> int:
        return self.events[event].line + self.events[event].lines - 1

    def _state_before(self, event: int) -> BedState:
        """The state straight before an event (or at the end), worked out from the nearest one known."""
        if event == len(self.events):
            return self._live.copy()
        place = bisect_right(self._snapshots, event, key=lambda each: each.event) - 1
        nearest = self._snapshots[place]
        for line, state in self._recent.items():
            known = bisect_right(self._event_lines, line)
            if nearest.event < known <= event and line == self._last_line_of(known - 1):
                nearest = Snapshot(known, state)
        state = nearest.state.copy()
        for each in self.events[nearest.event : event]:
            self._replay_event(state, each, each.lines)
        return state

    def _replay_event(self, state: BedState, event: Event, rows: int) -> None:
        action = self._actions[event.action]
        if isinstance(action, Knit):
            action = Knit(rows)
        self.machine.recording = False
        try:
            for _ in self.machine.apply(state, event.action, event.line, action):
                pass
        finally:
            self.machine.recording = True
