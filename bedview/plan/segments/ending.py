"""What the segments at the end of a piece did, to be done again when something before them changed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bedview.bed.again import Stretch
from bedview.plan.segments.maker import Span


@dataclass(frozen=True, slots=True)
class Ending:
    """What segments up to the last did once, and may do again behind others.

    Attributes:
        place: index of the first of them in the piece as it is now.
        stretch: their actions.
        spans: theirs, at their places in the piece as it is now, their actions numbered as they were.
        reasons: theirs, numbered likewise.
    """

    place: int
    stretch: Stretch
    spans: list[Span]
    reasons: dict[int, str]

    def spans_from(self, action: int) -> list[Span]:
        """Their spans where ``action`` is the first of their actions."""
        more = action - self.stretch.action
        return [replace(span, start=span.start + more, stop=span.stop + more) for span in self.spans]

    def reasons_from(self, action: int) -> dict[int, str]:
        """Their reasons where ``action`` is the first of their actions."""
        more = action - self.stretch.action
        return {number + more: reason for number, reason in self.reasons.items()}
