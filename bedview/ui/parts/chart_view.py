"""The chart of a piece on screen: parts beside their rows, findings where they lie; a part can be chosen."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.painting.fonts import text_width
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.chart import ChartScene
from bedview.picture.chart_drawing import draw_chart, place_of
from bedview.picture.chart_layout import ChartLayout, lay_out_chart
from bedview.ui.parts.keyboard_frame import KeyboardFramed
from bedview.ui.parts.said import announce
from bedview.ui.theme import Theme

_NEAR_PX = 14.0
"""A press this near to a finding's sign means the finding: a target of 28 pixels."""


class ChartView(KeyboardFramed):
    """The chart.

    Args:
        scene: what it shows.
        theme: how it looks.
        parent: as ever.
    """

    part_pressed = Signal(int)
    """A part was chosen, by its card, its rows, or the keyboard; its place in the piece."""
    mark_pressed = Signal(int)
    """The sign of a finding was pressed; its place among the scene's marks."""

    def __init__(self, scene: ChartScene, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scene = scene
        self._theme = theme
        self._cache = TileCache(self.devicePixelRatio())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Chart of the piece: arrows up and down choose a part"))
        theme.look_changed.connect(self.update)

    @property
    def scene(self) -> ChartScene:
        """What is shown."""
        return self._scene

    def show_scene(self, scene: ChartScene) -> None:
        """Show something else."""
        self._scene = scene
        self.update()

    def choose(self, part: int) -> None:
        """Frame another part."""
        self._scene = replace(self._scene, chosen=part)
        words = self.part_in_words(part)
        self.setAccessibleDescription(words)
        if self.hasFocus():
            announce(self, words)
        self.update()

    def part_in_words(self, part: int) -> str:
        """A part as one says it."""
        shown = self._scene.parts[part]
        if shown.rows < 1:
            return self.tr("{title}, no rows").format(title=shown.title)
        return self.tr("{title}, rows {first} to {last}").format(
            title=shown.title, first=shown.first, last=shown.last
        )

    def places(self) -> ChartLayout:
        """Where what stands."""
        return lay_out_chart(self._scene, self.width(), self.height())

    def part_at(self, place: QPointF) -> int | None:
        """The part whose card or rows lie at a point."""
        layout = self.places()
        found = layout.part_at(place.x(), place.y())
        row = layout.pass_at(place.y())
        if found is None and row is not None and place.x() > layout.cards_right:
            parts = enumerate(self._scene.parts)
            found = next((number for number, part in parts if part.first <= row <= part.last), None)
        return found

    def mark_at(self, place: QPointF) -> int | None:
        """The finding whose sign lies at a point, the nearest of several."""
        layout = self.places()
        nearest, found = _NEAR_PX, None
        for number, mark in enumerate(self._scene.marks):
            x, y = place_of(mark.pass_number, mark.needle, layout)
            away = max(abs(x - place.x()), abs(y - place.y()))
            if away < nearest:
                nearest, found = away, number
        return found

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def sizeHint(self) -> QSize:
        return QSize(880, 600)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(420, 300)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        picture = draw_chart(
            self._scene, self.width(), self.height(), look, measure=text_width, layout=self.places()
        )
        with QPainter(self) as painter:
            paint(picture, painter, self._cache)
            if self._scene.chosen is not None:
                top, bottom = self.places().cards[self._scene.chosen]
                wide = self.places().cards_right - 12
                card = QRect(6, int(top) + 4, int(wide), max(4, int(bottom - top) - 8))
                self.paint_frame(painter, look, card, 4)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self.worked_by(keyboard=False)
        mark = self.mark_at(event.position())
        part = self.part_at(event.position())
        if mark is not None:
            self.mark_pressed.emit(mark)
        elif part is not None:
            self.part_pressed.emit(part)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        count = len(self._scene.parts)
        now = self._scene.chosen if self._scene.chosen is not None else -1
        # The piece grows upwards, so up is on.
        wanted = {
            Qt.Key.Key_Up: now + 1,
            Qt.Key.Key_Down: now - 1,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: count - 1,
        }.get(Qt.Key(event.key()))
        if wanted is None or not count:
            super().keyPressEvent(event)
        else:
            self.worked_by(keyboard=True)
            self.part_pressed.emit(max(0, min(wanted, count - 1)))
