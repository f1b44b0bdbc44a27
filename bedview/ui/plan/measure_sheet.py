"""Measuring again while one knits: what is counted now, and what becomes of the rows ahead."""

from __future__ import annotations

from functools import partial

from pydantic import ValidationError
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from bedview.plan.piece import Gauge
from bedview.plan.replan import ReplanError
from bedview.plan.swatch import OVER_MM, gauge_of_counts
from bedview.session.knitting_run import KnittingRun
from bedview.session.measuring_again import MeasuredAgain, Underway, measured_again, underway_in
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.sheet import Sheet
from bedview.ui.plan.yarn_names import yarn_called
from bedview.ui.theme import Theme

_LEAST_MM = 1.0


class MeasureSheet(Sheet):
    """The sheet. Rows and their height are enough; stitches stay as they were if none are counted.

    Args:
        run: where the knitter stands.
        theme: how it looks.
        measures: how numbers are written.
        parent: the page that it lies on.
    """

    def __init__(self, run: KnittingRun, theme: Theme, measures: Measures, parent: QWidget) -> None:
        super().__init__(self.tr("Measure again"), theme, parent)
        self._run, self._measures = run, measures
        self._values: dict[str, float | None] = {"width": OVER_MM, "height": OVER_MM}
        self.found: MeasuredAgain | None = None
        self.where = Label(wraps=True)
        self.form = Form(theme)
        self.comes = Label(wraps=True)
        self.cautions = Label(tone="warning", wraps=True)
        self._make_form()
        hint = self.tr(
            "Take the weights off for a moment and measure flat, below the needles. Rows that are knitted "
            "stay; only those ahead are planned anew, and undo brings the old plan back."
        )
        for widget in (
            self.where,
            self.form,
            self.comes,
            self.cautions,
            Label(hint, tone="quiet", wraps=True),
        ):
            self.body.addWidget(widget)
        self.body.addStretch(1)
        self.apply = self.primary(self.tr("Plan the rows ahead anew"))
        self.apply.clicked.connect(self._apply)
        self._now = self._underway()
        self._reckon()
        self.form.lines["rows"].entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _make_form(self) -> None:
        measures = self._measures
        say = measures.number
        for key, name, unset in (
            ("rows", self.tr("Rows"), None),
            ("height", self.tr("over a height of"), None),
            ("stitches", self.tr("Stitches"), self.tr("as before")),
            ("width", self.tr("over a width of"), None),
        ):
            if key in ("rows", "stitches"):
                entry = TextEntry(measures.read_number, lambda value: say(float(str(value))), unset, 1)
            else:
                entry = TextEntry(
                    measures.read_length_mm, lambda value: measures.length(float(str(value))), unset, 10
                )
            entry.show_value(self._values.get(key))
            self.form.add(key, name, entry, partial(self._put, key))

    def _underway(self) -> Underway | None:
        try:
            now = underway_in(self._run)
        except ReplanError as error:
            self.say_wrong(str(error))
            self.form.setEnabled(False)
            return None
        yarn = next(each for each in self._run.opened.piece.yarns if each.id == now.yarn)
        words = self.tr("In work: {yarn} at tension {dial}; {rows}.").format(
            yarn=yarn_called(yarn),
            dial=self._measures.number(now.tension),
            rows=counted(self.tr("{count} row is knitted"), self.tr("{count} rows are knitted"), now.rows),
        )
        if now.gauge is not None:
            gauge = self._measures.gauge_words(now.gauge.stitches, now.gauge.rows, now.gauge.over_mm)
            words = f"{words} {self.tr('Planned with {gauge}').format(gauge=gauge)}"
        self.where.setText(words)
        return now

    def _put(self, key: str, value: object) -> None:
        self._values[key] = None if value is None else float(str(value))
        self._reckon()

    def _gauge(self) -> Gauge | None:
        """The gauge as it is written; None while something is missing or cannot be."""
        now, values = self._now, self._values
        rows, height = values.get("rows"), values.get("height")
        if now is None or not rows or height is None or height < _LEAST_MM:
            return None
        stitches, width = values.get("stitches"), values.get("width")
        if not stitches or width is None or width < _LEAST_MM:
            if now.gauge is None:
                return None
            stitches, width = now.gauge.stitches, now.gauge.over_mm
        try:
            return gauge_of_counts(now.yarn, now.tension, (stitches, rows), (width, height))
        except ValidationError:
            return None

    def _reckon(self) -> None:
        self.found = None
        gauge = self._gauge()
        if self._now is not None:
            trouble = ""
            if gauge is not None:
                try:
                    self.found = measured_again(self._run.opened, self._run, gauge)
                except ReplanError as error:
                    trouble = str(error)
            self.say_wrong(trouble)
        self.apply.setEnabled(self.found is not None)
        self.comes.setText(self._says(gauge))
        said = "\n".join(f"{each.rstrip('.')}." for each in self.found.cautions) if self.found else ""
        self.cautions.setText(said)
        self.cautions.setVisible(bool(said))
        self.comes.setVisible(bool(self.comes.text()))

    def _says(self, gauge: Gauge | None) -> str:
        found = self.found
        if found is None or gauge is None:
            return ""
        parts = [self._measures.gauge_words(gauge.stitches, gauge.rows, gauge.over_mm)]
        ahead = found.ahead
        if ahead is not None:
            sentence = self.tr("{part}: {done} rows measure {now}; {more} more make {then}.")
            parts.append(
                sentence.format(
                    part=found.part,
                    done=ahead.done,
                    now=self._measures.length(ahead.done_mm),
                    more=ahead.ahead,
                    then=self._measures.length(ahead.gives_mm),
                )
            )
        before, after = found.rows
        if before == after:
            parts.append(self.tr("The piece stays at {rows} rows.").format(rows=after))
        else:
            parts.append(
                self.tr("The piece has {after} rows instead of {before}.").format(after=after, before=before)
            )
        return " ".join(parts)

    def _apply(self) -> None:
        if self.found is not None:
            opened = self._run.opened
            opened.end_gesture()
            opened.revise(self.found.piece, self.tr("Measure again"))
            self.accept()
