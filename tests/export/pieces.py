"""Pieces to export: demos, random ones, and small ones that can be counted by hand."""

from __future__ import annotations

from typing import Any

from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.store.demos import find_piece
from bedview.store.piece_file import read_piece
from tests.plan.making import document
from tests.reference.procedures import random_piece

Compiled = tuple[Piece, Procedure]


def compiled(piece: Piece) -> Compiled:
    return piece, compile_piece(piece)


def demo(name: str) -> Compiled:
    return compiled(read_piece(find_piece(name)))


def random_one(seed: int) -> Compiled:
    return compiled(Piece.read(random_piece(seed)))


def small(
    *segments: dict[str, Any],
    needles: int = 20,
    title: str = "Net float",
    pitch_mm: float = 4.5,
    carriage: str = "right",
) -> Compiled:
    """A piece of these segments on a bed of 20 needles, 4.5 mm apart."""
    said = document(needles, list(segments), pitch_mm=pitch_mm, carriage=carriage)
    return compiled(Piece.read({**said, "title": title}))


CAST_ON = {"kind": "cast_on", "needles": "L5-R5", "yarn": "main", "title": "Edge"}
HEEL = {
    "kind": "short_rows",
    "down_to": 4,
    "title": "Heel",
    "back": {"wraps": "hand"},
}


def little_heel() -> Compiled:
    """Ten needles: 3 plain rows, six rows narrowing to 4 needles, six back, 25 plain rows; 40 in all."""
    return small(
        CAST_ON,
        {"kind": "plain", "rows": 3, "title": "Cuff"},
        HEEL,
        {"kind": "plain", "rows": 25, "title": "Foot"},
    )


def many_wedges(times: int) -> Compiled:
    """A long piece: so many wedges of 204 steps on 120 needles."""
    wedge = {"kind": "short_rows", "down_to": 20, "back": {}}
    return small(
        {"kind": "cast_on", "needles": "L60-R60", "yarn": "main"},
        {"kind": "repeat", "times": times, "segments": [wedge, {"kind": "plain", "rows": 4}]},
        needles=200,
    )
