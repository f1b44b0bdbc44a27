"""Measuring again while one knits: a new gauge, and only the rows ahead planned anew."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bedview.language import gettext as _
from bedview.plan.gauge import find_gauge
from bedview.plan.piece import Gauge, Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.replan import ReplanError, RowsAhead, replanned, rows_ahead
from bedview.session.knitting_run import KnittingRun
from bedview.session.open_piece import OpenPiece


@dataclass(frozen=True, slots=True)
class Underway:
    """What is being knitted when one measures.

    Attributes:
        yarn: id of the yarn in the feeder.
        tension: the dial.
        rows: passes that are knitted.
        gauge: what the piece reckons with there; None if it has no gauge.
    """

    yarn: str
    tension: float
    rows: int
    gauge: Gauge | None


@dataclass(frozen=True, slots=True)
class MeasuredAgain:
    """The piece with what was measured.

    Attributes:
        piece: its knitted rows are what they were.
        part: title of the part whose length is under way; empty if none is.
        ahead: its rows, knitted and to come.
        rows: rows of the whole piece before and now.
        cautions: what is worth knowing, a sentence each.
    """

    piece: Piece
    part: str
    ahead: RowsAhead | None
    rows: tuple[int, int]
    cautions: tuple[str, ...]


def underway(procedure: Procedure, line: int, rows: int) -> Underway:
    """What is in the feeder after a line.

    Raises:
        ReplanError: if there is no yarn, or no tension is set, so that nobody knows what a measure is of.
    """
    timeline = procedure.timeline
    state = timeline.state_at(line)
    if not state.threaded or not rows:
        raise ReplanError(_("no row is knitted yet that could be measured"))
    if state.dial is None:
        raise ReplanError(_("no tension is set here, so a measure would be of none"))
    yarn = procedure.piece.yarns[state.yarn].id
    return Underway(yarn, state.dial, rows, find_gauge(procedure.piece.gauges, yarn, state.dial))


def underway_in(run: KnittingRun) -> Underway:
    """What the knitter has in the feeder.

    Raises:
        ReplanError: as :func:`underway`.
    """
    return underway(run.procedure, run.line, run.passes_done)


def measured_again(opened: OpenPiece, run: KnittingRun, gauge: Gauge) -> MeasuredAgain:
    """Plan the rows ahead anew, and leave the knitted ones.

    Args:
        opened: the piece as it is planned.
        run: where the knitter stands in it, rows knitted otherwise among them.
        gauge: measured now.

    Raises:
        ReplanError: if it cannot be planned anew from here on.
    """
    if opened.trouble is not None:
        raise ReplanError(_("the plan cannot be knitted to its end; mend that first"))
    more = sum(change.rows for change in run.changes if change.step <= run.cursor)
    done = max(0, run.passes_done - more)
    found = replanned(opened.procedure, done, gauge)
    piece, ahead, part = found.piece, found.under_way, ""
    place = _under_way(opened.procedure, done)
    if ahead is not None and place is not None:
        segment = opened.piece.segments[place]
        part = segment.title or segment.says
        extra = _rows_in(run.procedure, place) - _rows_in(opened.procedure, place)
        if extra:
            # What was knitted otherwise is put on top of the plan, so the plan has so many rows less.
            ahead = rows_ahead(_length_mm(segment), ahead.done + extra, gauge)
            piece = _with_rows(piece, place, max(1, ahead.rows - extra))
    new = compile_piece(piece)
    rows = opened.procedure.timeline.passes, new.timeline.passes
    return MeasuredAgain(piece, part, ahead, rows, tuple(caution.says() for caution in found.cautions))


def _under_way(procedure: Procedure, passes_done: int) -> int | None:
    """Index of the part of which some rows are knitted and some are not."""
    timeline = procedure.timeline
    for span in procedure.top_spans():
        before, after = (
            timeline.pass_of_line(timeline.line_of_action(each) - 1) for each in (span.start, span.stop)
        )
        if before < passes_done < after:
            return span.path[0]
    return None


def _rows_in(procedure: Procedure, place: int) -> int:
    timeline = procedure.timeline
    span = procedure.top_spans()[place]
    before, after = (
        timeline.pass_of_line(timeline.line_of_action(each) - 1) for each in (span.start, span.stop)
    )
    return after - before


def _length_mm(segment: Any) -> float:  # noqa: ANN401 - a part of a kind that may be of a length
    return float(segment.length_cm) * 10


def _with_rows(piece: Piece, place: int, rows: int) -> Piece:
    document = piece.to_document()
    document["segments"] = [
        each if at != place else {**each, "rows": rows} for at, each in enumerate(document["segments"])
    ]
    return Piece.read(document)
