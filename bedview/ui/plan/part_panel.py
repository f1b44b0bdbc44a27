"""The chosen part: its title, its fields, its reminders, what comes of it, and what can be done with it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.language import gettext as _
from bedview.plan.gauge import Figure
from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.base import Segment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.session.editing import EditError, Place
from bedview.session.part_figures import PartFigures, part_figures, spares_a_row, widths_in
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.plan.action_lines_entry import ActionLinesEntry
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.field_line import FieldLine
from bedview.ui.plan.field_table import FIELDS, FieldSpec
from bedview.ui.plan.measures import Measures
from bedview.ui.plan.reminder_lines import ReminderLines
from bedview.ui.theme import Theme

_BETWEEN_PX = 10
_NAME_SHARE, _ENTRY_SHARE = 4, 5
_LARGE_PX = 1280
"""From this length of 1,000 usual pixels on, text is too large for names beside their entries."""


class PartPanel(Card):
    """The card of the chosen part.

    Args:
        editor: what it edits.
        theme: how it looks.
        measures: how numbers are written.
        parent: as ever.
    """

    rehearse_wanted = Signal()
    """The part is to be seen on the bed."""

    def __init__(
        self, editor: PartsEditor, theme: Theme, measures: Measures, parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, parent=parent)
        self._editor, self._theme, self._measures = editor, theme, measures
        self.lines: list[FieldLine] = []
        self._shown: tuple[Place, str, tuple[FieldSpec, ...]] | None = None
        self.above = Button("", theme, ButtonKind.LINK)
        self.title = TextEntry(str.strip, str, "")
        self.title.setProperty("part", "title")
        self.title.setAccessibleName(self.tr("Title of the part"))
        self.where = Label(tone="quiet", wraps=True)
        self.trouble = Label(tone="warning", wraps=True)
        self.result = Label(tone="quiet", wraps=True)
        self._body = QWidget()
        self.reminders = ReminderLines(editor, theme)
        self.actions_entry = ActionLinesEntry(editor, theme)
        self._inner = QVBoxLayout()
        self._lay_out()
        self.above.clicked.connect(self._go_up)
        self.title.put.connect(self._retitle)
        self.title.left.connect(editor.opened.end_gesture)

    def _lay_out(self) -> None:
        for widget in (self.above, self.title, self.where, self.trouble, self._body):
            self.column.addWidget(widget)
        self.column.addLayout(self._inner)
        for widget in (self.actions_entry, self.result, self.reminders):
            self.column.addWidget(widget)
        self.rehearse = Button(self.tr("Rehearse"), self._theme, ButtonKind.CHIP)
        self.copy = Button(
            self.tr("Copy"), self._theme, ButtonKind.CHIP, says=self.tr("Copy this part (Ctrl+D)")
        )
        self.repeat = Button(self.tr("Repeat"), self._theme, ButtonKind.CHIP)
        self.take_out = Button(
            self.tr("Take out"), self._theme, ButtonKind.CHIP, says=self.tr("Take this part out (Delete)")
        )
        grid = QGridLayout()
        grid.setSpacing(self._theme.px(6))
        for place, button in enumerate((self.rehearse, self.copy, self.repeat, self.take_out)):
            grid.addWidget(button, place // 2, place % 2)
        self.column.addSpacing(self._theme.px(4))
        self.column.addLayout(grid)
        self.rehearse.clicked.connect(self.rehearse_wanted)
        self.copy.clicked.connect(self._editor.copy)
        self.take_out.clicked.connect(self._editor.take_out)
        self.repeat.clicked.connect(self._repeat_or_apart)

    # -- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show the chosen part as it is now; entries that are typed in keep the keyboard."""
        part, place = self._editor.part, self._editor.place
        self.setVisible(part is not None)
        if part is None:
            self._shown = None
            return
        specs = _specs_of(part, place)
        if self._shown is None or self._shown[1:] != (part.says, specs):
            self._make_lines(part, specs)
        elif self._shown[0] != place:
            for line in self.lines:
                line.forget_width()
        self._shown = (place, part.says, specs)
        figures = part_figures(self._editor.opened.procedure, place)
        self._show_head(part, place, figures)
        self._show_lines(part, figures)
        self._show_inside(part)
        self.reminders.refresh(part)
        self.actions_entry.setVisible(isinstance(part, ActionsSegment))
        if isinstance(part, ActionsSegment):
            self.actions_entry.refresh(part)
        self.result.setText(self._result(figures))
        self.result.setVisible(bool(self.result.text()))
        is_repeat = isinstance(part, RepeatSegment)
        self.repeat.say(
            self.tr("Take apart") if is_repeat else self.tr("Repeat"),
            self.tr("Put its parts one by one") if is_repeat else self.tr("Repeat this part (Ctrl+R)"),
        )

    def _show_head(self, part: Segment, place: Place, figures: PartFigures | None) -> None:
        self.above.setVisible(len(place) > 1)
        if len(place) > 1:
            self.above.say(self.tr("← {title}").format(title=self._editor.title_of(place[:-1])))
        self.title.setPlaceholderText(_(part.says))
        self.title.show_value(part.called if part.title else None)
        words = [_(part.says)] if part.title and part.title != part.says else []
        if self._editor.count > 1:
            words.insert(0, self.tr("the first of {count} chosen").format(count=self._editor.count))
        if figures and figures.rows == 1:
            words.append(self.tr("row {first}").format(first=figures.first))
        elif figures and figures.rows:
            words.append(self.tr("rows {first} to {last}").format(first=figures.first, last=figures.last))
        self.where.setText(" · ".join(words))
        self.where.setVisible(bool(words))

    def _show_lines(self, part: Segment, figures: PartFigures | None) -> None:
        piece, trouble = self._editor.opened.piece, self._editor.opened.trouble
        faulty, said = "", ""
        if trouble is not None and trouble.segment == self._editor.place[0]:
            said = trouble.message
            faulty = trouble.where.rpartition("].")[2].partition("[")[0]
        machine, bed = self._editor.opened.machine, piece.bed.needles
        for line in self.lines:
            line.reckon_with(widths_in(part, line.spec.key, figures, bed), machine, piece)
            line.show_value(part, piece)
            keys = {line.spec.key, *(("length_cm",) if line.spec.key == "rows" else ())}
            if said and faulty in keys:
                line.say_wrong(said)
                said = ""
            asked = figures.asked(part) if figures and line.spec.key == "rows" else None
            line.say_comes(self._both_figures(asked) if asked else line.comes_of(part, machine))
        self.trouble.setText(f"{said[:1].upper()}{said[1:]}." if said else "")
        self.trouble.setVisible(bool(said))

    def _both_figures(self, asked: Figure) -> str:
        """Both figures of a length, and whether a row more or less would spare one in the part behind."""
        said = asked.says(self._measures.unit, comma=self._measures.comma)
        place = self._editor.place
        spared = spares_a_row(self._editor.opened.procedure, place[0]) if len(place) == 1 else ""
        if not spared or asked.count < 2:
            return said
        sentence = self.tr(
            "{figures}. {fewer} rows or {more} would spare {part} the row that brings the carriage over"
        )
        return sentence.format(figures=said, fewer=asked.count - 1, more=asked.count + 1, part=spared)

    def _make_lines(self, part: Segment, specs: tuple[FieldSpec, ...]) -> None:
        piece = self._editor.opened.piece
        focused = next((line.spec.key for line in self.lines if line.entry.hasFocus()), "")
        body = QWidget()
        grid = QGridLayout(body)
        grid.setContentsMargins(0, self._theme.px(4), 0, self._theme.px(4))
        grid.setHorizontalSpacing(self._theme.px(_BETWEEN_PX))
        grid.setVerticalSpacing(self._theme.px(5))
        grid.setColumnStretch(0, _NAME_SHARE)
        grid.setColumnStretch(1, _ENTRY_SHARE)
        self.lines = [FieldLine(spec, part, piece, self._measures, body) for spec in specs]
        for number, line in enumerate(self.lines):
            line.lay_into(grid, 4 * number)
            line.put.connect(partial(self._put, line))
            line.left.connect(self._editor.opened.end_gesture)
        self.column.replaceWidget(self._body, body)
        # It would be painted until Qt comes round to deleting it.
        self._body.hide()
        self._body.deleteLater()
        self._body = body
        # Qt would show it only later, and an entry that is not shown takes no keyboard.
        body.show()
        for line in self.lines:
            if line.spec.key == focused:
                line.entry.setFocus()
        self._arrange()

    def _arrange(self) -> None:
        """Names beside their entries, or above those that have no room there."""
        edges = self.column.contentsMargins()
        room = self.width() - edges.left() - edges.right() - self._theme.px(_BETWEEN_PX)
        entries = room * _ENTRY_SHARE // (_NAME_SHARE + _ENTRY_SHARE)
        for line in self.lines:
            line.arrange(entries, above=self._theme.px(1000) >= _LARGE_PX)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def _show_inside(self, part: Segment) -> None:
        clear(self._inner)
        if not isinstance(part, RepeatSegment):
            return
        for number, inner in enumerate(part.segments):
            place = (*self._editor.place, number)
            title = inner.called
            says = self.tr("Edit {title}, inside the repeat").format(title=title)
            button = Button(f"{number + 1}  {title}  →", self._theme, ButtonKind.LINE, says=says)
            button.clicked.connect(partial(self._editor.choose, place))
            self._inner.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)

    def _result(self, figures: PartFigures | None) -> str:
        if figures is None or not figures.rows:
            return ""
        first, last = figures.needles
        words = [
            self.tr("{first} to {last} needles").format(first=first, last=last)
            if first != last
            else counted(self.tr("{count} needle"), self.tr("{count} needles"), first),
            counted(self.tr("{count} row"), self.tr("{count} rows"), figures.rows),
        ]
        if figures.length_mm is not None and figures.width_mm is not None:
            across, up = self._measures.length(figures.width_mm), self._measures.length(figures.length_mm)
            words.append(self.tr("{across} wide, {up} long").format(across=across, up=up))
        return ", ".join(words)

    # -- editing ------------------------------------------------------------------------------------------

    def _put(self, line: FieldLine, value: object) -> None:
        part = self._editor.part
        if part is None:
            return
        what = self.tr("{field} of {part}").format(
            field=line.name.text(), part=self._editor.title_of(self._editor.place)
        )
        typed = isinstance(line.entry, TextEntry)
        gesture = f"{self._editor.place} {line.spec.key}" if typed else ""
        try:
            self._editor.put_fields(line.spec.changes(part, value), what, gesture)
        except EditError as error:
            line.say_refused(error.message)

    def _retitle(self, value: object) -> None:
        try:
            self._editor.put_fields(
                {"title": value}, self.tr("Title of a part"), f"{self._editor.place} title"
            )
        except EditError as error:
            self._editor.told.emit(f"{error.message[:1].upper()}{error.message[1:]}.")

    def _repeat_or_apart(self) -> None:
        if isinstance(self._editor.part, RepeatSegment):
            self._editor.take_apart()
        else:
            self._editor.repeat()

    def _go_up(self) -> None:
        self._editor.choose(self._editor.place[:-1])


def _specs_of(part: Segment, place: Place) -> tuple[FieldSpec, ...]:
    """The fields that say anything: at the very start there is no yarn that could be cut."""
    kind = part.model_dump(include={"kind"})["kind"]
    begins = kind == "cast_on" and set(place) == {0}
    left_out = {key for key in ("old_yarn", "tail_cm") if begins and key not in part.model_fields_set}
    return tuple(spec for spec in FIELDS[kind] if spec.shown(part) and spec.key not in left_out)
