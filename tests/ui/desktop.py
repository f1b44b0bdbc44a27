"""A piece small enough to count by hand, and the models that widgets are made with."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QSettings

from bedview.plan.piece import Piece
from bedview.session.open_piece import OpenPiece
from bedview.session.rehearsal import Rehearsal
from bedview.ui.remembered import Remembered

# Eight needles, six rows: two over all; R4 held, then L4, one row each; two over all again. The hold cams are
# on from the start. The pass to the left after R4 is held wraps it, and so does the next one at L4.
SMALL: dict[str, Any] = {
    "format": 1,
    "title": "Mooring sample",
    "bed": {"needles": 20, "pitch_mm": 9.0, "carriage": "right"},
    "yarns": [{"id": "main", "name": "tar-black wool", "role": "fabric"}],
    "segments": [
        {
            "kind": "actions",
            "title": "Start",
            "actions": [
                {"do": "thread", "yarn": "main"},
                {"do": "cast_on", "needles": "L4-R4"},
                {"do": "hold_cams", "on": True},
                {"do": "knit", "rows": 2},
            ],
        },
        {
            "kind": "actions",
            "title": "Turn",
            "actions": [
                {"do": "place", "needles": "R4", "position": "hold"},
                {"do": "knit", "rows": 1},
                {"do": "place", "needles": "L4", "position": "hold"},
                {"do": "knit", "rows": 1},
            ],
        },
        {
            "kind": "actions",
            "title": "End",
            "actions": [
                {"do": "place", "needles": "L4,R4", "position": "upper"},
                {"do": "knit", "rows": 2},
            ],
        },
    ],
}
ROWS = 6
STEPS = 6
HOLD_R4 = 2
"""The step that brings R4 to hold, then knits row 3."""


def small_piece() -> Piece:
    return Piece.read(SMALL)


def opened(path: Path | None = None) -> OpenPiece:
    return OpenPiece(small_piece(), path)


def rehearsal() -> Rehearsal:
    return Rehearsal(opened())


def remembered(folder: Path) -> Remembered:
    return Remembered(QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat))
