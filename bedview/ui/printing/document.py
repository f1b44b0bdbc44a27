"""The document that is being looked at: laid out and written beside the window."""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection
from pathlib import Path

from PySide6.QtCore import QLocale

from bedview.export.paper.documents import SheetPart, sheet_pages
from bedview.export.paper.pages import PAPERS, Page
from bedview.export.printing import paper_measure
from bedview.export.sheet import SheetOptions, write_sheet
from bedview.picture.marks import MeasureText
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.starters import StarterError, find_starter
from bedview.plan.swatch import KnittedSwatch

_LETTER_LANDS = frozenset(
    {
        QLocale.Country.UnitedStates,
        QLocale.Country.Canada,
        QLocale.Country.Mexico,
        QLocale.Country.Philippines,
        QLocale.Country.Chile,
        QLocale.Country.Colombia,
        QLocale.Country.Venezuela,
        QLocale.Country.PuertoRico,
    }
)
"""Where letter paper is what one buys; ISO 216 holds everywhere else."""


def usual_paper(locale: QLocale) -> str:
    """Name of the paper that people use there."""
    return "letter" if locale.territory() in _LETTER_LANDS else "a4"


class GivenUp(Exception):
    """Nobody wants the pages any more."""


class Document:
    """One version of a piece, to be laid out and written on any thread, one at a time.

    It compiles the piece once more for itself: the window goes on reading the timeline it has.

    Args:
        piece: the piece.
        spoken: puts a procedure into the words of the user's machine.
        swatches: swatches of its yarns, whose weight goes before the theory.
    """

    def __init__(
        self,
        piece: Piece,
        spoken: Callable[[Procedure], Procedure],
        swatches: tuple[KnittedSwatch, ...] = (),
    ) -> None:
        self._piece = piece
        self._spoken = spoken
        self._swatches = swatches
        self._procedure: Procedure | None = None
        self._lock = threading.Lock()

    @property
    def title(self) -> str:
        """Title of the piece; may be empty."""
        return self._piece.title

    def lacks(self, part: SheetPart) -> bool:
        """Whether there cannot be such a part, because the piece says too little."""
        if part is SheetPart.OUTLINE:
            stays = {yarn.id for yarn in self._piece.yarns if yarn.role == "fabric"}
            return not any(gauge.yarn in stays for gauge in self._piece.gauges)
        if part is SheetPart.SIZES:
            return not self._has_sizes()
        return False

    def _has_sizes(self) -> bool:
        if self._piece.made_by is None:
            return False
        try:
            return bool(find_starter(self._piece.made_by.starter).sizes)
        except StarterError:
            return False

    def pages(
        self, paper: str, parts: Collection[SheetPart], given_up: threading.Event | None = None
    ) -> list[Page]:
        """All pages; see :func:`~bedview.export.paper.documents.sheet_pages`.

        Args:
            paper: name of the paper.
            parts: what is wanted.
            given_up: when it is set, nobody wants the pages any more.

        Raises:
            GivenUp: as soon as nobody does.
        """
        with self._lock:
            measure = _as_long_as_wanted(paper_measure(), given_up or threading.Event())
            return sheet_pages(self._piece, self._compiled(), PAPERS[paper], measure, parts, self._swatches)

    def write(self, path: Path, paper: str, parts: Collection[SheetPart]) -> Path:
        """Write it to a file, whose ending says what it becomes.

        Raises:
            SheetError: if it cannot be had so.
            OutputError: if it could not be written; what stood there before still stands.
        """
        with self._lock:
            options = SheetOptions(paper, frozenset(parts), self._swatches)
            write_sheet(self._piece, self._compiled(), path, options)
        return path

    def settle(self, seconds: float) -> bool:
        """Wait until nothing goes on any more, so long at most; whether that is so."""
        if not self._lock.acquire(timeout=seconds):
            return False
        self._lock.release()
        return True

    def _compiled(self) -> Procedure:
        if self._procedure is None:
            self._procedure = self._spoken(compile_piece(self._piece))
        return self._procedure


def _as_long_as_wanted(measure: MeasureText, given_up: threading.Event) -> MeasureText:
    """Measures text, but stops whoever goes on writing what nobody wants."""

    def measured(text: str, size: float, bold: bool) -> float:
        if given_up.is_set():
            raise GivenUp
        return measure(text, size, bold)

    return measured
