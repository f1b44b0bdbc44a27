"""Pages on their way to the printer: one after the other, with the window alive in between."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrinter

from bedview.export.paper.pages import Page
from bedview.export.printing import page_layout, paint_page


class PrintRun(QObject):
    """One print.

    Args:
        printer: as it was chosen; its range of pages counts.
        pages: all pages of the document.
        parent: as ever.
    """

    page_printed = Signal(int, int)
    """So many pages of so many are done."""
    finished = Signal(bool)
    """It has ended; whether all went well."""

    def __init__(self, printer: QPrinter, pages: Sequence[Page], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._printer = printer
        self._left = list(chosen_pages(printer, pages))
        self._whole = len(self._left)
        self._painter: QPainter | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._print_one)

    def start(self) -> None:
        """Begin, and come back at once."""
        if not self._left:
            self.finished.emit(False)
            return
        self._printer.setFullPage(True)
        self._printer.setPageLayout(page_layout(self._left[0].paper))
        painter = QPainter()
        if not painter.begin(self._printer):
            self.finished.emit(False)
            return
        self._painter = painter
        self._timer.start()

    def stop(self) -> None:
        """Print no more pages; what was sent is thrown away where the printer can."""
        if self._painter is not None:
            self._printer.abort()
            self._end(well=False)

    def _print_one(self) -> None:
        if self._painter is None:
            return
        page = self._left.pop(0)
        paint_page(page, self._painter, self._printer.resolution())
        self.page_printed.emit(self._whole - len(self._left), self._whole)
        if not self._left:
            self._end(well=True)
            return
        self._printer.setPageLayout(page_layout(self._left[0].paper))
        if not self._printer.newPage():
            self._end(well=False)

    def _end(self, *, well: bool) -> None:
        self._timer.stop()
        painter, self._painter = self._painter, None
        ended = painter.end() if painter is not None else False
        self.finished.emit(well and ended)


def chosen_pages(printer: QPrinter, pages: Sequence[Page]) -> Sequence[Page]:
    """The pages that are to be printed."""
    if printer.printRange() != QPrinter.PrintRange.PageRange or not printer.fromPage():
        return pages
    return pages[printer.fromPage() - 1 : printer.toPage()]
