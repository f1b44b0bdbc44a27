"""A piece to open: a small picture of it, its title, and one sentence."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.chart import ChartScene
from bedview.picture.chart_drawing import draw_chart
from bedview.picture.marks import DisplayList, Layer
from bedview.picture.marks import Mark as Painted
from bedview.ui.theme import TextSize, Theme


@dataclass(frozen=True, slots=True)
class PieceSeen:
    """What a tile tells.

    Attributes:
        name: what is opened: a path, or a demo's name.
        title: of the piece.
        says: one sentence.
        chart: the piece, flat; None if it could not be worked out.
    """

    name: str
    title: str
    says: str
    chart: ChartScene | None


def shape_of(scene: ChartScene, width: float, height: float, theme: Theme) -> DisplayList:
    """The rows of a chart alone, as large as they fit."""
    # The chart keeps room for numbers at its edges; those are left out here.
    left, below = 46.0, 44.0
    whole = draw_chart(scene, width + left + 22, height + below, theme.look, cards=False)
    layers = tuple(layer for layer in whole.layers if layer.name in ("bars", "wraps"))
    return DisplayList(width + left + 22, height + below, theme.look.card, _shifted(layers))


def _shifted(layers: tuple[Layer, ...]) -> tuple[Layer, ...]:
    painted: list[Painted] = [mark for layer in layers for mark in layer.marks]
    return (Layer("shape", tuple(painted)),)


class PieceTile(QAbstractButton):
    """The tile.

    Args:
        seen: what it tells.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, seen: PieceSeen, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.seen = seen
        self._theme = theme
        self._cache = TileCache(self.devicePixelRatio())
        self.setText(seen.title)
        self.setAccessibleName(seen.title)
        self.setAccessibleDescription(seen.says)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.look_changed.connect(self.update)

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._theme.px(360), self._theme.px(240))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(self._theme.px(220), self._theme.px(190))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        theme, look = self._theme, self._theme.look
        edge = theme.px(16)
        frame = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        words_high = theme.px(96)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            active = self.hasFocus() or self.underMouse()
            painter.setPen(
                QPen(
                    QColor(look.ink if self.hasFocus() else look.carriage if active else look.line),
                    3 if self.hasFocus() else 2 if active else 1,
                )
            )
            painter.setBrush(QColor(look.card))
            painter.drawRoundedRect(frame, theme.px(13), theme.px(13))
            self._paint_shape(painter, frame.adjusted(edge, edge, -edge, -words_high))
            words = frame.adjusted(edge, frame.height() - words_high + theme.px(8), -edge, -theme.px(8))
            self._paint_words(painter, words)

    def _paint_words(self, painter: QPainter, words: QRectF) -> None:
        """The title, then the sentence below it, both in as many lines as they need."""
        theme, look = self._theme, self._theme.look
        painter.setFont(theme.font(TextSize.BODY, bold=True))
        painter.setPen(QColor(look.ink))
        title = painter.boundingRect(words, Qt.TextFlag.TextWordWrap, self.seen.title)
        painter.drawText(words, Qt.TextFlag.TextWordWrap, self.seen.title)
        painter.setFont(theme.font(TextSize.SMALL))
        painter.setPen(QColor(look.quiet_ink))
        words.setTop(title.bottom() + theme.px(3))
        painter.drawText(words, Qt.TextFlag.TextWordWrap, self.seen.says)

    def _paint_shape(self, painter: QPainter, place: QRectF) -> None:
        if self.seen.chart is None or place.height() < 8:
            return
        picture = shape_of(self.seen.chart, place.width(), place.height(), self._theme)
        painter.save()
        painter.setClipRect(place)
        painter.translate(place.left() - 46, place.top() - 10)
        paint(picture, painter, self._cache)
        painter.restore()
