"""What every view of the side sheet is: a column of plain things, and perhaps a bed to look at meanwhile."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.picture.bed_scene import BedScene
from bedview.ui.knit.arrangement import TARGET
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme


class SheetView(QWidget):
    """A view of the sheet.

    Args:
        title: what stands above it.
        theme: how it looks.
        parent: as ever.

    A view may show another bed than that of the row at hand (:meth:`scene`, :meth:`caption`), and hear of
    needles pressed in it.
    """

    bed_changed = Signal()
    """What it wants shown as the bed is another now."""

    def __init__(self, title: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = title
        self.theme = theme
        self.setProperty("part", "plain")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, theme.px(8), theme.px(12))
        self.column.setSpacing(theme.px(10))

    def enter(self) -> None:
        """It is about to be shown: begin from where the knitter stands."""

    def refresh(self) -> None:
        """The knitter stands elsewhere, or the piece is another."""

    def scene(self) -> BedScene | None:
        """The bed to show; None for the row at hand."""
        return None

    def caption(self) -> str:
        """What is to be said about that bed."""
        return ""

    def press_needle(self, needle: int) -> None:
        """A needle of the bed was pressed."""

    def first_field(self) -> QWidget | None:
        """Where the keyboard goes when it is shown."""
        return None


class PressedButton(Button):
    """A button for this page: high enough for any finger, and pressed by Return too."""

    def __init__(
        self,
        text: str,
        theme: Theme,
        kind: ButtonKind = ButtonKind.PLAIN,
        *,
        says: str = "",
        large: bool = False,
    ) -> None:
        super().__init__(text, theme, kind, says=says, large=large)
        # With its selector, or the labels of a choice would each be as high.
        high = f"min-height: {TARGET - 2}px; padding-top: 0px; padding-bottom: 0px;"
        self.setStyleSheet(f"QPushButton {{ {high} }}")

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self.click()
        else:
            super().keyPressEvent(event)


class Choice(PressedButton):
    """A large plain choice: what it is, and in a quieter line what it does."""

    def __init__(self, text: str, says: str, theme: Theme) -> None:
        super().__init__("", theme, says=f"{text}. {says}" if says else text)
        self.setToolTip("")
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.px(16), theme.px(10), theme.px(16), theme.px(10))
        column.setSpacing(theme.px(2))
        self._labels = [Label(text, "lead", bold=True, wraps=True)]
        if says:
            self._labels.append(Label(says, "body", "quiet", wraps=True))
        for label in self._labels:
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(label)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @override
    def hasHeightForWidth(self) -> bool:
        return True

    @override
    def heightForWidth(self, width: int) -> int:
        column = self.layout()
        assert column is not None
        return max(48, column.heightForWidth(width))

    @override
    def sizeHint(self) -> QSize:
        return QSize(240, self.heightForWidth(max(240, self.width())))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(120, 48)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


def side_by_side(theme: Theme, *widgets: QWidget) -> QWidget:
    """Widgets in a row, at the left."""
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(theme.px(8))
    for widget in widgets:
        layout.addWidget(widget)
    layout.addStretch(1)
    return row


def numbered(acts: Sequence[str], theme: Theme) -> QWidget:
    """Sentences with numbers before them."""
    whole = QWidget()
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(theme.px(8))
    for number, act in enumerate(acts, 1):
        line = QHBoxLayout()
        line.setSpacing(theme.px(10))
        mark = Label(str(number), "lead", "hands", bold=True)
        mark.setFixedWidth(theme.px(20))
        mark.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight)
        text = Label(act, "lead", wraps=True)
        line.addWidget(mark)
        line.addWidget(text, 1)
        column.addLayout(line)
    return whole


def rule() -> QLabel:
    """A thin line across."""
    line = QLabel()
    line.setFixedHeight(1)
    line.setProperty("part", "rule")
    return line
