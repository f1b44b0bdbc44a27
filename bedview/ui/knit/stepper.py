"""A number with a large button on either side, to be set with a finger, by keys, or written."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractSpinBox, QDoubleSpinBox, QHBoxLayout, QSpinBox, QWidget

from bedview.ui.knit.arrangement import TARGET
from bedview.ui.knit.sheet_view import PressedButton
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.theme import Theme


class Stepper(QWidget):
    """The number, one less, one more.

    Args:
        says: what the number is, for a screen reader.
        theme: how it looks.
        fractions: whether halves and tenths are numbers too; a press moves it by a half then.
        parent: as ever.
    """

    changed = Signal(float)
    """It is another number."""

    def __init__(
        self, says: str, theme: Theme, *, fractions: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.field: QSpinBox | QDoubleSpinBox = QDoubleSpinBox() if fractions else QSpinBox()
        if isinstance(self.field, QDoubleSpinBox):
            self.field.setDecimals(1)
            self.field.setSingleStep(0.5)
        self.field.setButtonSymbols(QAbstractSpinBox.ButtonSymbols.NoButtons)
        self.field.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.field.setAccessibleName(says)
        self.field.setFixedWidth(theme.px(96))
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
            widget.setFixedHeight(TARGET)
            row.addWidget(widget)
        for button in (self.less, self.more):
            button.setFixedWidth(TARGET)
            button.setAutoRepeat(True)
        self.less.clicked.connect(self.field.stepDown)
        self.more.clicked.connect(self.field.stepUp)
        self.field.valueChanged.connect(lambda value: self.changed.emit(float(value)))

    @property
    def value(self) -> float:
        """The number."""
        return self.field.value()

    @property
    def whole(self) -> int:
        """The number, for counts."""
        return round(self.field.value())

    def show_number(self, value: float, least: float, most: float) -> None:
        """Show a number and say how far it may go, without a signal."""
        self.field.blockSignals(True)
        if isinstance(self.field, QSpinBox):
            self.field.setRange(round(least), round(most))
            self.field.setValue(round(value))
        else:
            self.field.setRange(least, most)
            self.field.setValue(value)
        self.field.blockSignals(False)
