"""The piece in figures: needles and rows, yarn, and how it will fit."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.language import gettext as _
from bedview.plan.fit import Fit, fit
from bedview.plan.piece import Piece
from bedview.plan.yarn import YarnNeed, yarn_needs
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.yarn_names import yarn_called
from bedview.ui.theme import Theme


class Totals(QWidget):
    """The figures. Yarn and fit are reckoned when the chart has been painted.

    Args:
        opened: the piece.
        theme: how they look.
        measures: how numbers are written.
        shelf: swatches, whose weight goes before the theory; none if left out.
        parent: as ever.
    """

    def __init__(
        self,
        opened: OpenPiece,
        theme: Theme,
        measures: Measures,
        shelf: SwatchShelf | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._opened, self._measures = opened, measures
        self._shelf = shelf or SwatchShelf()
        self.counts = Label(wraps=True)
        self.yarn = Label(wraps=True)
        self.fit = Label(tone="quiet", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(3))
        for label in (self.counts, self.yarn, self.fit):
            column.addWidget(label)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.reckon)

    def refresh(self, used: tuple[int, int]) -> None:
        """The piece says something new; ``used`` are its first and last needle."""
        opened = self._opened
        passes = opened.procedure.timeline.passes
        parts = len(opened.piece.segments)
        words = (
            counted(
                self.tr("{count} needle"),
                self.tr("{count} needles"),
                used[1] - used[0] + 1 if passes else 0,
            ),
            counted(self.tr("{count} row"), self.tr("{count} rows"), passes),
            counted(self.tr("{count} part"), self.tr("{count} parts"), parts),
        )
        self.counts.setText(", ".join(words))
        self._soon.start()

    def reckon(self) -> None:
        """Work out yarn and fit now."""
        self._soon.stop()
        opened = self._opened
        needs = yarn_needs(opened.piece, opened.procedure, self._shelf.of_piece(opened.piece))
        takes = yarn_line(needs, opened.piece, self._measures)
        self.yarn.setText(self.tr("Yarn: {figures}").format(figures=takes) if takes else "")
        self.yarn.setVisible(bool(takes))
        measured = fit(opened.piece, opened.procedure) if opened.trouble is None else None
        self.fit.setText(self._fit_line(measured) if measured else "")
        self.fit.setVisible(bool(self.fit.text()))

    def _fit_line(self, measured: Fit) -> str:
        """The first measure, and whether all of them will do."""
        if not measured.lines:
            return ""
        first = measured.lines[0].says(self._measures.unit, comma=self._measures.comma)
        off = sum(line.verdict != "fits" for line in measured.lines)
        if not off:
            return self.tr("{first}. All measures fit.").format(first=first.rstrip("."))
        rest = counted(self.tr("One measure is off"), self.tr("{count} measures are off"), off)
        return f"{first.rstrip('.')}. {rest}."


def yarn_line(needs: list[YarnNeed], piece: Piece, measures: Measures) -> str:
    """What fabric yarns a piece takes: "82 g, 96 m"."""
    said = []
    names = {yarn.id: yarn_called(yarn) for yarn in piece.yarns}
    fabric = [need for need in needs if need.role == "fabric" and (need.metres or need.tails_cm)]
    for need in fabric:
        figures = f"{measures.number(round(need.advised_metres))} m"
        if need.advised_grams is not None:
            figures = f"{measures.number(round(need.advised_grams))} g, {figures}"
        said.append(
            figures if len(fabric) == 1 else _("{name}: {what}").format(name=names[need.yarn], what=figures)
        )
    return " · ".join(said)
