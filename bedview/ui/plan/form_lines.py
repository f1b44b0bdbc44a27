"""A small form: names on the left, entries on the right, what is wrong below each."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, TextEntry
from bedview.ui.theme import Theme

AnyEntry = TextEntry | ChoiceEntry | FlagEntry


class FormLine:
    """One line of a form.

    Attributes:
        name: what it is called.
        entry: where it is written.
        wrong: what is wrong with it.
        refusal: why what is written there was not taken; empty if it was.
    """

    def __init__(self, name: str, entry: AnyEntry) -> None:
        self.name = Label(name, tone="quiet", wraps=True)
        self.entry = entry
        self.wrong = Label(size="small", tone="warning", wraps=True)
        self.wrong.hide()
        self.refusal = ""
        entry.setAccessibleName(name)
        self.name.setBuddy(entry)
        if isinstance(entry, TextEntry):
            entry.refused.connect(self._refuse)

    def _refuse(self, why: str) -> None:
        self.refusal = why
        self.say_wrong("")

    def say_wrong(self, why: str) -> None:
        """Say what is wrong; what was not taken goes before it, and nothing is said if all is well."""
        why = self.refusal or why
        self.wrong.setText(f"{why[:1].upper()}{why[1:].rstrip('.')}." if why else "")
        self.wrong.setVisible(bool(why))


class Form(QWidget):
    """Lines one below the other.

    Args:
        theme: how they look.
        parent: as ever.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines: dict[str, FormLine] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.px(10))
        self._grid.setVerticalSpacing(theme.px(5))
        self._grid.setColumnStretch(0, 4)
        self._grid.setColumnStretch(1, 5)

    def add(
        self, key: str, name: str, entry: AnyEntry, put: Callable[[object], object] | None = None
    ) -> FormLine:
        """A line more; ``put`` is called with each value written there."""
        line = FormLine(name, entry)
        row = 2 * len(self.lines)
        self._grid.addWidget(line.name, row, 0, Qt.AlignmentFlag.AlignVCenter)
        self._grid.addWidget(entry, row, 1)
        self._grid.addWidget(line.wrong, row + 1, 0, 1, 2)
        if put is not None:
            entry.put.connect(put)
        self.lines[key] = line
        return line

    def show_line(self, key: str, *, shown: bool) -> None:
        """Show or hide a line."""
        line = self.lines[key]
        line.name.setVisible(shown)
        line.entry.setVisible(shown)
