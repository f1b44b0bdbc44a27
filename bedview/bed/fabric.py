"""The fabric: every loop, in the order the yarn made it, as growing arrays.

Loops are numbered from 0. Of each the fabric keeps what cannot be worked out from its neighbours, 13 bytes:

==========  =====  ===================================================================================
``needle``  u2     index of the needle it was made on: its column, wherever it is moved later
``kind``    u1     :class:`LoopKind`
``begun``   u2     beginnings of that column when the loop was made (see :mod:`bedview.bed.openings`)
``level``   i4     height above the cast-on in courses, as the rules count it
``under``   i4     node of the top of the stack it was drawn through; for a wrap, of what it lies on; -1
==========  =====  ===================================================================================

What is the same for all loops of one pass or hand action (strand, pass) stands once, in a table of *courses*.

A stack on a needle is a chain of *nodes* from the top down. The node of a loop is the loop's own number: a
loop made by a pass lies alone on its needle, a wrap lies on ``under``. A loop that is moved onto others
(transferred, hung) gets a new node in the table of moved loops, so nothing written earlier ever changes and
the stacks of any earlier moment stay readable.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import YarnRole
from bedview.bed.column import Column
from bedview.bed.courses import Courses
from bedview.bed.loops import (
    HAND_WRAP,
    KNIT,
    LAID_IN,
    MOVED,
    NOTHING,
    WRAP,
    FabricStretch,
    Ints,
    LoopKind,
    Made,
    NewLoops,
    is_wrap,
)

__all__ = [
    "HAND_WRAP",
    "KNIT",
    "LAID_IN",
    "MOVED",
    "NOTHING",
    "WRAP",
    "Fabric",
    "Ints",
    "LoopKind",
    "NewLoops",
    "is_wrap",
]

SMALL: Final = 1 << 20
"""Below so many loops the room for them is doubled when it is full; time is worth more there."""
_LOOP_ARRAYS: Final = ("_needle", "_kind", "_begun", "_level", "_under")


class Fabric:
    """All loops of a procedure, appended by the rules and read by everyone else.

    Args:
        roles: the role of each yarn, by its index in the piece.
    """

    def __init__(self, roles: tuple[YarnRole, ...]) -> None:
        self.roles = roles
        self._waste = np.array([role is not YarnRole.FABRIC for role in roles] + [False])
        self._count = 0
        self._needle = np.empty(0, np.uint16)
        self._kind = np.empty(0, np.uint8)
        self._begun = np.empty(0, np.uint16)
        self._level = np.empty(0, np.int32)
        self._under = np.empty(0, np.int32)
        self._moved_loop = Column(np.int32)
        self._moved_under = Column(np.int32)
        self.strand_yarn = Column(np.int32)
        self._courses = Courses()
        self.let_go: dict[int, int] = {}
        """Loops hung again, with the number of loops made by then. Waste drawn through one before let go."""

    def __len__(self) -> int:
        return self._count

    @property
    def needle(self) -> npt.NDArray[np.uint16]:
        """Column of each loop."""
        return self._needle[: self._count]

    @property
    def kind(self) -> npt.NDArray[np.uint8]:
        """:class:`LoopKind` of each loop."""
        return self._kind[: self._count]

    @property
    def begun(self) -> npt.NDArray[np.uint16]:
        """Beginnings of the loop's column when it was made."""
        return self._begun[: self._count]

    @property
    def level(self) -> Ints:
        """Level of each loop."""
        return self._level[: self._count]

    @property
    def under(self) -> Ints:
        """Node each loop was drawn through or, for a wrap, lies on; -1 for none."""
        return self._under[: self._count]

    @property
    def nbytes_used(self) -> int:
        """Bytes in use for what is kept of each loop."""
        return self._count * (2 + 1 + 2 + 4 + 4)

    # -- writing ------------------------------------------------------------------------------------------

    def reserve(self, loops: int) -> None:
        """Make room for ``loops`` more. Memory that is never written to costs nothing on common systems."""
        needed = self._count + loops
        if needed <= len(self._needle):
            return
        room = len(self._needle)
        room = max(needed, room + (room if room < SMALL else room // 2), 1 << 14)
        for name in _LOOP_ARRAYS:
            old = getattr(self, name)
            new = np.empty(room, old.dtype)
            new[: self._count] = old[: self._count]
            setattr(self, name, new)

    def open_course(
        self, action: int, strand: int, pass_number: int, tip: int, courses: int = 1, loops_each: int = 0
    ) -> None:
        """Begin a course: the loops that follow are of this strand and pass.

        Args:
            action: number of the action that makes it.
            strand: the strand in the feeder.
            pass_number: passes made when the (first) course is done.
            tip: the strand's last loop before, or -1.
            courses: how many courses of ``loops_each`` loops follow each other, one a pass.
            loops_each: loops in each of them; only needed for several.
        """
        course = (self._count, strand, action, pass_number, tip)
        if courses == 1:
            self._courses.open(*course)
        else:
            self._courses.open_rows(*course, rows=courses, loops=loops_each)

    def add(self, new: NewLoops) -> None:
        """Append loops to the course opened last."""
        count = len(new.needle)
        self.reserve(count)
        start, end = self._count, self._count + count
        self._needle[start:end] = new.needle
        self._kind[start:end] = new.kind
        self._begun[start:end] = new.begun
        self._level[start:end] = new.level
        self._under[start:end] = new.under
        self._count = end

    def add_rows(self, new: NewLoops, rows: int) -> None:
        """Append ``rows`` like courses over the same needles, to and fro.

        Args:
            new: the first of the courses. In each that follows the order turns round, levels rise by one, and
                every loop is drawn through the loop below it.
            rows: how many courses.
        """
        if rows == 1:
            self.add(new)
            return
        count = len(new.needle)
        self.reserve(count * rows)
        start, end = self._count, self._count + count * rows
        self._kind[start:end] = new.kind
        for column, values in (("_needle", new.needle), ("_begun", new.begun)):
            block = getattr(self, column)[start:end].reshape(rows, count)
            block[0::2] = values
            block[1::2] = values[::-1]
        level = self._level[start:end].reshape(rows, count)
        rise = np.arange(rows, dtype=np.int32)[:, None]
        np.add(rise[0::2], new.level, out=level[0::2], casting="unsafe")
        np.add(rise[1::2], new.level[::-1], out=level[1::2], casting="unsafe")
        under = self._under[start:end].reshape(rows, count)
        under[0] = new.under
        under[1:] = np.arange(start, end - count, dtype=np.int32).reshape(rows - 1, count)[:, ::-1]
        self._count = end

    def move(self, loops: npt.NDArray[np.integer], below: int) -> Ints:
        """New nodes for loops that are laid on a node, the first of ``loops`` lowest.

        Args:
            loops: loop ids from the bottom up.
            below: the node they come to lie on, or -1.

        Returns:
            The new node ids, bottom first.
        """
        count = len(loops)
        nodes = self.moved_nodes(self._moved_loop.size, count)
        under = nodes - 1
        under[0] = below
        self._moved_loop.extend(loops, count)
        self._moved_under.extend(under, count)
        return nodes

    @staticmethod
    def moved_nodes(moved_before: int, count: int) -> Ints:
        """The nodes that ``count`` loops get when ``moved_before`` were moved before them."""
        return np.arange(MOVED + moved_before, MOVED + moved_before + count, dtype=np.int32)

    def between(self, start: Made, stop: Made) -> FabricStretch:
        """Copies of all that was made from one moment to another."""
        loops, moved = slice(start.loops, stop.loops), slice(start.moved, stop.moved)
        return FabricStretch(
            NewLoops(*(getattr(self, name)[loops].copy() for name in _LOOP_ARRAYS)),
            self._courses.between(start.loops, stop.loops),
            self._moved_loop.values[moved].copy(),
            self._moved_under.values[moved].copy(),
            self.strand_yarn.values[start.strands : stop.strands].copy(),
        )

    def go_on_with(self, stretch: FabricStretch) -> None:
        """Append all of a stretch whose numbers follow those that are here."""
        self._courses.extend(stretch.courses)
        self.add(stretch.loops)
        self._moved_loop.extend(stretch.moved_loop, len(stretch.moved_loop))
        self._moved_under.extend(stretch.moved_under, len(stretch.moved_under))
        self.strand_yarn.extend(stretch.strand_yarn, len(stretch.strand_yarn))

    def cut_back(self, loops: int, moved: int, strands: int) -> None:
        """Forget everything but the first ``loops`` loops, ``moved`` moved loops and ``strands`` strands.

        What was let go since (:attr:`let_go`) stays the caller's business.
        """
        self._count = loops
        self._moved_loop.size = self._moved_under.size = moved
        self.strand_yarn.size = strands
        self._courses.cut_back(loops)

    def copy(self) -> Fabric:
        """An independent copy."""
        twin = Fabric(self.roles)
        twin._count = self._count
        for name in _LOOP_ARRAYS:
            setattr(twin, name, getattr(self, name)[: self._count].copy())
        for name in ("_moved_loop", "_moved_under", "strand_yarn", "_courses", "let_go"):
            setattr(twin, name, getattr(self, name).copy())
        return twin

    # -- reading ------------------------------------------------------------------------------------------

    def loops_of(self, nodes: npt.NDArray[np.integer]) -> Ints:
        """Loop ids of nodes; -1 stays -1."""
        loops = nodes.astype(np.int32)
        moved = loops >= MOVED
        if moved.any():
            loops[moved] = self._moved_loop.values[loops[moved] - MOVED]
        return loops

    def below_of(self, nodes: npt.NDArray[np.integer]) -> Ints:
        """The node right below each node on its stack, or -1 at the bottom. -1 stays -1."""
        below = np.full(len(nodes), NOTHING, np.int32)
        moved = nodes >= MOVED
        below[moved] = self._moved_under.values[nodes[moved] - MOVED]
        own = (nodes >= 0) & ~moved
        loops = nodes[own]
        below[own] = np.where(is_wrap(self._kind[loops]), self._under[loops], NOTHING)
        return below

    def under_of(self, loops: npt.NDArray[np.integer]) -> Ints:
        """Node of the top of the stack each loop was drawn through; -1 for wraps and where there is none."""
        found = np.full(len(loops), NOTHING, np.int32)
        real = loops >= 0
        drawn = loops[real]
        found[real] = np.where(is_wrap(self._kind[drawn]), NOTHING, self._under[drawn])
        return found

    def stack(self, top: int) -> list[int]:
        """Loop ids of the stack below (and with) the node ``top``, from the top down; empty for -1."""
        loops: list[int] = []
        node = int(top)
        while node >= 0:
            if node >= MOVED:
                loops.append(int(self._moved_loop.values[node - MOVED]))
                node = int(self._moved_under.values[node - MOVED])
            else:
                loops.append(node)
                node = int(self._under[node]) if self.is_wrap(node) else NOTHING
        return loops

    def parents(self, loop: int) -> list[int]:
        """The loops ``loop`` is drawn through, wraps among them, the uppermost first; none for a wrap.

        What waste has let go of, because it was hung on a needle again, is left out.
        """
        if self.is_wrap(loop):
            return []
        loops = self.stack(int(self._under[loop]))
        if self.let_go and self.is_waste(loop):
            return [parent for parent in loops if loop >= self.let_go.get(parent, -1)]
        return loops

    def upper_parents(self, loops: npt.NDArray[np.integer]) -> Ints:
        """The uppermost parent of each loop that is no wrap and was not let go of; -1 where there is none."""
        nodes = self.under_of(loops)
        found = np.full(len(loops), NOTHING, np.int32)
        searching = np.flatnonzero(nodes >= 0)
        while len(searching):
            parents = self.loops_of(nodes[searching])
            passed = is_wrap(self._kind[parents]) | self._lets_go(loops[searching], parents)
            found[searching[~passed]] = parents[~passed]
            searching = searching[passed]
            nodes[searching] = self.below_of(nodes[searching])
            searching = searching[nodes[searching] >= 0]
        return found

    def _lets_go(self, loops: npt.NDArray[np.integer], parents: Ints) -> npt.NDArray[np.bool_]:
        """Which of these waste loops have let go of the parent beside them."""
        gone = np.zeros(len(loops), np.bool_)
        if self.let_go:
            since = np.array([self.let_go.get(parent, -1) for parent in parents.tolist()])
            gone = (loops < since) & self.waste(loops)
        return gone

    def is_wrap(self, loop: int) -> bool:
        """Whether a loop is a wrap."""
        return bool(WRAP <= self._kind[loop] <= HAND_WRAP)

    def is_waste(self, loop: int) -> bool:
        """Whether a loop is of waste yarn or ravel cord."""
        strand = self._courses.strand[self._courses.first.searchsorted(loop, side="right") - 1]
        return bool(self._waste[self.strand_yarn.values[strand]])

    @property
    def has_waste(self) -> bool:
        """Whether a strand of waste yarn or ravel cord was threaded so far."""
        return bool(self._waste[self.strand_yarn.values].any())

    def waste(self, loops: npt.NDArray[np.integer]) -> npt.NDArray[np.bool_]:
        """Which loops are of waste yarn or ravel cord."""
        mask: npt.NDArray[np.bool_] = self._waste[self.yarn_of(loops)]
        return mask

    def course_of(self, loops: npt.NDArray[np.integer]) -> npt.NDArray[np.intp]:
        """Index of the course each loop belongs to."""
        firsts = self._courses.first
        if len(loops) > len(firsts) and (loops[1:] >= loops[:-1]).all():
            # Where the few courses begin among ascending loops is found sooner than each loop among courses.
            begin = loops.searchsorted(firsts.astype(loops.dtype))
            return np.repeat(np.arange(len(firsts)), np.diff(begin, append=len(loops)))
        return firsts.searchsorted(loops, side="right") - 1

    def strand_of(self, loops: npt.NDArray[np.integer]) -> Ints:
        """Number of the strand each loop is made of."""
        return self._courses.strand[self.course_of(loops)]

    def yarn_of(self, loops: npt.NDArray[np.integer]) -> Ints:
        """Index into the piece's yarns of each loop."""
        yarns: Ints = self.strand_yarn.values[self.strand_of(loops)]
        return yarns

    def pass_of(self, loops: npt.NDArray[np.integer]) -> Ints:
        """Passes made when each loop was done."""
        return self._courses.pass_number[self.course_of(loops)]

    def action_of(self, loops: npt.NDArray[np.integer]) -> Ints:
        """Number of the action that made each loop."""
        return self._courses.action[self.course_of(loops)]

    def previous_in_strand(self, start: int, stop: int) -> npt.NDArray[np.intp]:
        """The loop before each of the loops ``start`` to ``stop`` - 1 on its strand, or -1."""
        previous = np.arange(start - 1, stop - 1)
        firsts = self._courses.first
        low, high = np.searchsorted(firsts, (start, stop))
        previous[firsts[low:high] - start] = self._courses.tip[low:high]
        return previous

    def made_by(self, actions: range) -> slice:
        """The loops that some actions made, one after the other."""
        courses = self._courses
        return slice(*courses.loops_between(courses.action, actions.start, actions.stop, self._count))

    def strands_with_loops(self) -> int:
        """How many strands made at least one loop."""
        return len(np.unique(self._courses.strand))

    def loops_of_pass(self, pass_number: int) -> tuple[int, int]:
        """First loop and end of the loops done after exactly ``pass_number`` passes (by pass and by hand)."""
        courses = self._courses
        return courses.loops_between(courses.pass_number, pass_number, pass_number + 1, self._count)
