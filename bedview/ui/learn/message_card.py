"""The line under the bed: what happened, feedback, a hint, a reason; with a sign that says which."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.ui.learn.fitted_label import FittedLabel
from bedview.ui.learn.told import Told, Tone
from bedview.ui.parts.labels import Label
from bedview.ui.parts.said import announce
from bedview.ui.theme import TextSize, Theme

TIGHT_PX: Final = 440
"""A bench lower than this, at the usual text size, has to be sparing with room."""
_SIGNS: Final = {
    Tone.REFUSED: ("×", "warning", "on_warning"),
    Tone.MISSED: ("!", "warning", "on_warning"),
    Tone.REACHED: ("✓", "carriage", "on_carriage"),
    Tone.HINT: ("…", "body", "on_body"),
    Tone.WHY: ("?", "body", "on_body"),
}
"""Sign, ground and ink; colour is never alone."""


class _Sign(QWidget):
    """The round sign at the beginning of the line; nothing where something plain is said."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.tone = Tone.PLAIN
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._theme.px(38), self._theme.px(38))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        sign, ground, ink = _SIGNS[self.tone]
        look = self._theme.look
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(getattr(look, ground)))
            painter.drawEllipse(QRectF(self.rect()).adjusted(1, 1, -1, -1))
            painter.setPen(QColor(getattr(look, ink)))
            painter.setFont(self._theme.font(TextSize.TITLE, bold=True))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, sign)


class MessageCard(QFrame):
    """The line.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._sign = _Sign(theme)
        self.heading = Label(size="small", tone="quiet", bold=True)
        self.text = FittedLabel(theme, 1.75)
        self.told = Told(Tone.PLAIN, "")
        row = QHBoxLayout(self)
        row.setContentsMargins(theme.px(16), theme.px(6), theme.px(12), theme.px(6))
        row.setSpacing(theme.px(14))
        row.addWidget(self._sign)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.heading)
        words.addWidget(self.text, 1)
        row.addLayout(words, 1)
        self.after = QHBoxLayout()
        self.after.setSpacing(theme.px(8))
        row.addLayout(self.after)
        self.setProperty("part", "card")
        self.fit_into(0)

    def fit_into(self, page_height: int) -> None:
        """Take as much height as suits a page so high."""
        least = self._theme.px(62 if 0 < page_height < self._theme.px(TIGHT_PX) else 78)
        self.setFixedHeight(max(least, round(0.11 * page_height)))

    def say(self, told: Told, first: str = "") -> None:
        """Say something, to readers too; they hear besides what stands elsewhere on the page ``first``."""
        self.told = told
        headings = {
            Tone.PLAIN: "",
            Tone.REFUSED: self.tr("That cannot be done"),
            Tone.MISSED: self.tr("Not yet"),
            Tone.REACHED: self.tr("Right"),
            Tone.HINT: self.tr("A hint"),
            Tone.WHY: self.tr("Why?"),
        }
        heading = told.heading or headings[told.tone]
        self.heading.setText(heading)
        self.heading.setVisible(bool(heading))
        self._sign.tone = told.tone
        self._sign.setVisible(told.tone is not Tone.PLAIN)
        self._sign.update()
        self.text.setText(told.text)
        part = "warning_card" if told.tone in (Tone.REFUSED, Tone.MISSED) else "card"
        if part != self.property("part"):
            self.setProperty("part", part)
            self.style().unpolish(self)
            self.style().polish(self)
        stop = "" if heading.endswith("?") else "."
        announce(
            self, " ".join(each for each in (first, f"{heading}{stop}" if heading else "", told.text) if each)
        )
