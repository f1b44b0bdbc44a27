"""Needles that parts name one by one, followed to the same places of the same stretches by another gauge.

What a part brings back from hold, or wraps, stands at an edge or inside of a stretch: needles side by side
that work, or wait. By another gauge the stretches are wider or narrower; the edge of one stays its edge, and
what lies inside keeps its share. Where the bed is parted otherwise there are no same places.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from bedview.bed.needles import Position, format_needles, parse_needles
from bedview.bed.state import BedState
from bedview.plan.procedure import Procedure

Document = dict[str, Any]


class FollowedNeedles(NamedTuple):
    """A piece's document with such needles followed.

    Attributes:
        document: the piece.
        lost: parts whose needles have no same place; they stand there as they were written.
    """

    document: Document
    lost: frozenset[int]


def names_places(part: Document) -> bool:
    """Whether a part names needles by where they stand between others, and nothing else."""
    if part["kind"] == "bring_back":
        return part.get("needles") is not None
    if part["kind"] != "actions":
        return False
    done = {item["do"] for item in part["actions"]}
    return "wrap" in done and done <= {"wrap", "note"}


def follow_needles(document: Document, old: Procedure, new: Procedure) -> FollowedNeedles:
    """A piece's document with needles at the places they meant.

    Args:
        document: the piece by the new gauge, such needles anywhere.
        old: the piece as it was, part for part the same.
        new: the new piece compiled, as far as it can be; parts beyond stay as they are.
    """
    written, parts = old.piece.to_document()["segments"], list(document["segments"])
    lost: set[int] = set()
    reached = min(new.finished + 1, len(parts))
    for place, was in enumerate(written[:reached]):
        if not names_places(was):
            continue
        places = _Places.between(_before(old, place), _before(new, place))
        if places is None:
            lost.add(place)
            parts[place] = was
        else:
            parts[place] = _followed(parts[place], was, places)
    return FollowedNeedles({**document, "segments": parts}, frozenset(lost))


def _followed(part: Document, was: Document, places: _Places) -> Document:
    if part["kind"] == "bring_back":
        return {**part, "needles": places.of_list(was["needles"])}
    items = zip(part["actions"], was["actions"], strict=True)
    return {
        **part,
        "actions": [
            {**item, "needle": places.of_one(old["needle"])} if item["do"] == "wrap" else item
            for item, old in items
        ],
    }


def _before(procedure: Procedure, place: int) -> BedState:
    """The bed before a part, or where the procedure ends."""
    timeline, tops = procedure.timeline, procedure.top_spans()
    if place >= procedure.finished or place >= len(tops):
        last = tops[place - 1].stop if place and place <= len(tops) else len(timeline.actions)
        return timeline.state_at(timeline.line_of_action(last) - 1)
    return timeline.state_at(timeline.line_of_action(tops[place].start) - 1)


@dataclass(frozen=True, slots=True)
class _Places:
    """Where each needle of one bed is on another.

    Attributes:
        old: where the stretches of the one end, from the left end of the bed to the right.
        new: where the same ones of the other do.
        beds: needles of both.
    """

    old: list[int]
    new: list[int]
    beds: tuple[int, int]

    @classmethod
    def between(cls, old: BedState, new: BedState) -> _Places | None:
        """The places of two states; None if their beds are parted otherwise."""
        (kinds, ends), (new_kinds, new_ends) = _stretches(old), _stretches(new)
        return cls(ends, new_ends, (old.needles, new.needles)) if kinds == new_kinds else None

    def _edge(self, edge: int) -> int:
        """An edge of a needle, counted from the left end of the bed."""
        stretch = min(bisect_right(self.old, edge), len(self.old) - 1)
        (start, end), (first, last) = (ends[stretch - 1 : stretch + 1] for ends in (self.old, self.new))
        return first + round((edge - start) * (last - first) / (end - start))

    def _run(self, first: int, last: int) -> range:
        """Needles side by side; one at least, at the edge where they were."""
        start, end = self._edge(first), self._edge(last + 1)
        if start < end:
            return range(start, end)
        return range(start, start + 1) if first in self.old else range(end - 1, end)

    def of_one(self, needle: str) -> str:
        """The same needle: at the edge where it was, or nearest to its share."""
        (old,) = parse_needles(needle, self.beds[0])
        run = self._run(old, old)
        at = run[-1] if old + 1 in self.old and old not in self.old else run[0]
        return format_needles([at], self.beds[1])

    def of_list(self, needles: str) -> str:
        """The same needles, stretch by stretch."""
        found: set[int] = set()
        for part in needles.split(","):
            indices = parse_needles(part, self.beds[0])
            found.update(self._run(indices[0], indices[-1]))
        return format_needles(sorted(found), self.beds[1])


def _stretches(state: BedState) -> tuple[list[tuple[bool, bool]], list[int]]:
    """Stretches of needles alike: whether each bears stitches and whether it waits, and where they end.

    Empty ends of the bed belong to it, however narrow they are.
    """
    bears, waits = state.height > 0, (state.height > 0) & (state.position == Position.HOLD)
    changes = (np.flatnonzero((bears[1:] != bears[:-1]) | (waits[1:] != waits[:-1])) + 1).tolist()
    ends = [0, *changes, state.needles]
    kinds = [(bool(bears[start]), bool(waits[start])) for start, _end in pairwise(ends)]
    if bears[0]:
        kinds, ends = [(False, False), *kinds], [0, *ends]
    if bears[-1]:
        kinds, ends = [*kinds, (False, False)], [*ends, state.needles]
    return kinds, ends
