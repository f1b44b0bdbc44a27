"""Held needles return to work."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field, model_validator

from bedview.language import gettext as _
from bedview.plan.fields import NeedleList
from bedview.plan.segments.base import Ends, NeedlesAStep, Segment, SegmentError, Wraps
from bedview.plan.segments.mirroring import mirrored_needles, mirrored_word
from bedview.plan.segments.short_rows import refuse_automatic_groups, refuse_both_each_row
from bedview.plan.segments.turning import Manner, around_stretch, beside_stretch, bring_all_back, widen

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class BringBackSegment(Segment):
    """Brings held needles back to upper working, row by row or all at once.

    Attributes:
        needles: which; all that stand in hold if left out.
        ends: at which ends, row by row; or ``all_at_once``, which knits no row unless some wait on the
            carriage's side, where the yarn leaves.
        needles_a_step: how many each time at one end.
        wraps: who wraps the nearest held needle before each returning row.
    """

    says: ClassVar[str] = "Bring back"
    does: ClassVar[str] = "Needles in hold knit again, step by step or all at once."

    kind: Literal["bring_back"]
    needles: NeedleList | None = Field(None, title="Needles")
    ends: Ends | Literal["all_at_once"] = Field("in_turn", title="Where")
    needles_a_step: NeedlesAStep = Field(1, title="Needles each time")
    wraps: Wraps = Field("hand", title="Wraps")

    @model_validator(mode="after")
    def _fits_the_machine(self) -> Self:
        if self.ends == "both_each_row":
            refuse_both_each_row(self.needles_a_step, self.wraps)
        if self.ends != "all_at_once":
            refuse_automatic_groups(self.needles_a_step, self.wraps)
        return self

    def build(self, maker: Maker) -> None:
        """Bring the needles back."""
        held = maker.held()
        coming = held if self.needles is None else maker.needles(self.needles, "needles")
        if not coming:
            raise SegmentError(_("no needle is in hold here"))
        away = sorted(set(coming).difference(held))
        if away:
            raise SegmentError(
                _("no loops are in hold on {needles}").format(needles=maker.names(away)), "needles"
            )
        if self.ends == "all_at_once":
            bring_all_back(maker, around_stretch(maker, coming))
        else:
            maker.need_yarn()
            waiting = beside_stretch(maker, coming)
            widen(maker, waiting, Manner(self.ends, self.needles_a_step, self.wraps))

    def other_side(self) -> Self:
        """The same on the other side."""
        needles = None if self.needles is None else mirrored_needles(self.needles)
        return self.altered(needles=needles, ends=mirrored_word(self.ends))
