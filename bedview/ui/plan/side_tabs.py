"""What stands beside the chart: the chosen part, the yarns, the machine, the sizes, the fit."""

from __future__ import annotations

from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QWidget
from typing_extensions import override

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.theme import Theme

PART: Final = "part"


class SideTabs(QWidget):
    """One word for each, the shown one pressed in.

    Args:
        theme: how they look.
        parent: as ever.
    """

    tab_chosen = Signal(str)
    """Another one is to be shown; its name."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons: dict[str, Button] = {}
        group = QButtonGroup(self)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(theme.px(4))
        self._columns = 0
        for name, words, says in (
            (PART, self.tr("Part"), self.tr("The chosen part")),
            ("yarn", self.tr("Yarn"), self.tr("Yarns and their gauge")),
            ("machine", self.tr("Machine"), self.tr("The bed and the machine")),
            ("sizes", self.tr("Sizes"), self.tr("Measures and sizes side by side")),
            ("fit", self.tr("Fit"), self.tr("How the piece will fit")),
        ):
            button = Button(words, theme, ButtonKind.TAB, says=says)
            button.setCheckable(True)
            button.clicked.connect(partial(self.tab_chosen.emit, name))
            group.addButton(button)
            self.buttons[name] = button
        self._lay_out(len(self.buttons))
        self.show_tab(PART)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand in two rows where one has no room for the words."""
        super().resizeEvent(event)
        words = sum(button.sizeHint().width() for button in self.buttons.values())
        in_one_row = words + (len(self.buttons) - 1) * self._grid.spacing() <= self.width()
        self._lay_out(len(self.buttons) if in_one_row else -(-len(self.buttons) // 2))

    def _lay_out(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for number, button in enumerate(self.buttons.values()):
            self._grid.addWidget(button, *divmod(number, columns))
        for column in range(len(self.buttons)):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def show_tab(self, name: str) -> None:
        """Press one in."""
        self.buttons[name].setChecked(True)
