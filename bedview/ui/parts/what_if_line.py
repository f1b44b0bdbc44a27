"""What if, right here: mistakes that can be made at this very step, as chips on one line."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.session.rehearsal import Rehearsal
from bedview.session.what_if import Slip
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

_MOST = 5


class WhatIfLine(QWidget):
    """The line. Where it is too narrow for all, the mistakes that matter least are left out.

    Args:
        rehearsal: whose step is meant.
        theme: how it looks.
        parent: as ever.
    """

    slip_chosen = Signal(object)
    """A mistake (:class:`~bedview.session.what_if.Slip`) is to be slipped in."""

    def __init__(self, rehearsal: Rehearsal, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self._slips: list[Slip] = []
        self.heading = Label(bold=True)
        self.chips = [Button("", theme, ButtonKind.CHIP) for _ in range(_MOST)]
        self._gap = theme.px(8)
        # Placed by hand: with a layout, other words on a chip would lay out the whole page anew at each step.
        self.heading.setParent(self)
        for place, chip in enumerate(self.chips):
            chip.setParent(self)
            chip.clicked.connect(lambda _checked=False, place=place: self._choose(place))
        self._offer([])

    def refresh(self) -> None:
        """Offer what can go wrong at the cursor."""
        slips = self._rehearsal.slips[:_MOST]
        if slips != self._slips:
            self._offer(slips)

    def _offer(self, slips: list[Slip]) -> None:
        self._slips = slips
        for slip, chip in zip(slips, self.chips, strict=False):
            chip.say(slip.words)
            chip.setAccessibleName(self.tr("What if {mistake}").format(mistake=slip.words))
        self.heading.setText(self.tr("What if, right here …") if slips else "")
        self._place_those_that_fit()

    def _place_those_that_fit(self) -> None:
        size = self.heading.sizeHint()
        self.heading.setGeometry(0, 0, size.width(), self.height())
        x = size.width() + self._gap + self._gap // 2
        for place, chip in enumerate(self.chips):
            size = chip.sizeHint()
            fits = place < len(self._slips) and x + size.width() <= self.width()
            chip.setVisible(fits)
            if fits:
                chip.setGeometry(x, (self.height() - size.height()) // 2, size.width(), size.height())
                x += size.width() + self._gap

    def _choose(self, place: int) -> None:
        self.slip_chosen.emit(self._slips[place])

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_those_that_fit()
