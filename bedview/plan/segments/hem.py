"""A hem: fabric knitted double and closed on the needles."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Final, Literal

from pydantic import Field

from bedview.bed import actions as do
from bedview.bed.actions import MadeEdge
from bedview.bed.actions import Maker as MadeBy
from bedview.bed.rules import MOST_DIAL, Refused
from bedview.language import gettext as _
from bedview.plan.fields import Dial, Rows
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.edge_stitches import made, stitch_on
from bedview.plan.words import CLOSES_HEM, TURNING_ROW

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker

LOOSER: Final = 2
"""Numbers of the dial by which a turning row is looser (common practice)."""


class HemSegment(Segment):
    """Knits the inside, a loose row to fold at and the outside, and hangs the first loops on the needles.

    The loops picked up are those that stand on the needles when it begins (an e-wrapped edge, or the row
    before). Where these are waste or were not made in one go, they are the loops of the hem's first row. One
    row then knits both layers together. It takes ``inside_rows`` + 1 + ``rows`` + 1 rows.

    Attributes:
        rows: rows of the outside.
        inside_rows: rows of the inside; as many as outside if left out. One or two fewer lie flatter.
        tension: dial for the hem; as it is set if left out. It stays set afterwards.
        turning: dial of the row to fold at; two numbers looser than the hem's if left out.
        closing: dial of the row that closes the hem; the hem's if left out.
    """

    says: ClassVar[str] = "Hem"
    does: ClassVar[str] = "Rows folded double at a loose one, and knitted together with where they began."
    looks_below: ClassVar[bool] = True

    kind: Literal["hem"]
    rows: Rows = Field(title="Rows outside")
    inside_rows: Rows | None = Field(None, title="Rows inside")
    tension: Dial | None = Field(None, title="Tension")
    turning: Dial | None = Field(None, title="Tension of the row to fold at")
    closing: Dial | None = Field(None, title="Tension of the closing row")

    def build(self, maker: Maker) -> None:
        """Knit the hem and close it."""
        working = maker.need_working()
        maker.need_yarn()
        edge = self._edge(maker, working)
        maker.set_dial(self.tension)
        dial, turning = maker.state.dial, self.turning
        if turning is None:
            if dial is None:
                raise SegmentError(
                    _(
                        "no tension is set here, so the row to fold at cannot be {looser} numbers "
                        "looser; give one"
                    ).format(looser=LOOSER),
                    "tension",
                )
            turning = min(dial + LOOSER, MOST_DIAL)
        maker.knit(self.inside_rows or self.rows)
        maker.set_dial(turning)
        maker.knit(1, TURNING_ROW)
        maker.set_dial(dial)
        maker.knit(self.rows)
        try:
            maker.do(do.Hang(tuple(working), edge))
        except Refused as error:
            raise SegmentError(
                _("the hem cannot be closed: {message}").format(message=error.message)
            ) from None
        maker.set_dial(self.closing)
        maker.knit(1, CLOSES_HEM)
        maker.set_dial(dial)

    def _edge(self, maker: Maker, working: list[int]) -> MadeEdge:
        """The loops on the needles now, or those of the coming row."""
        first_row = MadeEdge(maker.passes_done + 1, tuple(working), MadeBy.PASS)
        loops = [stitch_on(maker, needle) for needle in working]
        real = [loop for loop in loops if loop is not None and not maker.fabric.is_waste(loop)]
        standing = made(maker, real) if len(real) == len(working) else None
        return first_row if standing is None else standing
