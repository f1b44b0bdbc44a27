"""How the piece will fit: every measure beside what was asked."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.fit import fit
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label, Tone
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
        self._editor, self._measures = editor, measures
        self.column.addWidget(Label(self.tr("How it will fit"), size="lead", bold=True))
        self.lines = QVBoxLayout()
        self.column.addLayout(self.lines)

    def refresh(self) -> None:
        """Measure the piece as it is now."""
        while self.lines.count():
            item = self.lines.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        opened = self._editor.opened
        if opened.trouble is not None:
            self.lines.addWidget(Label(self.tr("It can be measured when it can be knitted."), wraps=True))
            return
        measured = fit(opened.piece, opened.procedure)
        for line in measured.lines:
            said = line.says(self._measures.unit, comma=self._measures.comma)
            tone: Tone = "warning" if line.verdict == "off" else ""
            self.lines.addWidget(Label(f"{said.rstrip('.')}.", tone=tone, wraps=True))
        if measured.remark:
            self.lines.addWidget(Label(f"{measured.remark}.", tone="quiet", wraps=True))
