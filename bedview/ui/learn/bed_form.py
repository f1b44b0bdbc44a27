"""Which bed lies on the free bench: needles, their distance, the carriage's side, and the yarns."""

from __future__ import annotations

from collections.abc import Sequence
from string import Formatter

from PySide6.QtCore import Signal
from PySide6.QtGui import QIntValidator, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QWidget
from typing_extensions import override

from bedview.bed.needles import MAX_NEEDLES, MAX_PITCH_MM, MIN_NEEDLES, MIN_PITCH_MM, Bed, Side
from bedview.language import number
from bedview.plan.piece import Yarn
from bedview.ui.learn.rows import place_in_rows
from bedview.ui.parts.buttons import Button
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry
from bedview.ui.theme import Theme

YarnSet = tuple[str, tuple[Yarn, ...]]
"""What a set of yarns is called, and the yarns."""


class BedForm(QWidget):
    """The form, on as many lines as it needs.

    Args:
        bed: the bed that lies there.
        yarns: sets of yarns to choose from, the present one first.
        theme: how it looks.
        parent: as ever.
    """

    laid_out = Signal(object, object)
    """A new bed (:class:`~bedview.bed.needles.Bed`) is wanted, with these yarns."""

    refused = Signal(str)
    """There is no such bed; one sentence says why."""

    def __init__(
        self, bed: Bed, yarns: Sequence[YarnSet], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._sets = dict(yarns)
        self.needles = QLineEdit(str(bed.needles))
        self.needles.setValidator(QIntValidator(MIN_NEEDLES, MAX_NEEDLES, self.needles))
        self.needles.setAccessibleName(self.tr("Needles of the bed"))
        self.pitch = QLineEdit(number(bed.pitch_mm))
        self.pitch.setAccessibleName(self.tr("Distance between needles in millimetres"))
        for entry in (self.needles, self.pitch):
            entry.setFixedWidth(theme.px(72))
            entry.returnPressed.connect(self._lay_out_bed)
        self.carriage = ChoiceEntry([(Side.RIGHT, self.tr("right")), (Side.LEFT, self.tr("left"))])
        self.carriage.show_value(bed.carriage)
        self.carriage.setAccessibleName(self.tr("Side on which the carriage begins"))
        self.yarns = ChoiceEntry([(name, name) for name in self._sets])
        self.yarns.show_value(next(iter(self._sets)))
        self.yarns.setMinimumContentsLength(14)
        self.yarns.setAccessibleName(self.tr("Yarns"))
        self.begin = Button(self.tr("Lay out this bed"), theme)
        self.begin.clicked.connect(self._lay_out_bed)
        sentence = self.tr(
            "A bed of {needles} needles, {pitch} mm apart; carriage on the {carriage} yarns: {yarns}"
        )
        gaps: dict[str, QWidget] = {
            "needles": self.needles,
            "pitch": self.pitch,
            "carriage": self.carriage,
            "yarns": self.yarns,
        }
        self._shown: list[QWidget] = []
        # The entries stand where the language puts them in its sentence.
        for text, gap, _form, _way in Formatter().parse(sentence):
            if text.strip():
                self._shown.append(Label(text.strip(), tone="quiet"))
            if gap is not None:
                self._shown.append(gaps[gap])
        self._shown.append(self.begin)
        for each in self._shown:
            each.setParent(self)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        high = place_in_rows(self._shown, self.width(), self._theme.px(40), self._theme.px(8))
        if self.height() != high:
            self.setFixedHeight(high)

    def _lay_out_bed(self) -> None:
        try:
            # A bed has as many needles on the left of its centre as on the right.
            needles, pitch_mm = int(self.needles.text()) // 2 * 2, float(self.pitch.text().replace(",", "."))
        except ValueError:
            needles, pitch_mm = 0, 0.0
        if not (MIN_NEEDLES <= needles <= MAX_NEEDLES and MIN_PITCH_MM <= pitch_mm <= MAX_PITCH_MM):
            text = self.tr("A bed has {least} to {most} needles, {least_mm} to {most_mm} mm apart.")
            self.refused.emit(
                text.format(
                    least=MIN_NEEDLES,
                    most=MAX_NEEDLES,
                    least_mm=number(MIN_PITCH_MM),
                    most_mm=number(MAX_PITCH_MM),
                )
            )
            return
        side = Side.RIGHT if self.carriage.currentIndex() == 0 else Side.LEFT
        self.laid_out.emit(Bed(needles, pitch_mm, side), self._sets[self.yarns.currentText()])
