"""A lesson to open: its number, its title, and how far one has come."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from bedview.ui.theme import TextSize, Theme


@dataclass(frozen=True, slots=True)
class LessonSeen:
    """What a tile tells.

    Attributes:
        name: of the lesson.
        number: its place among the lessons, from 1.
        title: of the lesson.
        state: how far one has come; empty if it was never tried.
        done: whether its goals were once reached.
        next: whether it is the one to go on with.
    """

    name: str
    number: int
    title: str
    state: str = ""
    done: bool = False
    next: bool = False


class LessonTile(QAbstractButton):
    """The tile.

    Args:
        seen: what it tells.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, seen: LessonSeen, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.look_changed.connect(self.update)
        self.show_seen(seen)

    def show_seen(self, seen: LessonSeen) -> None:
        """Tell something else."""
        self.seen = seen
        self.setText(seen.title)
        self.setAccessibleName(
            self.tr("Lesson {number}: {title}").format(number=seen.number, title=seen.title)
        )
        self.setAccessibleDescription(seen.state)
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._theme.px(300), self._theme.px(58))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(self._theme.px(200), self._theme.px(54))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        theme, look, seen = self._theme, self._theme.look, self.seen
        frame = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        active = self.hasFocus() or self.underMouse() or seen.next
        edge = look.ink if self.hasFocus() else look.carriage if active else look.line
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(edge), 3 if self.hasFocus() else 2 if active else 1))
            painter.setBrush(QColor(look.card))
            painter.drawRoundedRect(frame, theme.px(13), theme.px(13))
            across = theme.px(36)
            middle = frame.center().y()
            badge = QRectF(frame.left() + theme.px(14), middle - across / 2, across, across)
            painter.setPen(QPen(QColor(look.carriage if seen.done or seen.next else look.quiet_ink), 2))
            painter.setBrush(QColor(look.carriage) if seen.done else Qt.BrushStyle.NoBrush)
            painter.drawEllipse(badge)
            painter.setPen(QColor(look.on_carriage if seen.done else look.ink))
            painter.setFont(theme.font(TextSize.BODY, bold=True))
            painter.drawText(badge, Qt.AlignmentFlag.AlignCenter, "✓" if seen.done else str(seen.number))
            self._paint_words(painter, frame.adjusted(theme.px(64), theme.px(6), -theme.px(12), -theme.px(6)))

    def _paint_words(self, painter: QPainter, room: QRectF) -> None:
        """The title in one or two lines, the state below it."""
        theme, look, seen = self._theme, self._theme.look, self.seen
        wraps = int(Qt.TextFlag.TextWordWrap)
        large = self.height() >= theme.px(92)
        title = theme.font(TextSize.TITLE if large else TextSize.BODY, bold=True)
        small = theme.font(TextSize.BODY if large else TextSize.SMALL)
        high = QFontMetrics(title).boundingRect(room.toRect(), wraps, seen.title).height()
        below = QFontMetrics(small).height() if seen.state else 0
        room.setTop(room.top() + max(0.0, (room.height() - high - below) / 2))
        painter.setFont(title)
        painter.setPen(QColor(look.ink))
        painter.drawText(room, wraps, seen.title)
        if seen.state:
            room.setTop(room.top() + high)
            painter.setFont(small)
            painter.setPen(QColor(look.quiet_ink))
            painter.drawText(room, int(Qt.TextFlag.TextSingleLine), seen.state)
