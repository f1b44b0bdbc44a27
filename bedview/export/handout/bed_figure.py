"""The bed on paper with boxes under its needles, to tick those that one thinks will do something."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from bedview.bed.needles import Position
from bedview.bed.timeline import Timeline
from bedview.export.paper.pages import INK, MM, Placed
from bedview.lessons.foretell import Asks
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_layout import BedLayout, lay_out
from bedview.picture.bed_scene import View, YarnSeen
from bedview.picture.marks import Box, Mark, MeasureText, Pen, Shape, polyline
from bedview.picture.scene_building import scene_at

TICKS_TALL: Final = 6.4 * MM
"""Height of a line of boxes."""
_WIDE: Final = 780.0
_TALL: Final = 222.0
_COURSES: Final = 8
"""Courses of fabric drawn: enough to see where a short row is short."""
_LEAST_BOX: Final = 2.2 * MM
_LARGEST_BOX: Final = 4.6 * MM
_PEN: Final = Pen(INK.quiet_ink, 0.25 * MM)
_TICK: Final = Pen(INK.ink, 0.5 * MM)


@dataclass(frozen=True, slots=True)
class BedFigure:
    """The bed after some line, as wide as the text.

    Attributes:
        placed: the picture.
        layout: where everything stands in it, in its own pixels.
        bearing: needles shown that bear loops, indices from the left.
    """

    placed: Placed
    layout: BedLayout
    bearing: tuple[int, ...]

    @property
    def height(self) -> float:
        """Of the picture on the page."""
        return self.placed.picture.height * self.placed.scale

    @property
    def box(self) -> float:
        """Side of a box to tick."""
        return min(_LARGEST_BOX, 0.82 * self.layout.cell * self.placed.scale)

    @property
    def has_boxes(self) -> bool:
        """Whether boxes under its needles are large enough to tick."""
        return bool(self.bearing) and self.box >= _LEAST_BOX

    def ticks(self, asks: Asks, ticked: Collection[int] = ()) -> Iterator[Mark]:
        """A box under each needle that bears loops; for gaps between each two neighbours.

        Args:
            asks: what is asked about them.
            ticked: boxes that are ticked; a gap is named by the needle on its left.
        """
        side, top = self.box, (TICKS_TALL - self.box) / 2
        for needle in self.bearing:
            x = self.layout.x_of(needle)
            if asks is Asks.GAP:
                if needle + 1 not in self.bearing:
                    continue
                x = (x + self.layout.x_of(needle + 1)) / 2
            left = x * self.placed.scale - side / 2
            yield Box(left, top, side, side, 0.2 * side, INK.paper, _PEN)
            if needle in ticked:
                foot = (left + 0.42 * side, top + 0.8 * side)
                path = polyline(
                    (left + 0.18 * side, top + 0.5 * side), foot, (left + 0.86 * side, top + 0.16 * side)
                )
                yield Shape(path, pen=_TICK)


def bed_figure(
    timeline: Timeline, line: int, yarns: Sequence[YarnSeen], room: float, measure: MeasureText
) -> BedFigure:
    """The bed as it stands after a line.

    Args:
        timeline: what was done on it.
        line: counted from 0; -1 for the bed before anything was done.
        yarns: as they look.
        room: width of the text.
        measure: how wide a text is.
    """
    scene = scene_at(timeline, line, yarns=yarns, view=View(depth=_COURSES))
    # The map of the whole bed helps who scrolls; on paper it takes room.
    layout = replace(lay_out(scene, _WIDE, _TALL), has_map=False)
    picture = draw_bed(scene, _WIDE, _TALL, INK, measure=measure, layout=layout)
    # Where little hangs the picture ends below it, and below the longest needles.
    hangs = layout.loop_line + (scene.fabric.depth + 1) * layout.row
    lowest = max(hangs, layout.tip(Position.HOLD) + 20 * layout.unit)
    picture = replace(picture, height=min(picture.height, lowest))
    bearing = np.flatnonzero(scene.loops + scene.wraps).tolist()
    shown = tuple(needle for needle in bearing if layout.shows(needle))
    return BedFigure(Placed(picture, 0, 1.5 * MM, room / _WIDE), layout, shown)
