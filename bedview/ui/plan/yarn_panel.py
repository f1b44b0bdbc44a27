"""The yarns of the piece, one card each, and the sheets that open from them."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.swatch import KnittedSwatch
from bedview.plan.yarn import yarn_needs
from bedview.session import editing
from bedview.session.parts_editor import PartsEditor
from bedview.session.swatch_shelf import SwatchShelf, with_swatches
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.regauge_sheet import RegaugeSheet
from bedview.ui.plan.swatch_sheet import SwatchSheet
from bedview.ui.plan.yarn_card import YarnCard
from bedview.ui.theme import Theme


class YarnPanel(QWidget):
    """All yarns.

    Args:
        editor: the piece's.
        theme: how they look.
        measures: how numbers are written.
        shelf: swatches and yarn at hand; one that keeps nothing if left out.
        parent: as ever.
    """

    piece_wanted = Signal(object)
    """A swatch is to be knitted, as a :class:`~bedview.plan.piece.Piece`."""

    def __init__(
        self,
        editor: PartsEditor,
        theme: Theme,
        measures: Measures,
        shelf: SwatchShelf | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._editor, self._theme, self._measures = editor, theme, measures
        self._shelf = shelf or SwatchShelf()
        self.cards: list[YarnCard] = []
        self.sheet: SwatchSheet | RegaugeSheet | None = None
        self.add = Button(self.tr("+ Add a yarn"), theme, ButtonKind.LINK)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(10))
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self.add.clicked.connect(self._add)
        self._shelf.changed.connect(self._follow_shelf)
        self.destroyed.connect(partial(self._shelf.changed.disconnect, self._follow_shelf))

    def refresh(self) -> None:
        """Show the yarns as they are now."""
        opened = self._editor.opened
        swatches = self._shelf.of_piece(opened.piece)
        needs = yarn_needs(opened.piece, opened.procedure, swatches)
        while len(self.cards) > len(needs):
            card = self.cards.pop()
            card.hide()
            card.deleteLater()
        while len(self.cards) < len(needs):
            place = len(self.cards)
            card = YarnCard(place, self._editor, self._shelf, self._theme, self._measures)
            card.swatches_wanted.connect(self.show_swatches)
            card.regauge_wanted.connect(self.show_regauge)
            self._column.insertWidget(place, card)
            self.cards.append(card)
        for card, need in zip(self.cards, needs, strict=True):
            card.refresh(opened.piece, need, swatches)

    def show_swatches(self, place: int) -> SwatchSheet:
        """Lay the swatches of a yarn over the page."""
        opened = self._editor.opened
        sheet = SwatchSheet(opened, opened.piece.yarns[place], self._shelf, self._theme, self._measures, self)
        sheet.swatches_chosen.connect(partial(self._use, place))
        sheet.piece_wanted.connect(self.piece_wanted)
        self._open(sheet)
        return sheet

    def show_regauge(self, place: int) -> RegaugeSheet:
        """Lay the piece with another yarn, or on another bed, over the page."""
        sheet = RegaugeSheet(self._editor.opened, place, self._shelf, self._theme, self._measures, self)
        self._open(sheet)
        return sheet

    def _open(self, sheet: SwatchSheet | RegaugeSheet) -> None:
        self.sheet = sheet
        sheet.finished.connect(self._put_away)
        sheet.open()

    def _put_away(self) -> None:
        self.sheet = None

    def _use(self, place: int, swatches: list[KnittedSwatch]) -> None:
        self._editor.apply(lambda piece: with_swatches(piece, place, swatches), self.tr("Choose a swatch"))

    def _follow_shelf(self) -> None:
        if self.isVisible():
            self.refresh()

    def _add(self) -> None:
        piece = self._editor.opened.piece
        ids = {yarn.id for yarn in piece.yarns}
        name = next(f"yarn{number}" for number in range(1, len(ids) + 2) if f"yarn{number}" not in ids)
        new = {"id": name, "role": "fabric"}
        self._editor.apply(lambda old: editing.with_yarn(old, len(old.yarns), new), self.tr("Add a yarn"))
