"""The start of a piece, or more needles beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field

from bedview.bed import actions as do
from bedview.bed.actions import YarnRole
from bedview.plan.fields import Dial, NeedleList, Rows, YarnId
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class CastOnSegment(Segment):
    """Closed loops by e-wrap, or waste first so that the fabric begins with open loops to graft.

    Attributes:
        needles: where.
        how: ``e_wrap``, or ``waste``: the waste is cast on and knitted, then the yarn threaded.
        yarn: the fabric's yarn; the one in the feeder, or the piece's first, if left out.
        tension: dial for what follows.
        waste: the waste yarn; the piece's first if left out.
        waste_rows: rows of it.
        ravel: a ravel cord for one row between waste and fabric; none if left out.
    """

    says: ClassVar[str] = "Cast on"

    kind: Literal["cast_on"]
    needles: NeedleList = Field(title="Needles")
    how: Literal["e_wrap", "waste"] = Field("e_wrap", title="How")
    yarn: YarnId | None = Field(None, title="Yarn")
    tension: Dial | None = Field(None, title="Tension")
    waste: YarnId | None = Field(None, title="Waste yarn")
    waste_rows: Rows = Field(8, title="Rows of waste")
    ravel: YarnId | None = Field(None, title="Ravel cord")

    def build(self, maker: Maker) -> None:
        """Cast on, and leave the fabric's yarn in the feeder."""
        needles = maker.needles(self.needles, "needles")
        full = [needle for needle in needles if maker.state.height[needle]]
        if full:
            raise SegmentError(f"loops stand on {maker.names(full)} already", "needles")
        yarn = self.yarn
        if yarn is None:
            now = maker.yarn
            fabric_now = now is not None and now.role == YarnRole.FABRIC.value
            yarn = now.id if now and fabric_now else maker.yarn_of_role(YarnRole.FABRIC, None, "yarn")
        maker.set_dial(self.tension)
        if self.how == "waste":
            self._waste_start(maker, needles)
            maker.use_yarn(yarn, "yarn")
        else:
            maker.use_yarn(yarn, "yarn")
            maker.do(do.CastOn(needles))

    def _waste_start(self, maker: Maker, needles: do.Needles) -> None:
        working = maker.working()
        if working:
            raise SegmentError(
                f"waste would be knitted onto {maker.names(working)} too; hold them first", "how"
            )
        maker.use_yarn(maker.yarn_of_role(YarnRole.WASTE, self.waste, "waste"), "waste")
        maker.do(do.CastOn(needles))
        maker.knit(self.waste_rows)
        if self.ravel is not None:
            maker.use_yarn(maker.yarn_of_role(YarnRole.RAVEL, self.ravel, "ravel"), "ravel")
            maker.knit(1)

    def mirrored(self) -> Self:
        """The same on the other needles."""
        return self.altered(needles=mirrored_needles(self.needles))
