"""The other one of a pair: a piece with left and right exchanged."""

from __future__ import annotations

from typing import Any

from bedview.plan.piece import Piece
from bedview.plan.segments.mirroring import mirrored_edge, mirrored_word, toggled


def mirror_piece(piece: Piece) -> Piece:
    """The piece seen in a mirror: needles, sides, carriage and edges.

    Words in titles and notes stay as they are. Mirrored twice, a piece is the same again; its file too, if it
    says where the carriage begins and does not write down a ``no`` that may be left out.
    """
    document = piece.to_document()
    document["bed"] = {**document["bed"], "carriage": mirrored_word(piece.bed.carriage)}
    document["segments"] = [segment.mirrored().model_dump(exclude_unset=True) for segment in piece.segments]
    if piece.made_by is not None:
        document["made_by"] = toggled(document["made_by"], "mirrored")
    if "seams" in document:
        document["seams"] = [_mirrored_seam(seam) for seam in document["seams"]]
    return Piece.read(document)


def _mirrored_seam(seam: dict[str, Any]) -> dict[str, Any]:
    """A seam seen in a mirror.

    Loops along a course are counted from the other end then, those along a side are not: where one edge is of
    the one sort and one of the other, one of them is turned round.
    """
    edges = {key: mirrored_edge(seam[key]) for key in ("a", "b")}
    sides = [key for key in edges if "side" in edges[key]]
    if len(sides) == 1:
        edges[sides[0]] = toggled(edges[sides[0]], "reverse")
    return {**seam, **edges}
