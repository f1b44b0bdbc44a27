"""A number with a large button on either side, to be set with a finger, by keys, or written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, TypeAlias

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget
from typing_extensions import override

from bedview.ui.knit.arrangement import TARGET
from bedview.ui.knit.sheet_view import PressedButton
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.theme import Theme

Turned: TypeAlias = Callable[[float, int], float]
"""What becomes of a number that is moved by so many steps."""
_HIGH: Final = f"min-height: {TARGET - 4}px; padding: 0px;"


class Stepper(QWidget):
    """The number, one less, one more.

    Args:
        says: what the number is, for a screen reader.
        theme: how it looks.
        turned: what a press of so many steps makes of it; whole numbers, one by one, if left out.
        parent: as ever.
    """

    changed = Signal()
    """It is another number, by the user's doing."""

    def __init__(
        self, says: str, theme: Theme, *, turned: Turned | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._turned = turned
        self._least, self._most = 0.0, 9999.0
        self._value = 0.0
        self.field = QLineEdit()
        self.field.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.field.setAccessibleName(says)
        self.field.setFixedWidth(theme.px(84))
        self.less = PressedButton(
            "−", theme, ButtonKind.PLAIN, says=self.tr("{what}: less").format(what=says)
        )
        self.more = PressedButton(
            "+", theme, ButtonKind.PLAIN, says=self.tr("{what}: more").format(what=says)
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(6))
        for widget in (self.less, self.field, self.more):
            widget.setStyleSheet(_HIGH)
            row.addWidget(widget)
        for button, by in ((self.less, -1), (self.more, 1)):
            button.setFixedWidth(TARGET)
            button.setAutoRepeat(True)
            button.clicked.connect(lambda _checked=False, by=by: self._move(by))
        self.field.textEdited.connect(self._written)
        self.field.editingFinished.connect(self._show)

    @property
    def value(self) -> float:
        """The number."""
        return self._value

    @property
    def whole(self) -> int:
        """The number, for counts."""
        return round(self._value)

    def show_number(self, value: float, least: float, most: float) -> None:
        """Show a number and say how far it may go; without a signal."""
        self._least, self._most = least, most
        self._value = float(max(least, min(value, most)))
        self._show()

    def _show(self) -> None:
        self.field.setText(f"{self._value:g}".replace(".", QLocale().decimalPoint()))
        self.less.setEnabled(self._value > self._least)
        self.more.setEnabled(self._value < self._most)

    def _written(self, text: str) -> None:
        value, is_number = QLocale().toDouble(text)
        if is_number and self._least <= value <= self._most:
            self._take(float(round(value)) if self._turned is None else value)

    def _move(self, by: int) -> None:
        moved = self._value + by if self._turned is None else self._turned(self._value, by)
        self._take(max(self._least, min(moved, self._most)))
        self._show()

    def _take(self, value: float) -> None:
        if value != self._value:
            self._value = value
            self.changed.emit()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        moves = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}
        by = moves.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self._move(by)
