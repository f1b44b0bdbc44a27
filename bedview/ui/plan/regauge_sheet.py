"""Regauge: the piece with another yarn or on another bed, seen part by part before it is done."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import groupby
from typing import Any

from pydantic import ValidationError
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from bedview.plan.gauge_carried import CarryError, NewGround
from bedview.plan.piece import BedPlan, Gauge
from bedview.plan.problems import first_problem
from bedview.plan.swatch import pooled_gauge
from bedview.session.machine_words import dial_doubt
from bedview.session.open_piece import OpenPiece
from bedview.session.regauging import PartBefore, PartChange, Regauged, regauged
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.sheet import Sheet
from bedview.ui.plan.swatch_entry import gauge_words
from bedview.ui.theme import Theme

Offer = tuple[Gauge, dict[str, Any]]
"""A gauge under the yarn's id in the piece, and the fields of the yarn that go with it."""


class RegaugeSheet(Sheet):
    """The sheet.

    Args:
        opened: the piece.
        place: of the yarn in the piece.
        shelf: swatches to choose among.
        theme: how it looks.
        measures: how numbers are written.
        parent: the page that it lies on.
    """

    def __init__(
        self,
        opened: OpenPiece,
        place: int,
        shelf: SwatchShelf,
        theme: Theme,
        measures: Measures,
        parent: QWidget,
    ) -> None:
        super().__init__(self.tr("The same piece in another yarn or on another bed"), theme, parent, 680)
        self._opened, self._measures = opened, measures
        self._yarn = opened.piece.yarns[place]
        self._old = next(gauge for gauge in opened.piece.gauges if gauge.yarn == self._yarn.id)
        self._offers = list(self._offered(shelf))
        bed = opened.piece.bed
        self._bed: dict[str, Any] = bed.model_dump(exclude_unset=True)
        self._chosen = 0
        self.found: Regauged | None = None
        self.form = Form(theme)
        self._make_form()
        self._table = QVBoxLayout()
        self.says = Label(tone="quiet", wraps=True)
        self.left = Label(tone="warning", wraps=True)
        self.body.addWidget(self.form)
        self.body.addWidget(self.says)
        self.body.addLayout(self._table)
        self.body.addWidget(self.left)
        self.body.addStretch(1)
        self.apply = self.primary(self.tr("Make it so"))
        self.apply.clicked.connect(self._apply)
        self._reckon()
        self.form.lines["swatch"].entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _offered(self, shelf: SwatchShelf) -> Iterator[Offer]:
        """The gauge at hand, then every other that is known."""
        yield self._old, {}
        for gauge in self._opened.piece.gauges:
            if gauge.yarn == self._yarn.id and gauge != self._old:
                yield gauge, {}
        swatches = [swatch for swatch in shelf.of_others("") if swatch.settled]
        for _key, each in groupby(swatches, key=lambda swatch: (swatch.yarn.casefold(), swatch.tension)):
            group = list(each)
            tex = next((swatch.tex for swatch in reversed(group) if swatch.tex is not None), None)
            fields = {"name": group[0].yarn} | ({} if tex is None else {"tex": tex})
            yield pooled_gauge(group).model_copy(update={"yarn": self._yarn.id}), fields

    def _make_form(self) -> None:
        measures = self._measures
        entry = ChoiceEntry([(at, self._words(offer)) for at, offer in enumerate(self._offers)])
        entry.show_value(0)
        self.form.add("swatch", self.tr("Gauge"), entry, self._choose)
        say = measures.number
        for key, name, read, step in (
            ("needles", self.tr("Needles of the bed"), measures.read_whole, 2),
            ("pitch_mm", self.tr("Pitch in mm"), measures.read_number, 0.5),
        ):
            field = TextEntry(read, lambda value: say(float(str(value))), None, step)
            field.show_value(self._bed[key])
            self.form.add(key, name, field, partial(self._put_bed, key))

    def _words(self, offer: Offer) -> str:
        gauge, fields = offer
        yarn = fields.get("name") or self._yarn.name or self._yarn.id
        dial = self._measures.number(gauge.tension)
        return self.tr("{yarn}, tension {dial}").format(yarn=yarn, dial=dial)

    # -- choosing -----------------------------------------------------------------------------------------

    def _choose(self, value: object) -> None:
        self._chosen = int(str(value))
        self._reckon()

    def _put_bed(self, key: str, value: object) -> None:
        number = float(str(value))
        self._bed[key] = int(number) if number.is_integer() else number
        self._reckon()

    def _reckon(self) -> None:
        gauge, fields = self._offers[self._chosen]
        self.found, trouble = None, ""
        try:
            bed = BedPlan.model_validate(self._bed)
            if (gauge, bed) != (self._old, self._opened.piece.bed):
                self.found = regauged(self._opened.procedure, self._old, NewGround(gauge, bed, fields))
        except ValidationError as error:
            trouble = first_problem(error, self._bed, BedPlan.model_json_schema).what
        except CarryError as error:
            trouble = str(error)
        self.say_wrong(trouble)
        self.apply.setEnabled(self.found is not None)
        self._show(gauge)

    # -- showing ------------------------------------------------------------------------------------------

    def _show(self, gauge: Gauge) -> None:
        clear(self._table)
        found = self.found
        if found is None:
            only = len(self._offers) == 1
            hint = self.tr(
                "Choose another gauge or another bed. Gauges come from your swatches: write one down first."
            )
            self.says.setText(hint if only else self.tr("Choose another gauge or another bed."))
            self.left.hide()
            return
        how = (
            self.tr("Its measures make it anew, as the starter does.")
            if found.made_again
            else self.tr("Every count keeps its measure; even numbers of rows stay even, and odd ones odd.")
        )
        self.says.setText(f"{gauge_words(gauge, self._measures)} {how}")
        self._table.addWidget(self._table_of(found))
        said = [*found.left, dial_doubt(self._opened.machine, gauge.tension)]
        if found.trouble:
            said.insert(0, self.tr("It can't be knitted to its end: {why}").format(why=found.trouble))
        if found.new_findings:
            said.append(
                counted(
                    self.tr("It has a finding that the piece has not now; look at it when it is done"),
                    self.tr(
                        "It has {count} findings that the piece has not now; look at them when it is done"
                    ),
                    found.new_findings,
                )
            )
        text = "\n".join(f"{each.rstrip('.')}." for each in said if each)
        self.left.setText(text)
        self.left.setVisible(bool(text))

    def _table_of(self, found: Regauged) -> QWidget:
        table = QWidget()
        grid = QGridLayout(table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(self._theme.px(14))
        grid.setVerticalSpacing(self._theme.px(4))
        for column, words in enumerate((self.tr("Part"), self.tr("Now"), self.tr("Then"))):
            grid.addWidget(Label(words, "small", "quiet"), 0, column)
            grid.setColumnStretch(column, 2 if column else 1)
        for row, part in enumerate(found.parts, 1):
            for column, words in enumerate(self._cells(part)):
                grid.addWidget(Label(words, "small", bold=column == 2, wraps=True), row, column)
        return table

    def _cells(self, part: PartChange) -> tuple[str, str, str]:
        after = self.tr("not reached") if part.after is None else self._figures(part.after)
        return part.title, self._figures(part.before), after

    def _figures(self, figures: PartBefore) -> str:
        size = self._measures.size(figures.width_mm, figures.length_mm)
        return self.tr("{needles} needles, {rows} rows: {size}").format(
            needles=figures.needles, rows=figures.rows, size=size
        )

    def _apply(self) -> None:
        found, opened = self.found, self._opened
        if found is None:
            return
        opened.end_gesture()
        what = self.tr("Other yarn or bed")
        if found.trouble:
            opened.revise(found.piece, what)
        else:
            # Edges were followed already; a revision would move them a second time.
            opened.edit(found.piece, what)
        self.accept()
