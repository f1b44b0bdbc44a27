"""What was counted, measured and weighed on a swatch; the gauge that follows from it."""

from __future__ import annotations

from functools import partial
from typing import Any, Final

from pydantic import ValidationError
from PySide6.QtCore import QCoreApplication, Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.gauge import doubtful_gauge
from bedview.plan.piece import Gauge
from bedview.plan.problems import first_problem
from bedview.plan.swatch import KnittedSwatch, gauge_of, weigh
from bedview.plan.units import parse_mass_g
from bedview.session.machine import Machine
from bedview.session.machine_words import dial_doubt
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme

COUNTED: Final = "counted"
WHOLE: Final = "whole"
_OVER_MM: Final = 100.0
_SIZES: Final = ("width_mm", "height_mm")


class SwatchEntry(QWidget):
    """The form. Counts and sizes first; all else when it is asked for.

    Args:
        theme: how it looks.
        measures: how numbers are written.
        machine: whose dial it is.
        parent: as ever.
    """

    changed = Signal()
    """Something else is written."""

    def __init__(
        self, theme: Theme, measures: Measures, machine: Machine, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._measures, self._machine = measures, machine
        self._values: dict[str, Any] = {}
        self._kept: dict[str, Any] = {}
        self.first, self.rest = Form(theme), Form(theme)
        self.comes = Label(wraps=True)
        self.doubts = Label(tone="warning", wraps=True)
        self.more = Button(self.tr("Before washing, weight and more"), theme, ButtonKind.LINK)
        self.more.clicked.connect(self.show_rest)
        self._make_first()
        self._make_rest()
        self.rest.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(8))
        for widget in (self.first, self.more, self.rest, self.comes, self.doubts):
            column.addWidget(widget)
        column.setAlignment(self.more, Qt.AlignmentFlag.AlignLeft)

    def _make_first(self) -> None:
        form, number = self.first, self._number()
        form.add("yarn", self.tr("Yarn"), TextEntry(str.strip, str), partial(self._put, "yarn"))
        form.add("tension", self.tr("Tension"), number, partial(self._put, "tension"))
        ways = (
            (COUNTED, self.tr("over a width and a height")),
            (WHOLE, self.tr("on the whole swatch")),
        )
        form.add("way", self.tr("Counted"), ChoiceEntry(ways), self._put_way)
        form.add("stitches", self.tr("Stitches"), self._whole(), partial(self._put, "stitches"))
        form.add("rows", self.tr("Rows"), self._whole(), partial(self._put, "rows"))
        names = (self.tr("Width, washed and rested"), self.tr("Height, washed and rested"))
        for key, name in zip(_SIZES, names, strict=True):
            form.add(f"after_{key}", name, self._length(), partial(self._put, f"after_{key}"))

    def _make_rest(self) -> None:
        form = self.rest
        names = (self.tr("Width off the machine"), self.tr("Height off the machine"))
        for key, name in zip(_SIZES, names, strict=True):
            form.add(f"before_{key}", name, self._length(), partial(self._put, f"before_{key}"))
        number = partial(self._number, "–")
        form.add("hours", self.tr("Rested for hours"), number(), partial(self._put, "hours"))
        grams = TextEntry(parse_mass_g, lambda value: f"{self._measures.number(float(str(value)))} g", "–")
        form.add("grams", self.tr("The whole swatch weighs"), grams, partial(self._put, "grams"))
        form.add("needles", self.tr("Needles of the whole"), self._whole("–"), partial(self._put, "needles"))
        form.add("all_rows", self.tr("Rows of the whole"), self._whole("–"), partial(self._put, "all_rows"))
        edges = tuple((count, str(count)) for count in (0, 1, 2))
        form.add(
            "closed_edges",
            self.tr("Cast-on and bound edges"),
            ChoiceEntry(edges),
            partial(self._put, "closed_edges"),
        )
        form.add("tex", self.tr("Tex (g of 1,000 m)"), number(), partial(self._put, "tex"))
        form.add("note", self.tr("Note"), TextEntry(str.strip, str, ""), partial(self._put, "note"))

    # -- what is written ----------------------------------------------------------------------------------

    def begin(self, values: dict[str, Any]) -> None:
        """Begin a new swatch with what is known already."""
        usual = {f"after_{key}": _OVER_MM for key in _SIZES}
        self._kept = {}
        self._show({"way": COUNTED, "closed_edges": 2, **usual, **values})

    def show_swatch(self, swatch: KnittedSwatch) -> None:
        """Show a swatch to be changed, all of it."""
        whole = swatch.marked_stitches == swatch.needles and swatch.marked_rows == swatch.rows
        self._kept = swatch.model_dump(exclude_unset=True, include={"title", "pitch_mm"})
        values: dict[str, Any] = {
            "yarn": swatch.yarn,
            "tension": swatch.tension,
            "way": WHOLE if whole else COUNTED,
            "stitches": swatch.marked_stitches,
            "rows": swatch.marked_rows,
            "needles": None if whole else swatch.needles,
            "all_rows": None if whole else swatch.rows,
            "grams": swatch.grams,
            "closed_edges": swatch.closed_edges,
            "tex": swatch.tex,
            "note": swatch.note or None,
        }
        for when, measured in (("before", swatch.before), ("after", swatch.after)):
            for key in _SIZES:
                values[f"{when}_{key}"] = None if measured is None else getattr(measured, key)
        values["hours"] = swatch.after.rested_hours if swatch.after else None
        self._show(values)
        self.show_rest()

    def swatch(self) -> KnittedSwatch | None:
        """The swatch as it is written; None while something is missing or cannot be."""
        try:
            return self._read()
        except (ValidationError, KeyError):
            return None

    def missing(self) -> str:
        """Why it is none yet, in a sentence."""
        try:
            self._read()
        except KeyError:
            return self.tr("Yarn, tension, stitches and rows are needed, and a width and a height")
        except ValidationError as error:
            found = first_problem(error, self._document(), KnittedSwatch.model_json_schema)
            return found.what
        return ""

    def _read(self) -> KnittedSwatch:
        document = self._document()
        for key in ("yarn", "tension", "marked_stitches", "marked_rows"):
            if not document.get(key) and document.get(key) != 0:
                raise KeyError(key)
        if "after" not in document and "before" not in document:
            raise KeyError("after")
        return KnittedSwatch.model_validate(document)

    def _document(self) -> dict[str, Any]:
        values = {key: value for key, value in self._values.items() if value is not None}
        stitches, rows = values.get("stitches"), values.get("rows")
        whole = values.get("way") == WHOLE
        document: dict[str, Any] = {
            **self._kept,
            "marked_stitches": stitches,
            "marked_rows": rows,
            "needles": stitches if whole else values.get("needles", stitches),
            "rows": rows if whole else values.get("all_rows", rows),
        }
        for when in ("before", "after"):
            size = {key: values[f"{when}_{key}"] for key in _SIZES if f"{when}_{key}" in values}
            if len(size) == len(_SIZES):
                document[when] = size
        if "hours" in values and "after" in document:
            document["after"]["rested_hours"] = values["hours"]
        plain = ("yarn", "tension", "grams", "closed_edges", "tex", "note")
        return document | {key: values[key] for key in plain if key in values}

    # -- showing ------------------------------------------------------------------------------------------

    def show_rest(self) -> None:
        """Show all there is to write."""
        self.rest.show()
        self.more.hide()
        self._show_lines()

    def _show(self, values: dict[str, Any]) -> None:
        self._values = dict(values)
        for form in (self.first, self.rest):
            for key, line in form.lines.items():
                line.entry.show_value(self._values.get(key))
        self._show_lines()
        self._reckon()

    def _show_lines(self) -> None:
        whole = self._values.get("way") == WHOLE
        self.first.lines["stitches"].name.setText(self.tr("Needles") if whole else self.tr("Stitches"))
        for key in ("needles", "all_rows"):
            self.rest.show_line(key, shown=not whole)

    def _put(self, key: str, value: object) -> None:
        self._values[key] = _tidy(value)
        self._reckon()

    def _put_way(self, value: object) -> None:
        self._put("way", value)
        self._show_lines()

    def _reckon(self) -> None:
        dial = self._values.get("tension")
        doubts = [dial_doubt(self._machine, dial)] if dial is not None else []
        found = self.swatch()
        gauge = gauge_of(found) if found is not None else None
        if found is None or gauge is None:
            self.comes.setText("")
        else:
            doubt = doubtful_gauge(gauge)
            doubts.append(doubt.says() if doubt else "")
            weighing = weigh(found, found.tex) if found.tex is not None else None
            caution = weighing.caution() if weighing else None
            doubts.append(caution.says() if caution else "")
            self.comes.setText(" ".join([gauge_words(gauge, self._measures), change_words(found)]).strip())
        said = " ".join(f"{each.rstrip('.')}." for each in doubts if each)
        self.doubts.setText(said)
        self.doubts.setVisible(bool(said))
        self.comes.setVisible(bool(self.comes.text()))
        self.changed.emit()

    # -- entries ------------------------------------------------------------------------------------------

    def _number(self, unset: str | None = None) -> TextEntry:
        say = self._measures.number
        return TextEntry(self._measures.read_number, lambda value: say(float(str(value))), unset, 1)

    def _whole(self, unset: str | None = None) -> TextEntry:
        return TextEntry(self._measures.read_whole, str, unset, 1)

    def _length(self) -> TextEntry:
        measures = self._measures
        return TextEntry(measures.read_length_mm, lambda value: measures.length(float(str(value))), "–", 10)


def _tidy(value: object) -> object:
    """A whole number without its point, as files have it."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def gauge_words(gauge: Gauge, measures: Measures) -> str:
    """A gauge in one sentence, to 10 cm or to 4 inches as people write it."""
    return measures.gauge_words(gauge.stitches, gauge.rows, gauge.over_mm)


def change_words(swatch: KnittedSwatch) -> str:
    """What washing did to a swatch; empty if it was measured only once."""
    change = swatch.change()
    if change is None:
        return ""
    said = QCoreApplication.translate("SwatchEntry", "Washing changed it by {across} % across and {up} % up.")
    across, up = (f"{100 * part:+.0f}".replace("-", "−") for part in change)
    return said.format(across=across, up=up)
