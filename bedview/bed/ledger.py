"""What left the needles and what came back: the memory that edges and judges look things up in."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from dataclasses import dataclass, field
from itertools import islice, takewhile

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import Fabric, LoopKind, is_wrap


@dataclass(frozen=True, slots=True)
class Drop:
    """One stack that fell off its needle in a pass; ``node`` is its top."""

    needle: int
    pass_number: int
    node: int


@dataclass(frozen=True, slots=True)
class Hung:
    """One loop hung on a needle again by an action.

    ``loops_then``: loops made by then; ``through``: fabric is drawn through it from before.
    """

    action: int
    loop: int
    loops_then: int
    through: bool


@dataclass(frozen=True, slots=True)
class Fallen:
    """Fabric loops that fell unsecured (``lying``), or were picked up again, by an action."""

    action: int
    lying: bool
    loops: npt.NDArray[np.int32]


@dataclass(slots=True)
class Ledger:
    """Drops, loops hung again, and fabric loops that fell unsecured, each in order of time."""

    drops: list[Drop] = field(default_factory=list)
    hung: list[Hung] = field(default_factory=list)
    fallen: list[Fallen] = field(default_factory=list)
    again: list[tuple[int, int]] = field(default_factory=list)
    _by_needle: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    _through: set[int] = field(default_factory=set)
    _drawn: npt.NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, np.bool_))
    _drawn_to: int = 0

    def note_drops(
        self, needles: npt.NDArray[np.intp], pass_number: int, nodes: npt.NDArray[np.int32]
    ) -> int:
        """Enter stacks that fell in one pass; returns the number of the first entry."""
        first = len(self.drops)
        for needle, node in zip(needles.tolist(), nodes.tolist(), strict=True):
            self._by_needle[needle].append(len(self.drops))
            self.drops.append(Drop(needle, pass_number, node))
        return first

    def note_hung(self, hung: Hung) -> None:
        """Enter a loop hung on a needle again."""
        self.hung.append(hung)
        if hung.through:
            self._through.add(hung.loop)

    def hung_by(self, action: int) -> list[Hung]:
        """The loops that one action hung, from the left needle to the right one."""
        first = bisect_left(self.hung, action, key=lambda entry: entry.action)
        return list(takewhile(lambda entry: entry.action == action, islice(self.hung, first, None)))

    def secured(self, loops: npt.NDArray[np.int32]) -> npt.NDArray[np.bool_]:
        """Which loops, standing on needles, have fabric drawn through them from an earlier life."""
        if not self._through:
            return np.zeros(len(loops), np.bool_)
        return np.isin(loops, np.fromiter(self._through, np.int32))

    def drops_of(self, needle: int) -> list[int]:
        """Numbers of the drops from one needle, the latest first."""
        return self._by_needle[needle][::-1] if needle in self._by_needle else []

    def latest_drop(self, loop: int, drop: int) -> int:
        """Number of the last drop that took ``loop``, known to have fallen in ``drop``."""
        return max((number for other, number in self.again if other == loop), default=drop)

    def unsecured(self) -> int:
        """Fabric loops that fell, are secured by nothing, and were not hung again; each counted once."""
        lying: set[int] = set()
        for entry in self.fallen:
            if entry.lying:
                lying.update(entry.loops.tolist())
            else:
                lying.difference_update(entry.loops.tolist())
        return len(lying)

    def drawn_through_by_fabric(self, fabric: Fabric, loop: int) -> bool:
        """Whether a fabric loop was ever drawn through ``loop``."""
        self._index(fabric)
        return bool(self._drawn[loop])

    def _index(self, fabric: Fabric) -> None:
        """Bring the table of loops that fabric is drawn through up to date."""
        end = len(fabric)
        if self._drawn_to == end:
            return
        if len(self._drawn) < end:
            grown = np.zeros(end, np.bool_)
            grown[: len(self._drawn)] = self._drawn
            self._drawn = grown
        loops = np.arange(self._drawn_to, end, dtype=np.int32)
        kinds = fabric.kind[self._drawn_to : end]
        drawing = ((kinds == LoopKind.KNIT) | (kinds == LoopKind.BIND)) & ~fabric.waste(loops)
        nodes = fabric.under_of(loops[drawing])
        while len(nodes):
            self._drawn[fabric.loops_of(nodes)] = True
            nodes = fabric.below_of(nodes)
            nodes = nodes[nodes >= 0]
        self._drawn_to = end

    def is_empty_between(self, actions: range, passes: range) -> bool:
        """Whether nothing was entered by some actions, which made some passes."""
        drop = bisect_left(self.drops, passes.start, key=lambda entry: entry.pass_number)
        if drop < len(self.drops) and self.drops[drop].pass_number < passes.stop:
            return False
        for entries in (self.hung, self.fallen):
            first = bisect_left(entries, actions.start, key=lambda entry: entry.action)
            if first < len(entries) and entries[first].action < actions.stop:
                return False
        return True

    def cut_back(self, action: int, passes: int, fabric: Fabric) -> None:
        """Forget what was entered from ``action`` on, after ``passes`` passes; the fabric forgets with it."""
        drops = bisect_right(self.drops, passes, key=lambda drop: drop.pass_number)
        del self.drops[drops:]
        for numbers in self._by_needle.values():
            del numbers[bisect_left(numbers, drops) :]
        self.again = [entry for entry in self.again if entry[1] < drops]
        self.hung = [entry for entry in self.hung if entry.action < action]
        self.fallen = [entry for entry in self.fallen if entry.action < action]
        self._through = {entry.loop for entry in self.hung if entry.through}
        fabric.let_go = {entry.loop: entry.loops_then for entry in self.hung}
        self._drawn = np.zeros(0, np.bool_)
        self._drawn_to = 0

    def copy(self) -> Ledger:
        """An independent copy."""
        twin = Ledger(self.drops[:], self.hung[:], self.fallen[:], self.again[:])
        twin._by_needle.update({needle: numbers[:] for needle, numbers in self._by_needle.items()})
        twin._through = self._through.copy()
        return twin


def stacked(
    fabric: Fabric, needles: npt.NDArray[np.intp], tops: npt.NDArray[np.int32]
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.int32], npt.NDArray[np.bool_]]:
    """All loops on some needles.

    Returns:
        Needle, loop id and whether it is a wrap, one entry a loop; the uppermost of every needle first,
        then the second of those that have one, and so on.
    """
    at: list[npt.NDArray[np.intp]] = []
    found: list[npt.NDArray[np.int32]] = []
    here, nodes = needles, tops
    while True:
        there = nodes >= 0
        here, nodes = here[there], nodes[there]
        if not len(nodes):
            break
        at.append(here)
        found.append(fabric.loops_of(nodes))
        nodes = fabric.below_of(nodes)
    if not at:
        return np.empty(0, np.intp), np.empty(0, np.int32), np.empty(0, np.bool_)
    loops = np.concatenate(found)
    return np.concatenate(at), loops, is_wrap(fabric.kind[loops])
