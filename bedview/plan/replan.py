"""A new measure while knitting: only the rows ahead are planned anew.

What is knitted stays as it is. A length that is still to come follows the new gauge by itself; one that is
half knitted gets as many rows as are missing; one that is knitted is written down as the rows it had.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.cautions import Caution
from bedview.plan.gauge import ANY, Rounding, Swatch, length_mm_of
from bedview.plan.piece import Gauge, Piece
from bedview.plan.procedure import Procedure
from bedview.plan.segments.span import Span


class ReplanError(ValueError):
    """A piece that cannot be planned anew from here on, with the reason in one sentence."""


@dataclass(frozen=True, slots=True)
class RowsAhead:
    """A length of which some rows are knitted.

    Attributes:
        done: rows that are knitted.
        ahead: rows still to knit; if it is long enough none, or those that the shaping asks for.
        done_mm: what the knitted ones measure by the new gauge.
        gives_mm: what all will measure.
        over_mm: how much longer it already is than asked; 0 if it is not.
    """

    done: int
    ahead: int
    done_mm: float
    gives_mm: float
    over_mm: float

    @property
    def rows(self) -> int:
        """All rows."""
        return self.done + self.ahead


def rows_ahead(length_mm: float, done: int, gauge: Swatch, rounding: Rounding = ANY) -> RowsAhead:
    """Rows still to knit for a length, if the knitted ones are of this gauge too.

    Args:
        length_mm: the whole length asked for.
        done: rows of it that are knitted.
        gauge: what was measured on them.
        rounding: what the number of all rows has to be.
    """
    rows = rounding.nearest(length_mm * gauge.rows / gauge.over_mm)
    total = rows if rows >= done else rounding.at_least(done)
    over = max(0.0, length_mm_of(done, gauge) - length_mm)
    return RowsAhead(done, total - done, length_mm_of(done, gauge), length_mm_of(total, gauge), over)


@dataclass(frozen=True, slots=True)
class Replanned:
    """A piece planned anew from some pass on.

    Attributes:
        piece: its first passes are the same as before.
        under_way: the length that was half knitted; None if none was.
        cautions: what is worth knowing.
    """

    piece: Piece
    under_way: RowsAhead | None
    cautions: tuple[Caution, ...]


def replanned(procedure: Procedure, passes_done: int, gauge: Gauge) -> Replanned:
    """The piece with a new gauge, of which so many passes are knitted already.

    Args:
        procedure: the piece as it was planned, compiled to its end.
        passes_done: passes that are knitted.
        gauge: measured now; it takes the place of the piece's gauge of that yarn and tension.

    Raises:
        ReplanError: if a length in a repeat under way had different rows from one time to the next.
    """
    document = procedure.piece.to_document()
    under_way: RowsAhead | None = None
    cautions: list[Caution] = []
    for span in procedure.top_spans():
        before, after = _passes(procedure, span)
        if before >= passes_done:
            continue
        segment = document["segments"][span.path[0]]
        if after <= passes_done or segment["kind"] != "plain":
            written = _write_rows(procedure, span, segment)
            if written and after > passes_done:
                cautions.append(_goes_on(span) if segment["kind"] == "repeat" else _keeps_its_rows(span))
        elif segment.get("length_cm") is not None:
            under_way = rows_ahead(segment["length_cm"] * 10, passes_done - before, gauge)
            _say_rows(segment, under_way.rows)
            if under_way.over_mm > 0:
                cautions.append(_too_long(under_way))
    document["gauges"] = _with_gauge(document.get("gauges", []), gauge)
    return Replanned(Piece.read(document), under_way, tuple(cautions))


def _passes(procedure: Procedure, span: Span) -> tuple[int, int]:
    """Passes made before a segment, and after it."""
    timeline = procedure.timeline
    before, after = (timeline.line_of_action(action) - 1 for action in (span.start, span.stop))
    return timeline.pass_of_line(before), timeline.pass_of_line(after)


def _write_rows(procedure: Procedure, span: Span, segment: dict[str, Any]) -> int:
    """Turn the lengths of a segment, and of those inside it, into the rows they had; returns how many."""
    written = 0
    if segment.get("length_cm") is not None:
        _say_rows(segment, _rows_had(procedure, span))
        written = 1
    for place, inner in enumerate(segment.get("segments", [])):
        path = (*span.path, place)
        first = next((each for each in procedure.spans if each.path == path), None)
        if first is not None:
            written += _write_rows(procedure, first, inner)
    return written


def _rows_had(procedure: Procedure, span: Span) -> int:
    """The rows of a length, each time it was knitted."""
    passes = [_passes(procedure, each) for each in procedure.spans if each.path == span.path]
    rows = {after - before for before, after in passes}
    if len(rows) > 1:
        raise ReplanError(
            _(
                "a length in the repeat of segment {segment} is {least} rows one time and {most} "
                "another; give it in rows first"
            ).format(segment=span.path[0] + 1, least=min(rows), most=max(rows))
        )
    return rows.pop()


def _say_rows(segment: dict[str, Any], rows: int) -> None:
    del segment["length_cm"]
    segment["rows"] = rows


def _with_gauge(gauges: list[dict[str, Any]], gauge: Gauge) -> list[dict[str, Any]]:
    """The gauges of a document with one put in its place, or added."""
    new = gauge.model_dump(exclude_unset=True)
    key = (gauge.yarn, gauge.tension)
    kept = [new if (each["yarn"], each["tension"]) == key else each for each in gauges]
    return kept if new in kept else [*kept, new]


def _goes_on(span: Span) -> Caution:
    return Caution(
        "repeat-goes-on",
        "note",
        marked("The repeat in segment {segment} is under way; its lengths keep the rows they began with"),
        {"segment": span.path[0] + 1},
    )


def _keeps_its_rows(span: Span) -> Caution:
    return Caution(
        "shaping-goes-on",
        "note",
        marked("The shaping in segment {segment} is under way; it keeps the rows it began with"),
        {"segment": span.path[0] + 1},
    )


def _too_long(rows: RowsAhead) -> Caution:
    return Caution(
        "already-longer",
        "warning",
        marked("{done} rows measure {cm:.1f} cm already, {over:.1f} cm more than was asked"),
        {"done": rows.done, "cm": rows.done_mm / 10, "over": rows.over_mm / 10},
    )
