"""Whole documents: all pages of a piece, in the order one needs them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from bedview.export.briefing import Briefing, brief, seen_yarns
from bedview.export.chart_sheet import chart_scene
from bedview.export.class_questions import class_questions
from bedview.export.paper.blocking_outline import outline_of, outline_pages
from bedview.export.paper.class_sheet import ClassSheet
from bedview.export.paper.cover import Cover
from bedview.export.paper.making_up import MakingUpPages
from bedview.export.paper.needle_strip import strip_pages
from bedview.export.paper.pages import Page, Paper, flow, with_feet
from bedview.export.paper.rows import RowPages
from bedview.export.paper.sizes_table import SizesTable, sizes_of
from bedview.export.paper.writing import Writer
from bedview.export.used_needles import used_needles
from bedview.finish.finish_plan import finish_plan
from bedview.finish.telling import tell
from bedview.language import gettext as _
from bedview.picture.marks import MeasureText
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import KnittedSwatch


class SheetPart(StrEnum):
    """What a document is put together from, in the order of its pages."""

    FOLLOWING = "following"
    NEEDLE_STRIP = "needle_strip"
    OUTLINE = "outline"
    SIZES = "sizes"
    CLASS = "class"
    ANSWERS = "answers"


def sheet_pages(
    piece: Piece,
    procedure: Procedure,
    paper: Paper,
    measure: MeasureText,
    parts: Collection[SheetPart] = (SheetPart.FOLLOWING,),
    swatches: Sequence[KnittedSwatch] = (),
) -> list[Page]:
    """The pages of a document; none if no part is wanted.

    Args:
        piece: the piece.
        procedure: what becomes of it, to its end.
        paper: its size.
        measure: how wide a text is.
        parts: what is wanted; the sheet to follow at the machine has its making up at its end.
        swatches: swatches of the piece's yarns, whose weight goes before the theory.

    Raises:
        NoGauge: if an outline is asked for and nothing says how large a stitch is.
        NoSizes: if sizes are asked for and the piece was made from no measures.
    """
    document = _Document(piece, procedure, paper, measure, tuple(swatches))
    pages = [page for part in SheetPart if part in parts for page in document.pages_of(part)]
    return with_feet(pages, document.briefing.title, _("page {page} of {pages}"), measure)


@dataclass(frozen=True)
class _Document:
    piece: Piece
    procedure: Procedure
    paper: Paper
    measure: MeasureText
    swatches: tuple[KnittedSwatch, ...]

    @cached_property
    def briefing(self) -> Briefing:
        return brief(self.piece, self.procedure, swatches=self.swatches)

    @cached_property
    def _class_sheet(self) -> ClassSheet:
        return ClassSheet(
            self.briefing.title,
            self.procedure,
            class_questions(self.procedure),
            used_needles(self.procedure.timeline),
            seen_yarns(self.piece),
            self.paper,
            self.measure,
        )

    def pages_of(self, part: SheetPart) -> Iterator[Page]:
        match part:
            case SheetPart.FOLLOWING:
                yield from self._following()
            case SheetPart.NEEDLE_STRIP:
                yield from self._strip()
            case SheetPart.OUTLINE:
                outline = outline_of(self.piece, self.procedure)
                yield from outline_pages(outline, self.paper, self.procedure.words)
            case SheetPart.SIZES:
                yield from self._sizes()
            case SheetPart.CLASS:
                yield from flow(list(self._class_sheet.blanks()), self.paper)
            case SheetPart.ANSWERS:
                yield from flow(list(self._class_sheet.answers()), self.paper)

    @property
    def _writer(self) -> Writer:
        return Writer(self.paper.room, self.measure)

    def _following(self) -> Iterator[Page]:
        """The first page with its chart, the rows to tick, and the making up."""
        scene = chart_scene(self.piece, self.procedure)
        cover = Cover(self.briefing, scene, self.procedure.words, self.paper, self.measure)
        yield from flow(cover.blocks(), self.paper)
        rows = RowPages(self.procedure, seen_yarns(self.piece), self.paper.room, self.measure)
        making_up = MakingUpPages(tell(finish_plan(self.piece, self.procedure)), self._writer)
        yield from flow([*rows.blocks(), *making_up.blocks()], self.paper)

    def _strip(self) -> Iterator[Page]:
        bed, used = self.piece.bed, used_needles(self.procedure.timeline)
        yield from strip_pages(
            bed.needles, used, bed.pitch_mm, self.paper, self.procedure.words, self.measure
        )

    def _sizes(self) -> Iterator[Page]:
        made_by = self.piece.made_by
        now = str(made_by.values.get("size", "")) if made_by else ""
        rows = sizes_of(self.piece, self.swatches)
        table = SizesTable(self.briefing.title, rows, now, self._writer)
        yield from flow(list(table.blocks()), self.paper)
