"""The bed the piece is planned for, and the user's own machine: its words, its dial, its weights."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.units import LengthUnit
from bedview.session import editing
from bedview.session.machine import Machine
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.machine_card import MachineCard
from bedview.ui.plan.measures import Measures
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme


class MachinePanel(QWidget):
    """Bed and machine.

    Args:
        editor: the piece's.
        theme: how they look.
        measures: how numbers are written.
        remembered: where the machine is kept; nowhere if left out.
        parent: as ever.
    """

    unit_changed = Signal()
    """Lengths are to be written in another unit."""

    def __init__(
        self,
        editor: PartsEditor,
        theme: Theme,
        measures: Measures,
        remembered: Remembered | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._editor, self._measures, self._remembered = editor, measures, remembered
        self.bed = Form(theme)
        self._make_bed()
        self.machine = MachineCard(theme, measures, remembered)
        self.words = self.machine.form
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(10))
        card = Card(theme)
        card.column.addWidget(Label(self.tr("Bed of this piece"), size="lead", bold=True))
        card.column.addWidget(self.bed)
        column.addWidget(card)
        column.addWidget(self.machine)
        self.machine.machine_changed.connect(self._speak_for)
        self.machine.bed_wanted.connect(self._put_on)

    def _make_bed(self) -> None:
        measures = self._measures
        say = lambda value: measures.number(float(str(value)))  # noqa: E731 - one line, twice used
        self.bed.add(
            "needles",
            self.tr("Needles"),
            TextEntry(measures.read_whole, str, None, 2),
            partial(self._put, "needles"),
        )
        self.bed.add(
            "pitch_mm",
            self.tr("Pitch in mm"),
            TextEntry(measures.read_number, say, None, 0.5),
            partial(self._put, "pitch_mm"),
        )
        sides = (("left", self.tr("on the left")), ("right", self.tr("on the right")))
        self.bed.add(
            "carriage", self.tr("Carriage at the start"), ChoiceEntry(sides), partial(self._put, "carriage")
        )
        units = ((LengthUnit.CM, self.tr("centimetres")), (LengthUnit.IN, self.tr("inches")))
        unit = ChoiceEntry(units)
        unit.show_value(measures.unit)
        self.bed.add("unit", self.tr("Lengths in"), unit, self._put_unit)
        for line in self.bed.lines.values():
            if isinstance(line.entry, TextEntry):
                line.entry.left.connect(self._editor.opened.end_gesture)

    def refresh(self) -> None:
        """Show the bed as it is now."""
        bed = self._editor.opened.piece.bed
        for key in ("needles", "pitch_mm", "carriage"):
            self.bed.lines[key].entry.show_value(getattr(bed, key))
        self.machine.show_piece_bed(bed.needles, bed.pitch_mm)

    def _put(self, key: str, value: object) -> None:
        if isinstance(value, float) and value.is_integer():
            value = int(value)
        line = self.bed.lines[key]
        try:
            piece = editing.with_bed(self._editor.opened.piece, {key: value})
        except editing.EditError as error:
            line.say_wrong(error.message)
            return
        if piece != self._editor.opened.piece:
            self._editor.opened.revise(piece, self.tr("Bed"), f"bed {key}")

    def _put_unit(self, value: object) -> None:
        if self._remembered is not None:
            self._remembered.length_unit = LengthUnit(str(value))
        self.unit_changed.emit()

    def _put_on(self, machine: Machine) -> None:
        self._editor.apply(
            lambda piece: editing.with_bed(piece, dict(machine.bed)), self.tr("Put on another bed")
        )

    def _speak_for(self, machine: Machine) -> None:
        self._editor.opened.speak_for(machine)
        self.refresh()
