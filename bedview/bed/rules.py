"""THE rules of the bed: what each action does, and when it is refused.

A bed is a row of needles. Each stands in one of four positions (out of work, working, upper working,
holding) and bears a stack of loops. A carriage stands on the left or on the right; its hold cams say
whether needles in hold knit. A strand of yarn is in its feeder, or none.

Hands place needles, lay wraps, move loops, thread and cut; the carriage makes passes. A needle *acts* in a
pass if it is in work or upper working, or in hold with the hold cams off. With no yarn in the feeder, a
needle that acts drops all it bears. With yarn it *knits*: one new loop is drawn through the whole stack,
and the needle stands in work. The yarn runs from the strand's tip, the last loop it made, so a needle in
hold between the tip and the stretch that knits is wrapped, and so is one inside the stretch; a needle on
the far side is not. That one rule is the whole of partial knitting: bring a needle to hold on the
carriage's side and the coming pass wraps it; bring it on the far side and it needs a wrap by hand, or an
opening stays.

A refused action changes nothing: each method below looks first and touches afterwards. Passes are in
:mod:`bedview.bed.passing`, edges that loops are hung from in :mod:`bedview.bed.edges`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import numpy as np

from bedview.bed import actions as do
from bedview.bed import edges
from bedview.bed.actions import Action, YarnRole
from bedview.bed.events import NO_FACTS, NONE, Event, Facts, Indices
from bedview.bed.fabric import HAND_WRAP, NOTHING, Fabric, Ints, LoopKind, NewLoops
from bedview.bed.ledger import Fallen, Hung, Ledger
from bedview.bed.needles import Bed, NeedleIndex, Position, Side, needle_name, shorten
from bedview.bed.passing import MOST_WRAPS, knit
from bedview.bed.refusals import Refused, beyond
from bedview.bed.state import HOLD, OUT, UPPER, BedState, Waiting
from bedview.language import gettext as _
from bedview.language import marked

__all__ = ["MOST_COUNTER", "MOST_DIAL", "MOST_LOOPS", "MOST_ROWS", "Machine", "Refused"]

MOST_ROWS: Final = 9999
MOST_DIAL: Final = 20
MOST_COUNTER: Final = 9999
MOST_LOOPS: Final = 3


class Machine:
    """Applies actions to states, and writes down the fabric that comes of them.

    Args:
        bed: the bed.
        yarns: id and role of each yarn of the piece.
        walk_passes: walks from an earlier pass to another (side edges look back); see
            :meth:`bedview.bed.timeline.Timeline.walk_passes`.

    Attributes:
        recording: while off, states change as the actions say, but the fabric and the ledger, which hold
            it all already, are left alone. So any earlier moment can be worked out again.
    """

    def __init__(
        self,
        bed: Bed,
        yarns: Sequence[tuple[str, YarnRole]],
        walk_passes: Callable[[int, int], Iterator[tuple[Event, BedState]]],
    ) -> None:
        self.bed = bed
        self.yarns = tuple(yarns)
        self.yarn_index = {name: index for index, (name, _) in enumerate(yarns)}
        self.fabric = Fabric(tuple(role for _, role in yarns))
        self.ledger = Ledger()
        self.hangs: dict[int, list[int]] = {}
        self.walk_passes = walk_passes
        self.recording = True

    def apply(self, state: BedState, number: int, line: int, action: Action) -> Iterable[Event]:
        """Do one action.

        Args:
            state: changed in place.
            number: number of the action.
            line: the timeline's line it starts at.
            action: what to do.

        Returns:
            The event, or for passes several of different kinds, each done when it is asked for: all must be.

        Raises:
            Refused: if it cannot be done; then nothing has changed.
        """
        if isinstance(action, do.Knit):
            if not 1 <= action.rows <= MOST_ROWS:
                raise beyond(
                    number, marked("rows must be from 1 to {most}, not {value}"), MOST_ROWS, action.rows
                )
            return knit(self, state, number, line, action)
        facts = self._by_hand(state, number, action)
        return [Event(number, line, 1, state.passes, state.yarn, facts=facts)]

    def _by_hand(self, state: BedState, number: int, action: do.HandAction) -> Facts:
        match action:
            case do.Thread() | do.Cut() | do.Park() | do.Resume():
                return self._yarn(state, number, action)
            case do.HoldCams() | do.FreeMove() | do.Tension() | do.SetCounter():
                return self._set(state, number, action)
            case do.Place() | do.Transfer() | do.Wrap():
                return self._needles(state, number, action)
            case do.CastOn():
                return self._cast_on(state, number, action)
            case do.BindOff():
                return self._bind_off(state, number, action)
            case do.Hang():
                return self._hang(state, number, action)
            case do.Note():
                return NO_FACTS

    @staticmethod
    def _set(
        state: BedState, number: int, action: do.HoldCams | do.FreeMove | do.Tension | do.SetCounter
    ) -> Facts:
        match action:
            case do.HoldCams(on=on):
                state.hold_cams = on
                state.cams_off_at = state.cams_off_at if on else number
                state.touched()
            case do.FreeMove():
                state.carriage = state.carriage.other
            case do.Tension(dial=dial):
                if not 0 <= dial <= MOST_DIAL:
                    raise beyond(
                        number, marked("the dial must be from 0 to {most}, not {value:g}"), MOST_DIAL, dial
                    )
                state.dial = dial
            case do.SetCounter(value=value):
                if not 0 <= value <= MOST_COUNTER:
                    raise beyond(
                        number,
                        marked("the counter must be from 0 to {most}, not {value}"),
                        MOST_COUNTER,
                        value,
                    )
                state.row = value
        return NO_FACTS

    # -- yarn ---------------------------------------------------------------------------------------------

    def _yarn(self, state: BedState, number: int, action: do.Thread | do.Cut | do.Park | do.Resume) -> Facts:
        match action:
            case do.Thread(yarn=name):
                return self._thread(state, number, name)
            case do.Resume(yarn=name):
                index = self.yarn_index.get(name, NOTHING)
                waiting = state.waiting.get(index)
                if waiting is None:
                    raise Refused(number, _("no strand of '{name}' waits").format(name=shorten(name)))
                self._unpark(state, index, waiting)
            case do.Park() | do.Cut():
                if not state.threaded:
                    parks = isinstance(action, do.Park)
                    why = _("there is no yarn in the feeder to park")
                    raise Refused(number, why if parks else _("there is no yarn in the feeder to cut"))
                if isinstance(action, do.Park):
                    _park(state)
                state.strand = state.yarn = state.tip = NOTHING
                state.touched()
        return NO_FACTS

    def _thread(self, state: BedState, number: int, name: str) -> Facts:
        index = self.yarn_index.get(name, NOTHING)
        if index == NOTHING:
            raise Refused(number, _("the yarn '{name}' is not in the piece").format(name=shorten(name)))
        facts = Facts(no_yarn_left=True) if state.threaded else NO_FACTS
        if self.recording:
            self.fabric.strand_yarn.extend(index, 1)
        state.strand, state.yarn, state.tip = state.strands, index, NOTHING
        state.strands += 1
        state.touched()
        return facts

    @staticmethod
    def _unpark(state: BedState, index: int, waiting: Waiting) -> None:
        others = {yarn: strand for yarn, strand in state.waiting.items() if yarn != index}
        if waiting.before is not None:
            others[index] = waiting.before
        state.waiting = others
        if state.threaded:
            _park(state)
        state.strand, state.yarn, state.tip = waiting.strand, index, waiting.tip
        state.touched()

    # -- needles ------------------------------------------------------------------------------------------

    def _needles(self, state: BedState, number: int, action: do.Place | do.Transfer | do.Wrap) -> Facts:
        match action:
            case do.Place():
                return self._place(state, number, action)
            case do.Transfer():
                return self._transfer(state, number, action)
            case do.Wrap():
                return self._wrap(state, number, action)

    @staticmethod
    def _place(state: BedState, number: int, action: do.Place) -> Facts:
        needles = np.array(sorted(action.needles), np.intp)
        if needles[-1] >= state.needles:
            raise Refused(number, _("a needle is beyond the bed"))
        facts = NO_FACTS
        towards_back = action.position is Position.WORK or action.position is Position.OUT
        if towards_back and len(bearing := needles[state.height[needles] > 0]):
            before = state.position[bearing]
            closed = bearing[before >= UPPER]
            put_out = bearing if action.position is Position.OUT else NONE
            facts = Facts(latch_closed=closed, put_out=put_out)
        state.position[needles] = int(action.position)
        if action.position is Position.HOLD:
            state.held_since[needles] = number
        state.touched()
        return facts

    # -- loops --------------------------------------------------------------------------------------------

    def _cast_on(self, state: BedState, number: int, action: do.CastOn) -> Facts:
        needles = np.array(sorted(action.needles, reverse=state.carriage is Side.LEFT), np.intp)
        self._need_yarn(state, number, marked("there is no yarn in the feeder to cast on"))
        full = needles[state.height[needles] > 0]
        if len(full):
            raise self._refused(
                number, marked("{needle} is not empty, so nothing can be cast on there"), min(full)
            )
        state.begun[needles] += 1
        none = np.full(len(needles), NOTHING, np.int32)
        nodes = self._make(state, number, needles, LoopKind.CAST_ON, np.zeros(len(needles), np.int32), none)
        state.top[needles] = nodes
        state.height[needles] = 1
        state.level[needles] = state.highest[needles] = 0
        state.position[needles] = Position.WORK
        state.touched()
        return NO_FACTS

    def _wrap(self, state: BedState, number: int, action: do.Wrap) -> Facts:
        needle = action.needle
        self._need_yarn(state, number, marked("there is no yarn in the feeder to wrap {needle}"), needle)
        if state.position[needle] != HOLD:
            raise self._refused(number, marked("{needle} is not in hold, so it cannot be wrapped"), needle)
        if not state.height[needle]:
            raise self._refused(number, marked("{needle} is empty, so there is nothing to wrap"), needle)
        one = np.array([needle], np.intp)
        state.top[one] = self._make(state, number, one, HAND_WRAP, state.level[one], state.top[one])
        state.height[needle] += 1
        state.wraps[needle] += 1
        state.touched()
        return Facts(many_wraps=one) if state.wraps[needle] == MOST_WRAPS + 1 else NO_FACTS

    def _transfer(self, state: BedState, number: int, action: do.Transfer) -> Facts:
        source, target = action.source, action.target
        if source == target:
            raise self._refused(number, marked("{needle} cannot be transferred onto itself"), source)
        if not state.height[source]:
            raise self._refused(number, marked("{needle} is empty, so there is nothing to transfer"), source)
        if state.position[target] == OUT:
            raise self._refused(number, marked("{needle} is out of work and takes no loops"), target)
        before = _load(state, target)
        if state.height[target]:
            self._lay_on(state, target, self.fabric.stack(int(state.top[source]))[::-1])
        else:
            state.top[target] = state.top[source]
            state.begun[target] += 1
        if state.height[source] > state.wraps[source]:
            state.level[target] = state.level[source]
        state.highest[target] = max(state.highest[target], state.highest[source])
        state.height[target] += state.height[source]
        state.wraps[target] += state.wraps[source]
        _clear(state, np.array([source], np.intp))
        state.touched()
        return _overloaded(state, target, before)

    def _bind_off(self, state: BedState, number: int, action: do.BindOff) -> Facts:
        needles = np.array(sorted(action.needles, reverse=state.carriage is Side.RIGHT), np.intp)
        self._need_yarn(state, number, marked("there is no yarn in the feeder to bind off"))
        empty = needles[state.height[needles] == 0]
        if len(empty):
            raise self._refused(number, marked("{needle} is empty, so it cannot be bound off"), min(empty))
        facts = NO_FACTS
        if self.recording and self.fabric.roles[state.yarn] is YarnRole.FABRIC:
            caught = self.waste_wrapped(state, np.sort(needles))
            facts = Facts(waste_caught=caught) if len(caught) else NO_FACTS
        self._make(state, number, needles, LoopKind.BIND, state.highest[needles] + 1, state.top[needles])
        _clear(state, needles)
        state.position[needles] = Position.OUT
        state.touched()
        return facts

    def _hang(self, state: BedState, number: int, action: do.Hang) -> Facts:
        needles = sorted(action.needles)
        loops = self._edge_to_hang(state, number, action)
        facts: list[Facts] = []
        for needle, loop in zip(needles, loops, strict=True):
            before = _load(state, needle)
            empty = not state.height[needle]
            level = int(self.fabric.level[loop])
            self._lay_on(state, needle, [loop])
            state.begun[needle] += empty
            state.height[needle] += 1
            state.level[needle] = level
            state.highest[needle] = max(state.highest[needle], level)
            state.position[needle] = Position.WORK
            facts.append(_overloaded(state, needle, before))
        state.touched()
        many = [fact.many_loops for fact in facts if len(fact.many_loops)]
        return Facts(many_loops=np.concatenate(many)) if many else NO_FACTS

    def _edge_to_hang(self, state: BedState, number: int, action: do.Hang) -> list[int]:
        """The loops of the edge, from the left needle to the right one; entered into the ledger."""
        if not self.recording:
            return self.hangs[number]
        try:
            loops = edges.edge_loops(self, state, action.edge)
            edges.refuse_unhangable(self, state, loops, len(action.needles))
        except edges.EdgeError as error:
            raise Refused(number, str(error)) from None
        if action.turned:
            loops.reverse()
        for loop in loops:
            through = self.ledger.drawn_through_by_fabric(self.fabric, loop)
            self.ledger.note_hung(Hung(number, loop, len(self.fabric), through))
            self.fabric.let_go[loop] = len(self.fabric)
        self.ledger.fallen.append(Fallen(number, False, np.array(loops, np.int32)))
        self.hangs[number] = loops
        return loops

    # -- helpers ------------------------------------------------------------------------------------------

    def _need_yarn(self, state: BedState, number: int, otherwise: str, needle: int = 0) -> None:
        if not state.threaded:
            raise self._refused(number, otherwise, needle)

    def _refused(self, number: int, otherwise: str, needle: int) -> Refused:
        return Refused(number, _(otherwise).format(needle=self._name(needle)))

    def _name(self, needle: int) -> str:
        return needle_name(NeedleIndex(int(needle)), self.bed.needles)

    def _make(
        self,
        state: BedState,
        number: int,
        needles: Indices,
        kind: int,
        level: Ints,
        under: Ints,
    ) -> Ints:
        """Let the strand in the feeder make loops on ``needles`` in this order; returns their ids."""
        if self.recording:
            self.fabric.open_course(number, state.strand, state.passes, state.tip)
            self.fabric.add(NewLoops(needles, kind, state.begun[needles], level, under))
        first = state.next_loop
        state.next_loop += len(needles)
        state.tip = state.next_loop - 1
        return np.arange(first, state.next_loop, dtype=np.int32)

    def _lay_on(self, state: BedState, needle: int, loops: list[int]) -> None:
        """Lay loops, the lowest first, on top of what a needle bears (``top`` only)."""
        if self.recording:
            nodes = self.fabric.move(np.array(loops, np.int32), int(state.top[needle]))
        else:
            nodes = self.fabric.moved_nodes(state.moved, len(loops))
        state.moved += len(loops)
        state.top[needle] = nodes[-1]

    def waste_wrapped(self, state: BedState, needles: Indices) -> Indices:
        """Those of ``needles`` whose stack holds a wrap of waste yarn or ravel cord."""
        return edges.waste_wrapped(self.fabric, needles, state.top[needles])


def _park(state: BedState) -> None:
    waiting = Waiting(state.strand, state.tip, state.waiting.get(state.yarn))
    state.waiting = {**state.waiting, state.yarn: waiting}


def _load(state: BedState, needle: int) -> tuple[int, int]:
    """Loops without wraps, and wraps, on a needle."""
    return int(state.height[needle] - state.wraps[needle]), int(state.wraps[needle])


def _overloaded(state: BedState, needle: int, before: tuple[int, int]) -> Facts:
    """Whether a needle has just passed the limit of loops or of wraps."""
    loops, wraps = _load(state, needle)
    one = np.array([needle], np.intp)
    many_loops = one if before[0] <= MOST_LOOPS < loops else NONE
    many_wraps = one if before[1] <= MOST_WRAPS < wraps else NONE
    if not len(many_loops) and not len(many_wraps):
        return NO_FACTS
    return Facts(many_loops=many_loops, many_wraps=many_wraps)


def _clear(state: BedState, needles: Indices) -> None:
    """Take everything off some needles."""
    state.top[needles] = state.highest[needles] = NOTHING
    state.height[needles] = state.wraps[needles] = state.level[needles] = 0
