"""Short rows: a heel, a toe, a dart, a shoulder, a wedge."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import BaseModel, Field, model_validator

from bedview.language import gettext as _
from bedview.language import ngettext
from bedview.plan.fields import STRICT
from bedview.plan.segments.base import Ends, NeedlesAStep, Segment, SegmentError, Wraps
from bedview.plan.segments.mirroring import mirrored_word
from bedview.plan.segments.turning import Manner, beside_stretch, bring_all_back, narrow, widen

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class Back(BaseModel):
    """How held needles come back to work.

    Attributes:
        all_at_once: all before the next row, instead of step by step. Those on the carriage's side, where the
            yarn leaves, wait one row more.
        needles_a_step: how many each time at one end; as going down if left out.
        wraps: who wraps the nearest held needle before each returning row.
    """

    model_config = STRICT

    all_at_once: bool = Field(False, title="All at once")
    needles_a_step: NeedlesAStep | None = Field(None, title="Needles each time")
    wraps: Wraps = Field("hand", title="Wraps")


class ShortRowsSegment(Segment):
    """Needles go to hold until few knit, and come back again if wanted.

    Attributes:
        down_to: needles that still knit at the turn.
        ends: where needles are held.
        needles_a_step: how many each time at one end.
        wraps: who wraps the nearest held needle. ``automatic``: it is held on the carriage's side, and of a
            group all but one on the far side before; ``hand`` and ``none``: all are held on the far side.
            Where both ends are held in each row, the pass wraps at one end whatever is chosen, and only a
            hand can wrap at the other.
        back: how they come back; they stay in hold if it is left out.
    """

    says: ClassVar[str] = "Short rows"
    does: ClassVar[str] = "Needles go to hold until few knit, and come back: a heel, a toe, a dart, a wedge."

    kind: Literal["short_rows"]
    down_to: NeedlesAStep = Field(title="Needles left at the end")
    ends: Ends = Field("in_turn", title="Where")
    needles_a_step: NeedlesAStep = Field(1, title="Needles held each time")
    wraps: Wraps = Field("automatic", title="Wraps")
    back: Back | None = Field(None, title="Back again")

    @model_validator(mode="after")
    def _fits_the_machine(self) -> Self:
        if self.ends == "both_each_row":
            if self.needles_a_step > 1:
                raise ValueError(
                    _(
                        "with both ends in each row only 1 needle can be held at an end, not "
                        "{needles_a_step}: a pass would wrap them all at the carriage's side"
                    ).format(needles_a_step=self.needles_a_step)
                )
            if self.back is not None and not self.back.all_at_once:
                refuse_both_each_row(self.back.needles_a_step or 1, self.back.wraps)
        if self.back is not None and not self.back.all_at_once:
            refuse_automatic_groups(self.back.needles_a_step or self.needles_a_step, self.back.wraps)
            if self.wraps == "automatic":
                refuse_automatic_groups(self.needles_a_step, self.back.wraps)
        return self

    def build(self, maker: Maker) -> None:
        """Hold needles until ``down_to`` knit, and bring them back."""
        working = maker.need_working()
        maker.need_yarn()
        if self.down_to >= len(working):
            text = ngettext(
                "only {count} needle works here; you asked to go down to {down_to}",
                "only {count} needles work here; you asked to go down to {down_to}",
                len(working),
            )
            raise SegmentError(text.format(count=len(working), down_to=self.down_to), "down_to")
        narrow(maker, len(working) - self.down_to, Manner(self.ends, self.needles_a_step, self.wraps))
        if self.back is None:
            return
        holding = set(working).difference(maker.working())
        waiting = beside_stretch(maker, holding)
        if self.back.all_at_once:
            bring_all_back(maker, waiting)
        else:
            step = self.back.needles_a_step or self.needles_a_step
            widen(maker, waiting, Manner(self.ends, step, self.back.wraps))

    def other_side(self) -> Self:
        """The same at the other end."""
        return self.altered(ends=mirrored_word(self.ends))


def refuse_both_each_row(step: int, wraps: Wraps) -> None:
    """Check a way back at both ends in each row.

    Raises:
        ValueError: if several needles would come back where the yarn leaves, or a pass should wrap there.
    """
    if wraps == "automatic":
        raise ValueError(_("no pass can wrap both ends as they come back in each row; choose hand or none"))
    if step > 1:
        raise ValueError(
            _(
                "with both ends in each row only 1 needle can come back at an end, not {step}: the yarn "
                "would run loose to the outermost at the carriage's side"
            ).format(step=step)
        )


def refuse_automatic_groups(step: int, wraps: Wraps) -> None:
    """Check that groups do not come back with automatic wraps.

    One needle of each group would knit one row more than its neighbours, and a gap show beside it.

    Raises:
        ValueError: if they would.
    """
    if wraps == "automatic" and step > 1:
        raise ValueError(
            _(
                "automatic wraps bring needles back one at a time, not in groups of {step}; choose hand "
                "or none"
            ).format(step=step)
        )
