"""The measures a starter's piece was made with, and its sizes side by side: needles, rows, yarn, fit."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from bedview.plan.starters import StarterError, find_starter
from bedview.plan.starters.grading import Graded, Ungraded, grade
from bedview.plan.starters.parameter import Given
from bedview.plan.starters.remaking import remake
from bedview.session.parts_editor import PartsEditor
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.in_background import Errand
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.starter_form import StarterForm
from bedview.ui.theme import Theme

Row = Graded | Ungraded


class SizesPanel(QWidget):
    """Measures and sizes.

    Args:
        editor: the piece's.
        theme: how they look.
        measures: how numbers are written.
        shelf: swatches, whose weight goes before the theory; none if left out.
        parent: as ever.
    """

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
        self.form: StarterForm | None = None
        self.card = Card(theme)
        self.title = Label(size="lead", bold=True, wraps=True)
        self.says = Label(size="small", tone="quiet", wraps=True)
        self.wrong = Label(size="small", tone="warning", wraps=True)
        self.grade = Button(self.tr("Sizes side by side"), theme, ButtonKind.CHIP)
        self.table = QWidget()
        self.sizes: dict[str, Button] = {}
        for widget in (self.title, self.says, self.wrong):
            self.card.column.addWidget(widget)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(10))
        self._column.addWidget(self.card)
        self._column.addWidget(self.grade, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.table)
        self._reckoning: Errand[list[Row]] = Errand(self._show_table, self._show_reason, self)
        self.grade.clicked.connect(self.reckon)
        self.wrong.hide()

    def refresh(self) -> None:
        """Show the measures of the piece as it is now."""
        made_by = self._editor.opened.piece.made_by
        self.grade.hide()
        if made_by is None:
            self.title.setText(self.tr("No measures"))
            self.says.setText(
                self.tr(
                    "This piece was not made from measures, so there are no sizes of it. "
                    "A new piece can begin with them."
                )
            )
            return
        try:
            starter = find_starter(made_by.starter)
        except StarterError as error:
            self._show_reason(error)
            return
        self.grade.setVisible(bool(starter.sizes))
        if self.form is not None and self.form.given == dict(made_by.values):
            return
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
        self.title.setText(self.tr(starter.title))
        self.says.setText(
            self.tr(
                "Another measure makes all parts anew; what you changed in them since goes, "
                "and undo brings it back."
            )
        )
        self.form = StarterForm(starter, made_by.values, self._theme, self._measures)
        self.form.changed.connect(self._make_again)
        self.card.column.insertWidget(2, self.form)
        self.form.show()

    def _make_again(self) -> None:
        form, made_by = self.form, self._editor.opened.piece.made_by
        if form is None or made_by is None:
            return
        changes: dict[str, Given | None] = dict.fromkeys(made_by.values)
        self._remake(changes | form.given)

    def _remake(self, changes: Mapping[str, Given | None]) -> None:
        opened = self._editor.opened
        self._show_reason(None)
        try:
            piece = remake(opened.piece, changes)
        except StarterError as error:
            if self.form is None or not self.form.say_wrong(error):
                self._show_reason(error)
            return
        opened.revise(piece, self.tr("Measures"), "measures")

    # -- sizes side by side -------------------------------------------------------------------------------

    def reckon(self) -> None:
        """Work out all sizes beside the window, and show them when they are there."""
        piece = self._editor.opened.piece
        made_by = piece.made_by
        if made_by is None:
            return
        starter, values = find_starter(made_by.starter), dict(made_by.values)
        swatches = self._shelf.of_piece(piece)
        self.grade.setEnabled(False)
        self._reckoning.start(lambda: list(grade(starter, values, swatches=swatches)))

    def _show_table(self, rows: list[Row]) -> None:
        self.grade.setEnabled(True)
        table = QWidget()
        grid = QGridLayout(table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(self._theme.px(8))
        grid.setVerticalSpacing(self._theme.px(2))
        heads = (self.tr("Size"), self.tr("Needles"), self.tr("Rows"), self.tr("Yarn"), self.tr("Fit"))
        for column, words in enumerate(heads):
            grid.addWidget(Label(words, "small", "quiet"), 0, column)
        made_by = self._editor.opened.piece.made_by
        now = str(made_by.values.get("size", "")) if made_by else ""
        self.sizes = {}
        for number, row in enumerate(rows, 1):
            says = self.tr("Make it in size {size}").format(size=row.size)
            button = Button(row.size, self._theme, ButtonKind.LINK, says=says)
            button.clicked.connect(partial(self._remake, {"size": row.size}))
            self.sizes[row.size] = button
            grid.addWidget(button, number, 0)
            if isinstance(row, Ungraded):
                grid.addWidget(Label(row.reason, "small", wraps=True), number, 1, 1, 4)
                continue
            for column, words in enumerate(self._cells(row), 1):
                grid.addWidget(Label(words, "small", bold=row.size == now), number, column)
        self._column.replaceWidget(self.table, table)
        self.table.hide()
        self.table.deleteLater()
        self.table = table

    def _cells(self, row: Graded) -> list[str]:
        fabric = [need for need in row.yarn if need.role == "fabric"]
        grams = [need.advised_grams for need in fabric]
        if all(each is not None for each in grams):
            yarn = self.tr("{grams} g").format(grams=round(sum(each or 0 for each in grams)))
        else:
            yarn = self.tr("{metres} m").format(metres=round(sum(need.advised_metres for need in fabric)))
        return [str(row.needles), str(row.rows), yarn, self.tr("fits") if row.fit.fits else self.tr("see")]

    def _show_reason(self, error: Exception | None) -> None:
        self.grade.setEnabled(True)
        if error is not None and not isinstance(error, StarterError):
            raise error
        self.wrong.setText(f"{str(error)[:1].upper()}{str(error)[1:]}." if error else "")
        self.wrong.setVisible(error is not None)
