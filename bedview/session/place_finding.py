"""Find my place: which rows have these needles in hold and the carriage on this side, or nearly."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from bedview.bed.locate import Glances, Place
from bedview.bed.needles import Side
from bedview.plan.instructions import heading
from bedview.plan.procedure import Procedure


@dataclass(frozen=True, slots=True)
class FoundPlace:
    """A place in the procedure where the bed stands so.

    Attributes:
        step: number of the step that comes next there; ``len(steps)`` at the end.
        line: the line after which it is so.
        row: the row that is knitted next there.
        counter: what the row counter shows there.
        part: title of the part of what comes next.
        differ: needles that are in hold there and should not be, or the reverse.
        other_side: the carriage stands on the other side there.
    """

    step: int
    line: int
    row: int
    counter: int
    part: str
    differ: tuple[int, ...] = ()
    other_side: bool = False


@dataclass(frozen=True, slots=True)
class FoundPlaces:
    """All places where it is exactly so, in order; or where it nearly is, the nearest first."""

    places: tuple[FoundPlace, ...]
    exact: bool

    def nearest_to(self, row: int, count: int) -> tuple[FoundPlace, ...]:
        """The places to show to someone who thinks that they are about to knit a row: the likeliest first."""
        if not self.exact:
            return self.places[:count]
        return tuple(sorted(self.places, key=lambda place: abs(place.row - row))[:count])


class PlaceFinder:
    """Finds places in one procedure, which it walks through once.

    Args:
        procedure: the procedure.
    """

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self._glances = Glances(procedure.timeline)
        self._titles: dict[int, str] = {}

    def find(self, held: Iterable[int], carriage: Side) -> FoundPlaces:
        """Where exactly these needles with loops are in hold, and the carriage stands there.

        Args:
            held: needle indices.
            carriage: the side.
        """
        located = self._glances.locate(held, carriage)
        if located.matches:
            return FoundPlaces(tuple(self._found(place) for place in located.matches), exact=True)
        near = (
            self._found(near.place, near.differ, other_side=near.carriage is not carriage)
            for near in located.nearest
        )
        return FoundPlaces(tuple(near), exact=False)

    def _found(self, place: Place, differ: tuple[int, ...] = (), *, other_side: bool = False) -> FoundPlace:
        steps = self.procedure.steps
        step = step_after_line(self.procedure, place.line)
        part = self._title(steps[min(step, len(steps) - 1)].span)
        return FoundPlace(step, place.line, place.passes + 1, place.row, part, differ, other_side)

    def _title(self, span: int) -> str:
        if span not in self._titles:
            self._titles[span] = heading(self.procedure, span)
        return self._titles[span]


def find_place(procedure: Procedure, held: Iterable[int], carriage: Side) -> FoundPlaces:
    """Places in a procedure that is asked once; see :meth:`PlaceFinder.find`."""
    return PlaceFinder(procedure).find(held, carriage)


def step_after_line(procedure: Procedure, line: int) -> int:
    """The step that comes when a line is done; one that was begun is to be done from its start."""
    steps = procedure.steps
    if line >= procedure.timeline.lines - 1:
        return len(steps)
    return max(bisect_right(steps, line + 1, key=lambda step: step.first_line) - 1, 0)
