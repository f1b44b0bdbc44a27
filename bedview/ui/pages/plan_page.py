"""Plan: the piece as its parts and its chart, the chosen part's parameters, and what will go wrong in it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.checks.folding import Folded
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.chart_view import ChartView
from bedview.ui.parts.counting import counted
from bedview.ui.parts.finding_card import FindingCard
from bedview.ui.parts.labels import Label
from bedview.ui.parts.part_card import PartCard
from bedview.ui.parts.piece_pictures import part_title, piece_chart
from bedview.ui.theme import Theme


class PlanPage(QWidget):
    """The page.

    Args:
        opened: the piece.
        theme: how it looks.
        parent: as ever.
    """

    step_wanted = Signal(int)
    """The bed is to be seen before this step."""

    def __init__(self, opened: OpenPiece, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Plan"))
        self._opened = opened
        self._theme = theme
        self._chosen = 0
        self._cards: list[FindingCard] = []
        self.chart = ChartView(piece_chart(opened), theme)
        self.setFocusProxy(self.chart)
        self.part = PartCard(opened, theme)
        self.totals = Label(wraps=True)
        self.elsewhere = Label(tone="quiet", wraps=True)
        self._lay_out()
        self.chart.part_pressed.connect(self.choose)
        self.chart.mark_pressed.connect(self._choose_mark)
        self.part.rehearse.clicked.connect(self._show_part_on_bed)
        opened.changed.connect(self._show_piece)
        self._show_piece()
        if opened.piece.segments:
            self.choose(max(0, opened.folded[0].stretch) if opened.folded else 0)

    def _lay_out(self) -> None:
        px = self._theme.px
        inner = QWidget()
        inner.setProperty("part", "plain")
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, px(6), 0)
        self._column.setSpacing(px(14))
        for widget in (self.part, self.elsewhere, self.totals):
            self._column.addWidget(widget)
        self._column.addStretch(1)
        self.side = QScrollArea()
        self.side.setWidgetResizable(True)
        self.side.setFrameShape(QFrame.Shape.NoFrame)
        self.side.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.side.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.side.setWidget(inner)
        row = QHBoxLayout(self)
        row.setContentsMargins(px(22), px(4), px(18), px(14))
        row.setSpacing(px(20))
        row.addWidget(self.chart, 1)
        row.addWidget(self.side)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def chosen(self) -> int:
        """Place of the chosen part in the piece."""
        return self._chosen

    @property
    def finding_cards(self) -> list[FindingCard]:
        """Cards of what was found in the chosen part."""
        return list(self._cards)

    def _show_piece(self) -> None:
        """The piece says something new: show all of it."""
        parts = len(self._opened.piece.segments)
        self._chosen = max(0, min(self._chosen, parts - 1))
        self.chart.show_scene(piece_chart(self._opened))
        first, last = self.chart.scene.used()
        passes = self._opened.procedure.timeline.passes
        self.totals.setText(
            ", ".join(
                (
                    counted(
                        self.tr("{count} needle"),
                        self.tr("{count} needles"),
                        last - first + 1 if passes else 0,
                    ),
                    counted(self.tr("{count} row"), self.tr("{count} rows"), passes),
                    counted(self.tr("{count} part"), self.tr("{count} parts"), parts),
                )
            )
        )
        self.part.setVisible(parts > 0)
        if parts:
            self.choose(self._chosen)

    def choose(self, part: int) -> None:
        """Show what a part holds."""
        self._chosen = part
        self.chart.choose(part)
        piece = self._opened.piece
        shown = self.chart.scene.parts[part]
        kind = piece.segments[part].says
        title = part_title(piece, part)
        words = [kind] if kind != title else []
        if shown.rows == 1:
            words.append(self.tr("row {first}").format(first=shown.first))
        elif shown.rows:
            words.append(self.tr("rows {first} to {last}").format(first=shown.first, last=shown.last))
        self.part.show_part(part, title, " · ".join(words))
        self._show_findings(part)

    def _show_findings(self, part: int) -> None:
        for card in self._cards:
            self._column.removeWidget(card)
            card.hide()
            card.deleteLater()
        folded = self._opened.folded
        here = [each for each in folded if each.stretch in (part, -1)]
        self._cards = []
        for place, each in enumerate(here, 1):
            card = FindingCard(each, self._theme)
            card.show_wanted.connect(partial(self._show_on_bed, each))
            self._column.insertWidget(place, card)
            self._cards.append(card)
        self.elsewhere.setText(self._elsewhere(len(folded), len(folded) - len(here)))
        self.elsewhere.setVisible(bool(self.elsewhere.text()))

    def _elsewhere(self, found: int, elsewhere: int) -> str:
        if not found:
            return self.tr("Nothing to watch in this piece: no gap, no long float, no lost stitch.")
        if not elsewhere:
            return ""
        one = self.tr("Elsewhere in the piece there is one thing to watch.")
        return counted(one, self.tr("Elsewhere in the piece there are {count} things to watch."), elsewhere)

    # -- what is wanted -----------------------------------------------------------------------------------

    def _choose_mark(self, mark: int) -> None:
        """Choose the part in which the finding of a sign lies."""
        owners = [each for each in self._opened.folded for _ in each.findings]
        if owners[mark].stretch >= 0:
            self.choose(owners[mark].stretch)

    def _show_part_on_bed(self) -> None:
        steps = self._opened.steps
        found = next((step.number for step in steps if step.segment == self._chosen), None)
        if found is not None:
            self.step_wanted.emit(found)

    def _show_on_bed(self, folded: Folded) -> None:
        self.step_wanted.emit(self._opened.step_of_finding(folded.first))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        px = self._theme.px
        self.side.setFixedWidth(max(px(270), min(px(400), round(0.27 * self.width()))))
        super().resizeEvent(event)
