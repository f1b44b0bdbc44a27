"""What stands beside the chart: the chosen part, the yarns, the machine, the sizes, the fit."""

from __future__ import annotations

from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QWidget

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
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(4))
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
            row.addWidget(button, 1)
        self.show_tab(PART)

    def show_tab(self, name: str) -> None:
        """Press one in."""
        self.buttons[name].setChecked(True)
