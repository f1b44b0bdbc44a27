"""One field of a part: its name, its entry, what comes of it, and what is wrong with what was written."""

from __future__ import annotations

import re

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout

from bedview.bed.needles import MAX_NEEDLES, parse_needles
from bedview.plan.piece import Piece
from bedview.plan.segments.base import Segment
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, Read, Say, TextEntry
from bedview.ui.plan.field_table import Entry, FieldSpec
from bedview.ui.plan.measures import Measures

AnyEntry = TextEntry | ChoiceEntry | FlagEntry


def tr(text: str) -> str:
    """A text of the table in the user's language."""
    return QCoreApplication.translate("field_table", text)


class FieldLine(QObject):
    """The field; it lays itself into the grid it is given.

    Args:
        spec: what it is.
        part: the part it is first shown for.
        piece: for its yarns.
        measures: how numbers are written.
        parent: as ever.
    """

    put = Signal(object)
    """A value was written or chosen."""
    left = Signal()
    """Its typing is over."""

    def __init__(
        self, spec: FieldSpec, part: Segment, piece: Piece, measures: Measures, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.spec = spec
        self._measures = measures
        name = tr(spec.name_in(part))
        self.name = Label(name, tone="quiet", wraps=True)
        self.entry = self._made_entry(piece)
        self.entry.setAccessibleName(name)
        self.entry.setProperty("field", spec.key)
        self._refused = False
        self.name.setBuddy(self.entry)
        self.comes = Label(size="small", tone="quiet", wraps=True)
        self.wrong = Label(size="small", tone="warning", wraps=True)
        self.entry.put.connect(self._take)
        if isinstance(self.entry, TextEntry):
            self.entry.refused.connect(self.say_refused)
            self.entry.left.connect(self.left)

    def lay_into(self, grid: QGridLayout, row: int, *, above: bool) -> None:
        """Take four rows of a grid of two columns; the name stands above the entry, or beside it."""
        if above:
            grid.addWidget(self.name, row, 0, 1, 2)
            grid.addWidget(self.entry, row + 1, 0, 1, 2)
        else:
            grid.addWidget(self.name, row, 0, Qt.AlignmentFlag.AlignVCenter)
            grid.addWidget(self.entry, row, 1)
        grid.addWidget(self.comes, row + 2, 0, 1, 2)
        grid.addWidget(self.wrong, row + 3, 0, 1, 2)
        self.comes.hide()
        self.wrong.hide()

    def show_value(self, part: Segment, piece: Piece) -> None:
        """Show the value of a part."""
        if isinstance(self.entry, ChoiceEntry):
            self.entry.offer(self._choices(piece))
        self.entry.show_value(self.spec.value_of(part))
        if not self.entry.hasFocus() or not self._refused:
            self.say_wrong("")

    def say_comes(self, text: str) -> None:
        """What comes of the value, below it; nothing if empty."""
        self.comes.setText(text)
        self.comes.setVisible(bool(text))

    def say_refused(self, why: str) -> None:
        """What was written is no value, and was not taken; nothing if empty."""
        self._refused = bool(why)
        self.say_wrong(why)

    def say_wrong(self, why: str) -> None:
        """What is wrong, below the entry; nothing if empty."""
        said = f"{why[:1].upper()}{why[1:].rstrip('.')}." if why else ""
        if said != self.wrong.text() or self.wrong.isHidden() == bool(said):
            self.wrong.setText(said)
            self.wrong.setVisible(bool(said))
            self.entry.setAccessibleDescription(said)

    def _take(self, value: object) -> None:
        self.say_refused("")
        self.put.emit(value)

    # -- entries ------------------------------------------------------------------------------------------

    def _made_entry(self, piece: Piece) -> AnyEntry:
        spec, measures = self.spec, self._measures
        unset = None if spec.unset is None else tr(spec.unset)
        if spec.entry in (Entry.CHOICE, Entry.YARN):
            return ChoiceEntry(self._choices(piece))
        if spec.entry is Entry.FLAG:
            return FlagEntry()
        entries: dict[Entry, tuple[Read, Say, float]] = {
            Entry.WHOLE: (measures.read_whole, str, 1),
            Entry.NUMBER: (self._read_number, self._say_number, 1),
            Entry.ROWS_OR_LENGTH: (self._read_rows_or_length, self._say_rows_or_length, 1),
            Entry.LENGTH_CM: (self._read_cm, self._say_cm, 1),
            Entry.NEEDLES: (read_needles, say_needles, 0),
            Entry.GROUPS: (_read_groups, _say_groups, 0),
            Entry.TEXT: (str.strip, str, 0),
        }
        read, say, step = entries[spec.entry]
        return TextEntry(read, say, unset, step)

    def _choices(self, piece: Piece) -> list[tuple[object, str]]:
        spec = self.spec
        first: list[tuple[object, str]] = [] if spec.unset is None else [(None, tr(spec.unset))]
        if spec.entry is Entry.YARN:
            return first + [(yarn.id, yarn.name or yarn.id) for yarn in piece.yarns if yarn.role == spec.role]
        return first + [(value, tr(words)) for value, words in spec.choices]

    def _read_number(self, text: str) -> float:
        number = self._measures.read_number(text)
        return int(number) if number.is_integer() else number

    def _say_number(self, value: object) -> str:
        return self._measures.number(float(str(value)))

    def _read_rows_or_length(self, text: str) -> int | float:
        """Rows are an int, a length is a float in mm."""
        if re.fullmatch(r"\s*[0-9]+\s*", text):
            return int(text)
        return float(self._measures.read_length_mm(text))

    def _say_rows_or_length(self, value: object) -> str:
        if isinstance(value, int):
            return str(value)
        return f"{self._measures.bare_length(float(str(value)))} {self._measures.unit}"

    def _read_cm(self, text: str) -> float:
        cm = round(self._measures.read_length_mm(text) / 10, 3)
        return int(cm) if cm.is_integer() else cm

    def _say_cm(self, value: object) -> str:
        return f"{self._measures.bare_length(float(str(value)) * 10)} {self._measures.unit}"


# -- needles as people write them -------------------------------------------------------------------------


def read_needles(text: str) -> str:
    """A list of needles as a file has it: ``l10 to r10`` is ``L10-R10``.

    Raises:
        ValueError: with the reason.
    """
    tidy = re.sub(r"\s*(?:to|–|-|…|\.\.+)\s*", "-", text.strip(), flags=re.IGNORECASE)
    tidy = re.sub(r"\s*(?:,|;|\s)\s*", ",", tidy).upper()
    parse_needles(tidy, MAX_NEEDLES)
    return tidy


def say_needles(value: object) -> str:
    """A list of needles as people read it: ``L10-R4, R7``."""
    return str(value).replace(",", ", ")


def _read_groups(text: str) -> tuple[str, ...]:
    groups = [read_needles(group) for group in text.split(";" if ";" in text else " and ")]
    if len(groups) == 1:
        groups = groups[0].split(",")
    return tuple(groups)


def _say_groups(value: object) -> str:
    assert isinstance(value, tuple)
    return " and ".join(say_needles(group) for group in value)
