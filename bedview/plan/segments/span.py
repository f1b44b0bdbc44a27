"""Which actions belong to which segment, and how much a piece may hold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from bedview.plan.segments.base import Segment

MOST_ACTIONS: Final = 200_000
MOST_PASSES: Final = 200_000
MOST_SEGMENTS_BUILT: Final = 200_000


@dataclass(frozen=True, slots=True)
class Span:
    """The actions of one segment, once.

    Attributes:
        path: its index in the piece, then its index in each repeat on the way down to it.
        turns: how often the list it stands in had been gone through before, for each step of the path.
        segment: the segment.
        start: number of its first action.
        stop: number of the action after its last.
    """

    path: tuple[int, ...]
    turns: tuple[int, ...]
    segment: Segment
    start: int
    stop: int


class TooLong(ValueError):
    """A procedure beyond what a piece may hold; what was too much has not been done.

    Attributes:
        path: as of a :class:`~bedview.plan.segments.base.SegmentError`.
    """

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.path: tuple[int, ...] = ()
