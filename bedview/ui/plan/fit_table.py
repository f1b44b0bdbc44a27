"""Every measure of a piece beside what was asked, as a table."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from bedview.plan.starters.fit_line import FitLine
from bedview.ui.parts.labels import Label, Tone
from bedview.ui.parts.layouts import clear
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme

_COLUMNS = 4


class FitTable(QWidget):
    """The table: a line a measure, its reason below it.

    Args:
        theme: how it looks.
        measures: how numbers are written.
        narrow: whether names have a line of their own above their figures.
        parent: as ever.
    """

    def __init__(
        self, theme: Theme, measures: Measures, parent: QWidget | None = None, *, narrow: bool = False
    ) -> None:
        super().__init__(parent)
        self._measures, self._narrow = measures, narrow
        self._shown: tuple[FitLine, ...] | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.px(12))
        self._grid.setVerticalSpacing(theme.px(3))
        self._grid.setColumnStretch(0, 1)

    def show_lines(self, lines: Sequence[FitLine]) -> None:
        """Show other measures."""
        if tuple(lines) == self._shown:
            return
        self._shown = tuple(lines)
        clear(self._grid)
        if not lines:
            return
        heads = ("", self.tr("asked"), self.tr("knitted"), self.tr("body"))
        for column, head in enumerate(heads):
            self._put(Label(head, "small", "quiet"), 0, column)
        row = 1
        for line in lines:
            row = self._show_line(line, row)

    def _show_line(self, line: FitLine, row: int) -> int:
        """Put a measure in the grid; returns the row after it."""
        asked, got, body = line.figures(self._measures.unit, comma=self._measures.comma)
        bound = {"near": "{asked}", "at_least": self.tr("≥ {asked}"), "at_most": self.tr("≤ {asked}")}
        tone: Tone = "" if line.verdict == "fits" else "warning"
        name = Label(line.name, tone=tone, wraps=True)
        name.setAccessibleName(line.says(self._measures.unit, comma=self._measures.comma))
        if self._narrow:
            self._grid.addWidget(name, row, 0, 1, _COLUMNS)
            row += 1
        else:
            self._put(name, row, 0)
        self._put(Label(bound[line.bound].format(asked=asked), tone="quiet"), row, 1)
        self._put(Label(got or "–", tone=tone, bold=True), row, 2)
        self._put(Label(body, tone="quiet"), row, 3)
        why = line.why()
        if why:
            self._grid.addWidget(Label(why, "small", "quiet", wraps=True), row + 1, 0, 1, _COLUMNS)
        return row + 2 if why else row + 1

    def _put(self, label: Label, row: int, column: int) -> None:
        across = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag(0)
        self._grid.addWidget(label, row, column, across | Qt.AlignmentFlag.AlignTop)
