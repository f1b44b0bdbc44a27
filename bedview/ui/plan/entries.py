"""What is typed or chosen: entries that read a value as it is written, and say it again as they write it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLineEdit,
    QStyle,
    QStyleOptionComboBox,
    QStyleOptionFrame,
    QWidget,
)
from typing_extensions import override

Read = Callable[[str], object]
Say = Callable[[object], str]
_WORDS_EDGE_PX = 3
"""Air that a style leaves on each side of the words."""
_OWN_KEYS = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)


def is_undo(event: QKeyEvent) -> bool:
    """Whether a key means undo or redo."""
    return any(event.matches(key) for key in _OWN_KEYS)


class TextEntry(QLineEdit):
    """A value that is typed. What can be read is told at once, letter by letter.

    Args:
        read: what a text means; raises ValueError with the reason.
        say: how a value is written.
        unset: what stands there faintly while nothing is said; None where something must be.
        step: how far arrows up and down change a number; 0 for what is no number.
        parent: as ever.
    """

    put = Signal(object)
    """A value was typed."""
    refused = Signal(str)
    """What was typed is none; one sentence says why. Empty: it is one again."""
    left = Signal()
    """The keyboard has gone elsewhere: the typing is over."""

    def __init__(
        self, read: Read, say: Say, unset: str | None = None, step: float = 0, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._read, self._say, self._unset, self._step = read, say, unset, step
        self._value: object = None
        self.turned: Callable[[float, int], float] | None = None
        """Where arrows lead from a number, if not by even steps: to the next setting of a dial."""
        self.setPlaceholderText(unset or "")
        self.textEdited.connect(self._take)

    def show_value(self, value: object) -> None:
        """Write a value, unless what stands there means the same and is being typed."""
        same = value == self._value and self.hasFocus()
        self._value = value
        if same and self._meant() == value:
            return
        said = "" if value is None else self._say(value)
        if said != self.text():
            self.setText(said)

    def wanted_px(self) -> int:
        """The width in pixels in which what stands there faintly is read to the end."""
        return self.fontMetrics().horizontalAdvance(self.placeholderText()) + self._edges_px()

    def _edges_px(self) -> int:
        option = QStyleOptionFrame()
        self.initStyleOption(option)
        inner = self.style().subElementRect(QStyle.SubElement.SE_LineEditContents, option, self)
        return self.width() - inner.width() + 2 * _WORDS_EDGE_PX

    def _meant(self) -> object:
        try:
            return self._read(self.text()) if self.text().strip() else None
        except ValueError:
            return self

    def _take(self, text: str) -> None:
        if not text.strip() and self._unset is not None:
            self._tell(None)
            return
        try:
            value = self._read(text)
        except ValueError as error:
            self.refused.emit(str(error))
            return
        self._tell(value)

    def _tell(self, value: object) -> None:
        self._value = value
        self.refused.emit("")
        self.put.emit(value)

    @override
    def event(self, event: QEvent) -> bool:
        # Undo is the piece's, also while one types: two kinds of undo in one window would be one too many.
        if isinstance(event, QKeyEvent) and is_undo(event) and event.type() == QEvent.Type.ShortcutOverride:
            event.ignore()
            return False
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        turn = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()), 0)
        if is_undo(event):
            event.ignore()
        elif turn and self._step and not event.modifiers() & Qt.KeyboardModifier.AltModifier:
            large = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._turn(turn * (10 if large else 1))
        else:
            super().keyPressEvent(event)

    def _turn(self, by: int) -> None:
        now = self._meant()
        number = now if isinstance(now, int | float) and not isinstance(now, bool) else 0
        if self.turned is not None:
            said = self._say(self.turned(number, by))
        else:
            new = max(0, number + by * self._step)
            said = self._say(type(now)(new) if isinstance(now, int | float) else new)
        self.setText(said)
        self._take(said)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()


class ChoiceEntry(QComboBox):
    """One of a few words.

    Args:
        choices: values and what they are called.
        parent: as ever.
    """

    put = Signal(object)
    """A value was chosen."""

    def __init__(self, choices: Sequence[tuple[object, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values: list[object] = []
        self._shortened = False
        self.setMinimumContentsLength(6)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.offer(choices)
        self.activated.connect(lambda place: self.put.emit(self._values[place]))

    def offer(self, choices: Sequence[tuple[object, str]]) -> None:
        """Offer other words."""
        if [words for _, words in choices] != [self.itemText(place) for place in range(self.count())]:
            self.clear()
            self.addItems([words for _, words in choices])
        self._values = [value for value, _ in choices]

    def show_value(self, value: object) -> None:
        """Show what is chosen."""
        self.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def wanted_px(self) -> int:
        """The width in pixels in which the longest of its words is read to the end."""
        words = (self.itemText(place) for place in range(self.count()))
        return (
            max((self.fontMetrics().horizontalAdvance(each) for each in words), default=0) + self._frame_px()
        )

    def _frame_px(self) -> int:
        """What the frame and the arrow take of its width."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        style = self.style()
        edit = style.subControlRect(
            QStyle.ComplexControl.CC_ComboBox, option, QStyle.SubControl.SC_ComboBoxEditField, self
        )
        return self.width() - edit.width() + 2 * _WORDS_EDGE_PX

    @override
    def showPopup(self) -> None:
        # The list may be wider than the entry: words that are shortened in it are read to the end there.
        self.view().setMinimumWidth(self.wanted_px())
        super().showPopup()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        whole = option.currentText
        room = self.width() - self._frame_px()
        option.currentText = self.fontMetrics().elidedText(whole, Qt.TextElideMode.ElideRight, room)
        tip = whole if option.currentText != whole else ""
        if tip != self.toolTip() and (tip or self._shortened):
            self.setToolTip(tip)
        self._shortened = bool(tip)
        with QPainter(self) as painter:
            self.style().drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option, painter, self)
            self.style().drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option, painter, self)
        # The style sheet takes the system's arrow away with its frame, so it is drawn here.
        size = self.height() / 9
        x, y = self.width() - 2.2 * size - 4, self.height() / 2
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(self.palette().color(self.foregroundRole()), 1.6))
            painter.drawPolyline(
                [QPointF(x - size, y - size / 2), QPointF(x, y + size / 2), QPointF(x + size, y - size / 2)]
            )

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        # Whoever scrolls past must not choose something on the way.
        event.ignore()


class FlagEntry(QCheckBox):
    """Yes or no."""

    put = Signal(object)
    """It was changed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.clicked.connect(self._tell)

    def show_value(self, value: object) -> None:
        """Show yes or no."""
        self.setChecked(bool(value))

    def _tell(self, checked: bool) -> None:
        self.put.emit(checked)
