"""Text that stands still: titles, sentences, quiet remarks. Always plain text, never markup."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget
from typing_extensions import override

SizeName = Literal["small", "body", "lead", "title", "headline"]
Tone = Literal["", "quiet", "warning", "hands", "carriage"]


class Label(QLabel):
    """A text.

    Args:
        text: as it stands; what looks like markup is shown as it is.
        size: its size.
        tone: its colour.
        bold: its weight.
        wraps: whether it goes on in more lines; without it, it may be cut off by its neighbours.
        parent: as ever.
    """

    def __init__(
        self,
        text: str = "",
        size: SizeName = "body",
        tone: Tone = "",
        *,
        bold: bool = False,
        wraps: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("text_size", size)
        self.setProperty("tone", tone)
        self.setProperty("bold", bold)
        self.setWordWrap(wraps)
        if wraps:
            self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.setText(text)

    def resize_text(self, size: SizeName) -> None:
        """Set it in another size."""
        if self.property("text_size") != size:
            self.setProperty("text_size", size)
            self.style().unpolish(self)
            self.style().polish(self)


class ShortenedLabel(Label):
    """A text on one line that ends in "…" where there is no room; the whole of it is the tool tip."""

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        whole = self.text()
        room = self.contentsRect()
        shown = self.fontMetrics().elidedText(whole, Qt.TextElideMode.ElideRight, room.width())
        tip = whole if shown != whole else ""
        if tip != self.toolTip():
            self.setToolTip(tip)
        with QPainter(self) as painter:
            painter.setPen(self.palette().color(self.foregroundRole()))
            painter.drawText(room, self.alignment() | Qt.TextFlag.TextSingleLine, shown)
