"""The chosen part: its title, its rows, and its parameters, to be read."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.buttons import Button
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.part_fields import field_rows, hand_lines, result_line
from bedview.ui.theme import Theme


class PartCard(Card):
    """The card.

    Args:
        opened: the piece.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, opened: OpenPiece, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent=parent)
        self._opened = opened
        self._theme = theme
        self.title = Label(size="title", bold=True, wraps=True)
        self.where = Label(tone="quiet", wraps=True)
        self.result = Label(tone="quiet", wraps=True)
        self._fields = QWidget()
        self.rehearse = Button(self.tr("Rehearse this part"), theme)
        for widget in (self.title, self.where, self._fields, self.result):
            self.column.addWidget(widget)
        self.column.addSpacing(theme.px(4))
        self.column.addWidget(self.rehearse, 0, Qt.AlignmentFlag.AlignLeft)

    def show_part(self, part: int, title: str, where: str) -> None:
        """Show another part."""
        self.title.setText(title)
        self.where.setText(where)
        result = result_line(self._opened.procedure, part)
        self.result.setText(result)
        self.result.setVisible(bool(result))
        fields = self._made_fields(part)
        self.column.replaceWidget(self._fields, fields)
        # It would be painted until Qt comes round to deleting it.
        self._fields.hide()
        self._fields.deleteLater()
        self._fields = fields

    def _made_fields(self, part: int) -> QWidget:
        piece = self._opened.piece
        segment = piece.segments[part]
        made = QWidget()
        grid = QGridLayout(made)
        grid.setContentsMargins(0, self._theme.px(8), 0, self._theme.px(8))
        grid.setHorizontalSpacing(self._theme.px(14))
        grid.setVerticalSpacing(self._theme.px(8))
        grid.setColumnStretch(1, 1)
        rows = field_rows(segment, piece)
        if isinstance(segment, RepeatSegment):
            rows += [(each.says, each.title or "") for each in segment.segments]
        for number, (name, value) in enumerate(rows):
            grid.addWidget(Label(name, tone="quiet", wraps=True), number, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(Label(value, wraps=True), number, 1, Qt.AlignmentFlag.AlignTop)
        if isinstance(segment, ActionsSegment):
            for number, sentence in enumerate(hand_lines(self._opened, part), len(rows)):
                grid.addWidget(Label(f"{sentence.rstrip('.')}.", wraps=True), number, 0, 1, 2)
        return made
