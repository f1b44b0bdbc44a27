"""Opens the page Print over the page one is on, and leads back there."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QStackedWidget, QWidget

from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.store.swatches import SwatchFile, default_file
from bedview.ui.pages.new_page import NewPage
from bedview.ui.printing.print_page import PrintPage
from bedview.ui.theme import Theme


class PrintOpener(QObject):
    """Opens it.

    Args:
        stack: where the window's pages lie.
        theme: how they look.
        parent: as ever.
    """

    def __init__(self, stack: QStackedWidget, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._stack = stack
        self._theme = theme
        self._came_from: QWidget | None = None
        self.page: PrintPage | None = None
        # Whatever else is shown, by whatever way: the page Print is put away then.
        stack.currentChanged.connect(self._forget)

    def open_for(self, opened: OpenPiece | None) -> None:
        """Show a piece as it will be printed; if it is shown so already, ask for the printer."""
        if self.page is not None:
            self.page.ask_printer()
        elif opened is not None:
            # Read each time: on the page Plan a swatch may have been weighed since.
            page = PrintPage(opened, self._theme, SwatchShelf(SwatchFile(default_file())))
            page.put_away.connect(self._go_back)
            self._came_from = self._stack.currentWidget()
            self._stack.addWidget(page)
            self._stack.setCurrentWidget(page)
            self.page = page
            page.view.setFocus(Qt.FocusReason.TabFocusReason)

    def _go_back(self) -> None:
        came_from = self._came_from
        if came_from is not None:
            self._stack.setCurrentWidget(came_from)
            came_from.setFocus()

    def _forget(self) -> None:
        page, shown = self.page, self._stack.currentWidget()
        # From the page New piece one may come back to where one was.
        if page is None or shown is page or isinstance(shown, NewPage):
            return
        self.page = self._came_from = None
        page.leave()
        self._stack.removeWidget(page)
        page.deleteLater()
