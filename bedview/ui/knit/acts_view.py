"""What to do now, numbered and as large as can be."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget
from typing_extensions import override

from bedview.painting.fonts import font, text_width
from bedview.session.glance import Doer, Glance
from bedview.ui.knit.acts_layout import ActLine, ActsLayout, Mark, Placed, Room, Sign, fit_acts
from bedview.ui.knit.arrangement import ActsRoom
from bedview.ui.knit.scaled_text import colour
from bedview.ui.knit.text_fitting import LINE_HEIGHT
from bedview.ui.theme import Theme

_TONES = {
    Sign.HANDS: ("hands", "on_hands"),
    Sign.CARRIAGE: ("carriage", "on_carriage"),
    Sign.WEIGHT: ("hands", "on_hands"),
    Sign.CAUTION: ("warning", "on_warning"),
    Sign.DONE: ("carriage", "on_carriage"),
}


def act_lines(glance: Glance) -> list[ActLine]:
    """The lines for a step: weights first if hands have to move them, acts, why, what to mind."""
    lines = [ActLine(glance.weights, Sign.WEIGHT)] if glance.weights_now else []
    signs = {Doer.HANDS: Sign.HANDS, Doer.CARRIAGE: Sign.CARRIAGE}
    lines += [ActLine(act.text, signs[act.doer], number) for number, act in enumerate(glance.acts, 1)]
    lines += [ActLine(text, Sign.CAUTION) for text in glance.cautions]
    if glance.why:
        lines.append(ActLine(glance.why, Sign.NOTHING))
    return lines


class ActsView(QLabel):
    """Paints the lines; to a screen reader it is a text that names them all."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._theme = theme
        self._lines: tuple[ActLine, ...] = ()
        self._room: Room | None = None
        self._layout: ActsLayout | None = None
        theme.look_changed.connect(self.update)

    def show_lines(self, lines: Sequence[ActLine]) -> None:
        """Show others."""
        self._lines = tuple(lines)
        self._layout = None
        said = (f"{line.number}. {line.text}" if line.number else line.text for line in lines)
        self.setText("\n".join(said))
        self.update()

    def height_in(self, room: ActsRoom, unit: float) -> float:
        """How high it becomes in some room."""
        self._room = room_for(room, unit, sum(line.is_act for line in self._lines))
        self._layout = fit_acts(self._lines, self._room, text_width)
        return self._layout.height

    def layout_shown(self) -> ActsLayout:
        """What is painted."""
        if self._layout is None:
            room = self._room or Room(self.width(), self.height(), self.height(), 46, 34, 15)
            self._layout = fit_acts(self._lines, room, text_width)
        return self._layout

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        layout = self.layout_shown()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for mark in layout.marks:
                self._paint_mark(painter, mark)
            for text in layout.texts:
                self._paint_text(painter, text)

    def _paint_text(self, painter: QPainter, text: Placed) -> None:
        tone = "quiet_ink" if text.sign is Sign.NOTHING else "ink"
        painter.setPen(colour(self._theme.look, tone))
        painter.setFont(font(text.px, text.bold))
        box = QRectF(text.x, text.y, self.width(), text.px * LINE_HEIGHT)
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.drawText(box, int(flags), text.text)

    def _paint_mark(self, painter: QPainter, mark: Mark) -> None:
        look = self._theme.look
        ground, ink = (colour(look, tone) for tone in _TONES[mark.sign])
        radius = mark.across / 2
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ground)
        at = QPointF(mark.x, mark.y)
        if mark.sign is Sign.CAUTION:
            corners = [(0.0, -1.0), (1.05, 0.85), (-1.05, 0.85)]
            painter.drawPolygon(QPolygonF([at + QPointF(x * radius, y * radius) for x, y in corners]))
            self._paint_sign(painter, "!", at + QPointF(0, radius * 0.22), mark.across * 0.66)
            return
        painter.drawEllipse(at, radius, radius)
        if mark.sign is Sign.WEIGHT:
            self._paint_weight(painter, at, radius)
        elif mark.sign is Sign.DONE:
            painter.setPen(QPen(ink, radius * 0.2, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
            tick = [(-0.42, 0.02), (-0.1, 0.34), (0.46, -0.32)]
            painter.drawPolyline(QPolygonF([at + QPointF(x * radius, y * radius) for x, y in tick]))
        else:
            painter.setPen(ink)
            self._paint_sign(painter, str(mark.number), at, mark.across * 0.52)

    def _paint_sign(self, painter: QPainter, text: str, at: QPointF, px: float) -> None:
        if painter.pen().style() == Qt.PenStyle.NoPen:
            painter.setPen(colour(self._theme.look, "on_warning"))
        painter.setFont(font(px, True))
        painter.drawText(
            QRectF(at.x() - px * 2, at.y() - px, px * 4, px * 2), Qt.AlignmentFlag.AlignCenter, text
        )

    def _paint_weight(self, painter: QPainter, at: QPointF, radius: float) -> None:
        """A weight on its claw."""
        ink = colour(self._theme.look, "on_hands")
        painter.setPen(QPen(ink, max(1.5, radius * 0.13)))
        painter.drawLine(at + QPointF(0, -radius * 0.62), at + QPointF(0, -radius * 0.1))
        painter.drawLine(
            at + QPointF(-radius * 0.34, -radius * 0.55), at + QPointF(radius * 0.34, -radius * 0.55)
        )
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        corners = [(-0.26, -0.12), (0.26, -0.12), (0.46, 0.58), (-0.46, 0.58)]
        painter.drawPolygon(QPolygonF([at + QPointF(x * radius, y * radius) for x, y in corners]))


def room_for(room: ActsRoom, unit: float, acts: int) -> Room:
    """How large acts may be in some room: a single one largest of all."""
    best = (64 if acts <= 1 else 47) * unit
    return Room(
        width=room.width,
        height=room.height,
        most_height=room.most_height,
        best_px=best,
        good_px=36 * unit,
        least_px=max(13.0, 17 * unit),
    )
