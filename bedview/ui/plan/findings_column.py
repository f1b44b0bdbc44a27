"""What was found in the chosen part, with what could be done about it at once."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bedview.checks.folding import Folded
from bedview.session.parts_editor import PartsEditor
from bedview.session.repairs import Repair, repairs_for
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.counting import counted
from bedview.ui.parts.finding_card import FindingCard
from bedview.ui.parts.labels import Label
from bedview.ui.parts.piece_pictures import broken_off_words
from bedview.ui.theme import Theme


class MendingCard(FindingCard):
    """A finding, its repairs, and the way to see it.

    Args:
        folded: what was found.
        repairs: what could mend it.
        theme: how it looks.
        parent: as ever.
    """

    repair_wanted = Signal(object)
    """A repair is to be done."""

    def __init__(
        self, folded: Folded, repairs: tuple[Repair, ...], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(folded, theme, parent)
        self.folded = folded
        self.mends: list[Button] = []
        self.column.removeWidget(self.show_it)
        for repair in repairs:
            button = Button(repair.title, theme, ButtonKind.LINK, says=f"{repair.title}: {folded.title}")
            button.clicked.connect(partial(self.repair_wanted.emit, repair))
            self.mends.append(button)
            self.column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addWidget(self.show_it, 0, Qt.AlignmentFlag.AlignLeft)


class FindingsColumn(QWidget):
    """The findings.

    Args:
        editor: the parts they lie in.
        theme: how they look.
        parent: as ever.
    """

    show_wanted = Signal(object)
    """A finding is to be seen on the bed."""
    part_wanted = Signal(int)
    """The part of the next finding elsewhere is to be chosen."""

    def __init__(self, editor: PartsEditor, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._editor, self._theme = editor, theme
        self._shown: list[tuple[Folded, tuple[str, ...]]] = []
        self.cards: list[MendingCard] = []
        self.elsewhere = Button("", theme, ButtonKind.LINK)
        self.trouble = Button("", theme, ButtonKind.LINK)
        self.trouble_says = Label(tone="warning", wraps=True)
        self.nothing = Label(tone="quiet", wraps=True)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(10))
        self._column.addWidget(self.trouble_says)
        self._column.addWidget(self.trouble, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.elsewhere, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.nothing)
        self.elsewhere.clicked.connect(self._go_elsewhere)
        self.trouble.clicked.connect(self._go_to_trouble)

    def refresh(self) -> None:
        """Show what was found now."""
        opened, part = self._editor.opened, self._editor.place[0]
        here = [each for each in opened.folded if each.stretch in (part, -1)]
        repairs = [repairs_for(each, opened.piece, opened.procedure) for each in here]
        wanted = [
            (each, tuple(repair.title for repair in own)) for each, own in zip(here, repairs, strict=True)
        ]
        if wanted != self._shown:
            self._shown = wanted
            self._make(here, repairs)
        else:
            # The words are the same; what a repair would do may not be.
            self._repairs = repairs
        self._show_trouble(part)
        others = len(opened.folded) - len(here)
        one = self.tr("One more thing to watch, elsewhere")
        self.elsewhere.say(counted(one, self.tr("{count} more things to watch, elsewhere"), others))
        self.elsewhere.setVisible(bool(others))
        quiet = not opened.folded and opened.trouble is None and opened.procedure.timeline.lines > 0
        self.nothing.setText(self.tr("Nothing to watch: no gap, no long float, no lost stitch."))
        self.nothing.setVisible(quiet)

    def _show_trouble(self, part: int) -> None:
        """Say that the piece cannot be knitted to its end, where another part is looked at."""
        trouble = self._editor.opened.trouble
        elsewhere = trouble is not None and trouble.segment != part
        if trouble is not None and elsewhere:
            title = self._editor.title_of((trouble.segment,))
            self.trouble_says.setText(broken_off_words(self._editor.opened))
            self.trouble.say(self.tr("Go to {title}").format(title=title))
        self.trouble_says.setVisible(elsewhere)
        self.trouble.setVisible(elsewhere)

    def _go_to_trouble(self) -> None:
        trouble = self._editor.opened.trouble
        if trouble is not None:
            self.part_wanted.emit(trouble.segment)

    def _make(self, here: list[Folded], repairs: list[tuple[Repair, ...]]) -> None:
        for card in self.cards:
            self._column.removeWidget(card)
            card.hide()
            card.deleteLater()
        self._repairs = repairs
        self.cards = [MendingCard(each, own, self._theme) for each, own in zip(here, repairs, strict=True)]
        for place, card in enumerate(self.cards):
            card.show_wanted.connect(partial(self.show_wanted.emit, card.folded))
            card.repair_wanted.connect(partial(self._mend, place))
            self._column.insertWidget(place, card)

    def _mend(self, place: int, repair: Repair) -> None:
        now = next((each for each in self._repairs[place] if each.title == repair.title), repair)
        self._editor.mend(self.cards[place].folded, now)

    def _go_elsewhere(self) -> None:
        part = self._editor.place[0]
        places = [each.stretch for each in self._editor.opened.folded if each.stretch not in (part, -1)]
        if places:
            self.part_wanted.emit(next((place for place in places if place > part), places[0]))
