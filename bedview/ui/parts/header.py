"""The line across the top of the window: pages on the left, the piece and its state on the right."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QMenu, QSizePolicy, QWidget

from bedview.ui.pages.names import FINISH, KNIT, LEARN, PLAN, REHEARSE, START
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label, ShortenedLabel
from bedview.ui.theme import Theme


class Header(QWidget):
    """The header.

    Args:
        menu: what the button on the right opens.
        theme: how it looks.
        parent: as ever.
    """

    page_chosen = Signal(str)
    """The name of a page was pressed."""

    def __init__(self, menu: QMenu, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pills: dict[str, Button] = {}
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.px(20), theme.px(12), theme.px(20), theme.px(10))
        row.setSpacing(theme.px(4))
        self.name = Label("bedview", size="lead", bold=True)
        self.name.hide()
        row.addWidget(self.name)
        for number, (name, words) in enumerate(self._pages().items()):
            pill = Button(words, theme, ButtonKind.PILL)
            pill.setCheckable(True)
            if number:
                pill.setAccessibleDescription(self.tr("Page {number}").format(number=number))
            pill.clicked.connect(lambda _checked=False, name=name: self.page_chosen.emit(name))
            self._group.addButton(pill)
            self._pills[name] = pill
            row.addWidget(pill)
        self.title = ShortenedLabel(size="lead", tone="quiet")
        self.title.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.title.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        row.addWidget(self.title, 1)
        row.addSpacing(theme.px(8))
        self.menu_button = Button(self.tr("Piece ▾"), theme, says=self.tr("Piece: open, save, undo, look"))
        self.menu_button.setMenu(menu)
        row.addWidget(self.menu_button)

    def _pages(self) -> dict[str, str]:
        """What each page is called; the pieces to choose from first, then the pages by their numbers."""
        return {
            START: self.tr("Pieces"),
            PLAN: self.tr("Plan"),
            REHEARSE: self.tr("Rehearse"),
            KNIT: self.tr("Knit"),
            FINISH: self.tr("Finish"),
            LEARN: self.tr("Learn"),
        }

    @property
    def pills(self) -> Mapping[str, Button]:
        """The button of each page by its name."""
        return self._pills

    def show_pages(self, names: Collection[str], *, piece_open: bool) -> None:
        """Show these pages and no others; the program's name stands before them while no piece is open."""
        for name, pill in self._pills.items():
            pill.setVisible(name in names)
        self.name.setVisible(not piece_open)

    def show_page(self, name: str) -> None:
        """Mark the page that is shown."""
        if name in self._pills:
            self._pills[name].setChecked(True)

    def show_title(self, title: str, state: str) -> None:
        """Name the piece and say its state."""
        self.title.setText(" · ".join(part for part in (title, state) if part))
