"""Loops are closed and leave the bed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field

from bedview.bed import actions as do
from bedview.bed.needles import Side
from bedview.language import gettext as _
from bedview.plan.fields import NeedleList, TailCm
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles
from bedview.plan.words import TO_THE_YARN

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class BindOffSegment(Segment):
    """Binds off from the carriage's side; before a group at the far end, one row is knitted.

    Attributes:
        needles: which; all that work if left out.
        tail_cm: the tail at which the yarn is cut afterwards; it stays in the feeder if left out.
    """

    says: ClassVar[str] = "Bind off"
    does: ClassVar[str] = "Closes stitches, one drawn over the next, and takes them off the needles."

    kind: Literal["bind_off"]
    needles: NeedleList | None = Field(None, title="Needles")
    tail_cm: TailCm | None = Field(None, title="Tail in cm")

    def build(self, maker: Maker) -> None:
        """Bind off."""
        needles = maker.need_working() if self.needles is None else maker.needles(self.needles, "needles")
        empty = [needle for needle in needles if not maker.state.height[needle]]
        if empty:
            raise SegmentError(
                _("there are no loops to bind off on {needles}").format(needles=maker.names(empty)), "needles"
            )
        maker.need_yarn()
        if self._at_the_far_end(maker, needles):
            maker.knit(1, TO_THE_YARN)
        maker.do(do.BindOff(tuple(needles)))
        if self.tail_cm is not None:
            maker.do(do.Cut(self.tail_cm))

    @staticmethod
    def _at_the_far_end(maker: Maker, needles: Sequence[int]) -> bool:
        working = maker.working()
        if len(needles) >= len(working):
            return False
        left = maker.state.carriage is Side.RIGHT
        return list(needles) == (working[: len(needles)] if left else working[-len(needles) :])

    def other_side(self) -> Self:
        """The same on the other needles."""
        return self.altered(needles=None if self.needles is None else mirrored_needles(self.needles))
