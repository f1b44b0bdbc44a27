"""From a piece to a procedure: every hand action and every pass, run on the bed as they are found.

Compiling and simulating are one walk, because a segment asks the bed what stands where before it decides.
After an edit the walk begins at the first segment that changed; what an earlier procedure did before it is
kept, and even behind it the timeline does nothing twice as long as the actions stay the same.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby

from bedview.bed.actions import Action
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.done_before import DoneBefore, can_be_done_again, moved_spans, reasons_of
from bedview.plan.segments.in_a_row import PartsInARow
from bedview.plan.segments.maker import Maker
from bedview.plan.segments.span import Span, TooLong
from bedview.plan.steps import RememberingVoice, Step, Voice, cut_into_steps
from bedview.plan.words import Words


@dataclass(frozen=True)
class Procedure:
    """What hands and carriage do, from the first action to the last.

    Attributes:
        piece: the piece it was made of.
        timeline: its states and its fabric.
        spans: which actions belong to which segment, in order, a segment before those inside it.
        reasons: why an action is done, by its number, where a segment said so.
        finished: how many segments of the piece are in it to their end.
        words: what the steps are told in.
        remembers: whether steps keep their sentences once they are said.
    """

    piece: Piece
    timeline: Timeline
    spans: tuple[Span, ...]
    reasons: dict[int, str]
    finished: int
    words: Words
    remembers: bool = False

    @property
    def actions(self) -> Sequence[Action]:
        """All actions, of all segments."""
        return self.timeline.actions

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps."""
        voice = RememberingVoice if self.remembers else Voice
        return cut_into_steps(self.spans, voice(self.timeline, self.words, self.reasons))

    @cached_property
    def _first_lines(self) -> list[int]:
        return [step.first_line for step in self.steps]

    @cached_property
    def _step_of_pass(self) -> list[int]:
        return [step.number for step in self.steps if step.makes_pass]

    def step_of_pass(self, pass_number: int) -> Step:
        """The step that ends with a pass, counted from 1.

        Raises:
            IndexError: if there is no such pass.
        """
        if pass_number < 1:
            raise IndexError(f"pass {pass_number}")
        return self.steps[self._step_of_pass[pass_number - 1]]

    def step_of_line(self, line: int) -> Step:
        """The step that does a line; the first for -1.

        Raises:
            IndexError: if there is no step at all.
        """
        return self.steps[max(bisect_right(self._first_lines, line) - 1, 0)]

    def spans_of_action(self, action: int) -> list[Span]:
        """The segments an action lies in, the outermost first."""
        return [span for span in self.spans if span.start <= action < span.stop]

    def top_spans(self) -> list[Span]:
        """The segments of the piece itself, without those inside repeats."""
        return [span for span in self.spans if len(span.path) == 1]

    def spoken(self, words: Words) -> Procedure:
        """The same procedure told in other words."""
        return replace(self, words=words)

    def remembering(self) -> Procedure:
        """The same procedure for somebody who asks all steps for their sentences more than once."""
        return replace(self, remembers=True)


class PlanError(ValueError):
    """A piece that cannot be done to its end.

    Attributes:
        where: ``action 17``, or a place in the piece such as ``segments[2].down_to``.
        message: what is wrong, in one sentence.
        segment: index of the segment in the piece.
        procedure: what could be done before it.
    """

    def __init__(self, where: str, message: str, segment: int, procedure: Procedure) -> None:
        super().__init__(f"{where}: {message}")
        self.where = where
        self.message = message
        self.segment = segment
        self.procedure = procedure


def compile_piece(piece: Piece, previous: Procedure | None = None) -> Procedure:
    """Turn a piece into a procedure.

    Args:
        piece: the piece.
        previous: the procedure of an earlier state of the same piece, whose timeline is taken over and
            changed where the two differ. It must not be used afterwards.

    Raises:
        PlanError: if a segment cannot be done, the bed refuses an action, or there are more than 200,000
            actions or passes. It holds what could be done until there.
    """
    before = _done_before(piece, previous)
    maker, place = _begin(piece, previous)
    row, parts = PartsInARow(maker, piece.segments), len(piece.segments)
    try:
        while place < parts:
            done = before.pop(place, None)
            if done is not None and maker.go_on_with(done):
                place += done.parts
                row = PartsInARow(maker, piece.segments)
            else:
                place += row.build(place, min(before, default=parts))
    except (SegmentError, Refused, TooLong) as error:
        procedure = _end(piece, maker, finished=place)
        raise PlanError(_where(error, place), _message(error), place, procedure) from None
    return _end(piece, maker, finished=parts)


def _begin(piece: Piece, previous: Procedure | None) -> tuple[Maker, int]:
    """A maker that stands before the first segment to build, and the index of that segment."""
    roles = piece.yarn_roles()
    if previous is None or not _like_bed(piece, previous):
        return Maker(Timeline(piece.to_bed(), roles), piece.yarns, piece.gauges), 0
    timeline = previous.timeline
    kept = _kept(piece, previous)
    spans = [span for span in previous.spans if span.path[0] < kept]
    start = max((span.stop for span in spans), default=0)
    timeline.rewind(start)
    maker = Maker(timeline, piece.yarns, piece.gauges)
    reasons = {number: reason for number, reason in previous.reasons.items() if number < start}
    maker.stand_behind(
        _titled(spans, piece), reasons, timeline.pass_of_line(timeline.line_of_action(start) - 1)
    )
    return maker, kept


def _kept(piece: Piece, previous: Procedure) -> int:
    """How many segments at the beginning do what they did before."""
    if piece.gauges != previous.piece.gauges:
        return 0
    pairs = zip(piece.segments, previous.piece.segments[: previous.finished], strict=False)
    kept = 0
    for now, then in pairs:
        if not _does_the_same(now, then):
            break
        kept += 1
    return kept


def _like_bed(piece: Piece, previous: Procedure) -> bool:
    """Whether bed and yarns are those of an earlier procedure."""
    then = previous.piece
    return then.to_bed() == piece.to_bed() and then.yarn_roles() == piece.yarn_roles()


def _titled(spans: Iterable[Span], piece: Piece) -> list[Span]:
    """Spans with the segments of a piece, which may have other titles."""
    return [
        replace(span, segment=piece.segments[span.path[0]]) if len(span.path) == 1 else span for span in spans
    ]


def _does_the_same(now: Segment, then: Segment) -> bool:
    return now is then or _untitled(now) == _untitled(then)


def _done_before(piece: Piece, previous: Procedure | None) -> dict[int, DoneBefore]:
    """What segments behind an edit did that are the same now, where they may do it again.

    Returns:
        By their place in the piece, as many together as stand together.
    """
    if previous is None or previous.finished < len(previous.piece.segments) or not _like_bed(piece, previous):
        return {}
    if piece.gauges != previous.piece.gauges:
        return {}
    now, then = piece.segments, previous.piece.segments
    kept, most = _kept(piece, previous), min(len(now), len(then))
    alike = 0
    while alike < most - kept and _does_the_same(now[-1 - alike], then[-1 - alike]):
        alike += 1
    if kept == len(now):
        return {}
    later = len(now) - len(then)
    found: dict[int, DoneBefore] = {}
    for spans in _repeatable(previous, len(then) - alike):
        actions = range(spans[0].start, max(span.stop for span in spans))
        if actions:
            first, last = spans[0].path[0], spans[-1].path[0]
            found[first + later] = DoneBefore(
                last + 1 - first,
                previous.timeline.stretch(actions),
                moved_spans(spans, now, 0, later),
                reasons_of(actions, previous.reasons),
            )
    return found


def _repeatable(procedure: Procedure, first: int) -> Iterator[list[Span]]:
    """The spans of each run of segments from the segment ``first`` on that can be done again."""
    run: list[Span] = []
    later = (span for span in procedure.spans if span.path[0] >= first)
    for _place, own in groupby(later, key=lambda span: span.path[0]):
        spans = list(own)
        if can_be_done_again(procedure.timeline, spans, range(spans[0].start, spans[0].stop)):
            run += spans
        elif run:
            yield run
            run = []
    if run:
        yield run


def _untitled(segment: Segment) -> Segment:
    """A segment without what changes nothing on the bed."""
    return segment.altered(title="", meant=())


def _end(piece: Piece, maker: Maker, finished: int) -> Procedure:
    maker.timeline.finish()
    words = Words(piece.bed.needles, piece.yarns)
    return Procedure(piece, maker.timeline, tuple(maker.spans), maker.reasons, finished, words)


def _where(error: SegmentError | Refused | TooLong, place: int) -> str:
    if isinstance(error, Refused):
        return _("action {action}").format(action=error.action)
    path = error.path or (place,)
    inner = "".join(f".segments[{index}]" for index in path[1:])
    field = f".{error.field}" if isinstance(error, SegmentError) and error.field else ""
    return f"segments[{path[0]}]{inner}{field}"


def _message(error: SegmentError | Refused | TooLong) -> str:
    return str(error) if isinstance(error, TooLong) else error.message
