"""Pieces small enough to make up by hand, and what is worked out about them."""

from __future__ import annotations

from typing import Any

from bedview.finish.finish_plan import FinishPlan, finish_plan
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece

STITCHES, ROWS, OVER_MM = 20, 25, 100
"""The gauge of all pieces here: a stitch is 5 mm wide, a row 4 mm high."""
STITCH_MM, ROW_MM = 5.0, 4.0


def document(segments: list[dict[str, Any]], seams: list[dict[str, Any]] | None = None) -> dict[str, Any]:
    """A piece of jetty-grey wool on 40 needles, as JSON gives it."""
    return {
        "format": 1,
        "title": "Jetty sample",
        "bed": {"needles": 40, "pitch_mm": 4.5, "carriage": "right"},
        "yarns": [
            {"id": "main", "name": "jetty-grey wool", "role": "fabric"},
            {"id": "other", "name": "buoy-red wool", "role": "fabric"},
            {"id": "waste", "name": "waste", "role": "waste"},
            {"id": "cord", "name": "ravel cord", "role": "ravel"},
        ],
        "gauges": [{"yarn": "main", "tension": 6, "stitches": STITCHES, "rows": ROWS, "over_mm": OVER_MM}],
        "segments": segments,
        "seams": seams or [],
    }


def planned(segments: list[dict[str, Any]], seams: list[dict[str, Any]] | None = None) -> FinishPlan:
    piece = Piece.read(document(segments, seams))
    return finish_plan(piece, compile_piece(piece))


def cast_on(needles: str) -> dict[str, Any]:
    return {"kind": "cast_on", "needles": needles, "how": "e_wrap", "yarn": "main", "tension": 6}


def scrap_off(group: str, needles: str | None = None, **more: object) -> dict[str, Any]:
    named = {} if needles is None else {"needles": needles}
    return {"kind": "scrap_off", "group": group, "rows": 8, **named, **more}


def flat(rows: int, needles: str = "L5-R5") -> list[dict[str, Any]]:
    """A rectangle, cast on and bound off."""
    return [cast_on(needles), {"kind": "plain", "rows": rows}, {"kind": "bind_off", "tail_cm": 10}]


def toe_and_flaps(flap: int, centre: int, grafts: list[dict[str, Any]], *, tail_cm: float = 60) -> FinishPlan:
    """A bag: a front seam one stitch inside, and a centre to be grafted to two flaps of ``flap`` needles.

    Twelve rows; then both flaps go to hold, the right one after row 12, the left one after row 13, and the
    centre comes off on waste after row 14 with a tail, then the flaps. ``centre`` is even.
    """
    half = centre // 2
    left, right = f"L{half + flap}-L{half + 1}", f"R{half + 1}-R{half + flap}"
    seams = [
        {
            "kind": "mattress",
            "a": {"side": "left", "passes": [1, 12]},
            "b": {"side": "right", "passes": [1, 12]},
        },
        *grafts,
    ]
    return planned(
        [
            cast_on(f"L{half + flap}-R{half + flap}"),
            {"kind": "plain", "rows": 12},
            {"kind": "set_aside", "groups": [left, right]},
            scrap_off("toe", f"L{half}-R{half}", tail_cm=tail_cm),
            scrap_off("one flap", left),
            scrap_off("other flap", right),
        ],
        seams,
    )


def graft(a: str, b: str) -> dict[str, Any]:
    """A graft of open loops, the second edge turned round as a fold has it."""
    return {"kind": "graft", "a": {"open": a}, "b": {"open": b, "reverse": True}}
