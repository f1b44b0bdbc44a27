"""Whole documents: all pages of a piece, in the order one needs them."""

from __future__ import annotations

from bedview.export.briefing import brief, seen_yarns
from bedview.export.chart_sheet import chart_scene
from bedview.export.paper.blocking_outline import outline_of, outline_pages
from bedview.export.paper.cover import Cover
from bedview.export.paper.needle_strip import strip_pages
from bedview.export.paper.pages import Page, Paper, flow, with_feet
from bedview.export.paper.rows import RowPages
from bedview.export.used_needles import used_needles
from bedview.picture.marks import MeasureText
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure


def sheet_pages(
    piece: Piece,
    procedure: Procedure,
    paper: Paper,
    measure: MeasureText,
    *,
    needle_strip: bool = False,
    blocking_outline: bool = False,
) -> list[Page]:
    """The first page with its chart, the rows to tick, and what else was asked for.

    Args:
        piece: the piece.
        procedure: what becomes of it.
        paper: its size.
        measure: how wide a text is.
        needle_strip: add a strip to lay along the bed.
        blocking_outline: add the outline in full size.

    Raises:
        NoGauge: if an outline is asked for and nothing says how large a stitch is.
    """
    briefing, words = brief(piece, procedure), procedure.words
    cover = Cover(briefing, chart_scene(piece, procedure), words, paper, measure)
    rows = RowPages(procedure, seen_yarns(piece), paper.room, measure)
    pages = flow(cover.blocks(), paper) + flow(list(rows.blocks()), paper)
    if needle_strip:
        used = used_needles(procedure.timeline)
        pages += strip_pages(piece.bed.needles, used, piece.bed.pitch_mm, paper, words, measure)
    if blocking_outline:
        pages += outline_pages(outline_of(piece, procedure), paper, words)
    return with_feet(pages, briefing.title, words.gettext("page {page} of {pages}"), measure)
