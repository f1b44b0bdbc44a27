"""The user's own machine: its bed, the words for its positions, its dial, its weights; and their others."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from bedview.bed.needles import MAX_NEEDLES, MAX_PITCH_MM, MIN_PITCH_MM
from bedview.language import number
from bedview.session.machine import LONGEST_NAME, STEPS, Machine
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme


class MachineCard(Card):
    """The card. What is written here is the user's, not the piece's, and there for the next piece.

    Args:
        theme: how it looks.
        measures: how numbers are written.
        remembered: where machines are kept; nowhere if left out.
        parent: as ever.
    """

    machine_changed = Signal(object)
    """Another machine, or the same described otherwise, as a :class:`~bedview.session.machine.Machine`."""
    bed_wanted = Signal(object)
    """The piece is to be put on the bed of this machine."""

    def __init__(
        self,
        theme: Theme,
        measures: Measures,
        remembered: Remembered | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, parent=parent)
        self._measures, self._remembered = measures, remembered
        self.machine = remembered.machine if remembered else Machine()
        self.form = Form(theme)
        self._make_form()
        self.take_bed = Button(self.tr("Put this piece on its bed"), theme, ButtonKind.CHIP)
        self.another = Button(self.tr("+ Another machine"), theme, ButtonKind.LINK)
        self.column.addWidget(Label(self.tr("Your machine"), size="lead", bold=True))
        says = self.tr("Its own words and figures; all sentences and pictures go by them.")
        self.column.addWidget(Label(says, "small", "quiet", wraps=True))
        self.column.addWidget(self.form)
        for button in (self.take_bed, self.another):
            self.column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.take_bed.clicked.connect(lambda: self.bed_wanted.emit(self.machine))
        self.another.clicked.connect(self._begin_another)
        self._show()

    def _make_form(self) -> None:
        form, measures = self.form, self._measures
        form.add("which", self.tr("Which"), ChoiceEntry([]), self._choose)
        title = _name_entry(self.tr("attic, shed …"))
        form.add("title", self.tr("You call it"), title, partial(self._put, "title"))
        form.add(
            "needles",
            self.tr("Its needles"),
            TextEntry(measures.read_whole, str, "–", 2),
            partial(self._put, "needles"),
        )
        pitch = TextEntry(measures.read_number, lambda value: measures.number(float(str(value))), "–", 0.5)
        form.add("pitch_mm", self.tr("Its pitch in mm"), pitch, partial(self._put, "pitch_mm"))
        usual = (
            self.tr("out of work"),
            self.tr("working position"),
            self.tr("upper working"),
            self.tr("hold"),
        )
        for place, word in enumerate(usual):
            entry = _name_entry(word)
            form.add(f"name_{place}", word.capitalize(), entry, partial(self._put_name, place))
        form.add("upper", self.tr("Has upper working"), FlagEntry(), partial(self._put, "has_upper"))
        steps = ChoiceEntry([(0, self.tr("not said")), *((step, str(step)) for step in STEPS)])
        form.add("steps", self.tr("Steps a dial number"), steps, partial(self._put, "dial_steps"))
        claws = TextEntry(measures.read_whole, str, None, 1)
        form.add("claws", self.tr("Claw weights"), claws, partial(self._put, "claws"))

    def show_piece_bed(self, needles: int, pitch_mm: float) -> None:
        """Offer to put the piece on the bed of the machine, where it lies on another."""
        machine = self.machine
        other = (machine.needles not in (0, needles)) or (machine.pitch_mm not in (0, pitch_mm))
        self.take_bed.setVisible(other)

    # -- what is written ----------------------------------------------------------------------------------

    def _put(self, key: str, value: object) -> None:
        line = self.form.lines[{"has_upper": "upper", "dial_steps": "steps"}.get(key, key)]
        wrong = self._wrong(key, value)
        line.say_wrong(wrong)
        if wrong:
            return
        changes: dict[str, Any] = {key: value}
        if key == "title":
            changes = {key: str(value or "")}
            self._forget(self.machine.title)
        elif key in ("needles", "pitch_mm"):
            changes = {key: 0 if value is None else value}
        elif key == "claws":
            changes = {key: min(999, int(str(value)))}
        self._take(replace(self.machine, **changes))
        if key == "has_upper":
            self.form.show_line("name_2", shown=bool(value))

    def _wrong(self, key: str, value: object) -> str:
        if key == "needles" and value is not None:
            count = int(str(value))
            if count % 2 or not 2 <= count <= MAX_NEEDLES:
                return self.tr("an even number from 2 to {most} fits here").format(most=MAX_NEEDLES)
        pitch = float(str(value)) if key == "pitch_mm" and value is not None else MIN_PITCH_MM
        if MIN_PITCH_MM <= pitch <= MAX_PITCH_MM:
            return ""
        sentence = self.tr("a pitch is from {least} to {most} mm")
        return sentence.format(least=number(MIN_PITCH_MM), most=number(MAX_PITCH_MM))

    def _put_name(self, place: int, value: object) -> None:
        names = list(self.machine.names)
        names[place] = str(value or "")
        self._take(replace(self.machine, names=(names[0], names[1], names[2], names[3])))

    def _take(self, machine: Machine) -> None:
        self.machine = machine
        if self._remembered is not None:
            self._remembered.machine = machine
        self._offer()
        self.machine_changed.emit(machine)

    # -- several machines ---------------------------------------------------------------------------------

    def _forget(self, title: str) -> None:
        """A machine gets another name, and is not kept under the old one."""
        if self._remembered is not None and title:
            self._remembered.machines = [each for each in self._remembered.machines if each.title != title]

    def _begin_another(self) -> None:
        self._take(Machine())
        self._show()
        self.form.lines["title"].entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _choose(self, value: object) -> None:
        kept = self._remembered.machines if self._remembered else []
        found = next((each for each in kept if each.title == value), None)
        if found is not None:
            self._take(found)
            self._show()

    def _show(self) -> None:
        machine = self.machine
        values: dict[str, object] = {
            "title": machine.title or None,
            "needles": machine.needles or None,
            "pitch_mm": machine.pitch_mm or None,
            "upper": machine.has_upper,
            "steps": machine.dial_steps,
            "claws": machine.claws,
            **{f"name_{place}": name or None for place, name in enumerate(machine.names)},
        }
        for key, value in values.items():
            self.form.lines[key].entry.show_value(value)
            self.form.lines[key].say_wrong("")
        self.form.show_line("name_2", shown=machine.has_upper)
        self._offer()

    def _offer(self) -> None:
        """List the machines that have names, if there is one to choose instead."""
        kept = self._remembered.machines if self._remembered else []
        which = self.form.lines["which"].entry
        assert isinstance(which, ChoiceEntry)
        which.offer([(each.title, each.title) for each in sorted(kept, key=lambda each: each.title)])
        which.show_value(self.machine.title)
        others = any(each.title != self.machine.title for each in kept)
        self.form.show_line("which", shown=others)
        self.another.setVisible(bool(self.machine.title))


def _name_entry(unset: str) -> TextEntry:
    entry = TextEntry(lambda text: text.strip()[:LONGEST_NAME], str, unset)
    entry.setMaxLength(LONGEST_NAME)
    return entry
