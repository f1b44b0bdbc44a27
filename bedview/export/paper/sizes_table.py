"""The sizes of a starter's piece side by side, to print and keep beside the measures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from bedview.export.paper.pages import INK, MM, Block, paragraph
from bedview.export.paper.writing import BODY, SMALL, Writer, air
from bedview.language import gettext as _
from bedview.language import number
from bedview.picture.marks import Lines, Mark, Pen, Text
from bedview.plan.piece import Piece
from bedview.plan.starters import StarterError, find_starter
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.grading import Graded, Ungraded, grade
from bedview.plan.swatch import KnittedSwatch

_SIZE_SHARE: Final = 0.2
"""Of the width, for the names of the sizes."""
_RULE: Final = Pen(INK.line, 0.25 * MM, "flat")
_FIGURES: Final = 5
"""Columns of figures beside the names."""

Row = Graded | Ungraded


class NoSizes(ValueError):
    """There are no sizes of this piece."""


def sizes_of(piece: Piece, swatches: Sequence[KnittedSwatch] = ()) -> list[Row]:
    """The piece in all sizes of its starter, with the same yarn, bed and ease.

    Args:
        piece: the piece.
        swatches: swatches of its yarns, whose weight goes before the theory.

    Raises:
        NoSizes: if no starter made it, or that one has no sizes.
    """
    if piece.made_by is None:
        raise NoSizes(_("this piece was not made from measures, so there are no sizes of it"))
    try:
        starter = find_starter(piece.made_by.starter)
        rows = list(grade(starter, piece.made_by.values, swatches=swatches))
    except StarterError as error:
        raise NoSizes(str(error)) from None
    if not rows:
        raise NoSizes(_("what this piece was made from comes in no sizes"))
    return rows


@dataclass(frozen=True, slots=True)
class SizesTable:
    """Writes the sizes as blocks.

    Attributes:
        title: of the piece.
        rows: its sizes.
        now: the size it is made in; "" if it is none of them.
        writer: what writes them.
    """

    title: str
    rows: Sequence[Row]
    now: str
    writer: Writer

    def blocks(self) -> Iterator[Block]:
        """The table, then the measures of each size."""
        yield self.writer.title(_("Sizes: {title}").format(title=self.title))
        heads = [_("Size"), _("Needles"), _("Rows"), _("Stitches"), _("Yarn"), _("Fit")]
        yield self._line(heads, bold=True, with_next=True)
        for row in self.rows:
            bold = row.size == self.now
            if isinstance(row, Ungraded):
                yield self._reason(row, bold=bold)
            else:
                yield self._line([row.size, *self._cells(row)], bold=bold)
        if any(row.size == self.now for row in self.rows):
            yield self.writer.text(_("In bold: the size of this piece."), SMALL, colour=INK.quiet_ink)
        yield air(4)
        yield from self._measures()

    def _cells(self, row: Graded) -> list[str]:
        fabric = [need for need in row.yarn if need.role == "fabric"]
        grams = [need.advised_grams for need in fabric]
        if fabric and all(each is not None for each in grams):
            yarn = _("{grams} g").format(grams=number(sum(each or 0 for each in grams), 0))
        else:
            yarn = _("{metres} m").format(metres=number(sum(need.advised_metres for need in fabric), 0))
        fits = _("fits") if row.fit.fits else _("see below")
        return [str(row.needles), str(row.rows), str(row.stitches), yarn, fits]

    def _line(self, cells: Sequence[str], *, bold: bool = False, with_next: bool = False) -> Block:
        """Names at the left, figures below each other at the right of their columns."""
        wide = self.writer.room * (1 - _SIZE_SHARE) / _FIGURES
        left = self.writer.room * _SIZE_SHARE
        marks, tall = paragraph(cells[0], left - 2 * MM, BODY, self.writer.measure, bold=bold)
        y = 0.95 * BODY
        figures = [
            Text(left + (place + 1) * wide - 2 * MM, y, cell, BODY, INK.ink, "end", bold)
            for place, cell in enumerate(cells[1:])
        ]
        return self._ruled([*marks, *figures], tall, with_next=with_next)

    def _reason(self, row: Ungraded, *, bold: bool) -> Block:
        left = self.writer.room * _SIZE_SHARE
        marks, tall = paragraph(row.size, left - 2 * MM, BODY, self.writer.measure, bold=bold)
        said = f"{row.reason[:1].upper()}{row.reason[1:]}."
        reason, high = paragraph(said, self.writer.room - left, SMALL, self.writer.measure, at=(left, 0.0))
        return self._ruled([*marks, *reason], max(tall, high))

    def _ruled(self, marks: Sequence[Mark], tall: float, *, with_next: bool = False) -> Block:
        y = tall + 1 * MM
        rule = Lines(_RULE, np.array([[0, y, self.writer.room, y]]))
        return Block(tall + 2 * MM, (*marks, rule), with_next=with_next)

    # -- measures -----------------------------------------------------------------------------------------

    def _measures(self) -> Iterator[Block]:
        """What each size measures, and the body it is for."""
        for row in self.rows:
            if isinstance(row, Ungraded) or not row.fit.lines:
                continue
            yield self.writer.heading(_("Size {size}").format(size=row.size))
            for line in row.fit.lines:
                point = self.writer.point(self._said(line), 0)
                # What is said of one size stays on one page.
                yield replace(point, with_next=line is not row.fit.lines[-1])
            yield air(2.5)

    def _said(self, line: FitLine) -> str:
        return f"{line.says().rstrip('.')}."
