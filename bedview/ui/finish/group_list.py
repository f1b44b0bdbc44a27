"""The open loops of a piece: how many groups there are, and on a press what they are."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme


class GroupList(QWidget):
    """The list, folded to one line until it is pressed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = Button("", theme, ButtonKind.LINK)
        self.heading.setCheckable(True)
        self.lines: list[Label] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, theme.px(4))
        self._column.setSpacing(theme.px(4))
        self._column.addWidget(self.heading, 0, Qt.AlignmentFlag.AlignLeft)
        self.heading.toggled.connect(self._unfold)
        self.hide()

    def show_groups(self, groups: tuple[tuple[str, str], ...]) -> None:
        """Show the groups of another piece: name and size of each."""
        for line in self.lines:
            self._column.removeWidget(line)
            line.hide()
            line.deleteLater()
        self.lines = [
            Label(self.tr("{name}: {what}").format(name=name, what=size), wraps=True) for name, size in groups
        ]
        for line in self.lines:
            self._column.addWidget(line)
        self.heading.say(
            counted(
                self.tr("{count} group of open loops"), self.tr("{count} groups of open loops"), len(groups)
            )
        )
        self._unfold(self.heading.isChecked())
        self.setVisible(bool(groups))

    def _unfold(self, open_: bool) -> None:
        for line in self.lines:
            line.setVisible(open_)
