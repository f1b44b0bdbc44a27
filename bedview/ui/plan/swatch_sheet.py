"""The swatch book on screen: what is kept of a yarn, a swatch written down, a swatch to knit."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import groupby

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from bedview.plan.piece import Piece, Yarn
from bedview.plan.swatch import KnittedSwatch, SwatchBook, own_name, pooled_gauge
from bedview.plan.swatch_plan import plan_of
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.sheet import Sheet
from bedview.ui.plan.swatch_entry import SwatchEntry, change_words, gauge_words
from bedview.ui.plan.swatch_to_knit import SwatchToKnit
from bedview.ui.plan.yarn_names import yarn_called
from bedview.ui.theme import Theme


class SwatchSheet(Sheet):
    """The swatches of one yarn of the piece.

    Args:
        opened: the piece.
        yarn: the yarn.
        shelf: what is kept on this machine.
        theme: how it looks.
        measures: how numbers are written.
        parent: the page that it lies on.
    """

    swatches_chosen = Signal(object)
    """These swatches, a list of one yarn and dial, are to be the gauge of the yarn."""
    piece_wanted = Signal(object)
    """A swatch is to be knitted, as a :class:`~bedview.plan.piece.Piece`."""

    def __init__(
        self,
        opened: OpenPiece,
        yarn: Yarn,
        shelf: SwatchShelf,
        theme: Theme,
        measures: Measures,
        parent: QWidget,
    ) -> None:
        super().__init__(self.tr("Swatches of {yarn}").format(yarn=yarn_called(yarn)), theme, parent)
        self._opened, self._yarn, self._shelf, self._measures = opened, yarn, shelf, measures
        self._old: KnittedSwatch | None = None
        self.uses: list[Button] = []
        self.changes: list[Button] = []
        self.aways: list[Button] = []
        self.entry = SwatchEntry(theme, measures, opened.machine)
        self.to_knit = SwatchToKnit(opened, yarn, theme, measures)
        self._list = QWidget()
        self._lines = QVBoxLayout(self._list)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(theme.px(6))
        self._shown: QWidget = self._list
        for view in (self._list, self.entry, self.to_knit):
            self.body.addWidget(view)
        self.body.addStretch(1)
        self.back = Button(self.tr("Back"), theme, ButtonKind.PLAIN)
        self.knit = Button(self.tr("A swatch to knit…"), theme, ButtonKind.PLAIN)
        self.foot.insertWidget(0, self.knit)
        self.foot.insertWidget(0, self.back)
        self.add = self.primary(self.tr("Write a swatch down"))
        self.keep = self.primary(self.tr("Keep it"))
        self.make = self.primary(self.tr("Open it as a piece"))
        self._connect()
        self.show_list()

    def _connect(self) -> None:
        self.back.clicked.connect(self.show_list)
        self.knit.clicked.connect(self.show_plan)
        self.add.clicked.connect(self.write_down)
        self.keep.clicked.connect(self._keep)
        self.make.clicked.connect(self._make)
        self.entry.changed.connect(lambda: self.say_wrong(""))
        self.to_knit.changed.connect(self._show_foot)
        self._shelf.changed.connect(self._fill)
        self._shelf.told.connect(self.say_wrong)
        self.finished.connect(self._let_go)

    def _let_go(self) -> None:
        self._shelf.changed.disconnect(self._fill)
        self._shelf.told.disconnect(self.say_wrong)

    # -- views --------------------------------------------------------------------------------------------

    def show_list(self) -> None:
        """Show what is kept."""
        self._old = None
        self._fill()
        self._show(self._list)
        self.say_wrong(self._shelf.trouble)
        self.add.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_plan(self) -> None:
        """Show the swatch to knit."""
        self._show(self.to_knit)
        self.to_knit.first_entry().setFocus(Qt.FocusReason.TabFocusReason)

    def write_down(self) -> None:
        """Ask for a new swatch, beginning with what is known of it."""
        self._old = None
        self.entry.begin(self._known())
        self._show_entry()

    def change(self, swatch: KnittedSwatch) -> None:
        """Ask for what else is known of a swatch: its size after washing, its weight."""
        self._old = swatch
        self.entry.show_swatch(swatch)
        self._show_entry()

    def _show_entry(self) -> None:
        self._show(self.entry)
        lines = self.entry.first.lines
        first = (
            "yarn" if not own_name(self._yarn.name) else "tension" if self._old is None else "after_width_mm"
        )
        lines[first].entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _show(self, view: QWidget) -> None:
        self._shown = view
        # Not a stack: that would ask for the room of its tallest view, shown or not.
        for each in (self._list, self.entry, self.to_knit):
            each.setVisible(each is view)
        self.say_wrong("")
        self._show_foot()

    def _show_foot(self) -> None:
        view = self._shown
        self.back.setVisible(view is not self._list)
        self.knit.setVisible(view is self._list)
        for button, of in ((self.add, self._list), (self.keep, self.entry), (self.make, self.to_knit)):
            button.setVisible(view is of)
            button.setDefault(view is of)
        self.make.setEnabled(self.to_knit.piece is not None)

    # -- what is kept -------------------------------------------------------------------------------------

    def _fill(self) -> None:
        clear(self._lines)
        self.uses, self.changes, self.aways = [], [], []
        name = own_name(self._yarn.name)
        own = self._shelf.of_yarn(name) if name else []
        others = self._shelf.of_others(name)
        if not own and not others:
            said = self.tr(
                "Nothing is kept yet. Knit a swatch, wash it, let it rest, and count between its markers; "
                "what you write down here is there for the next piece too."
            )
            self._lines.addWidget(Label(said, tone="quiet", wraps=True))
        self._fill_groups(own, named=False)
        if others:
            self._lines.addWidget(Label(self.tr("Of other yarns"), tone="quiet"))
            self._fill_groups(others, named=True)

    def _fill_groups(self, swatches: Sequence[KnittedSwatch], *, named: bool) -> None:
        for _key, each in groupby(swatches, key=lambda swatch: (swatch.yarn.casefold(), swatch.tension)):
            group = list(each)
            self._lines.addWidget(self._group_line(group, named=named))
            for swatch in group:
                self._lines.addWidget(self._swatch_line(swatch))
            for caution in SwatchBook(swatches=tuple(group)).cautions():
                self._lines.addWidget(Label(f"{caution.says()}.", "small", "warning", wraps=True))

    def _group_line(self, group: list[KnittedSwatch], *, named: bool) -> QWidget:
        measured = [swatch for swatch in group if swatch.settled]
        dial = self._measures.number(group[0].tension)
        words = self.tr("Tension {dial}").format(dial=dial)
        if named:
            words = self.tr("{yarn}, tension {dial}").format(yarn=group[0].yarn, dial=dial)
        said = words
        if measured:
            gauge = gauge_words(pooled_gauge(measured), self._measures)
            said = self.tr("{name}: {what}").format(name=words, what=gauge)
        line, row = _line()
        row.addWidget(Label(said, bold=True, wraps=True), 1)
        use = Button(
            self.tr("Use it"),
            self._theme,
            ButtonKind.CHIP,
            says=self.tr("Make it the gauge of the piece: {gauge}").format(gauge=said),
        )
        use.setEnabled(bool(measured))
        use.clicked.connect(partial(self._use, measured))
        row.addWidget(use, 0, Qt.AlignmentFlag.AlignTop)
        self.uses.append(use)
        return line

    def _swatch_line(self, swatch: KnittedSwatch) -> QWidget:
        line, row = _line()
        row.setContentsMargins(self._theme.px(14), 0, 0, 0)
        said = self._words(swatch)
        row.addWidget(Label(said, "small", "quiet", wraps=True), 1)
        change = Button(self.tr("Change"), self._theme, ButtonKind.LINK, says=self.tr("Change this swatch"))
        change.clicked.connect(partial(self.change, swatch))
        away = Button("×", self._theme, ButtonKind.QUIET, says=self.tr("Keep this swatch no longer"))
        away.setFixedWidth(self._theme.px(40))
        away.clicked.connect(partial(self._take_out, swatch))
        row.addWidget(change)
        row.addWidget(away)
        self.changes.append(change)
        self.aways.append(away)
        return line

    def _words(self, swatch: KnittedSwatch) -> str:
        counted = self.tr("{stitches} stitches, {rows} rows").format(
            stitches=swatch.marked_stitches, rows=swatch.marked_rows
        )
        settled = swatch.settled
        if settled is not None:
            size = self._measures.size(settled.width_mm, settled.height_mm)
            counted = self.tr("{counts} are {size}").format(counts=counted, size=size)
        state = self.tr("washed and rested") if swatch.after else self.tr("off the machine, not washed yet")
        parts = [f"{counted}, {state}."]
        if swatch.grams is not None:
            parts.append(self.tr("It weighs {grams} g.").format(grams=self._measures.number(swatch.grams)))
        return " ".join([*parts, change_words(swatch), swatch.note]).strip()

    def _take_out(self, swatch: KnittedSwatch) -> None:
        self._shelf.take_out(swatch)

    def _use(self, swatches: list[KnittedSwatch]) -> None:
        self.swatches_chosen.emit(swatches)
        self.accept()

    # -- a swatch written down ----------------------------------------------------------------------------

    def _known(self) -> dict[str, object]:
        """What the piece says of a swatch: its yarn, and all counts if it knits one."""
        piece = self._opened.piece
        known: dict[str, object] = {"yarn": own_name(self._yarn.name) or None, "tex": self._yarn.tex}
        plan = plan_of(piece)
        if plan is None or piece.yarns[0].id != self._yarn.id:
            gauge = next((each for each in piece.gauges if each.yarn == self._yarn.id), None)
            return known | {"tension": gauge.tension if gauge else None}
        known |= {f"after_{key}": None for key in ("width_mm", "height_mm")}
        return known | {
            "tension": piece.to_document()["segments"][0]["tension"],
            "stitches": plan.marked_stitches,
            "rows": plan.marked_rows,
            "needles": plan.needles,
            "all_rows": plan.rows,
        }

    def _keep(self) -> None:
        swatch = self.entry.swatch()
        if swatch is None:
            self.say_wrong(self.entry.missing())
            return
        if swatch.pitch_mm is None:
            swatch = swatch.model_copy(update={"pitch_mm": self._opened.piece.bed.pitch_mm})
        if not self._shelf.put(swatch, self._old):
            return
        if self._old is None and swatch.settled and not self._has_gauge():
            # What the first swatch was written down for.
            self._use([swatch])
        else:
            self.show_list()

    def _has_gauge(self) -> bool:
        return any(gauge.yarn == self._yarn.id for gauge in self._opened.piece.gauges)

    def _make(self) -> None:
        piece: Piece | None = self.to_knit.piece
        if piece is not None:
            self.accept()
            self.piece_wanted.emit(piece)


def _line() -> tuple[QWidget, QHBoxLayout]:
    line = QWidget()
    row = QHBoxLayout(line)
    row.setContentsMargins(0, 0, 0, 0)
    return line, row
