"""A stretch of actions done again where the bed stands as it did before, but for numbers.

An edit changes a few actions, and those behind them often meet what they met before: like stacks on the same
needles in the same positions, only that loops, passes and levels count from elsewhere. Then all that they did
is known; it is written down again with other numbers, which costs a small part of doing it.

Levels count along columns: on each needle they may rise by another number, as between two darts, unless
loops go from one column to another. Only stretches are taken that look no further back than the stacks on the
needles: none that drops or hangs loops, begins columns, or leaves and takes up strands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import Action, Park, Resume, SetCounter, Transfer
from bedview.bed.events import Event, Indices
from bedview.bed.fabric import MOVED, NOTHING, Fabric, Ints
from bedview.bed.loops import FabricStretch
from bedview.bed.state import HOLD, BedState

LOOKING_FURTHER: Final = (Park, Resume, SetCounter)
_SAME_ARRAYS: Final = ("position", "height", "wraps", "begun")
_SAME: Final = ("carriage", "hold_cams", "dial", "strand", "yarn", "strands", "steady")


@dataclass(frozen=True, slots=True)
class Snapshot:
    """The state straight before an event."""

    event: int
    state: BedState


@dataclass(frozen=True, slots=True)
class Standing:
    """How a bed stands: its state, and of every loop on it what later actions can ask.

    Attributes:
        state: the state.
        nodes: of all loops on needles, the uppermost of each needle first, then the second of those with one.
        loops: their ids.
        looks: needle it lies on, column, kind, and whether it is waste; shape (4, loops).
        tip: column and kind of the loop the yarn comes from; None if there is none.
    """

    state: BedState
    nodes: Ints
    loops: Ints
    looks: npt.NDArray[np.int64]
    tip: tuple[int, int] | None

    @classmethod
    def of(cls, fabric: Fabric, state: BedState) -> Standing:
        """How it stands now."""
        needles: list[Indices] = []
        nodes: list[Ints] = []
        here, lying = state.bearing, state.top[state.bearing]
        while len(here):
            needles.append(here)
            nodes.append(lying)
            lying = fabric.below_of(lying)
            here, lying = here[lying >= 0], lying[lying >= 0]
        every = np.concatenate(nodes) if nodes else np.empty(0, np.int32)
        at = np.concatenate(needles) if needles else np.empty(0, np.intp)
        loops = fabric.loops_of(every)
        waste = fabric.waste(loops) if len(loops) else loops
        looks = np.array((at, fabric.needle[loops], fabric.kind[loops], waste), np.int64)
        tip = None if state.tip == NOTHING else (int(fabric.needle[state.tip]), int(fabric.kind[state.tip]))
        return cls(state.copy(), every, loops, looks, tip)

    def levels_above(self, other: Standing) -> Ints | None:
        """How many levels higher each needle is than in another that is alike but for numbers.

        Returns:
            One number a needle, 0 where it is empty; None if it is not alike.
        """
        mine, others = self.state, other.state
        alike = (
            look_alike(mine, others)
            and self.tip == other.tip
            and np.array_equal(self.looks, other.looks)
            and np.array_equal(self.loops == mine.tip, other.loops == others.tip)
            and np.array_equal(_held_on_purpose(mine), _held_on_purpose(others))
        )
        bears = mine.height > 0
        if not alike or not bears.any() or (mine.wraps[bears] == mine.height[bears]).any():
            return None
        rises: Ints = np.where(bears, mine.level - others.level, 0)
        return rises if np.array_equal((mine.highest - others.highest)[bears], rises[bears]) else None


def look_alike(one: BedState, other: BedState) -> bool:
    """Whether two states are alike at first sight: all but what the loops on the needles are."""
    return (
        not one.waiting
        and not other.waiting
        and all(getattr(one, name) == getattr(other, name) for name in _SAME)
        and all(np.array_equal(getattr(one, name), getattr(other, name)) for name in _SAME_ARRAYS)
    )


def _held_on_purpose(state: BedState) -> npt.NDArray[np.bool_]:
    """Needles put in hold since the hold cams were last set off."""
    held: npt.NDArray[np.bool_] = (state.position == HOLD) & (state.held_since > state.cams_off_at)
    return held


@dataclass(frozen=True, slots=True)
class Stretch:
    """What some actions did, from a place in a timeline to another.

    Attributes:
        met: how the bed stood before.
        action: number of the first of them.
        line: its line.
        actions: the actions.
        events: their events.
        first_event: of each action its first event, counted from that of the first action.
        snapshots: states on the way, their events counted likewise.
        end: the state after them.
        made: what they made.
    """

    met: Standing
    action: int
    line: int
    actions: list[Action]
    events: list[Event]
    first_event: list[int]
    snapshots: list[Snapshot]
    end: BedState
    made: FabricStretch

    @property
    def passes(self) -> int:
        """How many passes they make."""
        return self.end.passes - self.met.state.passes

    def again(self, fabric: Fabric, state: BedState, action: int, line: int) -> Stretch | None:
        """The same done behind other actions; None where the bed stands otherwise.

        Args:
            fabric: what was made before.
            state: the state to go on from.
            action: number of the first action then.
            line: its line.
        """
        meets = Standing.of(fabric, state)
        levels = meets.levels_above(self.met)
        if levels is not None and any(isinstance(each, Transfer) for each in self.actions):
            levels = _one_for_all(levels, meets.state.height > 0)
        if levels is None:
            return None
        moved = _Renumbering(self, meets, action - self.action, line - self.line, levels)
        snapshots = [Snapshot(each.event, moved.state(each.state)) for each in self.snapshots]
        events = [moved.event(each) for each in self.events]
        end, made = moved.state(self.end), moved.fabric(self.made)
        return Stretch(meets, action, line, self.actions, events, self.first_event, snapshots, end, made)


def _one_for_all(levels: Ints, bears: npt.NDArray[np.bool_]) -> Ints | None:
    """The rise of all needles, empty ones too, where all that bear loops have risen alike."""
    rise = levels[bears][0]
    return np.full_like(levels, rise) if (levels[bears] == rise).all() else None


class _Renumbering:
    """From the numbers of a stretch to those it has behind other actions.

    Args:
        stretch: the stretch as it was.
        meets: how the bed stands before it now; alike but for numbers.
        actions: how many more actions stand before it.
        lines: how many more lines.
        levels: of each needle, how many levels higher the loops on it are.
    """

    def __init__(self, stretch: Stretch, meets: Standing, actions: int, lines: int, levels: Ints) -> None:
        self._then, self._now = stretch.met.state, meets.state
        self._from_action = stretch.action
        self._actions, self._lines, self._levels = actions, lines, levels
        self._passes = self._now.passes - self._then.passes
        self._loops_more = self._now.next_loop - self._then.next_loop
        self._nodes = _Pairs(stretch.met.nodes, meets.nodes)
        self._loops = _Pairs(stretch.met.loops, meets.loops)

    def nodes(self, nodes: npt.NDArray[np.integer]) -> Ints:
        """Nodes of loops that stood there, were made or moved; -1 stays."""
        found = nodes.astype(np.int32)
        made = (nodes >= self._then.next_loop) & (nodes < MOVED)
        moved = nodes >= MOVED + self._then.moved
        stood = (nodes >= 0) & ~made & ~moved
        found[made] += self._loops_more
        found[moved] += self._now.moved - self._then.moved
        found[stood] = self._nodes.second_of(found[stood])
        return found

    def loops(self, loops: Ints) -> Ints:
        """Loops that stood there or were made."""
        found = loops + self._loops_more
        stood = loops < self._then.next_loop
        found[stood] = self._loops.second_of(loops[stood])
        return found

    def tip(self, tip: int) -> int:
        """The last loop of the strand."""
        if tip == NOTHING:
            return NOTHING
        return self._now.tip if tip == self._then.tip else tip + self._loops_more

    def state(self, state: BedState) -> BedState:
        """A state on the way."""
        found = state.copy()
        bears = state.height > 0
        found.top = self.nodes(state.top)
        rises = self._levels[bears]
        found.level[bears] += rises
        found.highest[bears] += rises
        later = state.held_since >= self._from_action
        found.held_since = np.where(later, state.held_since + self._actions, self._now.held_since)
        if state.cams_off_at >= self._from_action:
            found.cams_off_at += self._actions
        else:
            found.cams_off_at = self._now.cams_off_at
        found.tip = self.tip(state.tip)
        found.passes += self._passes
        found.row += self._now.row - self._then.row
        found.next_loop += self._loops_more
        found.moved += self._now.moved - self._then.moved
        return found

    def event(self, event: Event) -> Event:
        """An event; what it did to which needles is the same."""
        return Event(
            event.action + self._actions,
            event.line + self._lines,
            event.lines,
            event.passes + self._passes,
            event.yarn,
            event.knit,
            event.wrapped,
            event.dropped,
            event.laid_in,
            event.facts,
            event.is_pass,
        )

    def fabric(self, made: FabricStretch) -> FabricStretch:
        """What was made."""
        loops, courses = made.loops, made.courses
        tips = np.where(courses.tip == self._then.tip, self._now.tip, courses.tip + self._loops_more)
        return FabricStretch(
            loops._replace(level=loops.level + self._levels[loops.needle], under=self.nodes(loops.under)),
            courses._replace(
                first=courses.first + self._loops_more,
                action=courses.action + self._actions,
                pass_number=courses.pass_number + self._passes,
                tip=np.where(courses.tip == NOTHING, NOTHING, tips).astype(np.int32),
            ),
            self.loops(made.moved_loop),
            self.nodes(made.moved_under),
            made.strand_yarn,
        )


class _Pairs:
    """Finds what stands second in pairs of numbers by what stands first."""

    def __init__(self, first: Ints, second: Ints) -> None:
        order = np.argsort(first)
        self._first, self._second = first[order], second[order]

    def second_of(self, first: Ints) -> Ints:
        """The seconds of some firsts, all of which must be there."""
        found: Ints = self._second[self._first.searchsorted(first)] if len(first) else first
        return found
