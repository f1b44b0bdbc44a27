"""What was really knitted: more or fewer rows than planned, another dial, a remark; and its piece.

A change stands before a step of the procedure that already has all changes before that step in it; so a list
of them is made from the first step to the last. Only the segment a change falls into is rewritten: a plain
segment stays one if it only has other rows, or another dial from its first row on; any other becomes the list
of its actions. What follows is built anew from where the bed then stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from bedview.bed.actions import Action, Knit, Note, Tension
from bedview.bed.timeline import Timeline
from bedview.language import gettext as _
from bedview.plan.actions_written import to_item
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.span import Span
from bedview.session.moved_passes import after_change
from bedview.session.setting_up import line_before_step


@dataclass(frozen=True, slots=True)
class Change:
    """What was done otherwise than planned, straight before a step.

    Attributes:
        step: number of the step; ``len(steps)`` for the end.
        rows: rows knitted that the plan has not (more than 0), or rows of the plan left out (less).
        dial: the tension dial from here on; None if it stays.
        remark: words for the next time; they change nothing on the bed.
    """

    step: int
    rows: int = 0
    dial: float | None = None
    remark: str = ""

    @property
    def touches_the_bed(self) -> bool:
        """Whether the rest of the piece is another because of it."""
        return bool(self.rows) or self.dial is not None


def rows_that_can_go(procedure: Procedure, step: int) -> int:
    """How many rows can be left out from a step on: those of a run of like rows, before hands come again."""
    count = 0
    for here in procedure.steps[step:]:
        bare = here.makes_pass and here.first_line == here.last_line
        if not bare or here.group != procedure.steps[step].group:
            break
        count += 1
    return count


def rows_can_be_added(procedure: Procedure, step: int) -> bool:
    """Whether a row more may have been knitted before a step: the step before it made one that knits."""
    if step == 0:
        return False
    before = procedure.steps[step - 1]
    return before.makes_pass and len(procedure.timeline.event_of(before.last_line).knit) > 0


def with_change(procedure: Procedure, change: Change) -> Piece:
    """The piece with one change made; its remark is left out.

    Args:
        procedure: the procedure that the change's step belongs to.
        change: the change.

    Raises:
        ValueError: if rows are left out that hands have a part in, or there is no such step.
    """
    if not change.touches_the_bed:
        return procedure.piece
    line = _line_before(procedure, change.step)
    # Rows more belong to what was knitted, all else to what comes.
    span = _span_at(procedure, line if change.rows > 0 else line + 1)
    between: list[Action] = [Knit(1)] * max(change.rows, 0)
    if change.dial is not None:
        between.append(Tension(change.dial))
    rewritten = _as_plain(procedure, span, line, change)
    if rewritten is None:
        rewritten = _as_actions(procedure, span, line, between, left_out=max(-change.rows, 0))
    document = _with_segment(procedure.piece, span.path[0], rewritten)
    if change.rows:
        after_change(document, span.path[0], procedure.timeline.pass_of_line(line), change.rows)
    return Piece.read(document)


def as_knitted(plan: Piece, changes: Sequence[Change], *, remarks: bool = False) -> Piece:
    """The piece with all changes made.

    Args:
        plan: what was planned.
        changes: the changes.
        remarks: whether remarks become notes in the piece.

    Raises:
        PlanError, ValueError: if they no longer fit the plan.
    """
    procedure = compile_piece(plan)
    in_order = sorted(changes, key=lambda change: change.step)
    for change in in_order:
        if change.touches_the_bed:
            procedure = compile_piece(with_change(procedure, change), procedure)
    # From the last to the first, so that a note does not move the places of those still to come.
    for change in reversed(in_order) if remarks and procedure.timeline.lines else ():
        if change.remark:
            step = min(change.step + max(change.rows, 0), len(procedure.steps))
            line = line_before_step(procedure, step)
            procedure = compile_piece(_with_note(procedure, line, change.remark), procedure)
    return procedure.piece


def second_piece(plan: Piece, changes: Sequence[Change], *, really: bool, mirrored: bool) -> Piece:
    """The other one of a pair.

    Args:
        plan: what was planned for the first.
        changes: what was done otherwise.
        really: whether it follows what was really knitted, remarks as notes among it; else the plan.
        mirrored: whether left and right are exchanged.

    Raises:
        PlanError, ValueError: if the changes no longer fit the plan.
    """
    piece = as_knitted(plan, changes, remarks=True) if really else plan
    title = _("{title}, the second").format(title=plan.title) if plan.title else _("The second")
    piece = piece.revised(title=title)
    return mirror_piece(piece) if mirrored else piece


def _with_note(procedure: Procedure, line: int, text: str) -> Piece:
    """The piece with a note after a line."""
    span = _span_at(procedure, line + 1)
    rewritten = _as_actions(procedure, span, line, [Note(text)], left_out=0)
    return Piece.read(_with_segment(procedure.piece, span.path[0], rewritten))


def _with_segment(piece: Piece, place: int, segment: dict[str, Any]) -> dict[str, Any]:
    document = piece.to_document()
    segments = [*document["segments"]]
    segments[place] = segment
    return {**document, "segments": segments}


def _line_before(procedure: Procedure, step: int) -> int:
    if not 0 <= step <= len(procedure.steps):
        raise ValueError(_("there is no step {step}").format(step=step))
    return line_before_step(procedure, step)


def _span_at(procedure: Procedure, line: int) -> Span:
    """The segment that a line belongs to; the last one for the end."""
    timeline = procedure.timeline
    if not timeline.lines:
        raise ValueError(_("there is nothing to knit"))
    action = timeline.action_of_line(min(max(line, 0), timeline.lines - 1))
    return next(span for span in procedure.top_spans() if span.start <= action < span.stop)


def _as_plain(procedure: Procedure, span: Span, line: int, change: Change) -> dict[str, Any] | None:
    """A plain segment with other rows, or another dial from its first row on; None if that will not do."""
    segment = span.segment
    timeline = procedure.timeline
    knit = timeline.line_of_action(span.stop - 1)
    if not isinstance(segment, PlainSegment) or segment.reminders:
        return None
    if change.dial is not None and (change.rows or line >= knit):
        return None
    written = segment.model_dump(exclude_unset=True)
    if change.rows:
        rows = timeline.line_of_action(span.stop) - knit + change.rows
        if rows < 1:
            return None
        written.pop("length_cm", None)
        written["rows"] = rows
    if change.dial is not None:
        written["tension"] = change.dial
    return written


def _as_actions(
    procedure: Procedure, span: Span, line: int, between: Sequence[Action], *, left_out: int
) -> dict[str, Any]:
    """The segment's actions one by one, with others after a line, and rows after it left out."""
    timeline = procedure.timeline
    lines = _lines(timeline, span)
    place = min(max(line + 1 - timeline.line_of_action(span.start), 0), len(lines))
    before, gone, after = lines[:place], lines[place : place + left_out], lines[place + left_out :]
    if len(gone) < left_out or not all(isinstance(action, Knit) for action in gone):
        raise ValueError(_("only rows before hands are needed again can be left out"))
    written = span.segment.model_dump(exclude_unset=True, include={"title", "meant"})
    items = [to_item(action, timeline.bed.needles) for action in _joined([*before, *between, *after])]
    return {"kind": "actions", **written, "actions": items}


def _lines(timeline: Timeline, span: Span) -> list[Action]:
    """The actions of a segment, each row of its own."""
    lines: list[Action] = []
    for number in range(span.start, span.stop):
        action = timeline.actions[number]
        if isinstance(action, Knit):
            lines.append(Knit(1, action.start))
            lines.extend([Knit(1)] * (action.rows - 1))
        else:
            lines.append(action)
    return lines


def _joined(lines: Sequence[Action]) -> list[Action]:
    """Rows that follow one another, as one action; a row that names its side begins a new one."""
    joined: list[Action] = []
    for action in lines:
        last = joined[-1] if joined else None
        if isinstance(action, Knit) and action.start is None and isinstance(last, Knit):
            joined[-1] = Knit(last.rows + 1, last.start)
        else:
            joined.append(action)
    return joined
