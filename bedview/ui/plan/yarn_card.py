"""One yarn of the piece: its name, its gauge, what the piece takes of it, and what lies at hand."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog, QHBoxLayout, QVBoxLayout, QWidget

from bedview.plan.loop_choice import tex_of
from bedview.plan.piece import Gauge, Piece, Yarn
from bedview.plan.swatch import KnittedSwatch
from bedview.plan.yarn import MEASURED_STATE, YarnNeed
from bedview.plan.yarn_on_hand import Join
from bedview.session import editing
from bedview.session.joining import with_join_reminders
from bedview.session.parts_editor import PartsEditor
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form, FormLine
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.yarn_at_hand import YarnAtHand
from bedview.ui.plan.yarn_names import yarn_called
from bedview.ui.theme import Theme


class YarnCard(Card):
    """One yarn. Its name and gauge stand there; colour, thickness and use come when they are asked for.

    Args:
        place: its place among the yarns.
        editor: the piece's.
        shelf: swatches and yarn at hand.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    swatches_wanted = Signal(int)
    """The swatches of the yarn are to be seen; its place."""
    regauge_wanted = Signal(int)
    """The piece is wanted with another yarn, or on another bed; the yarn's place."""

    def __init__(
        self,
        place: int,
        editor: PartsEditor,
        shelf: SwatchShelf,
        theme: Theme,
        measures: Measures,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, parent=parent)
        self._place, self._editor, self._theme, self._measures = place, editor, theme, measures
        self._gauges: tuple[Gauge, ...] | None = None
        self.details = Form(theme)
        self.lines: dict[str, FormLine] = {}
        self._make_lines()
        self.more = Button(self.tr("Colour, thickness and use"), theme, ButtonKind.LINK)
        self.colours = Button(self.tr("Choose a colour…"), theme, ButtonKind.CHIP)
        self.gauge_list = QVBoxLayout()
        self.takes = Label(tone="quiet", wraps=True)
        self.swatches = Button(self.tr("Swatches…"), theme, ButtonKind.CHIP)
        self.regauge = Button(self.tr("Other yarn or bed…"), theme, ButtonKind.CHIP)
        self.at_hand = YarnAtHand(editor.opened, shelf, theme)
        buttons = QHBoxLayout()
        buttons.setSpacing(theme.px(6))
        buttons.addWidget(self.swatches)
        buttons.addWidget(self.regauge)
        buttons.addStretch(1)
        for widget in (self.lines["name"].entry, self.lines["name"].wrong):
            self.column.addWidget(widget)
        self.column.addWidget(self.more, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addWidget(self.details)
        self.column.addWidget(self.colours, 0, Qt.AlignmentFlag.AlignRight)
        self.column.addLayout(self.gauge_list)
        self.column.addLayout(buttons)
        self.column.addWidget(self.takes)
        self.column.addWidget(self.at_hand)
        self.details.hide()
        self.colours.hide()
        self.colours.clicked.connect(self._choose_colour)
        self.more.clicked.connect(self.show_details)
        self.swatches.clicked.connect(lambda: self.swatches_wanted.emit(self._place))
        self.regauge.clicked.connect(lambda: self.regauge_wanted.emit(self._place))
        self.at_hand.reminders_wanted.connect(self._remind)

    def _make_lines(self) -> None:
        measures = self._measures
        name = TextEntry(str.strip, str, self.tr("Name of the yarn"))
        name.setProperty("part", "title")
        self.lines["name"] = FormLine(self.tr("Yarn"), name)
        name.put.connect(partial(self._put, "name"))
        roles = (
            ("fabric", self.tr("the fabric")),
            ("waste", self.tr("waste")),
            ("ravel", self.tr("ravel cord")),
        )
        number = TextEntry(measures.read_number, lambda value: measures.number(float(str(value))), "–", 10)
        colour = TextEntry(str.strip, str, "#3b6ea5")
        for key, words, entry in (
            ("role", self.tr("What for"), ChoiceEntry(roles)),
            ("tex", self.tr("Tex (g of 1,000 m)"), number),
            ("colour", self.tr("Colour"), colour),
        ):
            self.lines[key] = self.details.add(key, words, entry, partial(self._put, key))
        for line in self.lines.values():
            if isinstance(line.entry, TextEntry):
                line.entry.left.connect(self._editor.opened.end_gesture)

    def show_details(self) -> None:
        """Show colour, thickness and use."""
        self.details.show()
        self.colours.show()
        self.more.hide()

    def refresh(self, piece: Piece, need: YarnNeed, swatches: tuple[KnittedSwatch, ...]) -> None:
        """Show the yarn as it is now."""
        yarn: Yarn = piece.yarns[self._place]
        for key, line in self.lines.items():
            value = yarn_called(yarn) if key == "name" and yarn.name else getattr(yarn, key)
            line.entry.show_value(None if value == "" else value)
        stays = yarn.role == "fabric"
        gauges = tuple(gauge for gauge in piece.gauges if gauge.yarn == yarn.id)
        self.swatches.setVisible(stays)
        self.regauge.setVisible(stays and bool(gauges))
        self.at_hand.setVisible(stays)
        if gauges != self._gauges:
            self._gauges = gauges
            self._list_gauges(gauges)
        self.takes.setText(self._takes(need, stays=stays))
        if stays:
            self.at_hand.refresh(yarn, swatches, tex_of(piece, yarn, swatches, MEASURED_STATE))

    def _list_gauges(self, gauges: tuple[Gauge, ...]) -> None:
        clear(self.gauge_list)
        for gauge in gauges:
            said = self.tr("Tension {dial}: {gauge}").format(
                dial=self._measures.number(gauge.tension),
                gauge=self._measures.gauge_words(gauge.stitches, gauge.rows, gauge.over_mm),
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

    def _takes(self, need: YarnNeed, *, stays: bool) -> str:
        number = self._measures.number
        metres = self.tr("{metres} m").format(metres=number(round(need.advised_metres)))
        if need.advised_grams is None:
            said = [self.tr("Have {metres} at hand.").format(metres=metres)]
        else:
            grams = number(round(need.advised_grams))
            said = [self.tr("Have {metres} at hand, {grams} g.").format(metres=metres, grams=grams)]
        if stays and need.loops:
            least = max(need.loops, key=lambda loop: loop.margin)
            words = self.tr("Reckoned {basis}, with {margin} % on top.")
            said.append(words.format(basis=least.says(), margin=round(100 * least.margin)))
        if need.tails_cm:
            said.append(self.tr("Tails of {length} are in it.").format(length=self._cm(need.tails_cm)))
        return " ".join([*said, *(f"{caution.says().rstrip('.')}." for caution in need.cautions)])

    def _cm(self, cm: float) -> str:
        return self._measures.length(10 * cm)

    # -- editing ------------------------------------------------------------------------------------------

    def _put(self, key: str, value: object) -> None:
        line = self.lines[key]
        gesture = f"yarn {self._place} {key}" if isinstance(line.entry, TextEntry) else ""
        try:
            piece = editing.with_yarn(self._editor.opened.piece, self._place, {key: value})
        except editing.EditError as error:
            line.say_wrong(error.message)
            return
        if piece != self._editor.opened.piece:
            self._editor.opened.revise(piece, self.tr("Yarn"), gesture)

    def _choose_colour(self) -> None:
        now = QColor(self._editor.opened.piece.yarns[self._place].colour or "")
        chosen = QColorDialog.getColor(now, self, self.tr("Colour of the yarn"))
        if chosen.isValid():
            self._put("colour", chosen.name())

    def _without(self, gauge: Gauge) -> None:
        kept = [
            each.model_dump(exclude_unset=True) for each in self._editor.opened.piece.gauges if each != gauge
        ]
        self._editor.apply(lambda piece: editing.with_gauges(piece, kept), self.tr("Take a gauge out"))

    def _remind(self, joins: Sequence[Join]) -> None:
        opened = self._editor.opened
        yarn = opened.piece.yarns[self._place]
        self._editor.apply(
            lambda _piece: with_join_reminders(opened.procedure, joins, yarn.name or yarn.id),
            self.tr("Reminders of new balls"),
        )
