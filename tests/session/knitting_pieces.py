"""Small pieces to knit in tests, counted by hand."""

from typing import Any

from bedview.plan.piece import Piece

HEEL_ROWS = 4 + 6 + 6 + 4
"""Plain, down from 10 needles to 4, back to 10, plain."""


def a_piece(*segments: dict[str, Any], needles: int = 20, **more: object) -> Piece:
    return Piece.read(
        {
            "format": 1,
            "title": "Quay cosy",
            "bed": {"needles": needles, "pitch_mm": 9.0, "carriage": "right"},
            "yarns": [
                {"id": "main", "name": "grey wool", "role": "fabric"},
                {"id": "scrap", "name": "string", "role": "waste"},
            ],
            "segments": list(segments),
            **more,
        }
    )


CAST_ON: dict[str, Any] = {
    "kind": "cast_on",
    "title": "Edge",
    "needles": "L5-R5",
    "yarn": "main",
    "tension": 6,
}


def plain(rows: int, **more: object) -> dict[str, Any]:
    return {"kind": "plain", "title": "Leg", "rows": rows, **more}


def acts(*actions: dict[str, Any]) -> dict[str, Any]:
    return {"kind": "actions", "actions": list(actions)}


def a_heel() -> Piece:
    """Cast on 10 stitches, 4 rows; one needle to hold a row down to 4, back again; 4 rows.

    The carriage starts on the right: after 4 rows it stands there again, so row 5 holds R5, row 6 L5, and so
    on to row 10; L2 to R2 knit then. Rows 11 to 16 bring them back.
    """
    heel = {"kind": "short_rows", "title": "Heel", "down_to": 4, "back": {"wraps": "none"}}
    return a_piece(CAST_ON, plain(4), heel, {**plain(4), "title": "Foot"})


def a_scrapped_square() -> Piece:
    return a_piece(CAST_ON, plain(6), {"kind": "scrap_off", "title": "Off", "rows": 6, "tail_cm": 30})
