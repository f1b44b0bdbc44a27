"""Which bed lies on the free bench: needles, their distance, the carriage's side, and the yarns."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QAbstractSpinBox, QDoubleSpinBox, QHBoxLayout, QSpinBox, QWidget

from bedview.bed.needles import MAX_NEEDLES, MAX_PITCH_MM, MIN_NEEDLES, MIN_PITCH_MM, Bed, Side
from bedview.plan.piece import Yarn
from bedview.ui.parts.buttons import Button
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry
from bedview.ui.theme import Theme

YarnSet = tuple[str, tuple[Yarn, ...]]
"""What a set of yarns is called, and the yarns."""


class BedForm(QWidget):
    """The form, on one line.

    Args:
        bed: the bed that lies there.
        yarns: sets of yarns to choose from, the present one first.
        theme: how it looks.
        parent: as ever.
    """

    laid_out = Signal(object, object)
    """A new bed (:class:`~bedview.bed.needles.Bed`) is wanted, with these yarns."""

    def __init__(
        self, bed: Bed, yarns: Sequence[YarnSet], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._sets = dict(yarns)
        self.needles = QSpinBox()
        self.needles.setRange(MIN_NEEDLES, MAX_NEEDLES)
        self.needles.setSingleStep(2)
        self.needles.setValue(bed.needles)
        self.needles.setAccessibleName(self.tr("Needles of the bed"))
        self.pitch = QDoubleSpinBox()
        self.pitch.setRange(MIN_PITCH_MM, MAX_PITCH_MM)
        self.pitch.setSingleStep(0.5)
        self.pitch.setDecimals(1)
        self.pitch.setValue(bed.pitch_mm)
        self.pitch.setSuffix(self.tr(" mm"))
        self.pitch.setAccessibleName(self.tr("Distance between needles"))
        for spin in (self.needles, self.pitch):
            spin.setButtonSymbols(QAbstractSpinBox.ButtonSymbols.NoButtons)
            spin.setFixedWidth(theme.px(92))
        self.carriage = ChoiceEntry([(Side.RIGHT, self.tr("right")), (Side.LEFT, self.tr("left"))])
        self.carriage.show_value(bed.carriage)
        self.carriage.setAccessibleName(self.tr("Side on which the carriage begins"))
        self.yarns = ChoiceEntry([(name, name) for name in self._sets])
        self.yarns.show_value(next(iter(self._sets)))
        self.yarns.setAccessibleName(self.tr("Yarns"))
        self.begin = Button(self.tr("Lay out this bed"), theme)
        self.begin.clicked.connect(self._lay_out_bed)
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.px(24), 0, theme.px(24), 0)
        row.setSpacing(theme.px(8))
        for text, widget in (
            (self.tr("A bed of"), self.needles),
            (self.tr("needles,"), self.pitch),
            (self.tr("apart; carriage on the"), self.carriage),
            (self.tr("yarns:"), self.yarns),
        ):
            row.addWidget(Label(text, tone="quiet"))
            row.addWidget(widget)
        row.addWidget(self.begin)
        row.addStretch(1)

    def _lay_out_bed(self) -> None:
        # A bed has as many needles on the left of its centre as on the right.
        needles = self.needles.value() // 2 * 2
        self.needles.setValue(needles)
        side = Side.RIGHT if self.carriage.currentIndex() == 0 else Side.LEFT
        bed = Bed(needles, self.pitch.value(), side)
        self.laid_out.emit(bed, self._sets[self.yarns.currentText()])
