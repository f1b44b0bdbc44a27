"""What a procedure makes of each yarn: every loop counted, by kind and by the dial it was made at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import Cut, Park, Resume, Tension, Thread
from bedview.bed.fabric import LoopKind
from bedview.plan.procedure import Procedure

_CHUNK: Final = 1 << 20
"""Loops looked at in one go; a large piece has tens of millions."""
KINDS: Final = len(LoopKind)


class YarnAtDial(NamedTuple):
    """A yarn by its index in the piece, and a tension dial; None while none was set."""

    yarn: int
    dial: float | None


@dataclass(frozen=True, slots=True)
class Use:
    """What was made of one yarn at one dial.

    Attributes:
        of: the yarn and the dial.
        knit: loops a pass drew through others.
        laid_in: loops a pass laid on empty needles.
        cast_on: loops cast on by hand.
        bound: loops bound off.
        wraps: wraps, automatic and by hand.
        float_columns: columns the yarn jumped over between two of its loops, beyond the one to a neighbour.
    """

    of: YarnAtDial
    knit: int
    laid_in: int
    cast_on: int
    bound: int
    wraps: int
    float_columns: int

    @property
    def stitches(self) -> int:
        """Loops that passes made, wraps aside."""
        return self.knit + self.laid_in


class Tail(NamedTuple):
    """A tail that was left: of which yarn, how long, after how many passes."""

    yarn: int
    cm: float
    passes: int


@dataclass(frozen=True, slots=True)
class LoopBatch:
    """Some loops in order of making; arrays of one length.

    Attributes:
        group: index of the yarn and dial each belongs to, in :attr:`YarnUse.groups`.
        kind: :class:`LoopKind`.
        passes: passes made when it was done.
        float_columns: columns the yarn jumped over before it.
    """

    group: npt.NDArray[np.int64]
    kind: npt.NDArray[np.uint8]
    passes: npt.NDArray[np.int32]
    float_columns: npt.NDArray[np.int32]


class YarnUse:
    """Counts the loops of a procedure.

    Args:
        procedure: to be counted as it is now.

    Attributes:
        groups: every yarn at every dial that was set, used or not.
    """

    def __init__(self, procedure: Procedure) -> None:
        self._procedure = procedure
        self._dial_of_action, self._dials = _dials(procedure)
        yarns = range(len(procedure.piece.yarns))
        self.groups = [YarnAtDial(yarn, dial) for yarn in yarns for dial in self._dials]

    def uses(self) -> list[Use]:
        """What was made of each yarn at each dial, without those of which nothing was made."""
        counts = np.zeros((len(self.groups), KINDS), np.int64)
        floats = np.zeros(len(self.groups), np.int64)
        for batch in self.batches():
            cells = batch.group * KINDS + batch.kind
            counts += np.bincount(cells, minlength=counts.size).reshape(counts.shape)
            jumped = np.flatnonzero(batch.float_columns)
            np.add.at(floats, batch.group[jumped], batch.float_columns[jumped])
        return [
            _use(group, row, columns)
            for group, row, columns in zip(self.groups, counts.tolist(), floats.tolist(), strict=True)
            if any(row)
        ]

    def batches(self) -> Iterator[LoopBatch]:
        """All loops, a good many at a time."""
        fabric = self._procedure.timeline.fabric
        for start in range(0, len(fabric), _CHUNK):
            stop = min(start + _CHUNK, len(fabric))
            # What is the same for a whole course is asked of its first loop alone.
            course = fabric.course_of(np.arange(start, stop, dtype=np.int32))
            first = np.append(0, np.flatnonzero(course[1:] != course[:-1]) + 1)
            loops, count = start + first, np.diff(first, append=stop - start)
            dial = self._dial_of_action[fabric.action_of(loops)]
            group = fabric.yarn_of(loops).astype(np.int64) * len(self._dials) + dial
            yield LoopBatch(
                group=np.repeat(group, count),
                kind=fabric.kind[start:stop],
                passes=np.repeat(fabric.pass_of(loops), count),
                float_columns=self._floats(start, stop),
            )

    def group_of_loop(self, loop: int) -> YarnAtDial:
        """The yarn and dial a loop was made with."""
        fabric, loops = self._procedure.timeline.fabric, np.array([loop])
        dial = self._dials[self._dial_of_action[fabric.action_of(loops)[0]]]
        return YarnAtDial(int(fabric.yarn_of(loops)[0]), dial)

    def _floats(self, start: int, stop: int) -> npt.NDArray[np.int32]:
        fabric = self._procedure.timeline.fabric
        before = fabric.previous_in_strand(start, stop)
        away: npt.NDArray[np.int32] = fabric.needle[start:stop].astype(np.int32)
        away -= fabric.needle[before]
        np.abs(away, out=away)
        away[before < 0] = 0
        return np.maximum(away - 1, 0, dtype=np.int32)


def tails(procedure: Procedure) -> list[Tail]:
    """The tails that cutting left, where their length was said, in order of time."""
    index = {yarn.id: place for place, yarn in enumerate(procedure.piece.yarns)}
    timeline = procedure.timeline
    found: list[Tail] = []
    feeder: int | None = None
    for number, action in enumerate(procedure.actions):
        match action:
            case Thread(yarn) | Resume(yarn):
                feeder = index[yarn]
            case Cut(tail_cm):
                if tail_cm is not None and feeder is not None:
                    passes = timeline.pass_of_line(timeline.line_of_action(number))
                    found.append(Tail(feeder, tail_cm, passes))
                feeder = None
            case Park():
                feeder = None
            case _:
                pass
    return found


def _dials(procedure: Procedure) -> tuple[npt.NDArray[np.int64], list[float | None]]:
    """For each action, the place of its dial in a list of all dials; the first is None."""
    dials: dict[float | None, int] = {None: 0}
    of_action: list[int] = []
    now = 0
    for action in procedure.actions:
        if isinstance(action, Tension):
            now = dials.setdefault(action.dial, len(dials))
        of_action.append(now)
    return np.array(of_action, np.int64), list(dials)


def _use(group: YarnAtDial, row: Sequence[int], float_columns: int) -> Use:
    return Use(
        group,
        knit=row[LoopKind.KNIT],
        laid_in=row[LoopKind.LAID_IN],
        cast_on=row[LoopKind.CAST_ON],
        bound=row[LoopKind.BIND],
        wraps=row[LoopKind.WRAP] + row[LoopKind.HAND_WRAP],
        float_columns=float_columns,
    )
