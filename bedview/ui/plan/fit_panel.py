"""How the piece will fit: every measure beside what was asked."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from bedview.plan.fit import fit
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.fit_table import FitTable
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme


class FitPanel(Card):
    """Every measure of the piece beside what was asked.

    Args:
        editor: the piece's.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    def __init__(
        self, editor: PartsEditor, theme: Theme, measures: Measures, parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, parent=parent)
        self._editor = editor
        self.column.addWidget(Label(self.tr("How it will fit"), size="lead", bold=True))
        self.cannot = Label(self.tr("It can be measured when it can be knitted."), wraps=True)
        self.table = FitTable(theme, measures, narrow=True)
        self.remark = Label(tone="quiet", wraps=True)
        for widget in (self.cannot, self.table, self.remark):
            self.column.addWidget(widget)

    def refresh(self) -> None:
        """Measure the piece as it is now."""
        opened = self._editor.opened
        self.cannot.setVisible(opened.trouble is not None)
        self.table.setVisible(opened.trouble is None)
        measured = fit(opened.piece, opened.procedure) if opened.trouble is None else None
        self.table.show_lines(measured.lines if measured else ())
        remark = measured.remark if measured else ""
        self.remark.setText(f"{remark}." if remark else "")
        self.remark.setVisible(bool(remark))
