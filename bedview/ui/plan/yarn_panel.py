"""The yarns of the piece, what was counted on their swatches, and what of each the piece takes."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from bedview.plan.gauge import doubtful_gauge
from bedview.plan.piece import Gauge, Piece, Yarn
from bedview.plan.swatch import gauge_of_counts
from bedview.plan.yarn import YarnNeed, yarn_needs
from bedview.session import editing
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme

_OVER_MM = 100.0


class YarnCard(Card):
    """One yarn.

    Args:
        place: its place among the yarns.
        editor: the piece's.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    def __init__(
        self, place: int, editor: PartsEditor, theme: Theme, measures: Measures, parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, parent=parent)
        self._place, self._editor, self._theme, self._measures = place, editor, theme, measures
        self._gauges: tuple[Gauge, ...] | None = None
        self.form = Form(theme)
        roles = (
            ("fabric", self.tr("stays in the piece")),
            ("waste", self.tr("waste, taken out")),
            ("ravel", self.tr("ravel cord")),
        )
        self.form.add("name", self.tr("Yarn"), TextEntry(str.strip, str, ""), partial(self._put, "name"))
        self.form.add("role", self.tr("What for"), ChoiceEntry(roles), partial(self._put, "role"))
        number = TextEntry(measures.read_number, lambda value: measures.number(float(str(value))), "–", 10)
        self.form.add("tex", self.tr("Tex (g of 1,000 m)"), number, partial(self._put, "tex"))
        self.form.add(
            "colour", self.tr("Colour"), TextEntry(str.strip, str, "#3b6ea5"), partial(self._put, "colour")
        )
        for line in self.form.lines.values():
            if isinstance(line.entry, TextEntry):
                line.entry.left.connect(editor.opened.end_gesture)
        self.gauge_list = QVBoxLayout()
        self.takes = Label(tone="quiet", wraps=True)
        self.swatch = SwatchForm(theme, measures)
        self.add = Button(
            self.tr("+ Swatch"), theme, ButtonKind.LINK, says=self.tr("Add a swatch of this yarn")
        )
        self.column.addWidget(self.form)
        self.column.addLayout(self.gauge_list)
        self.column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addWidget(self.swatch)
        self.column.addWidget(self.takes)
        self.swatch.hide()
        self.add.clicked.connect(self._open_swatch)
        self.swatch.use.clicked.connect(self._use_swatch)

    def refresh(self, piece: Piece, need: YarnNeed) -> None:
        """Show the yarn as it is now."""
        yarn: Yarn = piece.yarns[self._place]
        for key, line in self.form.lines.items():
            value = getattr(yarn, key)
            line.entry.show_value(None if value == "" else value)
        self.add.setVisible(yarn.role == "fabric" and self.swatch.isHidden())
        gauges = tuple(gauge for gauge in piece.gauges if gauge.yarn == yarn.id)
        if gauges != self._gauges:
            self._gauges = gauges
            self._list_gauges(gauges)
        self.takes.setText(self._takes(need))

    def _list_gauges(self, gauges: tuple[Gauge, ...]) -> None:
        while self.gauge_list.count():
            item = self.gauge_list.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        number = self._measures.number
        for gauge in gauges:
            share = _OVER_MM / gauge.over_mm
            said = self.tr("Tension {dial}: {stitches} stitches, {rows} rows to 10 cm").format(
                dial=number(gauge.tension),
                stitches=number(gauge.stitches * share),
                rows=number(gauge.rows * share),
            )
            line = QWidget()
            row = QHBoxLayout(line)
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(Label(said, wraps=True), 1)
            away = Button(
                "×", self._theme, ButtonKind.QUIET, says=self.tr("Take out: {gauge}").format(gauge=said)
            )
            away.setFixedWidth(self._theme.px(40))
            away.clicked.connect(partial(self._without, gauge))
            row.addWidget(away)
            self.gauge_list.addWidget(line)

    def _takes(self, need: YarnNeed) -> str:
        number = self._measures.number
        metres = self.tr("{metres} m").format(metres=number(round(need.advised_metres)))
        if need.advised_grams is None:
            said = self.tr("Have {metres} at hand.").format(metres=metres)
        else:
            said = self.tr("Have {metres} at hand, {grams} g.").format(
                metres=metres, grams=number(round(need.advised_grams))
            )
        return " ".join([said, *(f"{caution.says().rstrip('.')}." for caution in need.cautions)])

    # -- editing ------------------------------------------------------------------------------------------

    def _put(self, key: str, value: object) -> None:
        line = self.form.lines[key]
        gesture = f"yarn {self._place} {key}" if isinstance(line.entry, TextEntry) else ""
        try:
            piece = editing.with_yarn(self._editor.opened.piece, self._place, {key: value})
        except editing.EditError as error:
            line.say_wrong(error.message)
            return
        if piece != self._editor.opened.piece:
            self._editor.opened.revise(piece, self.tr("Yarn"), gesture)

    def _without(self, gauge: Gauge) -> None:
        kept = [
            each.model_dump(exclude_unset=True) for each in self._editor.opened.piece.gauges if each != gauge
        ]
        self._editor.apply(lambda piece: editing.with_gauges(piece, kept), self.tr("Take a swatch out"))

    def _open_swatch(self) -> None:
        self.swatch.show()
        self.add.hide()
        self.swatch.form.lines["tension"].entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _use_swatch(self) -> None:
        gauge = self.swatch.gauge(self._editor.opened.piece.yarns[self._place].id)
        if gauge is None:
            return
        written = gauge.model_dump(exclude_unset=True)
        self.swatch.hide()
        self.add.show()
        self._editor.apply(lambda piece: editing.with_gauge(piece, written), self.tr("Add a swatch"))


class SwatchForm(QWidget):
    """What was counted on a swatch, over which width and height; the gauge that follows.

    Args:
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    def __init__(self, theme: Theme, measures: Measures, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._measures = measures
        self._values: dict[str, float] = {"width": _OVER_MM, "height": _OVER_MM}
        self.form = Form(theme)
        self.comes = Label(tone="quiet", wraps=True)
        self.use = Button(self.tr("Use it"), theme, ButtonKind.CHIP)
        say = measures.number
        for key, name in (
            ("tension", self.tr("Tension")),
            ("stitches", self.tr("Stitches, or needles")),
            ("rows", self.tr("Rows")),
        ):
            entry = TextEntry(measures.read_number, lambda value: say(float(str(value))), None, 1)
            self.form.add(key, name, entry, partial(self._take, key))
        for key, name in (("width", self.tr("over a width of")), ("height", self.tr("over a height of"))):
            entry = TextEntry(
                measures.read_length_mm, lambda value: measures.length(float(str(value))), None, 10
            )
            entry.show_value(_OVER_MM)
            self.form.add(key, name, entry, partial(self._take, key))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(5))
        column.addWidget(self.form)
        column.addWidget(self.comes)
        column.addWidget(self.use, 0, Qt.AlignmentFlag.AlignLeft)
        self._reckon()

    def gauge(self, yarn: str) -> Gauge | None:
        """The gauge of what was written; None while something is missing or cannot be."""
        values = self._values
        if len(values) < 5 or min(values[key] for key in ("stitches", "rows", "width", "height")) <= 0:
            return None
        dial = values["tension"]
        try:
            return gauge_of_counts(
                yarn,
                int(dial) if float(dial).is_integer() else dial,
                (values["stitches"], values["rows"]),
                (values["width"], values["height"]),
            )
        except ValueError:
            return None

    def _take(self, key: str, value: object) -> None:
        self._values[key] = float(str(value))
        self._reckon()

    def _reckon(self) -> None:
        gauge = self.gauge("swatch")
        self.use.setEnabled(gauge is not None)
        if gauge is None:
            self.comes.setText(
                self.tr("Count between two markers, or needles and rows over the whole swatch.")
            )
            return
        number = self._measures.number
        said = self.tr("{stitches} stitches and {rows} rows to 10 cm.").format(
            stitches=number(gauge.stitches), rows=number(gauge.rows)
        )
        doubt = doubtful_gauge(gauge)
        self.comes.setText(f"{said} {doubt.says()}." if doubt else said)


class YarnPanel(QWidget):
    """All yarns.

    Args:
        editor: the piece's.
        theme: how they look.
        measures: how numbers are written.
        parent: as ever.
    """

    def __init__(
        self, editor: PartsEditor, theme: Theme, measures: Measures, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._editor, self._theme, self._measures = editor, theme, measures
        self.cards: list[YarnCard] = []
        self.add = Button(self.tr("+ Add a yarn"), theme, ButtonKind.LINK)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(10))
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self.add.clicked.connect(self._add)

    def refresh(self) -> None:
        """Show the yarns as they are now."""
        opened = self._editor.opened
        needs = yarn_needs(opened.piece, opened.procedure)
        while len(self.cards) > len(needs):
            card = self.cards.pop()
            card.hide()
            card.deleteLater()
        while len(self.cards) < len(needs):
            card = YarnCard(len(self.cards), self._editor, self._theme, self._measures)
            self._column.insertWidget(len(self.cards), card)
            self.cards.append(card)
        for card, need in zip(self.cards, needs, strict=True):
            card.refresh(opened.piece, need)

    def _add(self) -> None:
        piece = self._editor.opened.piece
        ids = {yarn.id for yarn in piece.yarns}
        name = next(f"yarn{number}" for number in range(1, len(ids) + 2) if f"yarn{number}" not in ids)
        new = {"id": name, "role": "fabric"}
        self._editor.apply(lambda old: editing.with_yarn(old, len(old.yarns), new), self.tr("Add a yarn"))
