"""Pieces in a few words, for tests: a bed, two yarns, and segments written as a file writes them."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from bedview.bed import actions as bed
from bedview.bed.needles import Position, Side, format_needles, needle_name
from bedview.plan.edges_file import to_edge_item
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece

Segments = list[dict[str, Any]]

PLAIN_4 = {"kind": "plain", "rows": 4}


def document(
    needles: int,
    segments: Segments,
    *,
    carriage: str = "right",
    pitch_mm: float = 4.5,
    seams: Segments | None = None,
) -> dict[str, Any]:
    """A piece on a bed of so many needles, as JSON gives it."""
    piece: dict[str, Any] = {
        "format": 1,
        "title": "test",
        "bed": {"needles": needles, "pitch_mm": pitch_mm, "carriage": carriage},
        "yarns": [
            {"id": "main", "name": "blue wool", "role": "fabric"},
            {"id": "second", "role": "fabric"},
            {"id": "waste", "name": "waste cotton", "role": "waste"},
            {"id": "cord", "role": "ravel"},
        ],
        "gauges": [{"yarn": "main", "tension": 6, "stitches": 28, "rows": 40, "over_mm": 100}],
        "segments": segments,
    }
    if seams is not None:
        piece["seams"] = seams
    return piece


def all_of(needles: int) -> str:
    """The needle list of a whole bed."""
    return f"L{needles // 2}-R{needles // 2}"


def cast_on(needles: int) -> dict[str, Any]:
    """A cast-on over the middle of a bed."""
    return {"kind": "cast_on", "needles": all_of(needles), "yarn": "main"}


def compiled(
    needles: int, *segments: dict[str, Any], carriage: str = "right", pitch_mm: float = 4.5
) -> Procedure:
    """The procedure of some segments on a bed of so many needles."""
    return compile_piece(Piece.read(document(needles, list(segments), carriage=carriage, pitch_mm=pitch_mm)))


def rows_of(procedure: Procedure, segment: int) -> int:
    """How many passes a segment of the piece makes."""
    return sum(step.makes_pass for step in procedure.steps if step.segment == segment)


def stitches_of(procedure: Procedure, segment: int) -> int:
    """How many stitches the passes of a segment knit."""
    return sum(
        len(procedure.timeline.event_of(step.last_line).knit)
        for step in procedure.steps
        if step.makes_pass and step.segment == segment
    )


def widths_of(procedure: Procedure, segment: int) -> list[int]:
    """How many needles each pass of a segment knits."""
    return [
        len(procedure.timeline.event_of(step.last_line).knit)
        for step in procedure.steps
        if step.makes_pass and step.segment == segment
    ]


def working(procedure: Procedure) -> int:
    """How many needles bear loops and do not stand in hold at the end."""
    state = procedure.timeline.state
    return int(((state.height > 0) & (state.position != 3)).sum())


_DO = {
    bed.Thread: "thread",
    bed.Cut: "cut",
    bed.Park: "park",
    bed.Resume: "resume",
    bed.Note: "note",
    bed.HoldCams: "hold_cams",
    bed.Tension: "tension",
    bed.SetCounter: "counter",
    bed.Place: "place",
    bed.CastOn: "cast_on",
    bed.Wrap: "wrap",
    bed.Transfer: "transfer",
    bed.BindOff: "bind_off",
    bed.Hang: "hang",
    bed.FreeMove: "free_move",
    bed.Knit: "knit",
}
_KEYS = {"source": "from", "target": "to", "start": "from"}


def as_items(procedure: Procedure) -> list[dict[str, Any]]:
    """The actions of a procedure as a file writes them, for the slow reference."""
    return [_item(action, procedure.piece.bed.needles) for action in procedure.actions]


def _item(action: bed.Action, needles: int) -> dict[str, Any]:
    item: dict[str, Any] = {"do": _DO[type(action)]}
    for each in fields(action):
        value = getattr(action, each.name)
        if value is None or value == ():
            continue
        key = _KEYS.get(each.name, each.name)
        if each.name in ("needle", "source", "target"):
            item[key] = needle_name(value, needles)
        elif isinstance(value, tuple):
            item[key] = format_needles(value, needles)
        elif isinstance(value, Position):
            item[key] = value.word
        elif isinstance(value, bed.OpenEdge | bed.MadeEdge | bed.SideEdge):
            item[key] = to_edge_item(value, needles)
        else:
            item[key] = value.value if isinstance(value, Side) else value
    return item


def reference_piece(procedure: Procedure) -> dict[str, Any]:
    """The piece of a procedure with all its actions written out, for the slow reference."""
    piece = procedure.piece.to_document()
    return {**piece, "segments": [{"kind": "actions", "actions": as_items(procedure)}], "seams": []}
