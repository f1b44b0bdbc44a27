"""Openings between neighbouring columns: what is gained on both sides between two crossings of the yarn.

Decisions where the wording could be read two ways:

* "Made before" at a place means made before the later of the two loops of that passing.
* A place whose counts of beginnings differ from those of the place before encloses no face with it, but is
  itself the first place of the next face.
* All four ends of the two passings are asked whether they are wraps.
"""

from dataclasses import dataclass
from itertools import pairwise

from tests.reference.fabric import Loop, Strand


@dataclass
class Place:
    """Where a strand passes the boundary of two columns: the ends of the passing, level and count a side."""

    ends: tuple[Loop, Loop]
    levels: tuple[int, int]
    beginnings: tuple[int, int]


@dataclass
class Face:
    """What two places in succession enclose between the column ``left`` (0-based) and the one right of it."""

    left: int
    size: int
    has_wrap: bool
    closing: Loop


def side_of_place(column: int, ends: tuple[Loop, Loop], own_end: Loop, loops: list[Loop]) -> tuple[int, int]:
    """Level and count of beginnings of one column at a place; ``own_end`` is its end on that side."""
    for end in ends:
        if end.column == column:
            return end.level, end.beginnings
    later = ends[1]
    for loop in reversed(loops[: later.number]):
        if loop.column == column and not loop.is_wrap:
            return loop.level, loop.beginnings
    return own_end.level, 0


def places_at(left: int, strands: list[Strand], loops: list[Loop]) -> list[Place]:
    """All places at the boundary right of column ``left``, in order of the later loop."""
    found: list[Place] = []
    for strand in strands:
        if not strand.is_fabric:
            continue
        for earlier, later in pairwise(strand.loops):
            left_end, right_end = (earlier, later) if earlier.column < later.column else (later, earlier)
            if not left_end.column <= left < right_end.column:
                continue
            on_left = side_of_place(left, (earlier, later), left_end, loops)
            on_right = side_of_place(left + 1, (earlier, later), right_end, loops)
            found.append(Place((earlier, later), (on_left[0], on_right[0]), (on_left[1], on_right[1])))
    return sorted(found, key=lambda place: place.ends[1].number)


def faces(needles_on_bed: int, strands: list[Strand], loops: list[Loop]) -> list[Face]:
    """Every face of the fabric, boundary by boundary from the left."""
    found: list[Face] = []
    for left in range(needles_on_bed - 1):
        places = places_at(left, strands, loops)
        for before, after in pairwise(places):
            if before.beginnings != after.beginnings:
                continue
            size = sum(max(0, late - early) for early, late in zip(before.levels, after.levels, strict=True))
            has_wrap = any(loop.is_wrap for loop in before.ends + after.ends)
            found.append(Face(left, size, has_wrap, after.ends[1]))
    return found
