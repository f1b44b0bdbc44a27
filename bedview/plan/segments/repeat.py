"""The same segments again and again: wedges, stripes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, ClassVar, Final, Literal, Self

from pydantic import FailFast, Field, model_validator

from bedview.language import gettext as _
from bedview.plan.fields import Rows
from bedview.plan.segments.base import Segment
from bedview.plan.segments.in_a_row import PartsInARow

if TYPE_CHECKING:
    from bedview.plan.segments import AnySegment
    from bedview.plan.segments.maker import Maker

DEEPEST: Final = 8
"""Repeats inside repeats; nobody knits more, and a file made to do harm would exhaust the stack."""


class RepeatSegment(Segment):
    """Builds its segments so many times, each time from the state the bed is in then.

    Attributes:
        times: how often.
        segments: what is repeated, any kinds, repeats too (to a depth of eight).
    """

    says: ClassVar[str] = "Repeat"
    does: ClassVar[str] = "The parts inside it, one after the other, so many times."

    kind: Literal["repeat"]
    times: Rows = Field(title="Times")
    segments: Annotated[tuple[AnySegment, ...], Field(strict=False, max_length=20_000), FailFast()] = Field(
        title="What is repeated"
    )

    @model_validator(mode="after")
    def _not_too_deep(self) -> Self:
        if self.depth() > DEEPEST:
            raise ValueError(_("repeats lie in each other more than {deepest} deep").format(deepest=DEEPEST))
        return self

    def depth(self) -> int:
        """How many repeats lie in each other here, this one counted."""
        return 1 + max((each.depth() for each in self.segments if isinstance(each, RepeatSegment)), default=0)

    def rounds(self) -> int:
        """How often its segments are built."""
        return self.times

    def build(self, maker: Maker) -> None:
        """Build all of it, time after time."""
        row, number, parts = PartsInARow(maker, self.segments), 0, self.times * len(self.segments)
        while number < parts:
            number += row.build(number, parts)

    def other_side(self) -> Self:
        """The same of the segments in a mirror."""
        return self.altered(segments=tuple(segment.mirrored() for segment in self.segments))
