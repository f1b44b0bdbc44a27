"""Changed here: rows, dial or a remark as really knitted; and the second one of the pair."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.language import number
from bedview.plan.procedure import PlanError
from bedview.session.knitting_run import KnittingRun
from bedview.session.really_knitted import Change
from bedview.store.journal import JournalError
from bedview.ui.knit.sheet_view import PressedButton, SheetView, rule, side_by_side
from bedview.ui.knit.stepper import Stepper
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.theme import Theme

_MOST_ROWS = 999
_STEP_OF_ANY_DIAL = 0.5


class ChangedView(SheetView):
    """What was otherwise, what has been told so far, and what becomes of it."""

    second_wanted = Signal(object)
    """A second piece, as a :class:`~bedview.plan.piece.Piece`."""

    def __init__(self, run: KnittingRun, theme: Theme) -> None:
        super().__init__(self.tr("Changed here"), theme)
        self._run = run
        self._where = Label("", tone="quiet", wraps=True)
        self.column.addWidget(self._where)
        self._ask_rows()
        self._ask_dial()
        self._ask_remark()
        self._wrong = Label("", tone="warning", wraps=True)
        self._wrong.hide()
        self.column.addWidget(self._wrong)
        self._told = QVBoxLayout()
        self._told.setSpacing(theme.px(4))
        self.column.addLayout(self._told)
        self.column.addWidget(rule())
        self._ask_second()
        self.column.addStretch(1)

    # -- asking -------------------------------------------------------------------------------------------

    def _ask_rows(self) -> None:
        self.rows = Stepper(self.tr("Rows"), self.theme)
        self.rows.show_number(1, 1, _MOST_ROWS)
        self.more = self._button(self.tr("more than planned"), self._more)
        self.fewer = self._button(self.tr("fewer"), self._fewer)
        self.column.addWidget(
            Label(self.tr("Rows, knitted already or to be left out"), "lead", bold=True, wraps=True)
        )
        self.column.addWidget(side_by_side(self.theme, self.rows))
        self.column.addWidget(side_by_side(self.theme, self.more, self.fewer))

    def _ask_dial(self) -> None:
        self.dial = Stepper(self.tr("Tension dial from here on"), self.theme, turned=self._turned_dial)
        self.keep_dial = self._button(self.tr("Keep"), self._dial)
        self.column.addWidget(Label(self.tr("Tension dial from here on"), "lead", bold=True))
        self.column.addWidget(side_by_side(self.theme, self.dial, self.keep_dial))

    def _turned_dial(self, dial: float, by: int) -> float:
        """The dial so many of its settings further; in halves while nobody has said how it is parted."""
        machine = self._run.opened.machine
        return machine.turned_dial(dial, by) if machine.dial_steps else dial + by * _STEP_OF_ANY_DIAL

    def _ask_remark(self) -> None:
        self.remark = QLineEdit()
        self.remark.setMaxLength(400)
        self.remark.setAccessibleName(self.tr("A remark for the next time"))
        self.remark.setPlaceholderText(self.tr("yarn joined here, new cone …"))
        self.remark.returnPressed.connect(self._remark)
        self.keep_remark = self._button(self.tr("Keep"), self._remark)
        self.column.addWidget(Label(self.tr("A remark for the next time"), "lead", bold=True))
        row = QHBoxLayout()
        row.setSpacing(self.theme.px(8))
        row.addWidget(self.remark, 1)
        row.addWidget(self.keep_remark)
        self.column.addLayout(row)

    def _ask_second(self) -> None:
        theme = self.theme
        self.column.addWidget(Label(self.tr("The second one of the pair"), "lead", bold=True))
        self.by_plan, self.as_knitted = self._either(self.tr("as planned"), self.tr("as really knitted"))
        self.same_way, self.mirrored = self._either(self.tr("the same way round"), self.tr("mirrored"))
        self.column.addWidget(side_by_side(theme, self.by_plan, self.as_knitted))
        self.column.addWidget(side_by_side(theme, self.same_way, self.mirrored))
        self.second = self._button(self.tr("Open the second piece"), self._second)
        self.column.addWidget(self.second)

    def _either(self, first: str, second: str) -> tuple[PressedButton, PressedButton]:
        group = QButtonGroup(self)
        pair = (
            PressedButton(first, self.theme, ButtonKind.PILL),
            PressedButton(second, self.theme, ButtonKind.PILL),
        )
        for button in pair:
            button.setCheckable(True)
            group.addButton(button)
        pair[0].setChecked(True)
        return pair

    def _button(self, text: str, act: object) -> PressedButton:
        button = PressedButton(text, self.theme)
        button.clicked.connect(act)
        return button

    # -- showing ------------------------------------------------------------------------------------------

    @override
    def enter(self) -> None:
        self._wrong.hide()
        self.refresh()

    @override
    def refresh(self) -> None:
        run = self._run
        row = min(run.passes_done + 1, run.procedure.timeline.passes)
        self._where.setText(self.tr("Here, before row {row}, it was otherwise than planned:").format(row=row))
        self.more.setEnabled(run.can_add_rows)
        most = run.most_rows_out
        self.fewer.setEnabled(most > 0)
        tip = self.tr("Up to {rows} rows, until hands are needed again").format(rows=most)
        self.fewer.setToolTip(
            tip if most else self.tr("Hands are needed in the next row; it can't be left out")
        )
        # The dial of the row at hand, for that is what a change told here becomes.
        line = run.line if run.at_end else run.steps[run.cursor].last_line
        dial = run.procedure.timeline.state_at(line).dial
        self.dial.show_number(0 if dial is None else dial, 0, 20)
        self._list_told()

    @override
    def first_field(self) -> QWidget:
        return self.rows.field

    def _list_told(self) -> None:
        clear(self._told)
        changes = self._run.changes
        if changes:
            self._told.addWidget(Label(self.tr("Told so far"), tone="quiet"))
        for change in changes:
            text = Label(self._words(change), wraps=True)
            away = PressedButton(self.tr("Take back"), self.theme, ButtonKind.LINK)
            away.clicked.connect(partial(self._take_back, change))
            self._told.addWidget(text)
            self._told.addWidget(away)

    def _words(self, change: Change) -> str:
        steps = self._run.steps
        row = int(steps[change.step - 1].passes) + 1 if change.step else 1
        parts = []
        if change.rows > 0:
            parts.append(self.tr("{rows} rows more").format(rows=change.rows))
        if change.rows < 0:
            parts.append(self.tr("{rows} rows left out").format(rows=-change.rows))
        if change.dial is not None:
            parts.append(self.tr("dial {dial}").format(dial=number(change.dial)))
        if change.remark:
            parts.append(f"“{change.remark}”")
        return self.tr("Row {row}: {what}").format(row=row, what=", ".join(parts))

    # -- doing --------------------------------------------------------------------------------------------

    def _more(self) -> None:
        self._try(lambda: self._run.rows_changed(self.rows.whole))

    def _fewer(self) -> None:
        if self.rows.whole > self._run.most_rows_out:
            text = self.tr("Only {rows} rows can be left out before hands are needed again.")
            self._say(text.format(rows=self._run.most_rows_out))
        else:
            self._try(lambda: self._run.rows_changed(-self.rows.whole))

    def _dial(self) -> None:
        self._try(lambda: self._run.dial_changed(round(self.dial.value, 2)))

    def _remark(self) -> None:
        text = " ".join(self.remark.text().split())
        if text and self._try(lambda: self._run.remark(text)):
            self.remark.clear()

    def _take_back(self, change: Change) -> None:
        self._try(lambda: self._run.take_back(change))

    def _second(self) -> None:
        really, mirrored = self.as_knitted.isChecked(), self.mirrored.isChecked()
        self._try(lambda: self.second_wanted.emit(self._run.second_piece(really=really, mirrored=mirrored)))

    def _try(self, act: object) -> bool:
        """Do something that may be refused; then say why."""
        assert callable(act)
        self._wrong.hide()
        try:
            act()
        except JournalError as error:
            self._say(self.tr("Not kept: {why}.").format(why=error))
        except (PlanError, ValueError) as error:
            why = error.message if isinstance(error, PlanError) else str(error)
            self._say(self.tr("The rest of the plan can't follow that: {why}.").format(why=why))
        else:
            self.refresh()
            return True
        return False

    def _say(self, text: str) -> None:
        self._wrong.setText(text)
        self._wrong.show()
