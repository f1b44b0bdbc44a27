"""Find one's place: where in a procedure the bed stands like the one in front of the knitter.

What a knitter can tell without counting is which needles are in hold with something on them, and on which
side the carriage stands. A place is the first line of a pass (or of the hands before the next one) after
which both are so, however many lines later they still are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

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

    Who asks more than once about one timeline keeps a :class:`Glances` of it, which is most of the work.

    Args:
        timeline: the procedure.
        held: needle indices; none for a bed with nothing in hold but empty needles.
        carriage: the side it stands on.

    Returns:
        All matches, one a pass and row. Without any, up to five near places: those with the fewest differing
        needles, then those with the carriage on that side, then the earliest; one a pass.
    """
    return Glances(timeline).locate(held, carriage)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Lines of one event: the needles in hold stay as they are, the carriage goes to and fro.

    Attributes:
        line: the first of them.
        lines: how many.
        passes: passes made after the last.
        row: the row counter then.
        carriage: where the carriage stands then.
    """

    line: int
    lines: int
    passes: int
    row: int
    carriage: Side

    def places(self, most: int) -> Iterator[tuple[Place, Side]]:
        """Its first lines, ``most`` of them or all, and where the carriage stands after each."""
        for line in range(min(self.lines, most)):
            still = self.lines - 1 - line
            side = self.carriage.other if still % 2 else self.carriage
            yield Place(self.line + line, self.passes - still, self.row - still), side


class Glances:
    """What one sees at a glance after every line of a timeline, walked through once.

    Args:
        timeline: the procedure; must not change afterwards.
    """

    def __init__(self, timeline: Timeline) -> None:
        self._needles = timeline.bed.needles
        # Few different sets of needles are ever in hold: each stands once, with the stretches that have it.
        self._of: dict[bytes, list[_Stretch]] = {}
        for event, state in timeline.walk_events():
            look = _held(state).tobytes()
            stretch = _Stretch(event.line, event.lines, state.passes, state.row, state.carriage)
            self._of.setdefault(look, []).append(stretch)

    def locate(self, held: Iterable[int], carriage: Side) -> Located:
        """As the function :func:`locate`."""
        wanted = np.zeros(self._needles, np.bool_)
        wanted[list(held)] = True
        matches: dict[tuple[int, int], Place] = {}
        for stretch in self._of.get(wanted.tobytes(), ()):
            for place, side in stretch.places(stretch.lines):
                if side is carriage:
                    matches.setdefault((place.passes, place.row), place)
        return Located(tuple(matches.values()), () if matches else self._nearest(wanted, carriage))

    def _nearest(self, wanted: npt.NDArray[np.bool_], carriage: Side) -> tuple[NearPlace, ...]:
        """The nearest by differing needles, carriage on the wrong side, and line; one a pass."""
        by_count: dict[int, list[tuple[_Stretch, tuple[int, ...]]]] = {}
        for look, stretches in self._of.items():
            differ = tuple(np.flatnonzero(np.frombuffer(look, np.bool_) != wanted).tolist())
            by_count.setdefault(len(differ), []).extend((stretch, differ) for stretch in stretches)
        found: dict[int, NearPlace] = {}
        for count in sorted(by_count):
            # A pass that was found with fewer needles differing stays with them.
            for near in _in_order(by_count[count], carriage):
                found.setdefault(near.place.passes, near)
                if len(found) == NEAREST:
                    return tuple(found.values())
        return tuple(found.values())


def _in_order(stretches: Iterable[tuple[_Stretch, tuple[int, ...]]], carriage: Side) -> Iterator[NearPlace]:
    """Places of some stretches: those with the carriage on the right side first, each lot by line."""
    ordered = sorted(stretches, key=lambda each: each[0].line)
    for on_its_side in (True, False):
        for stretch, differ in ordered:
            # Of so many lines at least NEAREST have the carriage on either side: no more can be among them.
            for place, side in stretch.places(2 * NEAREST):
                if (side is carriage) is on_its_side:
                    yield NearPlace(place, side, differ)


def _held(state: BedState) -> npt.NDArray[np.bool_]:
    """Mask of the needles that are in hold and bear loops or wraps."""
    held: npt.NDArray[np.bool_] = (state.position == HOLD) & (state.height > 0)
    return held
