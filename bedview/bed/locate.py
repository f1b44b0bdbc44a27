"""Find one's place: where in a procedure the bed stands like the one in front of the knitter.

What a knitter can tell without counting is which needles are in hold with something on them, and on which
side the carriage stands. A place is the first line of a pass (or of the hands before the next one) after
which both are so, however many lines later they still are.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from heapq import nsmallest
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.events import Event
from bedview.bed.needles import Side
from bedview.bed.state import HOLD, BedState
from bedview.bed.timeline import Timeline

NEAREST: Final = 5
"""How many near places are worth looking at."""


@dataclass(frozen=True, slots=True)
class Place:
    """A line of the timeline after which the bed stands so.

    Attributes:
        line: the first such line.
        passes: passes made by then.
        row: the row counter then.
    """

    line: int
    passes: int
    row: int


@dataclass(frozen=True, slots=True)
class NearPlace:
    """A place where it is not quite so.

    Attributes:
        place: where.
        carriage: the side on which the carriage stands there.
        differ: needles, ascending, that are in hold with loops there and should not be, or the reverse.
    """

    place: Place
    carriage: Side
    differ: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Located:
    """Where it is exactly so, in order; without a match, where it nearly is, the nearest first."""

    matches: tuple[Place, ...]
    nearest: tuple[NearPlace, ...]


def locate(timeline: Timeline, held: Iterable[int], carriage: Side) -> Located:
    """Where exactly these loop-bearing needles are in hold, and the carriage stands there.

    Args:
        timeline: the procedure.
        held: needle indices; none for a bed with nothing in hold but empty needles.
        carriage: the side it stands on.

    Returns:
        All matches, one a pass and row. Without any, up to five near places: those with the fewest differing
        needles, then those with the carriage on that side, then the earliest; one a pass.
    """
    wanted = np.zeros(timeline.bed.needles, np.bool_)
    wanted[list(held)] = True
    matches: dict[tuple[int, int], Place] = {}
    near: list[tuple[int, bool, Place]] = []
    for event, state in timeline.walk_events():
        differing = int(np.count_nonzero(_held(state) != wanted))
        for place, side in _places(event, state, every=not differing):
            if not differing and side is carriage:
                matches.setdefault((place.passes, place.row), place)
            elif not matches:
                near.append((differing, side is not carriage, place))
    if matches:
        return Located(tuple(matches.values()), ())
    return Located((), _nearest(timeline, wanted, near))


def _held(state: BedState) -> npt.NDArray[np.bool_]:
    """Mask of the needles that are in hold and bear loops or wraps."""
    held: npt.NDArray[np.bool_] = (state.position == HOLD) & (state.height > 0)
    return held


def _places(event: Event, state: BedState, *, every: bool) -> Iterable[tuple[Place, Side]]:
    """The lines of an event and where the carriage stands after each; its needles stay as they are meanwhile.

    Args:
        event: a hand action, a pass, or a block of like passes.
        state: the state after it.
        every: all lines; else no more of each side than can be among the nearest.
    """
    for line in range(event.lines if every else min(event.lines, 2 * NEAREST)):
        still = event.lines - 1 - line
        side = state.carriage.other if still % 2 else state.carriage
        yield Place(event.line + line, state.passes - still, state.row - still), side


def _nearest(
    timeline: Timeline, wanted: npt.NDArray[np.bool_], near: list[tuple[int, bool, Place]]
) -> tuple[NearPlace, ...]:
    """The nearest of some places by differing needles, carriage on the wrong side, and line; one a pass."""
    of_pass: dict[int, tuple[int, bool, int, Place]] = {}
    for differing, wrong_side, place in near:
        rank = (differing, wrong_side, place.line, place)
        best = of_pass.setdefault(place.passes, rank)
        if rank[:3] < best[:3]:
            of_pass[place.passes] = rank
    found = []
    for _, _, line, place in nsmallest(NEAREST, of_pass.values(), key=lambda rank: rank[:3]):
        state = timeline.state_at(line)
        differ = tuple(np.flatnonzero(_held(state) != wanted).tolist())
        found.append(NearPlace(place, state.carriage, differ))
    return tuple(found)
