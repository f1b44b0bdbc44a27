"""The bed as it is printed: as wide as the text, and no higher than what hangs from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from bedview.bed.needles import Position
from bedview.bed.timeline import Timeline
from bedview.export.paper.pages import INK, MM, Placed
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_layout import BedLayout, lay_out
from bedview.picture.bed_scene import BedScene, View, YarnSeen
from bedview.picture.marks import MeasureText
from bedview.picture.scene_building import scene_at

_WIDE: Final = 780.0
_TALL: Final = 222.0
_COURSES: Final = 8
"""Courses of fabric in a picture: enough to see where a short row is short."""


@dataclass(frozen=True, slots=True, eq=False)
class BedOnPaper:
    """A picture of the bed on a page.

    Attributes:
        scene: what it shows.
        layout: where everything stands in it, in its own pixels.
        placed: the picture at the top left corner of a block, with a little air above.
    """

    scene: BedScene
    layout: BedLayout
    placed: Placed

    @property
    def height(self) -> float:
        """Of the picture, in the page's units."""
        return self.placed.picture.height * self.placed.scale


def bed_on_paper(
    timeline: Timeline,
    line: int,
    yarns: Sequence[YarnSeen],
    room: float,
    measure: MeasureText,
    coming: range = range(0),
) -> BedOnPaper:
    """The bed as it stands after a line.

    Args:
        timeline: what was done on it.
        line: counted from 0; -1 for the bed before anything was done.
        yarns: as they look.
        room: width of the text.
        measure: how wide a text is.
        coming: lines of the step that comes next; what it does is marked.
    """
    scene = scene_at(timeline, line, coming=coming, yarns=yarns, view=View(depth=_COURSES))
    # The map of the whole bed helps who scrolls; on paper it takes room.
    layout = replace(lay_out(scene, _WIDE, _TALL), has_map=False)
    picture = draw_bed(scene, _WIDE, _TALL, INK, measure=measure, layout=layout)
    # Where little hangs the picture ends below it, and below the longest needles.
    hangs = layout.loop_line + (scene.fabric.depth + 1) * layout.row
    lowest = max(hangs, layout.tip(Position.HOLD) + 20 * layout.unit)
    picture = replace(picture, height=min(picture.height, lowest))
    return BedOnPaper(scene, layout, Placed(picture, 0, 1.5 * MM, room / _WIDE))
