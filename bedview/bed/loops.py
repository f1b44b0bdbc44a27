"""Loops as arrays have them: their kinds, the numbers that stand for none, and loops about to be made."""

from __future__ import annotations

from enum import IntEnum
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from bedview.bed.courses import CourseTable

Ints = npt.NDArray[np.int32]
"""Loop ids, node ids, levels or needle indices."""

MOVED: Final = 1 << 30
"""Node ids from here on are moved loops."""
NOTHING: Final = -1
"""No loop, no node, no strand."""


class LoopKind(IntEnum):
    """How a loop came to be."""

    CAST_ON = 0
    KNIT = 1
    LAID_IN = 2
    WRAP = 3
    HAND_WRAP = 4
    BIND = 5


# Beside an array numpy asks a member of an enumeration many questions, a plain number none.
KNIT: Final = int(LoopKind.KNIT)
LAID_IN: Final = int(LoopKind.LAID_IN)
WRAP: Final = int(LoopKind.WRAP)
HAND_WRAP: Final = int(LoopKind.HAND_WRAP)


def is_wrap(kinds: npt.NDArray[np.uint8]) -> npt.NDArray[np.bool_]:
    """Which of these kinds are wraps, automatic or by hand."""
    wraps: npt.NDArray[np.bool_] = (kinds == WRAP) | (kinds == HAND_WRAP)
    return wraps


class NewLoops(NamedTuple):
    """Loops about to be made, in the order of making; arrays of one length.

    ``begun`` and ``level`` as in the fabric; ``under`` are nodes.
    """

    needle: npt.NDArray[np.integer]
    kind: npt.NDArray[np.uint8] | int
    begun: npt.NDArray[np.integer]
    level: npt.NDArray[np.integer]
    under: npt.NDArray[np.integer]


class Made(NamedTuple):
    """How much was made by some moment: loops, loops moved onto others, strands begun."""

    loops: int
    moved: int
    strands: int


class FabricStretch(NamedTuple):
    """What was made between two moments, as the fabric keeps it: loops, courses, moved loops, strands."""

    loops: NewLoops
    courses: CourseTable
    moved_loop: Ints
    moved_under: Ints
    strand_yarn: Ints
