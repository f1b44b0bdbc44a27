"""Fewer stitches: the edges move in."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal

from bedview.bed.needles import Position
from bedview.language import ngettext
from bedview.plan.segments.base import SegmentError
from bedview.plan.segments.edge_stitches import move_in
from bedview.plan.segments.shaping import Shaping, knit_rows, rows_due

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class NarrowSegment(Shaping):
    """Takes stitches away at the edges, one at an end each time, with a transfer tool.

    The outermost stitches, as many as the tool has needles, move one needle in together. The innermost of
    them joins its neighbour, and the two knit as one; the edge needle is empty and goes out of work. It takes
    ``rows`` rows, or ``stitches`` times ``every``.
    """

    says: ClassVar[str] = "Narrow"
    does: ClassVar[str] = "The edge stitches move one needle in, and the fabric grows narrower."

    kind: Literal["narrow"]

    def build(self, maker: Maker) -> None:
        """Narrow row by row."""
        working = len(maker.need_working())
        maker.need_yarn()
        taken = self.stitches * len(self.sides(maker))
        if taken >= working:
            text = ngettext(
                "only {count} needle works here; you asked to take {taken} stitches away",
                "only {count} needles work here; you asked to take {taken} stitches away",
                working,
            )
            raise SegmentError(text.format(count=working, taken=taken), "stitches")
        rows = self.rows_in_all(maker)
        due = rows_due(rows, self.stitches, at_once=self.at_once)
        knit_rows(maker, rows, due, lambda: self._one_in(maker))

    def _one_in(self, maker: Maker) -> None:
        sides = self.sides(maker)
        stitches = min(self.tool, (len(maker.working()) - 1) // len(sides))
        emptied = [move_in(maker, side, stitches) for side in sides]
        maker.place(emptied, Position.OUT)
