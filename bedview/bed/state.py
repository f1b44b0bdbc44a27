"""What stands where at one moment: the state of bed, carriage and yarn.

Arrays have one entry a needle, index 0 at the left end. Everyone but :mod:`bedview.bed.rules` only reads.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Self

import numpy as np
import numpy.typing as npt

from bedview.bed.events import NONE, Indices
from bedview.bed.loops import NOTHING, Made
from bedview.bed.needles import Bed, Position, Side

# Beside an array numpy asks a member of an enumeration many questions, a plain number none.
OUT: Final = int(Position.OUT)
WORK: Final = int(Position.WORK)
UPPER: Final = int(Position.UPPER)
HOLD: Final = int(Position.HOLD)


@dataclass(frozen=True, slots=True)
class Waiting:
    """A parked strand, and the one of the same yarn parked before it (a list with its newest first)."""

    strand: int
    tip: int
    before: Waiting | None


def index_of(needles: Indices) -> Indices | slice:
    """An index of these needles: a slice where they ascend as neighbours, which costs numpy a third."""
    if not len(needles):
        return needles
    first, last = int(needles[0]), int(needles[-1])
    return slice(first, last + 1) if 0 <= last - first < len(needles) else needles


class Reach:
    """What the next threaded pass meets, worked out from positions and hold cams and kept until they change.

    Attributes:
        acting: needles that act, ascending.
        first: the first of them; -1 if there is none.
        last: the last of them; -1 if there is none.
        settled: every acting needle stands in work.
        inside: needles in hold between the first and the last of them that do not act.
        rightward: index of the acting needles in an array of all, from the left.
        leftward: the same from the right.
    """

    __slots__ = ("acting", "first", "inside", "last", "leftward", "rightward", "settled")

    def __init__(self, acting: Indices, inside: Indices, *, settled: bool) -> None:
        self.acting, self.inside, self.settled = acting, inside, settled
        self.first = int(acting[0]) if len(acting) else NOTHING
        self.last = int(acting[-1]) if len(acting) else NOTHING
        self.rightward = index_of(acting)
        self.leftward: Indices | slice = acting[::-1]
        if isinstance(self.rightward, slice):
            self.leftward = slice(self.last, self.first - 1 if self.first else None, -1)


@dataclass(slots=True)
class BedState:
    """One moment at the machine.

    Attributes:
        position: u1, :class:`Position` of each needle.
        top: i4, node of the uppermost loop or wrap on each needle, -1 where it is empty.
        height: i4, loops and wraps on each needle.
        wraps: i4, how many of them are wraps.
        level: i4, level of the uppermost loop that is no wrap; 0 where there is none.
        highest: i4, highest level on the needle; -1 where it is empty.
        begun: i4, beginnings of each column so far.
        held_since: i4, number of the action that last placed the needle in hold, or -1.
        carriage: the side it stands on.
        hold_cams: on (True) or off.
        cams_off_at: number of the last action that set the hold cams off, or -1.
        dial: tension dial as given, or None while nothing was set.
        strand: the strand in the feeder, or -1.
        yarn: its index in the piece's yarns, or -1.
        tip: the last loop it made, or -1.
        waiting: parked strands by yarn index, newest first.
        passes: passes made.
        row: the row counter.
        next_loop: loops made so far; the next one gets this number.
        strands: strands begun so far.
        moved: loops moved onto others so far.
        steady: the last pass left one loop on every acting needle, its tip among them, and nothing has
            been touched since.
    """

    position: npt.NDArray[np.uint8]
    top: npt.NDArray[np.int32]
    height: npt.NDArray[np.int32]
    wraps: npt.NDArray[np.int32]
    level: npt.NDArray[np.int32]
    highest: npt.NDArray[np.int32]
    begun: npt.NDArray[np.int32]
    held_since: npt.NDArray[np.int32]
    carriage: Side
    hold_cams: bool = False
    cams_off_at: int = -1
    dial: float | None = None
    strand: int = NOTHING
    yarn: int = NOTHING
    tip: int = NOTHING
    waiting: dict[int, Waiting] = field(default_factory=dict)
    passes: int = 0
    row: int = 0
    next_loop: int = 0
    strands: int = 0
    moved: int = 0
    steady: bool = False
    reach: Reach | None = None

    @classmethod
    def start(cls, bed: Bed) -> Self:
        """The bed before anything is done: every needle out and empty."""

        def column(value: int) -> npt.NDArray[np.int32]:
            return np.full(bed.needles, value, np.int32)

        return cls(
            position=np.zeros(bed.needles, np.uint8),
            top=column(NOTHING),
            height=column(0),
            wraps=column(0),
            level=column(0),
            highest=column(NOTHING),
            begun=column(0),
            held_since=column(-1),
            carriage=bed.carriage,
        )

    def copy(self) -> BedState:
        """An independent copy."""
        return BedState(
            self.position.copy(),
            self.top.copy(),
            self.height.copy(),
            self.wraps.copy(),
            self.level.copy(),
            self.highest.copy(),
            self.begun.copy(),
            self.held_since.copy(),
            self.carriage,
            self.hold_cams,
            self.cams_off_at,
            self.dial,
            self.strand,
            self.yarn,
            self.tip,
            self.waiting,
            self.passes,
            self.row,
            self.next_loop,
            self.strands,
            self.moved,
            self.steady,
            self.reach,
        )

    def copy_beside(self, other: BedState) -> BedState:
        """A copy to be kept and never written: what is the same in ``other``, also kept so, stands once."""
        twin = self.copy()
        for name in _ARRAYS:
            mine, others = getattr(self, name), getattr(other, name)
            if np.array_equal(mine, others):
                setattr(twin, name, others)
        return twin

    @property
    def made(self) -> Made:
        """How much was made by now."""
        return Made(self.next_loop, self.moved, self.strands)

    @property
    def needles(self) -> int:
        """How many needles the bed has."""
        return len(self.position)

    @property
    def threaded(self) -> bool:
        """Whether there is yarn in the feeder."""
        return self.strand != NOTHING

    @property
    def bearing(self) -> Indices:
        """Needles that bear loops or wraps."""
        return self.height.nonzero()[0]

    @property
    def held(self) -> Indices:
        """Needles in hold."""
        return np.flatnonzero(self.position == HOLD)

    def what_acts(self) -> Reach:
        """What the next pass meets (kept in :attr:`reach` until a needle or the cams are touched)."""
        if self.reach is None:
            in_work = self.position == WORK
            if self.hold_cams:
                acting = (in_work | (self.position == UPPER)).nonzero()[0]
            else:
                acting = self.position.nonzero()[0]
            inside = NONE
            if self.hold_cams and len(acting) and acting[-1] - acting[0] >= len(acting):
                first = int(acting[0])
                inside = first + (self.position[first : acting[-1]] == HOLD).nonzero()[0]
            self.reach = Reach(acting, inside, settled=np.count_nonzero(in_work) == len(acting))
        return self.reach

    def touched(self) -> None:
        """Forget what was worked out: positions, cams, loops or yarn changed."""
        self.reach = None
        self.steady = False


_ARRAYS: Final = ("position", "top", "height", "wraps", "level", "highest", "begun", "held_since")
