"""Groups of needles that wait in hold while others go on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, ClassVar, Literal, Self

from pydantic import Field

from bedview.bed.needles import Side
from bedview.language import gettext as _
from bedview.plan.fields import NeedleList
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_needles
from bedview.plan.segments.turning import wrap_by_hand
from bedview.plan.words import CROSSING

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class SetAsideSegment(Segment):
    """Brings groups at the ends to hold, each on the far side and with one row after it.

    Attributes:
        groups: needle lists; each must reach an end of the needles that work when its turn comes. Those on
            the far side go first, whatever their order here.
        wraps: ``hand`` wraps the nearest needle of each group after its row, so that no opening stays when
            the group comes back; a group that will be grafted needs none.
    """

    says: ClassVar[str] = "Set aside"
    does: ClassVar[str] = "Groups at the ends go to hold, each on the far side, and wait there."

    kind: Literal["set_aside"]
    groups: Annotated[tuple[NeedleList, ...], Field(strict=False, min_length=1, max_length=400)] = Field(
        title="Groups of needles"
    )
    wraps: Literal["hand", "none"] = Field("none", title="Wraps")

    def build(self, maker: Maker) -> None:
        """Hold group after group."""
        maker.need_yarn()
        waiting = [list(maker.needles(text, f"groups[{place}]")) for place, text in enumerate(self.groups)]
        while waiting:
            far = maker.state.carriage.other
            sides = [self._side_of(maker, group) for group in waiting]
            if far in sides:
                place = sides.index(far)
            elif far.other in sides:
                place = sides.index(far.other)
                maker.knit(1, CROSSING)
            else:
                raise self._not_at_an_end(maker, waiting[0])
            group = waiting.pop(place)
            maker.hold(group)
            maker.knit()
            if self.wraps == "hand":
                wrap_by_hand(maker, group[-1] if sides[place] is Side.LEFT else group[0])

    def _side_of(self, maker: Maker, group: list[int]) -> Side | None:
        """The end of the working needles that a group covers; None if it covers none."""
        working = maker.need_working()
        if len(group) >= len(working):
            if set(working) <= set(group):
                raise SegmentError(
                    _("setting {needles} aside would leave no needle to knit").format(
                        needles=maker.names(group)
                    ),
                    "groups",
                )
            return None
        if working[: len(group)] == group:
            return Side.LEFT
        return Side.RIGHT if working[-len(group) :] == group else None

    def _not_at_an_end(self, maker: Maker, group: list[int]) -> SegmentError:
        working = maker.working()
        idle = sorted(set(group).difference(working))
        if idle:
            return SegmentError(
                _("nothing works on {needles} here").format(needles=maker.names(idle)), "groups"
            )
        return SegmentError(
            _("the group {needles} reaches no end of the needles that work, {working}").format(
                needles=maker.names(group), working=maker.names(working)
            ),
            "groups",
        )

    def other_side(self) -> Self:
        """The same groups on the other side."""
        return self.altered(groups=tuple(mirrored_needles(text) for text in self.groups))
