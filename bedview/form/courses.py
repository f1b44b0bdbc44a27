"""Who stands beside whom in a course."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedview.bed.fabric import NOTHING
from bedview.form.links import LinkKind, Links, Loops, Nodes


@dataclass(frozen=True)
class Neighbours:
    """The next node to the left and to the right in each node's course, floats included; -1 at its ends."""

    left: Nodes
    right: Nodes


def neighbours_in_courses(loops: Loops, strands: Links) -> Neighbours:
    """Neighbours by the links along the strands."""
    left, right = np.full(len(loops), NOTHING, np.int32), np.full(len(loops), NOTHING, np.int32)
    along = strands.where((strands.kind == LinkKind.COURSE) | (strands.kind == LinkKind.FLOAT))
    rising = loops.needle[along.one] > loops.needle[along.other]
    low, high = np.where(rising, along.other, along.one), np.where(rising, along.one, along.other)
    right[low], left[high] = high, low
    return Neighbours(left, right)


def bend_lines(loops: Loops, neighbours: Neighbours) -> Nodes:
    """Every three nodes in a row along a course or a wale, shape (3, k), the middle one second."""
    every = np.arange(len(loops), dtype=np.int32)
    inner = (neighbours.left >= 0) & (neighbours.right >= 0)
    across = np.stack((neighbours.left[inner], every[inner], neighbours.right[inner]))
    below = loops.below
    two_below = np.where(below >= 0, below[below], NOTHING)
    standing = two_below >= 0
    up = np.stack((two_below[standing], below[standing], every[standing]))
    return np.concatenate((across, up), axis=1)
