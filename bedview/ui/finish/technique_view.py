"""A technique card on screen: its drawing, when one does it, and what hands do."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.finish.card_drawing import card_height, draw_card
from bedview.finish.cards import Drawing, TechniqueCard
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

_WIDEST = 400


class CardDrawing(QWidget):
    """The drawing, as wide as there is room.

    Args:
        drawing: what is drawn.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, drawing: Drawing, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = drawing
        self._theme = theme
        self._cache = TileCache(self.devicePixelRatio())
        self.setAccessibleName(drawing.says)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMaximumWidth(theme.px(_WIDEST))
        theme.look_changed.connect(self.update)

    @override
    def sizeHint(self) -> QSize:
        wide = min(max(self.width(), 120), self.maximumWidth())
        return QSize(wide, round(card_height(self._drawing, wide)))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.setFixedHeight(round(card_height(self._drawing, event.size().width())))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            paint(draw_card(self._drawing, self.width(), self._theme.look), painter, self._cache)


class TechniqueView(QWidget):
    """A card, opened below the step it belongs to.

    Args:
        card: the card.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(self, card: TechniqueCard, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, theme.px(4), 0, theme.px(6))
        column.setSpacing(theme.px(7))
        column.addWidget(Label(card.when, tone="quiet", wraps=True))
        column.addWidget(CardDrawing(card.drawing, theme))
        for number, sentence in enumerate(card.steps, 1):
            row = QHBoxLayout()
            row.setSpacing(theme.px(8))
            count = Label(str(number), tone="hands", bold=True)
            count.setMinimumWidth(theme.px(14))
            row.addWidget(count, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(Label(sentence, wraps=True), 1)
            column.addLayout(row)
