"""The start of a piece, or more needles beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

import numpy as np
from pydantic import Field

from bedview.bed import actions as do
from bedview.bed.actions import Edge, MadeEdge, YarnRole
from bedview.bed.actions import Maker as MadeBy
from bedview.bed.needles import Position, Side
from bedview.bed.state import OUT
from bedview.language import gettext as _
from bedview.plan.fields import Dial, NeedleList, Rows, TailCm, Title, YarnId
from bedview.plan.segments.base import OldYarn, Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles
from bedview.plan.words import TO_THE_YARN

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker
    from bedview.plan.segments.span import Span


class CastOnSegment(Segment):
    """Closed loops by e-wrap, or waste first so that the fabric begins with open loops to graft.

    New needles beside ones that work are cast on from the carriage's side, where the yarn is; for those on
    the far side one row is knitted first.

    Attributes:
        needles: where.
        how: ``e_wrap``, or ``waste``: the waste is cast on and knitted, then the yarn threaded.
        group: what its loops are called when they are hung or the piece is made up: the cast-on edge, or
            after a waste start the open loops of the first row.
        yarn: the fabric's yarn; the one in the feeder, or the piece's first, if left out.
        tension: dial for what follows.
        waste: the waste yarn; the piece's first if left out.
        waste_rows: rows of it, seven or eight as a rule.
        ravel: a ravel cord for one row between waste and fabric; none if left out.
        waste_tension: dial for waste and cord; that of the fabric if left out.
        old_yarn: what becomes of another yarn that is in the feeder.
        tail_cm: the tail it leaves if it is cut.
    """

    says: ClassVar[str] = "Cast on"
    does: ClassVar[str] = "New stitches on empty needles, closed or with open loops on waste."

    kind: Literal["cast_on"]
    needles: NeedleList = Field(title="Needles")
    how: Literal["e_wrap", "waste"] = Field("e_wrap", title="How")
    group: Title = Field("", title="Name of the edge")
    yarn: YarnId | None = Field(None, title="Yarn")
    tension: Dial | None = Field(None, title="Tension")
    waste: YarnId | None = Field(None, title="Waste yarn")
    waste_rows: Rows = Field(8, title="Rows of waste")
    ravel: YarnId | None = Field(None, title="Ravel cord")
    waste_tension: Dial | None = Field(None, title="Tension of the waste")
    old_yarn: OldYarn = Field("cut", title="The yarn before")
    tail_cm: TailCm | None = Field(None, title="Its tail in cm")

    def build(self, maker: Maker) -> None:
        """Cast on, and leave the fabric's yarn in the feeder."""
        needles = maker.needles(self.needles, "needles")
        full = [needle for needle in needles if maker.state.height[needle]]
        if full:
            raise SegmentError(
                _("loops stand on {needles} already").format(needles=maker.names(full)), "needles"
            )
        yarn = self.yarn
        if yarn is None:
            now = maker.yarn
            fabric_now = now is not None and now.role == YarnRole.FABRIC.value
            yarn = now.id if now and fabric_now else maker.yarn_of_role(YarnRole.FABRIC, None, "yarn")
        if self.how == "waste":
            self._waste_start(maker, needles)
            maker.use_yarn(yarn, "yarn")
            maker.set_dial(self.tension)
        else:
            maker.set_dial(self.tension)
            maker.use_yarn(yarn, "yarn", old=self.old_yarn, tail_cm=self.tail_cm)
            self._e_wrap(maker, needles)

    def _e_wrap(self, maker: Maker, needles: do.Needles) -> None:
        """Cast on at the carriage, and beyond the far edge after one row."""
        working = maker.working()
        if not working or maker.state.tip < 0:
            maker.do(do.CastOn(needles))
            return
        if maker.state.carriage is Side.RIGHT:
            far = tuple(needle for needle in needles if needle < working[0])
        else:
            far = tuple(needle for needle in needles if needle > working[-1])
        here = tuple(needle for needle in needles if needle not in far)
        if here:
            maker.do(do.CastOn(here))
        if far:
            maker.knit(1, TO_THE_YARN)
            maker.do(do.CastOn(far))

    def _waste_start(self, maker: Maker, needles: do.Needles) -> None:
        self._refuse_neighbours(maker, needles)
        state = maker.state
        idle = (state.height == 0) & (state.position != OUT)
        maker.place(np.flatnonzero(idle).tolist(), Position.OUT)
        maker.set_dial(self.tension if self.waste_tension is None else self.waste_tension)
        waste = maker.yarn_of_role(YarnRole.WASTE, self.waste, "waste")
        maker.use_yarn(waste, "waste", old=self.old_yarn, tail_cm=self.tail_cm)
        maker.do(do.CastOn(needles))
        maker.knit(self.waste_rows)
        if self.ravel is not None:
            maker.use_yarn(maker.yarn_of_role(YarnRole.RAVEL, self.ravel, "ravel"), "ravel")
            maker.knit(1)

    def _refuse_neighbours(self, maker: Maker, needles: do.Needles) -> None:
        """See that the waste meets nothing else: no needle that works, none in hold between its own."""
        working = maker.working()
        if working:
            raise SegmentError(
                _("waste would be knitted onto {needles} too; hold them first").format(
                    needles=maker.names(working)
                ),
                "how",
            )
        between = [needle for needle in maker.held() if needles[0] < needle < needles[-1]]
        if between:
            raise SegmentError(
                _("the waste would be laid round {needles}, which stand between").format(
                    needles=maker.names(between)
                ),
                "needles",
            )

    def open_edge(self, maker: Maker, span: Span) -> Edge:
        """The loops of its edge.

        Args:
            maker: the hand.
            span: which actions it became.

        Raises:
            SegmentError: if it was cast on in two parts.
        """
        needles, timeline = maker.needles(self.needles, "needles"), maker.timeline
        if self.how == "waste":
            passes = timeline.pass_of_line(timeline.line_of_action(span.stop) - 1)
            return MadeEdge(passes + 1, needles, MadeBy.PASS)
        own = enumerate(timeline.actions[span.start : span.stop], span.start)
        cast = [number for number, action in own if isinstance(action, do.CastOn)]
        if len(cast) > 1:
            raise SegmentError(
                _("'{group}' was cast on in two parts, one on each side; name an edge of one of them").format(
                    group=self.group
                ),
                "group",
            )
        return MadeEdge(timeline.pass_of_line(timeline.line_of_action(cast[0])), needles, MadeBy.CAST_ON)

    def other_side(self) -> Self:
        """The same on the other needles."""
        return self.altered(needles=mirrored_needles(self.needles))
