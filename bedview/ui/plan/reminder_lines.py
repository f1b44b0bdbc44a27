"""Reminders of a part: words for the knitter after so many of its rows."""

from __future__ import annotations

from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from bedview.plan.segments.base import Segment
from bedview.session.editing import EditError
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.measures import Measures
from bedview.ui.theme import Theme


class ReminderLines(QWidget):
    """The reminders, each with the row after which it is said.

    Args:
        editor: what they belong to.
        theme: how they look.
        parent: as ever.
    """

    def __init__(self, editor: PartsEditor, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._editor, self._theme = editor, theme
        self.rows: list[tuple[TextEntry, TextEntry, Button]] = []
        self._body = QWidget()
        self.wrong = Label(size="small", tone="warning", wraps=True)
        self.add = Button(
            self.tr("+ Reminder at a row"),
            theme,
            ButtonKind.LINK,
            says=self.tr("Add a reminder: a marker to hang, weights to move"),
        )
        self.add.clicked.connect(self._add)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(4))
        for widget in (self._body, self.wrong):
            self._column.addWidget(widget)
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self.wrong.hide()

    def refresh(self, part: Segment) -> None:
        """Show the reminders of a part."""
        if len(part.reminders) != len(self.rows):
            self._make(len(part.reminders))
        for reminder, (row, text, _) in zip(part.reminders, self.rows, strict=True):
            row.show_value(reminder.row)
            text.show_value(reminder.text)
        self._say("")

    def _make(self, count: int) -> None:
        body = QWidget()
        grid = QGridLayout(body)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(self._theme.px(5))
        grid.setColumnStretch(2, 1)
        self.rows = []
        for number in range(count):
            row, text = TextEntry(Measures().read_whole, str, step=1), TextEntry(str.strip, str)
            away = Button("×", self._theme, ButtonKind.QUIET, says=self.tr("Take this reminder out"))
            row.setFixedWidth(self._theme.px(58))
            away.setFixedWidth(self._theme.px(40))
            row.setAccessibleName(self.tr("After row"))
            text.setAccessibleName(self.tr("Reminder"))
            row.put.connect(partial(self._put, number, "row"))
            text.put.connect(partial(self._put, number, "text"))
            for entry in (row, text):
                entry.left.connect(self._editor.opened.end_gesture)
                entry.refused.connect(self._say)
            away.clicked.connect(partial(self._take_out, number))
            grid.addWidget(Label(self.tr("After row"), "small", "quiet"), 2 * number, 0)
            grid.addWidget(row, 2 * number, 1)
            grid.addWidget(away, 2 * number, 3)
            grid.addWidget(text, 2 * number + 1, 0, 1, 4)
            self.rows.append((row, text, away))
        self._column.replaceWidget(self._body, body)
        self._body.hide()
        self._body.deleteLater()
        self._body = body

    def _written(self) -> list[dict[str, Any]]:
        part = self._editor.part
        return [] if part is None else [each.model_dump(exclude_unset=True) for each in part.reminders]

    def _put(self, number: int, key: str, value: object) -> None:
        written = self._written()
        if number < len(written):
            written[number][key] = value
            self._revise(written, f"{self._editor.place} reminder {number} {key}")

    def _add(self) -> None:
        self._revise([*self._written(), {"row": 0, "text": self.tr("hang a marker at both edges")}])
        if self.rows:
            self.rows[-1][1].setFocus()
            self.rows[-1][1].selectAll()

    def _take_out(self, number: int) -> None:
        self._revise([each for place, each in enumerate(self._written()) if place != number])

    def _revise(self, written: list[dict[str, Any]], gesture: str = "") -> None:
        try:
            self._editor.put_fields({"reminders": written or None}, self.tr("Reminder"), gesture)
        except EditError as error:
            self._say(error.message)

    def _say(self, why: str) -> None:
        self.wrong.setText(f"{why[:1].upper()}{why[1:]}." if why else "")
        self.wrong.setVisible(bool(why))
