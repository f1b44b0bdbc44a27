"""Open loops, or an edge, back on the needles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, Self

from pydantic import Field, model_validator

from bedview.bed import actions as do
from bedview.bed.actions import Edge, MadeEdge, OpenEdge
from bedview.bed.rules import Refused
from bedview.language import gettext as _
from bedview.plan.edges_file import EdgeItem, to_edge
from bedview.plan.fields import Dial, NeedleList, Rows, Title, YarnId
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.mirroring import mirrored_edge, mirrored_needles, toggled
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.plan.words import OFF_THE_WASTE

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class HangSegment(Segment):
    """Hangs a group that has a name, or any edge, and knits it on.

    The k-th loop goes on the k-th needle from the left, on top of what it bears, so two groups can be joined.

    Attributes:
        group: the name of a group scrapped off or cast on before; the last of that name.
        edge: an edge of loops instead of a group, as an action ``hang`` writes it.
        needles: where to; the needles it came from if left out. For a ``side`` edge they must be given.
        turned: whether the fabric is turned, so that its other face is towards the knitter.
        rows: rows to knit afterwards over all that works; none if left out.
        yarn: the yarn for them; the one in the feeder if left out. A parked strand of it is picked up again.
        tension: dial for them; as it is set if left out.
    """

    says: ClassVar[str] = "Hang"
    does: ClassVar[str] = "An open group or an edge goes back on the needles, to knit on or to join."
    looks_below: ClassVar[bool] = True

    kind: Literal["hang"]
    group: Annotated[Title, Field(min_length=1)] | None = Field(None, title="Name of the group")
    edge: EdgeItem | None = Field(None, title="Edge")
    needles: NeedleList | None = Field(None, title="Needles")
    turned: bool = Field(False, title="Turned to the other face")
    rows: Rows | None = Field(None, title="Rows to knit it on")
    yarn: YarnId | None = Field(None, title="Yarn")
    tension: Dial | None = Field(None, title="Tension")

    @model_validator(mode="after")
    def _one_origin(self) -> Self:
        if (self.group is None) == (self.edge is None):
            raise ValueError(_("give either the name of a group or an edge"))
        if self.edge is not None and "side" in self.edge and self.needles is None:
            raise ValueError(_("name the needles that this side edge goes on"))
        return self

    def build(self, maker: Maker) -> None:
        """Hang the loops, and knit the rows."""
        edge = self._loops(maker)
        needles = self._places(maker, edge)
        try:
            maker.do(do.Hang(needles, edge, self.turned), OFF_THE_WASTE if isinstance(edge, OpenEdge) else "")
        except Refused as error:
            raise SegmentError(error.message, self._at_fault()) from None
        if self.rows is None:
            return
        if self.yarn is not None:
            maker.use_yarn(self.yarn, "yarn")
        maker.need_yarn()
        maker.set_dial(self.tension)
        maker.knit(self.rows)

    def _loops(self, maker: Maker) -> Edge:
        if self.edge is not None:
            return to_edge(self.edge, maker.state.needles)
        named = [
            (span, span.segment)
            for span in maker.spans
            if isinstance(span.segment, ScrapOffSegment | CastOnSegment) and span.segment.group
        ]
        for span, segment in reversed(named):
            if segment.group == self.group:
                return segment.open_edge(maker, span)
        known = ", ".join(dict.fromkeys(segment.group for _, segment in named))
        text = _("no group is called '{group}' here; no group has a name before this")
        if known:
            text = _("no group is called '{group}' here; known: {known}")
        raise SegmentError(text.format(group=self.group, known=known), "group")

    def _places(self, maker: Maker, edge: Edge) -> do.Needles:
        if self.needles is not None:
            return maker.needles(self.needles, "needles")
        assert isinstance(edge, OpenEdge | MadeEdge), "side edges come with needles"
        return tuple(sorted(edge.needles or ()))

    def _at_fault(self) -> str:
        if self.needles is not None:
            return "needles"
        return "group" if self.edge is None else "edge"

    def other_side(self) -> Self:
        """The same on the other side; loops along a side count the same way in a mirror, needles do not."""
        changed: dict[str, Any] = self.model_dump(exclude_unset=True)
        if self.needles is not None:
            changed["needles"] = mirrored_needles(self.needles)
        if self.edge is not None:
            changed["edge"] = mirrored_edge(self.edge)
            if "side" in self.edge:
                changed = toggled(changed, "turned")
        return type(self).model_validate(changed)
