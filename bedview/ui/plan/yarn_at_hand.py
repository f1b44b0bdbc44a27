"""What lies at hand of a yarn: where it runs out, and where the next ball is best begun."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.piece import Yarn
from bedview.plan.swatch import KnittedSwatch, own_name
from bedview.plan.units import UnitError
from bedview.plan.yarn_on_hand import Join, OnHand, on_hand, parse_balls
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.theme import Theme

_LISTED = 6
"""Rows of joins that are named one by one; nobody reads more."""


class YarnAtHand(QWidget):
    """One entry, and what comes of it.

    Args:
        opened: the piece.
        shelf: where it is kept for the next piece.
        theme: how it looks.
        parent: as ever.
    """

    reminders_wanted = Signal(object)
    """A reminder is wanted at each of these :class:`Join` places."""

    def __init__(
        self, opened: OpenPiece, shelf: SwatchShelf, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._opened, self._shelf = opened, shelf
        self._yarn: Yarn | None = None
        self._swatches: tuple[KnittedSwatch, ...] = ()
        self._tex: float | None = None
        self._joins: tuple[Join, ...] = ()
        self.form = Form(theme)
        self.entry = TextEntry(self._read, str, self.tr("3 x 50 g, 20 g"))
        self.form.add("balls", self.tr("At hand"), self.entry, self._put)
        self.entry.left.connect(self._keep)
        self.says = Label(wraps=True)
        self.joins = Label(tone="quiet", wraps=True)
        self.remind = Button(self.tr("Remind me of new balls"), theme, ButtonKind.LINK)
        self.remind.clicked.connect(lambda: self.reminders_wanted.emit(self._joins))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(5))
        for widget in (self.form, self.says, self.joins, self.remind):
            column.addWidget(widget)
        column.setAlignment(self.remind, Qt.AlignmentFlag.AlignLeft)
        self._written = ""

    def refresh(self, yarn: Yarn, swatches: tuple[KnittedSwatch, ...], tex: float | None) -> None:
        """Show how far it goes in the piece as it is now."""
        if self._yarn is None or self._yarn.name != yarn.name:
            kept = self._shelf.book.balls_of(yarn.name) if own_name(yarn.name) else ""
            self._written = kept or self._written
            self.entry.show_value(self._written or None)
        self._yarn, self._swatches, self._tex = yarn, swatches, tex
        self._reckon()

    def _read(self, text: str) -> object:
        parse_balls(text, self._tex)
        return text.strip()

    def _put(self, value: object) -> None:
        self._written = str(value or "")
        self._reckon()

    def _keep(self) -> None:
        if self._yarn is not None and own_name(self._yarn.name):
            self._shelf.put_balls(self._yarn.name, self._written)

    def _reckon(self) -> None:
        found, wrong = self._found()
        self.form.lines["balls"].say_wrong(wrong)
        self._joins = found.joins if found else ()
        self.says.setText(self._says(found) if found else "")
        self.joins.setText(self._says_joins())
        for label in (self.says, self.joins):
            label.setVisible(bool(label.text()))
        self.remind.setVisible(bool(self._joins))

    def _found(self) -> tuple[OnHand | None, str]:
        if not self._written or self._yarn is None or self._opened.trouble is not None:
            return None, ""
        try:
            balls = parse_balls(self._written, self._tex)
        except UnitError as error:
            return None, str(error)
        return on_hand(self._opened.procedure, self._yarn.id, balls, self._swatches), ""

    def _says(self, found: OnHand) -> str:
        said = found.says()
        said = f"{said[:1].upper()}{said[1:]}"
        ends = found.runs_out
        margin = round(100 * found.margin)
        if ends is None:
            return self.tr("{says}, even if it takes {margin} % more.").format(says=said, margin=margin)
        if ends.likely_row is None or ends.likely_row == ends.early_row:
            return self.tr("{says}: the figure may be {margin} % off.").format(says=said, margin=margin)
        sentence = self.tr("{says}, or from row {row} on: the figure may be {margin} % off.")
        return sentence.format(says=said, row=ends.early_row, margin=margin)

    def _says_joins(self) -> str:
        if not self._joins:
            return ""
        rows = [str(join.row) for join in self._joins[:_LISTED]] + ["…"] * (len(self._joins) > _LISTED)
        said = self.tr("New balls begin in rows {rows}").format(rows=", ".join(rows))
        if len(self._joins) == 1:
            said = self.tr("A new ball begins in row {row}").format(row=rows[0])
        if any(join.in_short_rows for join in self._joins):
            return self.tr("{joins}; not all can be kept out of short rows.").format(joins=said)
        return self.tr("{joins}, outside of short rows.").format(joins=said)
