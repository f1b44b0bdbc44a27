"""Unpick: back to an earlier row, pass by pass, and how the bed stands then."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.unpick import UnpickError
from bedview.picture.bed_scene import BedScene
from bedview.session.knitting_run import KnittingRun
from bedview.session.unpicking import RowBack, WayBack, way_back
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.sheet_view import PressedButton, SheetView, numbered, side_by_side
from bedview.ui.knit.stepper import Stepper
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.theme import Theme

_MOST = 30
"""Rows told one by one."""


class UnpickView(SheetView):
    """How far, the rows, and the way on from there."""

    unpicked = Signal(int)
    """It is done; the knitter stands before this step."""

    def __init__(self, run: KnittingRun, scenes: BedScenes, theme: Theme) -> None:
        super().__init__(self.tr("Unpick"), theme)
        self._run = run
        self._scenes = scenes
        self._way: WayBack | None = None
        self.row = Stepper(self.tr("The last row to keep"), theme)
        self.row.changed.connect(self._show)
        self.column.addWidget(Label(self.tr("The last row to keep"), "lead"))
        self.column.addWidget(side_by_side(theme, self.row))
        self._rows = QVBoxLayout()
        self._rows.setSpacing(theme.px(10))
        self.column.addLayout(self._rows)
        self.go_on = PressedButton("", theme, ButtonKind.PRIMARY, large=True)
        self.go_on.clicked.connect(self._done)
        self.column.addWidget(self.go_on)
        self.column.addStretch(1)

    @override
    def enter(self) -> None:
        self.aim_at(max(0, self._run.passes_done - 1))

    def aim_at(self, row: int) -> None:
        """Ask for the way back to a row."""
        self.row.show_number(row, 0, self._run.passes_done)
        self._show()

    @override
    def refresh(self) -> None:
        self.aim_at(min(self.row.whole, self._run.passes_done))

    @override
    def first_field(self) -> QWidget:
        return self.row.field

    @override
    def scene(self) -> BedScene | None:
        return self._scenes.after(self._way.line) if self._way else None

    @override
    def caption(self) -> str:
        return (
            self.tr("The bed when row {row} is the last one").format(row=self.row.whole) if self._way else ""
        )

    def _show(self) -> None:
        clear(self._rows)
        try:
            self._way = way_back(self._run.procedure, self._run.line, self.row.whole)
        except UnpickError as error:
            self._way = None
            self._rows.addWidget(Label(self._no_way(str(error)), "lead", "warning", wraps=True))
        else:
            self._tell(self._way)
        self.go_on.setVisible(self._way is not None and bool(self._way.rows or self._way.first))
        self.go_on.say(self.tr("Done: go on before row {row}").format(row=self.row.whole + 1))
        self.bed_changed.emit()

    def _no_way(self, why: str) -> str:
        return self.tr("There is no way back so far: {why}.").format(why=why)

    def _tell(self, way: WayBack) -> None:
        if not (way.rows or way.first):
            self._rows.addWidget(
                Label(self.tr("Nothing is to be unpicked: that is the last row."), wraps=True)
            )
        if way.first:
            self._rows.addWidget(
                Label(self.tr("First, before row {row}").format(row=self._run.passes_done + 1), bold=True)
            )
            self._rows.addWidget(numbered(way.first, self.theme))
        for back in way.rows[:_MOST]:
            self._rows.addWidget(Label(self.tr("Row {row}").format(row=back.row), bold=True))
            self._rows.addWidget(numbered(acts_of(back), self.theme))
        more = len(way.rows) - _MOST
        if more > 0:
            text = self.tr("And {count} rows more, in the same way.")
            self._rows.addWidget(Label(text.format(count=more), wraps=True))

    def _done(self) -> None:
        if self._way is not None:
            self.unpicked.emit(self._way.step)


def acts_of(back: RowBack) -> tuple[str, ...]:
    """What to do for one row."""
    return (back.loops, *(f"{text}." for text in back.hands))
