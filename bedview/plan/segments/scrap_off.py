"""A group leaves the bed with its loops open, safe in a few rows of waste."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

import numpy as np
from pydantic import Field

from bedview.bed.actions import Knit, OpenEdge, YarnRole
from bedview.bed.needles import Position
from bedview.bed.state import HOLD, OUT
from bedview.language import gettext as _
from bedview.plan.fields import Dial, NeedleList, Rows, TailCm, Title, YarnId
from bedview.plan.segments.base import OldYarn, Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker
    from bedview.plan.segments.span import Span


class ScrapOffSegment(Segment):
    """Knits waste on chosen needles and lets them drop.

    Whatever else bears loops waits in hold with the hold cams on; empty needles go out of work, or waste
    would be laid in on them. Waste begins as a new strand, so it wraps none of the neighbours.

    Attributes:
        needles: the group; all needles that work if left out.
        group: what the group is called when the piece is made up.
        rows: rows of waste, seven or eight as a rule (fewer than four will not hold).
        waste: the waste yarn; the piece's first if left out.
        ravel: a ravel cord for one row before the waste; none if left out.
        tension: dial for the waste; as it is set if left out.
        old_yarn: whether the yarn in the feeder is cut or parked first.
        tail_cm: the tail it leaves if it is cut, to graft or sew with.
    """

    says: ClassVar[str] = "Scrap off"
    does: ClassVar[str] = "A group leaves the bed with its loops open, safe in rows of waste."

    kind: Literal["scrap_off"]
    needles: NeedleList | None = Field(None, title="Needles")
    group: Title = Field("", title="Name of the group")
    rows: Rows = Field(8, title="Rows of waste")
    waste: YarnId | None = Field(None, title="Waste yarn")
    ravel: YarnId | None = Field(None, title="Ravel cord")
    tension: Dial | None = Field(None, title="Tension")
    old_yarn: OldYarn = Field("cut", title="The yarn before")
    tail_cm: TailCm | None = Field(None, title="Its tail in cm")

    def build(self, maker: Maker) -> None:
        """Scrap the group off."""
        group = self._group(maker)
        waste = maker.yarn_of_role(YarnRole.WASTE, self.waste, "waste")
        maker.clear_feeder(self.old_yarn, self.tail_cm)
        clear_the_bed_for(maker, group)
        maker.set_dial(self.tension)
        if self.ravel is not None:
            maker.use_yarn(maker.yarn_of_role(YarnRole.RAVEL, self.ravel, "ravel"), "ravel")
            maker.knit(1)
        maker.use_yarn(waste, "waste")
        maker.knit(self.rows)
        maker.clear_feeder()
        maker.knit(1)
        maker.place(group, Position.OUT)

    def _group(self, maker: Maker) -> list[int]:
        named = None if self.needles is None else list(maker.needles(self.needles, "needles"))
        group = maker.need_working() if named is None else named
        height = maker.state.height
        empty = [needle for needle in group if not height[needle]]
        if empty:
            raise SegmentError(
                _("there are no loops to scrap off on {needles}").format(needles=maker.names(empty)),
                "needles",
            )
        inside = range(group[0], group[-1] + 1)
        others = [needle for needle in inside if height[needle] and needle not in set(group)]
        if others:
            raise SegmentError(
                _("the waste would be laid round {needles}, which stand between").format(
                    needles=maker.names(others)
                ),
                "needles",
            )
        return group

    def open_edge(self, maker: Maker, span: Span) -> OpenEdge:
        """The loops that dropped on their waste.

        Args:
            maker: the hand.
            span: which actions it became.
        """
        timeline = maker.timeline
        own = enumerate(timeline.actions[span.start : span.stop], span.start)
        last_knit = max(number for number, action in own if isinstance(action, Knit))
        event = timeline.event_of(timeline.line_of_action(last_knit))
        return OpenEdge(tuple(event.dropped.tolist()), event.passes)

    def other_side(self) -> Self:
        """The same on the other needles."""
        return self.altered(needles=None if self.needles is None else mirrored_needles(self.needles))


def clear_the_bed_for(maker: Maker, group: list[int]) -> None:
    """See that the next pass meets a group and nothing else that could knit."""
    state = maker.state
    apart = np.ones(state.needles, np.bool_)
    apart[group] = False
    apart &= state.position != OUT
    others = np.flatnonzero(apart & (state.height > 0)).tolist()
    maker.place(np.flatnonzero(apart & (state.height == 0)).tolist(), Position.OUT)
    if others:
        maker.hold(others)
    position = maker.state.position
    maker.bring_back(needle for needle in group if position[needle] == OUT or position[needle] == HOLD)
