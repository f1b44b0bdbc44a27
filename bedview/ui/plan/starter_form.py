"""What a starter is asked: its size, its measures, the swatch; what is left out stands there faintly."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.language import gettext as _
from bedview.plan.starters import Parameter, Starter, StarterError
from bedview.plan.starters.names import name_of
from bedview.plan.starters.parameter import CM, COUNT, EVEN_COUNT, Given
from bedview.plan.units import LengthUnit
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme

_FIRST: Final = ("size", "stitches", "rows", "tension")
"""Asked at once; with these and a size, everything else follows."""
_MEASURES_FIRST: Final = 2
"""Of the measures so many are asked at once."""


class StarterForm(QWidget):
    """The form.

    Args:
        starter: what is asked for.
        given: values that were given before.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    changed = Signal()
    """A value was given, or taken back."""

    def __init__(
        self,
        starter: Starter,
        given: Mapping[str, Given],
        theme: Theme,
        measures: Measures,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.starter, self._measures = starter, measures
        self.given: dict[str, Given] = dict(given)
        measured = starter.sizes[0].measures_mm if starter.sizes else {}
        self._leading = next((each.key for each in starter.asked if each.key in measured), "")
        """The measure that leads to a size."""
        self._size_chosen = "size" in self.given
        self.first, self.rest = Form(theme), Form(theme)
        self.more = Button(self.tr("More measures, yarn and bed"), theme, ButtonKind.LINK)
        asked = [each.key for each in starter.asked[:_MEASURES_FIRST]]
        for parameter in starter.parameters:
            self._add(self.first if parameter.key in (*_FIRST, *asked) else self.rest, parameter)
        self.rest.hide()
        self.more.clicked.connect(self._show_rest)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(6))
        column.addWidget(self.first)
        column.addWidget(self.more, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.rest)
        self._show_what_follows()

    def say_wrong(self, error: StarterError) -> bool:
        """Say what is wrong beside its entry. Returns whether it has one."""
        for form in (self.first, self.rest):
            if error.key in form.lines:
                if form is self.rest:
                    self._show_rest()
                form.lines[error.key].say_wrong(plain_words(error))
                return True
        return False

    def _add(self, form: Form, parameter: Parameter) -> None:
        key = parameter.key
        entry: TextEntry | ChoiceEntry
        if parameter.choices:
            entry = ChoiceEntry([(choice, choice) for choice in parameter.choices])
            entry.show_value(str(self.given.get(key, parameter.default)))
        else:
            whole = parameter.unit in (COUNT, EVEN_COUNT)
            read = partial(read_value, parameter, self._measures)
            entry = TextEntry(read, partial(self._say, parameter), "", 2 if whole else 1)
            entry.show_value(self.given.get(key))
            entry.refused.connect(self.changed)
        form.add(key, name_of(key), entry, partial(self._put, key))
        entry.setToolTip(_(parameter.says))

    def _say(self, parameter: Parameter, value: object) -> str:
        if not isinstance(value, int | float):
            return str(value)
        if parameter.unit == CM:
            return f"{self._measures.bare_length(value * 10)} {self._measures.unit}"
        return self._measures.number(value)

    def _say_known(self, parameter: Parameter, value: float) -> str:
        """What is taken if nothing is given: no finer than people measure."""
        return self._measures.length(value * 10) if parameter.unit == CM else self._say(parameter, value)

    @property
    def refuses(self) -> bool:
        """Whether something is written that was not taken."""
        return any(line.refusal for form in (self.first, self.rest) for line in form.lines.values())

    def first_entry(self) -> QWidget:
        """Where one begins to write."""
        return next(line.entry for line in self.first.lines.values() if isinstance(line.entry, TextEntry))

    def _put(self, key: str, value: object) -> None:
        if value is None:
            self.given.pop(key, None)
        else:
            self.given[key] = value if isinstance(value, str) else float(str(value))
        self._size_chosen = self._size_chosen or key == "size"
        if key == self._leading and not self._size_chosen:
            self._follow(value)
        self._show_what_follows()
        self.changed.emit()

    def _follow(self, value: object) -> None:
        """Take what was not measured from the size this measure is nearest to; of two the larger one."""
        if value is None:
            self.given.pop("size", None)
        else:
            mm = float(str(value)) * 10
            sizes = [(each.measures_mm[self._leading], each.name) for each in self.starter.sizes]
            self.given["size"] = min(sizes, key=lambda size: (round(abs(size[0] - mm), 1), -size[0]))[1]
        parameter = next(each for each in self.starter.parameters if each.key == "size")
        self.first.lines["size"].entry.show_value(self.given.get("size", parameter.default))

    def _show_what_follows(self) -> None:
        """What the starter takes for all that was not given."""
        try:
            values = self.starter.resolve(self.given)
        except StarterError as error:
            self.say_wrong(error)
            return
        for form in (self.first, self.rest):
            for key, line in form.lines.items():
                line.say_wrong("")
                parameter = next(each for each in self.starter.parameters if each.key == key)
                if isinstance(line.entry, TextEntry):
                    known = self._say_known(parameter, values.number(key)) if values.has(key) else "–"
                    line.entry.setPlaceholderText(known)

    def _show_rest(self) -> None:
        self.rest.show()
        self.more.hide()


def read_value(parameter: Parameter, measures: Measures, text: str) -> object:
    """A value in the parameter's unit; lengths without a unit are in the user's.

    Raises:
        ValueError: with the reason, as people call the parameter.
    """
    sign = text.strip()[:1] if text.strip()[:1] in "+-−" else ""
    try:
        if parameter.unit == CM and measures.unit is LengthUnit.IN:
            cm = measures.read_length_mm(text.strip().removeprefix(sign)) / 10
            return parameter.read(-cm if sign in ("-", "−") else cm)
        return parameter.read(text)
    except StarterError as error:
        raise ValueError(plain_words(error)) from None


def plain_words(error: StarterError) -> str:
    """What is wrong, with the name that stands beside the entry in place of the one commands know."""
    return str(error).replace(error.key, name_of(error.key), 1) if error.key else str(error)
