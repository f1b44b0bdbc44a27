"""The bed the piece is planned for, and the user's own machine: its words, its dial, its weights."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.units import LengthUnit
from bedview.session import editing
from bedview.session.machine import LONGEST_NAME, STEPS, Machine
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, TextEntry
from bedview.ui.plan.form_lines import Form
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
        self._machine = remembered.machine if remembered else Machine()
        self.bed, self.words = Form(theme), Form(theme)
        self._make_bed()
        self._make_words()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(10))
        for title, says, form in (
            (self.tr("Bed of this piece"), "", self.bed),
            (
                self.tr("Your machine"),
                self.tr("What its positions are called there, from the back of the bed to the front."),
                self.words,
            ),
        ):
            card = Card(theme)
            card.column.addWidget(Label(title, size="lead", bold=True))
            if says:
                card.column.addWidget(Label(says, "small", "quiet", wraps=True))
            card.column.addWidget(form)
            column.addWidget(card)

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

    def _make_words(self) -> None:
        usual = (
            self.tr("out of work"),
            self.tr("working position"),
            self.tr("upper working"),
            self.tr("hold"),
        )
        for place, word in enumerate(usual):
            entry = TextEntry(lambda text: text.strip()[:LONGEST_NAME], str, word)
            entry.setMaxLength(LONGEST_NAME)
            entry.show_value(self._machine.names[place] or None)
            self.words.add(f"name_{place}", word.capitalize(), entry, partial(self._put_name, place))
        upper = FlagEntry()
        upper.show_value(self._machine.has_upper)
        self.words.add("upper", self.tr("Has upper working"), upper, self._put_upper)
        self.words.show_line("name_2", shown=self._machine.has_upper)
        steps = ChoiceEntry([(step, str(step)) for step in STEPS])
        steps.show_value(self._machine.dial_steps)
        self.words.add("steps", self.tr("Steps a dial number"), steps, self._put_steps)
        claws = TextEntry(self._measures.read_whole, str, None, 1)
        claws.show_value(self._machine.claws)
        self.words.add("claws", self.tr("Claw weights"), claws, self._put_claws)

    def refresh(self) -> None:
        """Show the bed as it is now."""
        bed = self._editor.opened.piece.bed
        for key in ("needles", "pitch_mm", "carriage"):
            self.bed.lines[key].entry.show_value(getattr(bed, key))

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

    def _put_name(self, place: int, value: object) -> None:
        names = list(self._machine.names)
        names[place] = str(value or "")
        self._take(replace(self._machine, names=(names[0], names[1], names[2], names[3])))

    def _put_upper(self, value: object) -> None:
        self.words.show_line("name_2", shown=bool(value))
        self._take(replace(self._machine, has_upper=bool(value)))

    def _put_steps(self, value: object) -> None:
        self._take(replace(self._machine, dial_steps=int(str(value))))

    def _put_claws(self, value: object) -> None:
        self._take(replace(self._machine, claws=min(999, int(str(value)))))

    def _take(self, machine: Machine) -> None:
        self._machine = machine
        if self._remembered is not None:
            self._remembered.machine = machine
        self._editor.opened.speak_for(machine)
