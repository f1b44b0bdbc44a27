"""Openings and floats: found from where the yarn passes from one column to another.

Each time a fabric strand passes the boundary between two columns there is a *place*; it has a level on its
left and one on its right. Two places in succession at one boundary enclose a face, whose size is the level
gained on the left plus the level gained on the right. Plain knitting has size 2 everywhere; where one side
goes on without the other, as along a short row that nothing wraps, the face grows and shows as a hole.

A column that begins anew (cast on, laid in, transferred or hung onto an empty needle) has no face with what
was there before: the beginnings of both columns must be the same at both places.

A float is one passing that lies across many needles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, NamedTuple

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING, Fabric, Ints, is_wrap

LOOPS_A_STRETCH: Final = 1 << 16
"""Loops looked at in one go; also how far an edit makes the scan go back."""
PLACES_A_STRETCH: Final = 1 << 18
"""About so many places at most, where long jumps make many of few loops: they are what takes memory."""
SHOWS_FROM: Final = 4
"""Faces from this size on are kept one by one."""


@dataclass(frozen=True, slots=True)
class Opening:
    """One face of size 4 or more.

    Attributes:
        boundary: index of the needle on its left.
        size: levels gained on both sides together.
        wrapped: whether a loop of its two places is a wrap.
        loop: the loop that closed it.
    """

    boundary: int
    size: int
    wrapped: bool
    loop: int


@dataclass(frozen=True, slots=True)
class Float:
    """A passing from loop ``earlier`` to loop ``later`` of a fabric strand across many needles."""

    earlier: int
    later: int


_Array = npt.NDArray[Any]


class _Passings(NamedTuple):
    """Pairs of loops of a fabric strand in different columns, and how many columns it goes to the right.

    Loop ids are of the type that numpy indexes with: any other costs three times as much.
    """

    earlier: npt.NDArray[np.intp]
    later: npt.NDArray[np.intp]
    jump: Ints


class _Places(NamedTuple):
    """Places, one entry each: the boundary, and what a face between two of them needs to know.

    ``left`` and ``right`` are the levels; ``begun`` is the beginnings of the left column, and 65536 times
    those of the right; ``loop`` is the later end.
    """

    at: _Array
    left: _Array
    right: _Array
    begun: _Array
    wrapped: _Array
    loop: _Array


@dataclass(frozen=True, slots=True)
class _Carry:
    """What a stretch hands on: the last place at each boundary, the newest loop of each column."""

    loops: int
    faces: int
    floats: int
    last: _Places
    newest: Ints
    counts: npt.NDArray[np.int64]


class OpeningScan:
    """Faces of a growing fabric; :meth:`run` goes on where it stopped.

    Args:
        fabric: the fabric, which may grow and be cut back between runs.
        needles: how many needles the bed has.
        float_columns: a passing over so many columns is a float.
    """

    def __init__(self, fabric: Fabric, needles: int, float_columns: int) -> None:
        self._fabric = fabric
        self._float_columns = float_columns
        none = np.full(needles, NOTHING, np.int32)
        boundaries = np.arange(needles, dtype=np.uint16)
        last = _Places(boundaries, none, none, boundaries.astype(np.uint32), none != NOTHING, none)
        self._carries = [_Carry(0, 0, 0, last, none, np.zeros(1, np.int64))]
        self._faces: list[Opening] = []
        self._floats: list[Float] = []
        self._tail: tuple[_Carry, list[Opening], list[Float]] | None = None

    def copy_for(self, fabric: Fabric) -> OpeningScan:
        """The same scan over a copy of the fabric."""
        twin = OpeningScan(fabric, len(self._carries[0].newest), self._float_columns)
        twin._carries, twin._faces, twin._floats = self._carries[:], self._faces[:], self._floats[:]
        twin._tail = self._tail
        return twin

    def cut_back(self, loops: int) -> None:
        """Forget what lies behind the first ``loops`` loops."""
        if self._tail is not None and self._tail[0].loops > loops:
            self._tail = None
        while self._carries[-1].loops > loops:
            self._carries.pop()
        del self._faces[self._carries[-1].faces :]
        del self._floats[self._carries[-1].floats :]

    def run(self) -> None:
        """Look at all loops made since the last run."""
        if self._tail is not None and self._tail[0].loops == len(self._fabric):
            return
        while len(self._fabric) - self._carries[-1].loops >= LOOPS_A_STRETCH:
            self._keep(*self._stretch(self._carries[-1], self._carries[-1].loops + LOOPS_A_STRETCH))
        self._tail = self._stretch(self._carries[-1], len(self._fabric))
        while self._tail[0].loops < len(self._fabric):
            self._keep(*self._tail)
            self._tail = self._stretch(self._carries[-1], len(self._fabric))

    def _keep(self, carry: _Carry, faces: list[Opening], floats: list[Float]) -> None:
        self._faces.extend(faces)
        self._floats.extend(floats)
        self._carries.append(carry)

    def openings(self) -> list[Opening]:
        """All faces of size 4 and more, in the order in which loops closed them."""
        assert self._tail is not None
        return self._faces + self._tail[1]

    def floats(self) -> list[Float]:
        """All floats, in the order in which they were laid."""
        assert self._tail is not None
        return self._floats + self._tail[2]

    def sizes(self) -> dict[int, int]:
        """How many faces there are of each size."""
        assert self._tail is not None
        return {size: int(many) for size, many in enumerate(self._tail[0].counts) if many}

    # -- one stretch --------------------------------------------------------------------------------------

    def _stretch(self, carry: _Carry, stop: int) -> tuple[_Carry, list[Opening], list[Float]]:
        """Go on from ``carry`` to the loop ``stop``, or not as far where the places would be too many."""
        start = carry.loops
        passings = self._passings(start, stop)
        passings, stop = self._few_enough(passings, stop)
        newest = carry.newest.copy()
        places = self._places(passings, newest, start, stop)
        real = start + np.flatnonzero(~is_wrap(self._fabric.kind[start:stop]))
        newest[self._fabric.needle[real]] = real  # the last of equal needles stays
        last = _Places(*(column.copy() for column in carry.last))
        sizes, found = _enclosed(places, last)
        counts = _added(carry.counts, sizes)
        floats = self._long(passings)
        ends = carry.faces + len(found), carry.floats + len(floats)
        return _Carry(stop, *ends, last, newest, counts), found, floats

    def _few_enough(self, passings: _Passings, stop: int) -> tuple[_Passings, int]:
        """As many of the passings as make few enough places, and the loop where the stretch then ends."""
        if len(passings.jump) * _longest(passings.jump) <= PLACES_A_STRETCH:
            return passings, stop
        places = np.cumsum(np.abs(passings.jump), dtype=np.int64)
        count = max(int(np.searchsorted(places, PLACES_A_STRETCH, side="right")), 1)
        if count == len(places):
            return passings, stop
        earlier, later, jump = passings
        return _Passings(earlier[:count], later[:count], jump[:count]), int(later[count])

    def _long(self, passings: _Passings) -> list[Float]:
        if _longest(passings.jump) < self._float_columns:
            return []
        long = np.flatnonzero(np.abs(passings.jump) >= self._float_columns)
        return [Float(int(passings.earlier[k]), int(passings.later[k])) for k in long]

    def _passings(self, start: int, stop: int) -> _Passings:
        """Where fabric strands pass from a column to another with the loops ``start`` to ``stop`` - 1."""
        fabric = self._fabric
        earlier = fabric.previous_in_strand(start, stop)
        jump = fabric.needle[start:stop].astype(np.int32)
        jump -= fabric.needle[earlier]
        passes = (jump != 0) & (earlier >= 0)
        if fabric.has_waste:
            passes &= ~fabric.waste(np.arange(start, stop))
        later = np.flatnonzero(passes)
        return _Passings(earlier[later], later + start, jump[later])

    def _places(self, passings: _Passings, newest: Ints, start: int, stop: int) -> _Places:
        """Every boundary passed, in the order of the later loop."""
        fabric = self._fabric
        earlier, later, jump = passings
        rightward = jump > 0
        left, right = np.where(rightward, earlier, later), np.where(rightward, later, earlier)
        at = fabric.needle[left]
        begun = fabric.begun[left], fabric.begun[right]
        wrapped = is_wrap(fabric.kind[earlier]) | is_wrap(fabric.kind[later])
        if _longest(jump) > 1:
            each, at, step = _boundaries_between(at, np.abs(jump))
            left, right, later, wrapped = left[each], right[each], later[each], wrapped[each]
            seek = _NewestBefore(fabric, newest, start, stop)
            inner = np.flatnonzero(step > 0)
            left[inner], left_none = seek(at[inner], later[inner], left[inner])
            begun_left, begun_right = begun[0][each], begun[1][each]
            begun_left[inner] = np.where(left_none, 0, fabric.begun[left[inner]])
            inner = np.flatnonzero(step + 1 < np.abs(jump)[each])
            right[inner], right_none = seek(at[inner] + 1, later[inner], right[inner])
            begun_right[inner] = np.where(right_none, 0, fabric.begun[right[inner]])
            begun = begun_left, begun_right
        both_begun = begun[0].astype(np.uint32) + (begun[1].astype(np.uint32) << 16)
        return _Places(at, fabric.level[left], fabric.level[right], both_begun, wrapped, later)


def _longest(jumps: Ints) -> int:
    """Columns that the longest of some jumps goes, either way."""
    return max(int(jumps.max()), -int(jumps.min())) if len(jumps) else 0


def _boundaries_between(
    low: npt.NDArray[np.uint16], jumps: Ints
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.uint16], npt.NDArray[np.intp]]:
    """Each boundary that passings from column ``low`` over ``jumps`` columns pass.

    Returns:
        The passing it belongs to, the boundary, and how many boundaries of the passing lie on its left.
    """
    each = np.repeat(np.arange(len(low)), jumps)
    step = np.arange(len(each)) - np.repeat(np.cumsum(jumps) - jumps, jumps)
    return each, (low[each] + step).astype(np.uint16), step


class _NewestBefore:
    """Finds the newest loop that is no wrap in a column before some loop."""

    def __init__(self, fabric: Fabric, newest: Ints, start: int, stop: int) -> None:
        loops = start + np.flatnonzero(~is_wrap(fabric.kind[start:stop]))
        columns = fabric.needle[loops]
        self._keys = np.sort((columns.astype(np.int64) << 32) + loops)
        self._newest = newest
        self._grows = np.zeros(len(newest), np.bool_)
        self._grows[columns] = True

    def __call__(
        self, columns: npt.NDArray[np.uint16], before: _Array, otherwise: _Array
    ) -> tuple[_Array, npt.NDArray[np.bool_]]:
        """Newest loops of ``columns`` before ``before``; where there is none, ``otherwise`` and True."""
        found = self._newest[columns]
        grows = np.flatnonzero(self._grows[columns])
        keys = (columns[grows].astype(np.int64) << 32) + before[grows]
        place = np.searchsorted(self._keys, keys) - 1
        grows, place = grows[place >= 0], place[place >= 0]
        same = self._keys[place] >> 32 == columns[grows]
        found[grows[same]] = self._keys[place[same]] & 0xFFFFFFFF
        none = found == NOTHING
        return np.where(none, otherwise, found), none


def _enclosed(places: _Places, last: _Places) -> tuple[npt.NDArray[np.int32], list[Opening]]:
    """Sizes of the faces that ``places`` close, and those that show; ``last`` is brought up to date."""
    order = np.argsort(places.at, kind="stable")
    if not len(order):
        return np.empty(0, np.int32), []
    at = places.at[order]
    first = np.flatnonzero(np.append(True, at[1:] != at[:-1]))

    def before(column: _Array, last: _Array) -> _Array:
        """Of each place in ``order``, what the one before it at its boundary has."""
        found = np.empty_like(column)
        found[1:] = column[:-1]
        found[first] = last[at[first]]
        return found

    begun, left, right = places.begun[order], places.left[order], places.right[order]
    closed = begun == before(begun, last.begun)
    closed[first] &= last.loop[at[first]] != NOTHING
    gained = np.maximum(left - before(left, last.left), 0) + np.maximum(right - before(right, last.right), 0)
    shows = np.flatnonzero(closed & (gained >= SHOWS_FROM))
    found: list[Opening] = []
    if len(shows):
        wrapped, loop = places.wrapped[order], places.loop[order]
        wrapped |= before(wrapped, last.wrapped)
        shows = shows[np.lexsort((at[shows], loop[shows]))]
        found = [Opening(int(at[k]), int(gained[k]), bool(wrapped[k]), int(loop[k])) for k in shows]
    ends = order[np.append(first[1:], len(order)) - 1]
    for column, values in zip(last, places, strict=True):
        column[at[first]] = values[ends]
    return gained[closed], found


def _added(counts: npt.NDArray[np.int64], sizes: Ints) -> npt.NDArray[np.int64]:
    """Counts of each size with more sizes counted."""
    more = np.bincount(sizes, minlength=len(counts)) if len(sizes) else np.zeros(1, np.int64)
    total = np.zeros(max(len(more), len(counts)), np.int64)
    total[: len(more)] += more
    total[: len(counts)] += counts
    return total
