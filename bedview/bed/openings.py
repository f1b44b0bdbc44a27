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
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING, Fabric, Ints, is_wrap

LOOPS_A_STRETCH: Final = 1 << 16
"""Loops looked at in one go; also how far an edit makes the scan go back."""
PLACES_A_STRETCH: Final = 1 << 18
"""About so many places at most, where long jumps make many of few loops: they are what takes memory."""
SHOWS_FROM: Final = 4
"""Faces from this size on are kept one by one."""

_AT, _LEFT, _RIGHT, _LEFT_BEGUN, _RIGHT_BEGUN, _WRAPPED, _LOOP = range(7)


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


@dataclass(frozen=True, slots=True)
class _Carry:
    """What a stretch hands on: the last place at each boundary, the newest loop of each column."""

    loops: int
    faces: int
    floats: int
    places: Ints
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
        places = np.full((7, max(needles - 1, 1)), NOTHING, np.int32)
        start = _Carry(0, 0, 0, places, np.full(needles, NOTHING, np.int32), np.zeros(1, np.int64))
        self._carries = [start]
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
        newest = carry.newest.copy()
        passings = self._passings(start, stop)
        passings, stop = self._few_enough(passings, stop)
        places = self._places(passings, newest, start, stop)
        loops = np.arange(start, stop, dtype=np.int32)
        real = loops[~is_wrap(self._fabric.kind[start:stop])]
        newest[self._fabric.needle[real]] = real  # the last of equal needles stays
        last = carry.places.copy()
        sizes, found = _enclosed(places, last)
        counts = _added(carry.counts, sizes)
        floats = self._long(passings)
        ends = carry.faces + len(found), carry.floats + len(floats)
        return _Carry(stop, *ends, last, newest, counts), found, floats

    def _few_enough(self, passings: Ints, stop: int) -> tuple[Ints, int]:
        """As many of the passings as make few enough places, and the loop where the stretch then ends."""
        columns = self._fabric.needle[passings].astype(np.int32)
        places = np.cumsum(np.abs(columns[1] - columns[0]), dtype=np.int64)
        if not len(places) or places[-1] <= PLACES_A_STRETCH:
            return passings, stop
        count = max(int(np.searchsorted(places, PLACES_A_STRETCH, side="right")), 1)
        return (passings[:, :count], int(passings[1, count])) if count < len(places) else (passings, stop)

    def _long(self, passings: Ints) -> list[Float]:
        columns = self._fabric.needle[passings].astype(np.int32)
        long = np.flatnonzero(np.abs(columns[1] - columns[0]) >= self._float_columns)
        return [Float(*passings[:, k].tolist()) for k in long]

    def _passings(self, start: int, stop: int) -> npt.NDArray[np.int32]:
        """Pairs of loops of a fabric strand in different columns, shape (2, count), the later one below."""
        fabric = self._fabric
        later = np.arange(start, stop, dtype=np.int32)
        earlier = fabric.previous_in_strand(start, stop)
        good = (earlier >= 0) & ~fabric.waste(later)
        good &= fabric.needle[earlier] != fabric.needle[start:stop]
        return np.stack((earlier[good], later[good]))

    def _places(self, passings: Ints, newest: Ints, start: int, stop: int) -> Ints:
        """Every boundary passed, in the order of the later loop; rows as named at the head of this file."""
        fabric = self._fabric
        columns = fabric.needle[passings].astype(np.int32)
        ends_wrapped = is_wrap(fabric.kind[passings])
        wrapped = ends_wrapped[0] | ends_wrapped[1]
        low, high = columns.min(axis=0), columns.max(axis=0)
        jumps = high - low
        left_end = np.where(columns[0] < columns[1], passings[0], passings[1])
        right_end = np.where(columns[0] < columns[1], passings[1], passings[0])
        each = np.repeat(np.arange(len(low)), jumps)
        step = np.arange(len(each)) - np.repeat(np.cumsum(jumps) - jumps, jumps)
        at = low[each] + step
        left, right = left_end[each], right_end[each]
        left_none, right_none = np.zeros(len(each), np.bool_), np.zeros(len(each), np.bool_)
        if (jumps > 1).any():
            seek = _NewestBefore(fabric, newest, start, stop)
            inner = np.flatnonzero(at > low[each])
            left[inner], left_none[inner] = seek(at[inner], passings[1][each[inner]], left[inner])
            inner = np.flatnonzero(at + 1 < high[each])
            right[inner], right_none[inner] = seek(at[inner] + 1, passings[1][each[inner]], right[inner])
        return np.stack(
            (
                at,
                fabric.level[left],
                fabric.level[right],
                np.where(left_none, 0, fabric.begun[left]),
                np.where(right_none, 0, fabric.begun[right]),
                wrapped[each],
                passings[1][each],
            )
        ).astype(np.int32)


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
        self, columns: npt.NDArray[np.int64], before: Ints, otherwise: Ints
    ) -> tuple[Ints, npt.NDArray[np.bool_]]:
        """Newest loops of ``columns`` before ``before``; where there is none, ``otherwise`` and True."""
        found = self._newest[columns]
        grows = np.flatnonzero(self._grows[columns])
        place = np.searchsorted(self._keys, (columns[grows] << 32) + before[grows]) - 1
        grows, place = grows[place >= 0], place[place >= 0]
        same = self._keys[place] >> 32 == columns[grows]
        found[grows[same]] = self._keys[place[same]] & 0xFFFFFFFF
        none = found == NOTHING
        return np.where(none, otherwise, found), none


def _enclosed(places: Ints, last: Ints) -> tuple[npt.NDArray[np.int64], list[Opening]]:
    """Sizes of the faces that ``places`` close, and those that show; ``last`` is brought up to date."""
    order = np.argsort(places[_AT].astype(np.uint16), kind="stable")
    after = places[:, order]
    if not after.shape[1]:
        return np.empty(0, np.int64), []
    first = np.ones(after.shape[1], np.bool_)
    first[1:] = after[_AT, 1:] != after[_AT, :-1]
    before = np.empty_like(after)
    before[:, 1:] = after[:, :-1]
    before[:, first] = last[:, after[_AT, first]]
    ends = np.append(np.flatnonzero(first)[1:], after.shape[1]) - 1
    last[:, after[_AT, ends]] = after[:, ends]

    closed = np.not_equal(before[_AT], NOTHING)
    closed &= before[_LEFT_BEGUN] == after[_LEFT_BEGUN]
    closed &= before[_RIGHT_BEGUN] == after[_RIGHT_BEGUN]
    gained = np.maximum(after[_LEFT] - before[_LEFT], 0) + np.maximum(after[_RIGHT] - before[_RIGHT], 0)
    shows = np.flatnonzero(closed & (gained >= SHOWS_FROM))
    shows = shows[np.lexsort((after[_AT, shows], after[_LOOP, shows]))]
    wrapped = (before[_WRAPPED] | after[_WRAPPED]).astype(np.bool_)
    found = [
        Opening(int(after[_AT, k]), int(gained[k]), bool(wrapped[k]), int(after[_LOOP, k])) for k in shows
    ]
    return gained[closed], found


def _added(counts: npt.NDArray[np.int64], sizes: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """Counts of each size with more sizes counted."""
    more = np.bincount(sizes, minlength=len(counts)) if len(sizes) else np.zeros(1, np.int64)
    total = np.zeros(max(len(more), len(counts)), np.int64)
    total[: len(more)] += more
    total[: len(counts)] += counts
    return total
