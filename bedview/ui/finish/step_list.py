"""The steps of making up, one below the other; what does not fit stands above them.

Entries are made a few at a time, so that the window goes on answering however many there are.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from time import perf_counter
from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from bedview.finish.told import MakingStep, Told
from bedview.ui.finish.group_list import GroupList
from bedview.ui.finish.misfit_card import MisfitCard
from bedview.ui.finish.step_entry import StepEntry
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

_SLICE_S: Final = 0.008
"""So long entries are made before the window answers again."""


class StepList(QScrollArea):
    """The list.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    pressed = Signal(int)
    """A step was pressed."""
    ticked = Signal(int, bool)
    """The box of a step was pressed: it is done, or it is not after all."""
    completed = Signal()
    """All entries are there."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.summary = Label(tone="quiet", wraps=True)
        self.groups = GroupList(theme)
        self.entries: list[StepEntry] = []
        self.misfits: list[MisfitCard] = []
        self._coming: Iterator[None] | None = None
        self._slices = QTimer(self, interval=0)
        self._slices.timeout.connect(self._make_some)
        inner = QWidget()
        inner.setProperty("part", "plain")
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, theme.px(6), 0)
        self._column.setSpacing(theme.px(6))
        self._column.addWidget(self.summary)
        self._column.addWidget(self.groups)
        self._column.addStretch(1)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inner)

    @property
    def complete(self) -> bool:
        """Whether all entries are there."""
        return self._coming is None

    def show_told(self, told: Told, summary: str) -> None:
        """Show another making up, bit by bit; :attr:`completed` follows."""
        for widget in (*self.entries, *self.misfits):
            self._column.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self.entries, self.misfits = [], []
        self.summary.setText(summary)
        self._coming = self._made(told)
        self._slices.start()

    def _made(self, told: Told) -> Iterator[None]:
        """Make one thing after the other."""
        self.groups.show_groups(told.groups)
        yield
        for misfit in told.misfits:
            # What merely stays open is told by its step.
            if misfit.severity != "note":
                card = MisfitCard(misfit, self._theme)
                self.misfits.append(card)
                self._add(card)
                yield
        for step in told.steps:
            self._add_entry(step)
            yield

    def _make_some(self) -> None:
        until, made = perf_counter() + _SLICE_S, False
        while self._coming is not None:
            try:
                next(self._coming)
            except StopIteration:
                if made:
                    return  # What opens the first step has a turn of its own.
                self._coming = None
                self._slices.stop()
                self.completed.emit()
            made = True
            if perf_counter() >= until:
                return

    def _add_entry(self, step: MakingStep) -> None:
        number = len(self.entries)
        entry = StepEntry(number + 1, step, self._theme)
        entry.chosen.connect(partial(self.pressed.emit, number))
        entry.ticked.connect(partial(self.ticked.emit, number))
        entry.card_opened.connect(partial(self.scroll_later, number))
        self.entries.append(entry)
        self._add(entry)

    def _add(self, widget: QWidget) -> None:
        # The last place is the air below.
        self._column.insertWidget(self._column.count() - 1, widget)

    def choose(self, step: int, *, scroll: bool = True) -> None:
        """Open a step, fold the others, and have it in sight unless what stands above is to be seen first."""
        for number, entry in enumerate(self.entries):
            entry.choose(number == step)
        if scroll:
            self.scroll_later(step)

    def scroll_later(self, step: int) -> None:
        """Have a step and its open card in sight, once Qt has laid them out."""
        QTimer.singleShot(0, self, partial(self._scroll_to, step))

    def _scroll_to(self, step: int) -> None:
        if step < len(self.entries):
            entry = self.entries[step]
            self.ensureWidgetVisible(entry.card or entry, 0, self._theme.px(10))
