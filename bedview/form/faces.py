"""The surface between the links: a face for each four stitches, and fans of triangles where courses end.

All faces of the fabric go round counter-clockwise as the knitter sees them at the bed, looking at the purl
side with the newest course uppermost.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import NOTHING
from bedview.form.courses import Neighbours
from bedview.form.links import Links, Loops, Nodes
from bedview.form.seams import Join

WIDEST_GAIN: Final = 8
"""Where one course follows another after more rows on both sides together, there is a slit, not a face."""

Triangles = npt.NDArray[np.int32]


@dataclass(frozen=True)
class Faces:
    """Faces by their nodes.

    Attributes:
        quads: shape (k, 4): below left, below right, above right, above left.
        triangles: shape (m, 3).
    """

    quads: Nodes
    triangles: Triangles

    def triangulated(self) -> Triangles:
        """All faces as triangles, the two of a quad one after the other: first all quads'."""
        halves = np.concatenate((self.quads[:, [0, 1, 2]], self.quads[:, [0, 2, 3]]), axis=1)
        return np.concatenate((halves.reshape(-1, 3), self.triangles))

    def renumbered(self, number: Nodes) -> Faces:
        """The faces with new numbers for nodes; those with a corner that has none (-1) are left out."""
        quads, triangles = number[self.quads], number[self.triangles]
        return Faces(quads[(quads >= 0).all(axis=1)], triangles[(triangles >= 0).all(axis=1)])


def fabric_faces(loops: Loops, neighbours: Neighbours, wales: Links) -> Faces:
    """Faces between the courses of a fabric, and where stitches were drawn together."""
    below, right = loops.below, neighbours.right
    left_up = np.flatnonzero((right >= 0) & (below >= 0)).astype(np.int32)
    left_up = left_up[below[right[left_up]] >= 0]
    right_up = right[left_up]
    plain = right[below[left_up]] == below[right_up]
    upper = left_up[plain], right_up[plain]
    quads = np.stack((below[upper[0]], below[upper[1]], upper[1], upper[0]), axis=1).reshape(-1, 4)
    fans = _fans(below, right, left_up[~plain], right_up[~plain])
    drawn = _drawn_together(loops, neighbours, wales)
    return Faces(quads, np.concatenate((np.array(fans, np.int32).reshape(-1, 3), drawn)))


def _fans(below: Nodes, right: Nodes, left_up: Nodes, right_up: Nodes) -> list[tuple[int, int, int]]:
    """Triangles between course neighbours whose wales meet in an earlier course only further down."""
    lefts, rights = [left_up], [right_up]
    for _ in range(WIDEST_GAIN):
        for chain in (lefts, rights):
            last = chain[-1]
            chain.append(np.where(last >= 0, below[last], NOTHING))
    fans: list[tuple[int, int, int]] = []
    waiting = np.ones(len(left_up), np.bool_)
    for gain in range(1, WIDEST_GAIN + 1):
        for down_left in range(gain + 1):
            down_right = gain - down_left
            one, other = lefts[down_left], rights[down_right]
            meet = np.flatnonzero(waiting & (one >= 0) & (other >= 0) & (right[one] == other))
            waiting[meet] = False
            for place in meet.tolist():
                up_left = [int(lefts[k][place]) for k in range(down_left, -1, -1)]
                up_right = [int(rights[k][place]) for k in range(down_right, -1, -1)]
                fans.extend(_zip(up_left, up_right))
    return fans


def _zip(lefts: list[int], rights: list[int]) -> list[tuple[int, int, int]]:
    """Triangles between two chains that run upward, climbing evenly on both."""
    steps_left, steps_right = len(lefts) - 1, len(rights) - 1
    left = right = 0
    triangles = []
    while left < steps_left or right < steps_right:
        if right == steps_right or (
            left < steps_left and (left + 1) * steps_right <= (right + 1) * steps_left
        ):
            triangles.append((lefts[left], rights[right], lefts[left + 1]))
            left += 1
        else:
            triangles.append((lefts[left], rights[right], rights[right + 1]))
            right += 1
    return triangles


def _drawn_together(loops: Loops, neighbours: Neighbours, wales: Links) -> Triangles:
    """Triangles below a stitch that is drawn through two neighbours."""
    second = wales.where(loops.below[wales.one] != wales.other)
    upper, one, main = second.one, second.other, loops.below[second.one]
    to_right = neighbours.right[main] == one
    to_left = neighbours.left[main] == one
    right_of = np.stack((main, one, upper), axis=1)[to_right]
    left_of = np.stack((one, main, upper), axis=1)[to_left]
    return np.concatenate((right_of, left_of)).astype(np.int32).reshape(-1, 3)


def seam_faces(join: Join, below: Nodes) -> Faces:
    """Faces between the two edges of a seam; where it is eased or leaves out loops, triangles."""
    one, other = join.one, join.other
    if not join.forward:
        one, other = one[::-1], other[::-1]
    quads: list[tuple[int, int, int, int]] = []
    fans: list[tuple[int, int, int]] = []
    places = zip(one.tolist(), one[1:].tolist(), other.tolist(), other[1:].tolist(), strict=False)
    for here, further, here_there, further_there in places:
        near, far = _along(here, further, below), _along(here_there, further_there, below)
        if len(near) == len(far) == 2:
            quads.append((here, further, further_there, here_there))
        else:
            # Seen along the seam the second edge lies to the left.
            fans.extend(_zip(far, near))
    return Faces(np.array(quads, np.int32).reshape(-1, 4), np.array(fans, np.int32).reshape(-1, 3))


def _along(start: int, end: int, below: Nodes) -> list[int]:
    """The nodes of an edge from one joined loop to the next, with those of its wale in between."""
    if start == end:
        return [start]
    for low, high, turn in ((start, end, -1), (end, start, 1)):
        chain = [high]
        while chain[-1] >= 0 and chain[-1] != low and len(chain) <= WIDEST_GAIN:
            chain.append(int(below[chain[-1]]))
        if chain[-1] == low:
            return chain[::turn]
    return [start, end]


def all_faces(parts: list[Faces]) -> Faces:
    """Faces of several lists in one."""
    return Faces(
        np.concatenate([part.quads for part in parts]), np.concatenate([part.triangles for part in parts])
    )
