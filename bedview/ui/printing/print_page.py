"""Print: the pages as they will be, with what they are put together from, and the ways out of the window."""

from __future__ import annotations

import threading
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QMenu,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from bedview.export.paper.blocking_outline import NoGauge
from bedview.export.paper.documents import SheetPart
from bedview.export.paper.pages import Page
from bedview.export.paper.sizes_table import NoSizes
from bedview.export.sheet import SheetError
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.store.whole_file import OutputError
from bedview.ui.in_background import Errand
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.said import announce
from bedview.ui.printing.document import Document, usual_paper
from bedview.ui.printing.pages_view import PagesView
from bedview.ui.printing.print_run import PrintRun
from bedview.ui.printing.sheet_choices import SheetChoices
from bedview.ui.theme import Theme

PDF: Final = ".pdf"
_LONGEST_WAIT_S: Final = 3.0
"""For what goes on beside the window, when the page is put away."""
_EXPECTED: Final = (NoGauge, NoSizes, SheetError, OutputError)
"""What may keep a document from being made, for reasons people can mend."""


class _Beside(QScrollArea):
    """What stands beside the pages; keys that leaf belong to those."""

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        event.ignore()


class PrintPage(QWidget):
    """The page.

    Args:
        opened: the piece; it is laid out again after each edit.
        theme: how it looks.
        shelf: swatches, whose weight goes before the theory; none if left out.
        parent: as ever.
    """

    put_away = Signal()
    """Back to where one came from."""

    def __init__(
        self,
        opened: OpenPiece,
        theme: Theme,
        shelf: SwatchShelf | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Print"))
        self._opened, self._theme = opened, theme
        self._shelf = shelf or SwatchShelf()
        self._document = self._newest()
        self._pages: list[Page] = []
        self.run: PrintRun | None = None
        self._given_up = threading.Event()
        self._laying: Errand[list[Page]] = Errand(self._show_pages, self._say_why, self)
        self._writing: Errand[Path] = Errand(self._say_written, self._say_why, self)
        self.choices = SheetChoices(usual_paper(QLocale()), theme)
        self.view = PagesView(theme)
        self.where = Label()
        self.told = Label(tone="quiet", wraps=True)
        self.print = Button(self.tr("Print…"), theme, ButtonKind.PRIMARY)
        self.pdf = Button(self.tr("Save as PDF…"), theme)
        self.others = Button(self.tr("Save otherwise ▾"), theme)
        self.away = Button(self.tr("Back"), theme)
        self.smaller = Button("−", theme, ButtonKind.CHIP, says=self.tr("Smaller (−)"))
        self.whole = Button(self.tr("Whole page"), theme, ButtonKind.CHIP, says=self.tr("Whole page (0)"))
        self.larger = Button("+", theme, ButtonKind.CHIP, says=self.tr("Larger (+)"))
        self._lay_out()
        self._connect()
        self.lay_out_pages()

    def _lay_out(self) -> None:
        card = Card(self._theme)
        card.column.addWidget(self.choices)
        card.column.addSpacing(self._theme.px(12))
        for widget in (self.print, self.pdf, self.others, self.away, self.told):
            card.column.addWidget(widget)
        card.column.addStretch(1)
        self.others.setMenu(self._menu_of_others())
        asked = _Beside()
        asked.setWidgetResizable(True)
        asked.setFrameShape(QFrame.Shape.NoFrame)
        asked.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        asked.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        asked.setWidget(card)
        asked.setFixedWidth(self._theme.px(330))
        above = QHBoxLayout()
        above.addWidget(self.where, 1)
        for button in (self.smaller, self.whole, self.larger):
            above.addWidget(button)
        seen = QVBoxLayout()
        seen.setSpacing(self._theme.px(8))
        seen.addLayout(above)
        seen.addWidget(self.view, 1)
        row = QHBoxLayout(self)
        px = self._theme.px
        row.setContentsMargins(px(22), px(4), px(18), px(12))
        row.setSpacing(px(20))
        row.addWidget(asked)
        row.addLayout(seen, 1)

    def _menu_of_others(self) -> QMenu:
        menu = QMenu(self.others)
        kinds = {
            ".html": self.tr("Page to step through in a browser…"),
            ".txt": self.tr("Text…"),
            ".csv": self.tr("Table of all rows…"),
            ".svg": self.tr("Chart as a drawing (SVG)…"),
            ".png": self.tr("Chart as a picture (PNG)…"),
        }
        for ending, words in kinds.items():
            menu.addAction(words).triggered.connect(partial(self.ask_where_to_save, ending))
        return menu

    def _connect(self) -> None:
        self.choices.changed.connect(self.lay_out_pages)
        self.view.current_changed.connect(self._say_where)
        self.view.zoom_changed.connect(self._say_where)
        self.print.clicked.connect(self.ask_printer)
        self.pdf.clicked.connect(partial(self.ask_where_to_save, PDF))
        self.away.clicked.connect(self.put_away)
        self.smaller.clicked.connect(partial(self.view.step_zoom, -1))
        self.larger.clicked.connect(partial(self.view.step_zoom, 1))
        self.whole.clicked.connect(partial(self.view.choose_zoom, None))
        self._opened.changed.connect(self._take_new_version)

    def leave(self) -> None:
        """Listen to the piece no more, and let nothing go on."""
        self._opened.changed.disconnect(self._take_new_version)
        self._stop()

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        # The program may end now, and a thread in the middle of a page would end it badly.
        if not event.spontaneous():
            self._stop()
        super().hideEvent(event)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._given_up.is_set():
            self.lay_out_pages()

    def _stop(self) -> None:
        self._given_up.set()
        self._laying.drop()
        if self.run is not None:
            self.run.stop()
        self._document.settle(_LONGEST_WAIT_S)

    # -- laying out ---------------------------------------------------------------------------------------

    def _take_new_version(self) -> None:
        self._document = self._newest()
        self.lay_out_pages()

    def _newest(self) -> Document:
        piece = self._opened.piece
        return Document(piece, self._opened.spoken, self._shelf.of_piece(piece))

    def lay_out_pages(self) -> None:
        """Lay the document out beside the window, and show it when it is there."""
        document, paper, parts = self._document, self.choices.paper, self.choices.parts
        self.choices.offer(document)
        self._let_print(there=False)
        self._given_up.set()
        self._given_up = given_up = threading.Event()
        trouble = self._opened.trouble
        if trouble is not None:
            self._laying.drop()
            self._show_pages([])
            self._tell(self.tr("This plan can't be knitted yet: {why}.").format(why=trouble), wrong=True)
            return
        self._tell(self.tr("The pages are being laid out."))
        self._laying.start(lambda: document.pages(paper, parts, given_up))

    def _show_pages(self, pages: list[Page]) -> None:
        self._pages = pages
        self.view.show_pages(pages)
        self._let_print(there=bool(pages))
        self._tell("" if pages else self.tr("Nothing is chosen to be printed."))
        self._say_where()

    def _let_print(self, *, there: bool) -> None:
        for button in (self.print, self.pdf):
            button.setEnabled(there and self.run is None)
        self.others.setEnabled(self._opened.trouble is None)

    def _say_where(self, _page: int = 0) -> None:
        there = self.view.count > 0
        words = self.tr("Page {page} of {pages}").format(page=self.view.current + 1, pages=self.view.count)
        self.where.setText(words if there else "")
        zoom = self.view.zoom
        self.whole.setEnabled(there and zoom is not None)

    # -- ways out -----------------------------------------------------------------------------------------

    def ask_printer(self) -> None:
        """Let the user choose a printer, and print."""
        if not self.print.isEnabled():
            return
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self._document.title or self.tr("A piece without a title"))
        printer.setCreator("bedview")
        dialog = QPrintDialog(printer, self)
        dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange)
        dialog.setMinMax(1, len(self._pages))
        dialog.setFromTo(1, len(self._pages))
        wanted = dialog.exec()
        dialog.deleteLater()
        if wanted:
            self._begin_run(printer)

    def _begin_run(self, printer: QPrinter) -> None:
        self.run = PrintRun(printer, self._pages, self)
        self.run.page_printed.connect(self._say_printed)
        self.run.finished.connect(self._end_run)
        self._let_print(there=False)
        self.run.start()

    def _say_printed(self, page: int, pages: int) -> None:
        words = self.tr("Page {page} of {pages} is on its way to the printer.")
        self.told.setText(words.format(page=page, pages=pages))

    def _end_run(self, well: bool) -> None:
        self.run = None
        self._let_print(there=bool(self._pages))
        words = self.tr("All pages are on their way to the printer.") if well else self.tr("Not printed.")
        self._tell(words, wrong=not well)

    def ask_where_to_save(self, ending: str) -> None:
        """Let the user choose a file, and write it beside the window."""
        path = self._opened.path
        name = path.name.removesuffix(".piece.json") if path else self._document.title.lower()
        plain = "".join(c if c.isalnum() else "-" for c in name).strip("-") or self.tr("piece")
        start = str(path.with_name(plain + ending)) if path else plain + ending
        title = self.tr("Save as {ending}").format(ending=ending.removeprefix(".").upper())
        chosen, _kind = QFileDialog.getSaveFileName(self, title, start, f"*{ending}")
        if not chosen:
            return
        target = Path(chosen if chosen.lower().endswith(ending) else chosen + ending)
        document, paper = self._document, self.choices.paper
        parts = self.choices.parts or frozenset({SheetPart.FOLLOWING})
        self._tell(self.tr("{name} is being written.").format(name=target.name))
        self._writing.start(lambda: document.write(target, paper, parts))

    def _say_written(self, path: Path) -> None:
        self._tell(self.tr("Saved: {name}").format(name=path.name))

    def _say_why(self, error: Exception) -> None:
        if not isinstance(error, _EXPECTED):
            raise error
        why = error.what if isinstance(error, OutputError) else str(error)
        self._tell(self.tr("Not done: {why}.").format(why=why), wrong=True)

    def _tell(self, words: str, *, wrong: bool = False) -> None:
        self.told.setProperty("tone", "warning" if wrong else "quiet")
        self.told.style().unpolish(self.told)
        self.told.style().polish(self.told)
        self.told.setText(words)
        if words:
            announce(self.told, words)

    # -- keys ---------------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        focused = self.focusWidget()
        if event.key() == Qt.Key.Key_Escape:
            self.put_away.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if isinstance(focused, QPushButton) and focused.hasFocus():
                focused.click()
            else:
                self.ask_printer()
        elif not self.view.leaf(event):
            super().keyPressEvent(event)
