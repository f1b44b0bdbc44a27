"""Passes counted anew in a piece's document, after rows came in or went out."""

from __future__ import annotations

from typing import Any


def after_change(document: dict[str, Any], segment: int, passes: int, rows: int) -> None:
    """Move every pass that an edge names, where it was knitted after the change. ``document`` is changed.

    Args:
        document: a piece, as JSON gives it.
        segment: index of the segment that has been rewritten; earlier ones name only earlier passes.
        passes: passes made before the change.
        rows: rows that came in (more than 0) or went out (less).
    """
    document["segments"] = [
        each if place < segment else _in_segment(each, passes, rows)
        for place, each in enumerate(document["segments"])
    ]
    if "seams" in document:
        document["seams"] = [
            {**seam, "a": _edge(seam["a"], passes, rows), "b": _edge(seam["b"], passes, rows)}
            for seam in document["seams"]
        ]


def _in_segment(segment: dict[str, Any], passes: int, rows: int) -> dict[str, Any]:
    if segment["kind"] == "repeat":
        inner = [_in_segment(each, passes, rows) for each in segment.get("segments", ())]
        return {**segment, "segments": inner}
    if "edge" in segment:
        return {**segment, "edge": _edge(segment["edge"], passes, rows)}
    if segment["kind"] != "actions":
        return segment
    actions = [
        {**item, "edge": _edge(item["edge"], passes, rows)} if "edge" in item else item
        for item in segment["actions"]
    ]
    return {**segment, "actions": actions}


def _edge(edge: dict[str, Any], passes: int, rows: int) -> dict[str, Any]:
    """An edge with its passes moved; one that was left out becomes the last before it."""

    def moved(number: int) -> int:
        if number <= passes:
            return number
        return number + rows if rows > 0 else max(passes, number + rows)

    changed = dict(edge)
    for key in ("pass", "made_in_pass"):
        if key in edge:
            changed[key] = moved(edge[key])
    if "passes" in edge:
        first, last = edge["passes"]
        # A side that ends with the row before the change grows with it.
        grows = rows > 0 and last == passes
        changed["passes"] = [moved(first), last + rows if grows else moved(last)]
    return changed
