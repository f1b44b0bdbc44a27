"""Anything, one by one: the one kind that a program may write without knowing the others."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal, Self

from bedview.bed.needles import NeedleError
from bedview.plan.actions_file import ActionList, to_action
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_action

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker


class ActionsSegment(Segment):
    """Actions of hands and carriage in their order."""

    says: ClassVar[str] = "Single actions"
    does: ClassVar[str] = "Actions of hands and carriage, one by one."

    kind: Literal["actions"]
    actions: ActionList

    def build(self, maker: Maker) -> None:
        """Do the actions."""
        needles = maker.state.needles
        for place, item in enumerate(self.actions):
            try:
                action = to_action(item, needles)
            except NeedleError as error:
                raise SegmentError(str(error), f"actions[{place}]") from None
            maker.do(action)

    def other_side(self) -> Self:
        """The same actions on the other needles."""
        return self.altered(actions=tuple(mirrored_action(item) for item in self.actions))
