"""A swatch to knit: how many stitches and rows between its markers, and what comes of that."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.plan.piece import Piece, Yarn
from bedview.plan.procedure import compile_piece
from bedview.plan.swatch_plan import SwatchPlan, SwatchTooWide, swatch_piece
from bedview.plan.yarn import yarn_needs
from bedview.session.machine_words import dial_doubt
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme

_MOST = {"stitches": 388, "rows": 9_000}
USUAL_DIAL = 6


class SwatchToKnit(QWidget):
    """The form, and the piece that follows from it.

    Args:
        opened: the piece whose yarn and bed it is knitted with.
        yarn: the yarn.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.

    Attributes:
        piece: the swatch as a piece; None while it has no place on the bed.
    """

    changed = Signal()
    """Another swatch is wanted, or none can be knitted."""

    def __init__(
        self,
        opened: OpenPiece,
        yarn: Yarn,
        theme: Theme,
        measures: Measures,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._opened, self._yarn, self._measures = opened, yarn, measures
        self.piece: Piece | None = None
        gauge = next((each for each in opened.piece.gauges if each.yarn == yarn.id), None)
        plan = SwatchPlan()
        self._values: dict[str, float] = {
            "tension": gauge.tension if gauge else USUAL_DIAL,
            "stitches": plan.marked_stitches,
            "rows": plan.marked_rows,
        }
        self.form = Form(theme)
        self.says = Label(tone="quiet", wraps=True)
        self.doubt = Label(tone="warning", wraps=True)
        say = measures.number
        for key, name in (
            ("tension", self.tr("Tension")),
            ("stitches", self.tr("Stitches between the markers")),
            ("rows", self.tr("Rows between the markers")),
        ):
            read = measures.read_number if key == "tension" else measures.read_whole
            entry = TextEntry(read, lambda value: say(float(str(value))), None, 1)
            entry.show_value(self._values[key])
            self.form.add(key, name, entry, partial(self._put, key))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(8))
        intro = self.tr(
            "Plain rows with a marker on both sides, hung twice: edges curl, so you count between "
            "the markers. Measure it off the machine, wash it, let it rest, measure again, and weigh it."
        )
        for widget in (Label(intro, tone="quiet", wraps=True), self.form, self.says, self.doubt):
            column.addWidget(widget)
        self._make()

    def first_entry(self) -> QWidget:
        """Where the keyboard goes first."""
        return self.form.lines["tension"].entry

    def _put(self, key: str, value: object) -> None:
        self._values[key] = float(str(value))
        self._make()
        self.changed.emit()

    def _make(self) -> None:
        dial = self._values["tension"]
        stitches, rows = (int(self._values[key]) for key in ("stitches", "rows"))
        self.piece = None
        if not all(1 <= int(self._values[key]) <= most for key, most in _MOST.items()) or not 0 <= dial <= 20:
            self._say("", self.tr("No swatch can be knitted of these figures."))
            return
        plan = SwatchPlan(stitches, rows)
        tension = int(dial) if float(dial).is_integer() else dial
        try:
            self.piece = swatch_piece(plan, self._opened.piece.bed, self._yarn, tension)
        except SwatchTooWide as error:
            self._say("", f"{str(error)[:1].upper()}{str(error)[1:]}.")
            return
        needs = yarn_needs(self.piece, compile_piece(self.piece))
        words = self.tr("{needles} needles, {rows} rows; about {metres} m of yarn.").format(
            needles=plan.needles,
            rows=plan.rows,
            metres=self._measures.number(round(needs[0].advised_metres)),
        )
        doubt = dial_doubt(self._opened.machine, dial)
        self._say(words, f"{doubt}." if doubt else "")

    def _say(self, words: str, doubt: str) -> None:
        self.says.setText(words)
        self.says.setVisible(bool(words))
        self.doubt.setText(doubt)
        self.doubt.setVisible(bool(doubt))
