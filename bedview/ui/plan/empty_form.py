"""What an empty piece may be given to begin with: the swatch, so that lengths become rows at once."""

from __future__ import annotations

from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.starters import Parameter
from bedview.plan.starters.names import name_of
from bedview.plan.starters.starter import YARN_AND_BED
from bedview.session.editing import with_gauge
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.starter_form import read_value
from bedview.ui.theme import Theme

_OVER_MM: Final = 100
_GAUGE: Final = tuple(each for each in YARN_AND_BED if each.key in ("stitches", "rows", "tension"))


class EmptyForm(QWidget):
    """The form; all of it may be left out.

    Args:
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    changed = Signal()
    """Something else is written."""

    def __init__(self, theme: Theme, measures: Measures, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.given: dict[str, float] = {}
        self.first = Form(theme)
        self.missing = Label(tone="quiet", wraps=True)
        self.missing.hide()
        for parameter in _GAUGE:
            self._add(parameter, measures)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(6))
        words = self.tr("The swatch, if there is one already. Without it lengths are given in rows.")
        for widget in (Label(words, tone="quiet", wraps=True), self.first, self.missing):
            column.addWidget(widget)

    def _add(self, parameter: Parameter, measures: Measures) -> None:
        def say(value: object) -> str:
            return measures.number(float(str(value)))

        key = parameter.key
        entry = TextEntry(partial(read_value, parameter, measures), say, "–", 1)
        entry.refused.connect(self.changed)
        entry.setToolTip(_(parameter.says))
        self.first.add(key, name_of(key), entry, partial(self._put, key))

    @property
    def refuses(self) -> bool:
        """Whether something is written that was not taken."""
        return any(line.refusal for line in self.first.lines.values())

    def first_entry(self) -> QWidget:
        """Where one begins to write."""
        return next(iter(self.first.lines.values())).entry

    def _put(self, key: str, value: object) -> None:
        self.given.pop(key, None)
        if value is not None:
            self.given[key] = float(str(value))
        self.changed.emit()

    def put_into(self, piece: Piece) -> Piece | None:
        """The piece with the swatch; None, and a sentence, while a part of it is missing."""
        left_out = [each.key for each in _GAUGE if each.key not in self.given]
        self.missing.setVisible(0 < len(left_out) < len(_GAUGE))
        if len(left_out) == len(_GAUGE):
            return piece
        if left_out:
            words = self.tr("Still missing: {names}. Or leave all of them empty.")
            self.missing.setText(words.format(names=", ".join(name_of(key) for key in left_out)))
            return None
        gauge = {key: int(n) if n.is_integer() else n for key, n in self.given.items()}
        return with_gauge(piece, {**gauge, "yarn": piece.yarns[0].id, "over_mm": _OVER_MM})
