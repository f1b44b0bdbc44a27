"""A piece written as a sheet: the ending of the file says what it becomes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from bedview.export.paper.blocking_outline import NoGauge
from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import PAPERS
from bedview.export.paper.sizes_table import NoSizes
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import KnittedSwatch
from bedview.store.whole_file import write_whole

_PNG_RATIO: Final = 2.0
"""Pixels of an image to a pixel of the picture."""


class SheetError(ValueError):
    """A sheet that cannot be made as it was asked for; its text is one sentence without a full stop."""


@dataclass(frozen=True, slots=True)
class SheetOptions:
    """What a sheet may have besides.

    Attributes:
        paper: ``a4`` or ``letter``; for PDF.
        parts: what the document is put together from; for PDF.
        swatches: swatches of the piece's yarns, whose weight goes before the theory; without any the same
            piece makes the same sheet on every machine.
    """

    paper: str = "a4"
    parts: frozenset[SheetPart] = frozenset({SheetPart.FOLLOWING})
    swatches: tuple[KnittedSwatch, ...] = ()


def write_sheet(piece: Piece, procedure: Procedure, path: Path, options: SheetOptions | None = None) -> None:
    """Write a piece for someone to follow.

    Args:
        piece: the piece.
        procedure: what becomes of it, to its end.
        path: where to; it ends in ``.pdf``, ``.html``, ``.csv``, ``.svg``, ``.png`` or ``.txt``.
        options: what the sheet has besides.

    Raises:
        SheetError: if the ending is none of these, or an option cannot be had. Nothing is written then.
        OutputError: if the file could not be written; what stood there before still stands.
    """
    write_whole(path, sheet_bytes(piece, procedure, path.suffix, options))


def sheet_bytes(
    piece: Piece, procedure: Procedure, ending: str, options: SheetOptions | None = None
) -> bytes:
    """What :func:`write_sheet` writes to a file of some ending, such as ``.pdf``.

    Raises:
        SheetError: if the ending is not known, or an option cannot be had.
    """
    make = _MAKERS.get(ending.lower())
    if make is None:
        known = ", ".join(sorted(_MAKERS))
        raise SheetError(
            _("a sheet's file ends in one of {known}, not in '{ending}'").format(known=known, ending=ending)
        )
    return make(piece, procedure, options or SheetOptions())


# -- each ending, with what it needs imported only then ---------------------------------------------------


def _pdf(piece: Piece, procedure: Procedure, options: SheetOptions) -> bytes:
    from bedview.export.printing import paper_measure, pdf_of

    paper = PAPERS.get(options.paper.lower())
    if paper is None:
        raise SheetError(
            _("the paper is one of {known}, not '{paper}'").format(
                known=", ".join(PAPERS), paper=options.paper
            )
        )
    try:
        pages = sheet_pages(piece, procedure, paper, paper_measure(), options.parts, options.swatches)
    except (NoGauge, NoSizes) as error:
        raise SheetError(str(error)) from None
    if not pages:
        raise SheetError(_("no part of the document was chosen"))
    return pdf_of(pages, piece.title)


def _html(piece: Piece, procedure: Procedure, options: SheetOptions) -> bytes:
    from bedview.export.stepping.page import stepping_page

    return stepping_page(piece, procedure, options.swatches).encode()


def _csv(_piece: Piece, procedure: Procedure, _options: SheetOptions) -> bytes:
    from bedview.export.table_sheet import table_text

    return table_text(procedure).encode()


def _svg(piece: Piece, procedure: Procedure, _options: SheetOptions) -> bytes:
    from bedview.export.chart_sheet import chart_picture
    from bedview.picture.svg import to_svg

    return to_svg(chart_picture(piece, procedure)).encode()


def _png(piece: Piece, procedure: Procedure, _options: SheetOptions) -> bytes:
    from bedview.export.chart_sheet import chart_picture
    from bedview.export.printing import paper_measure, png_of

    return png_of(chart_picture(piece, procedure, measure=paper_measure()), _PNG_RATIO)


def _txt(piece: Piece, procedure: Procedure, options: SheetOptions) -> bytes:
    from bedview.export.text_sheet import sheet_text

    return sheet_text(piece, procedure, options.swatches).encode()


_MAKERS: Final[dict[str, Callable[[Piece, Procedure, SheetOptions], bytes]]] = {
    ".pdf": _pdf,
    ".html": _html,
    ".csv": _csv,
    ".svg": _svg,
    ".png": _png,
    ".txt": _txt,
}
ENDINGS: Final = tuple(_MAKERS)
"""Endings a sheet may have."""
