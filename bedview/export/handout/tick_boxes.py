"""Boxes under the needles of a bed on paper, to tick those that one thinks will do something."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from bedview.export.paper.bed_on_paper import BedOnPaper
from bedview.export.paper.pages import INK, MM
from bedview.lessons.foretell import Asks
from bedview.picture.marks import Box, Mark, Pen, Shape, polyline

TICKS_TALL: Final = 6.4 * MM
"""Height of a line of boxes."""
_LEAST_BOX: Final = 2.2 * MM
_LARGEST_BOX: Final = 4.6 * MM
_PEN: Final = Pen(INK.quiet_ink, 0.25 * MM)
_TICK: Final = Pen(INK.ink, 0.5 * MM)


@dataclass(frozen=True, slots=True, eq=False)
class TickBoxes:
    """A line of boxes below a bed.

    Attributes:
        bed: the bed above them.
    """

    bed: BedOnPaper

    @property
    def bearing(self) -> tuple[int, ...]:
        """Needles shown that bear loops, indices from the left."""
        scene = self.bed.scene
        bearing = np.flatnonzero(scene.loops + scene.wraps).tolist()
        return tuple(needle for needle in bearing if self.bed.layout.shows(needle))

    @property
    def box(self) -> float:
        """Side of a box to tick."""
        return min(_LARGEST_BOX, 0.82 * self.bed.layout.cell * self.bed.placed.scale)

    @property
    def fit(self) -> bool:
        """Whether boxes under its needles are large enough to tick."""
        return bool(self.bearing) and self.box >= _LEAST_BOX

    def marks(self, asks: Asks, ticked: Collection[int] = ()) -> Iterator[Mark]:
        """A box under each needle that bears loops; for gaps between each two neighbours.

        Args:
            asks: what is asked about them.
            ticked: boxes that are ticked; a gap is named by the needle on its left.
        """
        side, top = self.box, (TICKS_TALL - self.box) / 2
        bearing = self.bearing
        for needle in bearing:
            x = self.bed.layout.x_of(needle)
            if asks is Asks.GAP:
                if needle + 1 not in bearing:
                    continue
                x = (x + self.bed.layout.x_of(needle + 1)) / 2
            left = x * self.bed.placed.scale - side / 2
            yield Box(left, top, side, side, 0.2 * side, INK.paper, _PEN)
            if needle in ticked:
                foot = (left + 0.42 * side, top + 0.8 * side)
                path = polyline(
                    (left + 0.18 * side, top + 0.5 * side), foot, (left + 0.86 * side, top + 0.16 * side)
                )
                yield Shape(path, pen=_TICK)
