"""How a piece is laid out as text: what belongs together on one line, one action a line."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, Final

from bedview.plan.piece import Piece

_STEP: Final = "  "
_LISTS: Final = frozenset({"yarns", "gauges", "segments", "seams"})
"""Keys of the piece whose entries stand on lines of their own."""
_INNER: Final = frozenset({"actions", "segments"})
"""Keys of a segment whose entries do."""

_one_line: Final = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def piece_text(piece: Piece) -> bytes:
    """The file of a piece: UTF-8, the same for equal pieces, with a line break at its end."""
    document = piece.to_document()
    lines = []
    for key, value in document.items():
        text = _entries(value, 1) if key in _LISTS else _one_line(value)
        lines.append(f"{_STEP}{_one_line(key)}: {text}")
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode()


def _entries(entries: Iterable[dict[str, Any]], depth: int) -> str:
    """A list, each entry on a line of its own, or on several if it has such lists itself."""
    indent = _STEP * (depth + 1)
    lines = [f"{indent}{_entry(entry, depth + 1)}" for entry in entries]
    return "[\n" + ",\n".join(lines) + f"\n{_STEP * depth}]" if lines else "[]"


def _entry(entry: dict[str, Any], depth: int) -> str:
    if "kind" in entry:
        # What a thing is comes before what it holds.
        entry = {"kind": entry["kind"]} | entry
    if _INNER.isdisjoint(entry):
        return _one_line(entry)
    parts = []
    for key, value in entry.items():
        text = _entries(value, depth) if key in _INNER else _one_line(value)
        parts.append(f"{_one_line(key)}: {text}")
    return "{" + ", ".join(parts) + "}"
