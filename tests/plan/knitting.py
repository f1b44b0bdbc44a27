"""Small pieces to reckon with."""

from __future__ import annotations

from typing import Any

from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece

MAIN = {"id": "main", "role": "fabric", "tex": 400}
GAUGE = {"yarn": "main", "tension": 6, "stitches": 16, "rows": 22, "over_mm": 100}
BED = {"needles": 120, "pitch_mm": 9.0, "carriage": "right"}


def piece_of(segments: list[dict[str, Any]], **changes: Any) -> Piece:  # noqa: ANN401 - parts of a document
    """A piece of these segments, with one yarn and its gauge unless ``changes`` say otherwise."""
    document = {"format": 1, "bed": BED, "yarns": [MAIN], "gauges": [GAUGE], "segments": segments}
    return Piece.read(document | changes)


def knitted(segments: list[dict[str, Any]], **changes: Any) -> Procedure:  # noqa: ANN401 - the same
    """Such a piece, compiled."""
    return compile_piece(piece_of(segments, **changes))


def cast_on(needles: str = "L10-R10", **more: Any) -> dict[str, Any]:  # noqa: ANN401 - the same
    """An e-wrap cast-on at tension 6."""
    return {"kind": "cast_on", "needles": needles, "yarn": "main", "tension": 6} | more


def plain(rows: int) -> dict[str, Any]:
    """Plain rows."""
    return {"kind": "plain", "rows": rows}


def actions(*done: dict[str, Any]) -> dict[str, Any]:
    """Actions one by one."""
    return {"kind": "actions", "actions": list(done)}
