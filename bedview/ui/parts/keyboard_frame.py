"""A painted widget that frames what the keyboard is on, for those who came by keyboard."""

from __future__ import annotations

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPen
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.picture.look import Palette

_TAB_REASONS = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason)


class KeyboardFramed(QWidget):
    """A frame tells where the keyboard is; whoever came by pointer needs none.

    A widget says when keys or the pointer work it, and paints the frame itself, last of all.
    """

    _by_keyboard = False

    def worked_by(self, *, keyboard: bool) -> None:
        """Keys have just worked it, or the pointer has."""
        self._by_keyboard = keyboard

    def paint_frame(self, painter: QPainter, look: Palette, place: QRect, radius: float) -> None:
        """The frame, if there is to be one."""
        if self.hasFocus() and self._by_keyboard:
            painter.setPen(QPen(QColor(look.ink), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(place, radius, radius)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        self._by_keyboard = event.reason() in _TAB_REASONS
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
