"""Passes that edges name, followed to where the same rows of the same parts are by another gauge."""

from __future__ import annotations

from bisect import bisect_left
from typing import Any

from bedview.plan.procedure import Procedure

Document = dict[str, Any]


def follow_passes(document: Document, old: Procedure, new: Procedure) -> Document:
    """A piece's document with its edges at the rows they meant.

    Args:
        document: the piece by the new gauge, its passes those of ``old`` or of an earlier try.
        old: the piece as it was, part for part the same.
        new: the new piece compiled, as far as it can be.
    """
    places = _Places(old, new)
    before = old.piece.to_document()
    followed = {
        **document,
        "segments": [
            _followed(new_part, old_part, "edge", places)
            for new_part, old_part in zip(document["segments"], before["segments"], strict=True)
        ],
    }
    if "seams" in document:
        seams = zip(document["seams"], before["seams"], strict=True)
        followed["seams"] = [
            _followed(_followed(seam, was, "a", places), was, "b", places) for seam, was in seams
        ]
    return followed


def _followed(holder: Document, was: Document, key: str, places: _Places) -> Document:
    """A holder of an edge with the passes of that edge followed."""
    if key not in holder:
        return holder
    edge, old = dict(holder[key]), was[key]
    for name in ("pass", "made_in_pass"):
        if name in old:
            edge[name] = places.of(old[name])
    if "passes" in old:
        edge["passes"] = [places.of(number) for number in old["passes"]]
    return {**holder, key: edge}


class _Places:
    """Where each pass of one procedure is in another of the same parts."""

    def __init__(self, old: Procedure, new: Procedure) -> None:
        self._old, self._new = _ends(old), _ends(new)

    def of(self, number: int) -> int:
        """The pass that lies where ``number`` lay: the first and last of a part stay its first and last."""
        part = bisect_left(self._old, number)
        if part >= len(self._old) or part >= len(self._new):
            return number
        starts = [ends[part - 1] if part else 0 for ends in (self._old, self._new)]
        rows = [ends[part] - start for ends, start in zip((self._old, self._new), starts, strict=True)]
        inside = number - starts[0]
        if rows[0] <= 1 or inside >= rows[0]:
            return starts[1] + rows[1] if number else 0
        moved = 1 + round((inside - 1) * (rows[1] - 1) / (rows[0] - 1))
        return starts[1] + max(1, moved)


def _ends(procedure: Procedure) -> list[int]:
    """Passes made by the end of each part."""
    timeline = procedure.timeline
    spans = procedure.top_spans()[: procedure.finished]
    return [timeline.pass_of_line(timeline.line_of_action(span.stop) - 1) for span in spans]
