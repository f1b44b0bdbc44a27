"""One field of a part: its name, its entry, what comes of it, and what is wrong with what was written."""

from __future__ import annotations

import re
from typing import Final

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal
from PySide6.QtWidgets import QGridLayout

from bedview.bed.needles import MAX_NEEDLES, parse_needles
from bedview.plan.gauge import Figure, width_mm_of
from bedview.plan.piece import Piece
from bedview.plan.segments.base import Segment
from bedview.plan.units import UnitError
from bedview.session.machine import Machine
from bedview.session.machine_words import dial_doubt
from bedview.session.part_figures import Widths, needles_in_middle
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, Read, Say, TextEntry
from bedview.ui.plan.field_table import Entry, FieldSpec
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.yarn_names import yarn_called

AnyEntry = TextEntry | ChoiceEntry | FlagEntry
DIALS: Final = ("tension", "waste_tension", "turning", "closing")
"""Fields that set the tension dial."""
_WHOLE_NUMBER: Final = re.compile(r"\s*[0-9]+\s*")
_BEGINS_WITH_NAME: Final = re.compile(r"\s*[LRlr]\s*[0-9]")
_BEGINS_WITH_NUMBER: Final = re.compile(r"\s*[0-9½¼¾⅓⅔⅛⅜⅝⅞]")


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
        self._widths: Widths | None = None
        self._asked: tuple[object, Figure] | None = None
        self._bed_needles = piece.bed.needles
        name = tr(spec.name_in(part))
        self.name = Label(name, tone="quiet", wraps=True)
        self.entry = self._made_entry(piece)
        self.entry.setAccessibleName(name)
        self.entry.setProperty("field", spec.key)
        if spec.entry is Entry.NEEDLES and spec.unset is None:
            self.entry.setToolTip(
                self.tr("Needles by name, how many in the middle, or a width such as 30 cm")
            )
        self._refused = self._above = False
        self.name.setBuddy(self.entry)
        self.comes = Label(size="small", tone="quiet", wraps=True)
        self.wrong = Label(size="small", tone="warning", wraps=True)
        self.entry.put.connect(self._take)
        if isinstance(self.entry, TextEntry):
            self.entry.refused.connect(self.say_refused)
            self.entry.left.connect(self.left)

    def lay_into(self, grid: QGridLayout, row: int) -> None:
        """Take four rows of a grid of two columns."""
        self._grid, self._row = grid, row
        self.comes.hide()
        self.wrong.hide()
        grid.addWidget(self.comes, row + 2, 0, 1, 2)
        grid.addWidget(self.wrong, row + 3, 0, 1, 2)
        self._put_name(above=False)

    def arrange(self, width_px: int, *, above: bool) -> None:
        """Put the name above the entry where that is wanted or its words have no room beside it.

        Args:
            width_px: of the column of entries.
            above: whether it stands there in any case.
        """
        wide = not isinstance(self.entry, FlagEntry) and self.entry.wanted_px() > width_px
        if (above or wide) != self._above:
            self._put_name(above=above or wide)

    def _put_name(self, *, above: bool) -> None:
        self._above = above
        for widget in (self.name, self.entry):
            self._grid.removeWidget(widget)
        if above:
            self._grid.addWidget(self.name, self._row, 0, 1, 2)
            self._grid.addWidget(self.entry, self._row + 1, 0, 1, 2)
        else:
            self._grid.addWidget(self.name, self._row, 0, Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(self.entry, self._row, 1)

    def show_value(self, part: Segment, piece: Piece) -> None:
        """Show the value of a part."""
        if isinstance(self.entry, ChoiceEntry):
            self.entry.offer(self._choices(piece))
        self.entry.show_value(self.spec.value_of(part))
        if not self.entry.hasFocus() or not self._refused:
            self.say_wrong("")

    def reckon_with(self, widths: Widths | None, machine: Machine, piece: Piece) -> None:
        """Turn widths into needles by this gauge, and dials by the steps of this machine."""
        self._widths, self._bed_needles = widths, piece.bed.needles
        if self.spec.key in DIALS and isinstance(self.entry, TextEntry):
            self.entry.turned = machine.turned_dial

    def comes_of(self, part: Segment, machine: Machine) -> str:
        """What comes of the value: both figures of a width, or what the dial has instead."""
        value = self.spec.value_of(part)
        if self.spec.key in DIALS and isinstance(value, int | float):
            doubt = dial_doubt(machine, value)
            return f"{doubt}." if doubt else ""
        if self._asked is not None and self._asked[0] == value:
            return self._asked[1].says(self._measures.unit, comma=self._measures.comma)
        if self._widths is None or value is None:
            return ""
        count = value if isinstance(value, int) else len(parse_needles(str(value), self._bed_needles))
        width = self._measures.length(width_mm_of(count, self._widths.gauge))
        one, many = self.tr("{count} stitch is {width} wide"), self.tr("{count} stitches are {width} wide")
        return f"{(one if count == 1 else many).format(count=count, width=width)}."

    def forget_width(self) -> None:
        """Another part is shown: the width that was asked for was of the one before."""
        self._asked = None

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
        figure = self._figure_asked()
        self._asked = None if figure is None else (value, figure)
        self.say_refused("")
        self.put.emit(value)

    def _figure_asked(self) -> Figure | None:
        """Both figures of the width that was typed; None if it was none."""
        if self._widths is None or not isinstance(self.entry, TextEntry):
            return None
        text = self.entry.text()
        if not _BEGINS_WITH_NUMBER.match(text) or _WHOLE_NUMBER.fullmatch(text):
            return None
        return self._widths.figure(self._measures.read_length_mm(text))

    # -- entries ------------------------------------------------------------------------------------------

    def _made_entry(self, piece: Piece) -> AnyEntry:
        spec = self.spec
        unset = None if spec.unset is None else tr(spec.unset)
        if spec.entry in (Entry.CHOICE, Entry.YARN):
            return ChoiceEntry(self._choices(piece))
        if spec.entry is Entry.FLAG:
            return FlagEntry()
        entries: dict[Entry, tuple[Read, Say, float]] = {
            Entry.WHOLE: (self._read_whole, str, 1),
            Entry.NUMBER: (self._read_number, self._say_number, 1),
            Entry.ROWS_OR_LENGTH: (self._read_rows_or_length, self._say_rows_or_length, 1),
            Entry.LENGTH_CM: (self._read_cm, self._say_cm, 1),
            Entry.NEEDLES: (self._read_needles, say_needles, 0),
            Entry.GROUPS: (_read_groups, _say_groups, 0),
            Entry.TEXT: (str.strip, str, 0),
        }
        read, say, step = entries[spec.entry]
        return TextEntry(read, say, unset, step)

    def _choices(self, piece: Piece) -> list[tuple[object, str]]:
        spec = self.spec
        first: list[tuple[object, str]] = [] if spec.unset is None else [(None, tr(spec.unset))]
        if spec.entry is Entry.YARN:
            return first + [(yarn.id, yarn_called(yarn)) for yarn in piece.yarns if yarn.role == spec.role]
        return first + [(value, tr(words)) for value, words in spec.choices]

    def _read_whole(self, text: str) -> int:
        """A number of stitches, or the width that makes them."""
        if self._widths is None or _WHOLE_NUMBER.fullmatch(text):
            return self._measures.read_whole(text)
        if not _BEGINS_WITH_NUMBER.match(text):
            raise UnitError(self.tr("write a number of stitches, or a width such as 14 cm"))
        return self._widths.figure(self._measures.read_length_mm(text)).count

    def _read_needles(self, text: str) -> str:
        """Needles by their names; or how many there are in the middle of the bed, or how wide they are."""
        if _BEGINS_WITH_NAME.match(text):
            return read_needles(text)
        if self.spec.unset is not None:
            raise UnitError(self.tr("write needles by their names, such as L10-R4"))
        if not _BEGINS_WITH_NUMBER.match(text):
            raise UnitError(
                self.tr("write needles by their names, such as L10-R4, or how many, or a width such as 30 cm")
            )
        if _WHOLE_NUMBER.fullmatch(text):
            return needles_in_middle(int(text), self._bed_needles)
        if self._widths is None:
            raise UnitError(
                self.tr("a width becomes needles by the gauge, and there is none for this yarn here")
            )
        figure = self._widths.figure(self._measures.read_length_mm(text))
        return needles_in_middle(figure.count, self._bed_needles)

    def _read_number(self, text: str) -> float:
        number = self._measures.read_number(text)
        return int(number) if number.is_integer() else number

    def _say_number(self, value: object) -> str:
        return self._measures.number(float(str(value)))

    def _read_rows_or_length(self, text: str) -> int | float:
        """Rows are an int, a length is a float in mm."""
        if _WHOLE_NUMBER.fullmatch(text):
            return int(text)
        if not _BEGINS_WITH_NUMBER.match(text):
            raise UnitError(self.tr("write a number of rows, or a length such as 14 cm"))
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
