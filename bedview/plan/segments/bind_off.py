"""Loops are closed and leave the bed."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field

from bedview.bed import actions as do
from bedview.plan.fields import NeedleList, TailCm
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class BindOffSegment(Segment):
    """Binds off from the carriage's side.

    Attributes:
        needles: which; all that work if left out.
        tail_cm: the tail at which the yarn is cut afterwards; it stays in the feeder if left out.
    """

    says: ClassVar[str] = "Bind off"

    kind: Literal["bind_off"]
    needles: NeedleList | None = Field(None, title="Needles")
    tail_cm: TailCm | None = Field(None, title="Tail in cm")

    def build(self, maker: Maker) -> None:
        """Bind off."""
        needles = maker.need_working() if self.needles is None else maker.needles(self.needles, "needles")
        empty = [needle for needle in needles if not maker.state.height[needle]]
        if empty:
            raise SegmentError(f"there are no loops to bind off on {maker.names(empty)}", "needles")
        maker.need_yarn()
        maker.do(do.BindOff(tuple(needles)))
        if self.tail_cm is not None:
            maker.do(do.Cut(self.tail_cm))

    def mirrored(self) -> Self:
        """The same on the other needles."""
        return self.altered(needles=None if self.needles is None else mirrored_needles(self.needles))
