"""From a place on the chart to its loop, and from a loop to its neighbours, its wale and its course."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import Fabric, is_wrap

Loops = npt.NDArray[np.int32]


class Pointing:
    """The stitches of one fabric; waste and wraps are no part of it.

    Args:
        fabric: the fabric, as it is at the end of the piece.
    """

    def __init__(self, fabric: Fabric) -> None:
        every = np.arange(len(fabric), dtype=np.int32)
        self._loops: Loops = every[~is_wrap(fabric.kind[every]) & ~fabric.waste(every)]
        self._needle = fabric.needle[self._loops].astype(np.int64)
        self._pass = fabric.pass_of(self._loops).astype(np.int64)
        self._below: Loops = fabric.upper_parents(self._loops)

    def loop_at(self, needle: int, pass_number: int) -> int | None:
        """The stitch a pass made on a needle; where it made none, the one that hung there then."""
        there = np.flatnonzero((self._needle == needle) & (self._pass <= pass_number))
        # Loops are numbered in order of making.
        return int(self._loops[there[-1]]) if len(there) else None

    def middle(self) -> int | None:
        """A stitch in the middle of the fabric, to begin from."""
        return int(self._loops[len(self._loops) // 2]) if len(self._loops) else None

    def wale(self, loop: int) -> tuple[int, ...]:
        """The wale through a stitch, the oldest first."""
        below = dict(zip(self._loops.tolist(), self._below.tolist(), strict=True))
        down = [loop]
        while (under := below.get(down[-1], -1)) in below:
            down.append(under)
        above = {under: each for each, under in below.items()}
        up = [loop]
        while (over := above.get(up[-1], -1)) >= 0:
            up.append(over)
        return (*reversed(down), *up[1:])

    def course(self, loop: int) -> tuple[int, ...]:
        """The course through a stitch, from left to right."""
        mine = np.flatnonzero(self._pass == self._pass[self._place(loop)])
        return tuple(self._loops[mine[np.argsort(self._needle[mine], kind="stable")]].tolist())

    def beside(self, loop: int, right: int, up: int) -> int:
        """The stitch so many further along the course and up the wale; at an end it stays there."""
        for line_of, by in ((self.course, right), (self.wale, up)):
            if by:
                line = line_of(loop)
                loop = line[min(max(line.index(loop) + by, 0), len(line) - 1)]
        return loop

    def _place(self, loop: int) -> int:
        return int(np.searchsorted(self._loops, loop))
