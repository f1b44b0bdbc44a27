"""The chart of a piece that is being edited: also the parts that cannot be knitted, and why."""

from __future__ import annotations

from dataclasses import replace

from bedview.picture.chart import ChartMark, ChartPart, ChartScene
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.piece_pictures import part_title, piece_chart


def plan_scene(opened: OpenPiece, chosen: int | None) -> ChartScene:
    """The chart, with every part of the piece in it; those behind a part that cannot be done have no rows."""
    scene = piece_chart(opened, chosen)
    piece, trouble = opened.piece, opened.trouble
    if trouble is None:
        return scene
    reached = scene.parts[: trouble.segment + 1]
    after = reached[-1].last + 1 if reached else 1
    missing = [
        ChartPart(part_title(piece, place), after, after - 1, reached=False)
        for place in range(len(reached), len(piece.segments))
    ]
    there = replace(reached[-1], reached=False) if reached else None
    parts = (*reached[:-1], there, *missing) if there else tuple(missing)
    mark = ChartMark(max(1, scene.passes), None, "error")
    return replace(scene, parts=parts, marks=(*scene.marks, mark))
