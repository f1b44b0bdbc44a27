"""Set the bed up again: for any row, what everything must be."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget
from typing_extensions import override

from bedview.picture.bed_scene import BedScene
from bedview.session.knitting_run import KnittingRun
from bedview.session.setting_up import line_before_step, set_up_before
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.sheet_view import SheetView, side_by_side
from bedview.ui.knit.stepper import Stepper
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.theme import Theme


class SetUpView(SheetView):
    """The row, and the facts."""

    def __init__(self, run: KnittingRun, scenes: BedScenes, theme: Theme) -> None:
        super().__init__(self.tr("Set the bed up again"), theme)
        self._run = run
        self._scenes = scenes
        self._step = run.cursor
        self.row = Stepper(self.tr("Before row"), theme)
        self.row.changed.connect(self._row_chosen)
        self.column.addWidget(Label(self.tr("Before row"), "lead"))
        self.column.addWidget(side_by_side(theme, self.row))
        self.column.addWidget(Label(self.tr("Everything must be so:"), tone="quiet"))
        self._facts = QGridLayout()
        self._facts.setHorizontalSpacing(theme.px(14))
        self._facts.setVerticalSpacing(theme.px(8))
        self._facts.setColumnStretch(1, 1)
        self.column.addLayout(self._facts)
        self.column.addStretch(1)

    @override
    def enter(self) -> None:
        self._step = self._run.cursor
        rows = self._run.procedure.timeline.passes
        self.row.show_number(self._run.passes_done + 1, 1, rows + 1)
        self._show()

    @override
    def refresh(self) -> None:
        self.enter()

    @override
    def first_field(self) -> QWidget:
        return self.row.field

    @override
    def scene(self) -> BedScene:
        return self._scenes.after(line_before_step(self._run.procedure, self._step))

    @override
    def caption(self) -> str:
        return self.tr("The bed as it must stand before row {row}").format(row=self.row.whole)

    def _row_chosen(self) -> None:
        row = self.row.whole
        procedure = self._run.procedure
        at_hand = row == self._run.passes_done + 1
        last = row > procedure.timeline.passes
        there = len(procedure.steps) if last else procedure.step_of_pass(row).number
        self._step = self._run.cursor if at_hand else there
        self._show()

    def _show(self) -> None:
        clear(self._facts)
        top = Qt.AlignmentFlag.AlignTop
        for place, fact in enumerate(set_up_before(self._run.procedure, self._step)):
            self._facts.addWidget(Label(fact.what, "lead", "quiet"), place, 0, top)
            self._facts.addWidget(Label(fact.how, "lead", bold=True, wraps=True), place, 1, top)
        self.bed_changed.emit()
