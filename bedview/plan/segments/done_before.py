"""What parts one after the other did once, to be done again where the bed stands as it stood before them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from bedview.bed.again import Stretch
from bedview.bed.timeline import Timeline
from bedview.plan.segments.base import Segment
from bedview.plan.segments.span import Span


@dataclass(frozen=True, slots=True)
class DoneBefore:
    """What some parts did, and may do again behind others.

    Attributes:
        parts: how many parts.
        stretch: their actions.
        spans: theirs, at the places where they are done again, their actions numbered as they were.
        reasons: theirs, numbered likewise.
    """

    parts: int
    stretch: Stretch
    spans: list[Span]
    reasons: dict[int, str]

    def spans_from(self, action: int) -> list[Span]:
        """Their spans where ``action`` is the first of their actions."""
        more = action - self.stretch.action
        return [
            Span(span.path, span.turns, span.segment, span.start + more, span.stop + more)
            for span in self.spans
        ]

    def reasons_from(self, action: int) -> dict[int, str]:
        """Their reasons where ``action`` is the first of their actions."""
        more = action - self.stretch.action
        return {number + more: reason for number, reason in self.reasons.items()}


def can_be_done_again(timeline: Timeline, spans: Iterable[Span], actions: range) -> bool:
    """Whether what parts did depends on nothing but how the bed stood before them.

    Args:
        timeline: what they were done on.
        spans: theirs, and of what lies in them.
        actions: the numbers of their actions.
    """
    return not any(span.segment.looks_below for span in spans) and timeline.can_be_done_again(actions)


def reasons_of(actions: range, reasons: Mapping[int, str]) -> dict[int, str]:
    """Those of some reasons that are about some actions."""
    return {number: reasons[number] for number in actions if number in reasons}


def moved_spans(spans: Iterable[Span], segments: Sequence[Segment], depth: int, later: int) -> list[Span]:
    """Spans of parts of a list, as they are where the parts come ``later`` in it.

    Args:
        spans: theirs, and of what lies in them.
        segments: the list; parts of it that do the same may have other titles.
        depth: how many lists it lies in.
        later: by how many parts, counted through all times the list is gone through.
    """
    found: list[Span] = []
    for span in spans:
        turn, place = divmod(span.turns[depth] * len(segments) + span.path[depth] + later, len(segments))
        path = (*span.path[:depth], place, *span.path[depth + 1 :])
        turns = (*span.turns[:depth], turn, *span.turns[depth + 1 :])
        segment = segments[place] if len(path) == depth + 1 else span.segment
        found.append(replace(span, path=path, turns=turns, segment=segment))
    return found
