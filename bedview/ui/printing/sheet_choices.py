"""What is to be printed, and on which paper."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QVBoxLayout, QWidget

from bedview.export.paper.documents import SheetPart
from bedview.export.paper.pages import PAPERS
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.printing.document import Document
from bedview.ui.printing.tick_box import TickBox
from bedview.ui.theme import Theme


class SheetChoices(QWidget):
    """The choices.

    Args:
        paper: the paper to begin with.
        theme: how they look.
        parent: as ever.
    """

    changed = Signal()
    """Something else is to be printed."""

    def __init__(self, paper: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.flags: dict[SheetPart, TickBox] = {}
        self.papers: dict[str, Button] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(Label(self.tr("What"), bold=True))
        for part, words in self._parts().items():
            column.addWidget(self._flag(part, words))
        self.flags[SheetPart.FOLLOWING].setChecked(True)
        column.addSpacing(theme.px(10))
        column.addWidget(Label(self.tr("Paper"), bold=True))
        column.addSpacing(theme.px(4))
        column.addLayout(self._paper_row(paper))

    def _parts(self) -> dict[SheetPart, str]:
        return {
            SheetPart.FOLLOWING: self.tr("Rows and making up"),
            SheetPart.NEEDLE_STRIP: self.tr("Needle strip"),
            SheetPart.OUTLINE: self.tr("Outline in full size"),
            SheetPart.SIZES: self.tr("Sizes side by side"),
            SheetPart.CLASS: self.tr("Questions for a class"),
            SheetPart.ANSWERS: self.tr("Answers"),
        }

    def _flag(self, part: SheetPart, words: str) -> TickBox:
        flag = TickBox(words, self._theme)
        flag.put.connect(self.changed)
        self.flags[part] = flag
        return flag

    def _paper_row(self, chosen: str) -> QHBoxLayout:
        row, group = QHBoxLayout(), QButtonGroup(self)
        row.setSpacing(self._theme.px(8))
        words = {"a4": self.tr("A4"), "letter": self.tr("Letter")}
        for name in PAPERS:
            says = self.tr("Paper: {name}").format(name=words[name])
            button = Button(words[name], self._theme, ButtonKind.CHIP, says=says)
            button.setCheckable(True)
            button.setChecked(name == chosen)
            group.addButton(button)
            self.papers[name] = button
            row.addWidget(button)
        group.buttonClicked.connect(self.changed)
        row.addStretch(1)
        return row

    @property
    def paper(self) -> str:
        """Name of the paper."""
        return next(name for name, button in self.papers.items() if button.isChecked())

    @property
    def parts(self) -> frozenset[SheetPart]:
        """What is to be printed."""
        return frozenset(part for part, flag in self.flags.items() if flag.isChecked() and flag.isEnabled())

    def offer(self, document: Document) -> None:
        """Offer what there is of a document, and say why the rest is not."""
        reasons = {
            SheetPart.OUTLINE: self.tr("An outline needs the gauge of a yarn that stays in the piece."),
            SheetPart.SIZES: self.tr("There are sizes only of a piece that was made from measures."),
        }
        for part, flag in self.flags.items():
            lacks = document.lacks(part)
            flag.setEnabled(not lacks)
            flag.setToolTip(reasons.get(part, "") if lacks else "")
            flag.setAccessibleDescription(flag.toolTip())
