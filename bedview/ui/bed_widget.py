"""The bed on screen: paints a scene, and says which needle is pointed at, pressed or moved.

It changes nothing itself: pages send it scenes and act on what it says.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.bed.needles import Position
from bedview.painting.fonts import text_width
from bedview.painting.painter import paint
from bedview.painting.strokes import colour_of
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_layout import BedLayout, lay_out
from bedview.picture.bed_scene import BedScene, empty_scene
from bedview.picture.look import LIGHT, Palette
from bedview.picture.marks import DisplayList
from bedview.ui.bed_accessible import announce_focus, let_readers_see_beds, tell_changed

_DRAG_FROM_PX = 5.0
"""A press becomes a drag when the pointer has moved so far."""


class BedWidget(QWidget):
    """The picture of a bed.

    Args:
        scene: what to show first; None for an empty bed.
        look: colours.
        interactive: whether needles can be reached by keyboard (arrows, Home, End; Return presses, Up and
        Down
            move). Off where a page keeps those keys to itself.
        parent: as ever.

    Signals carry needle indices from 0 at the left end, and positions as :class:`Position`.
    """

    needle_pressed = Signal(int)
    """A needle was clicked, tapped, or chosen by Return."""
    needle_dragged = Signal(int, int)
    """A needle is being drawn along: it would come to stand in that position."""
    needle_dropped = Signal(int, int)
    """A needle was moved to that position, by pointer or by key."""
    needle_hovered = Signal(int)
    """The pointer is on another needle; -1: on none."""
    needle_focused = Signal(int)
    """The keyboard is on another needle."""
    scene_shown = Signal()
    """Another moment is shown."""

    def __init__(
        self,
        scene: BedScene | None = None,
        look: Palette = LIGHT,
        *,
        interactive: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        let_readers_see_beds()
        self._scene = scene or empty_scene(60)
        self._look = look
        self._interactive = interactive
        self._cache = TileCache(self.devicePixelRatio())
        self._layout: BedLayout | None = None
        self._picture: DisplayList | None = None
        self._hovered = -1
        self._focused = self._scene.in_use()[0]
        self._pressed: tuple[int, QPointF] | None = None
        self._dragged_to: Position | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if interactive else Qt.FocusPolicy.NoFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("The bed"))

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def scene(self) -> BedScene:
        """What is shown."""
        return self._scene

    @property
    def look(self) -> Palette:
        """The colours it is shown in."""
        return self._look

    @property
    def focused(self) -> int:
        """The needle the keyboard is on."""
        return self._focused

    def show_scene(self, scene: BedScene) -> None:
        """Show another moment."""
        before, self._scene = self._scene, scene
        self._focused = min(self._focused, scene.needles - 1)
        self._layout = self._picture = None
        self._update_changed(before)
        tell_changed(self)
        self.scene_shown.emit()

    def set_look(self, look: Palette) -> None:
        """Show it in other colours."""
        self._look = look
        self._forget_picture()

    def bed_layout(self) -> BedLayout:
        """Where everything stands in the widget."""
        ratio = self.devicePixelRatio()
        if self._layout is None or ratio != self._cache.ratio:
            if ratio != self._cache.ratio:
                self._cache = TileCache(ratio)
            self._layout = lay_out(self._scene, self.width(), self.height(), ratio=ratio)
            self._picture = None
        return self._layout

    def picture(self) -> DisplayList:
        """What is painted."""
        layout = self.bed_layout()
        if self._picture is None:
            self._picture = draw_bed(
                self._scene, self.width(), self.height(), self._look, measure=text_width, layout=layout
            )
        return self._picture

    def _forget_picture(self) -> None:
        self._layout = self._picture = None
        self.update()

    def _update_changed(self, _before: BedScene, /) -> None:
        """Have painted again what may look different after another scene; here all of it."""
        self.update()

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def sizeHint(self) -> QSize:
        return QSize(1200, 390)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(480, 180)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._forget_picture()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        # Worked out before the painter begins: an error with a painter left open would end the process.
        picture = self.picture()
        with QPainter(self) as painter:
            paint(picture, painter, self._cache)
            if self.hasFocus():
                self._paint_focus(painter)

    def _paint_focus(self, painter: QPainter) -> None:
        """A frame round the needle the keyboard is on."""
        painter.setPen(QPen(colour_of(self._look.ink), 2, Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(self.needle_rect(self._focused), 4, 4)

    def needle_rect(self, needle: int) -> QRectF:
        """Where a needle is painted, from its butt's line to the furthest it can reach."""
        layout = self.bed_layout()
        wide = max(layout.cell, 8.0)
        top, bottom = layout.rail_bottom, layout.tip(Position.HOLD) + 4
        if layout.turned:
            top, bottom = layout.height - bottom, layout.height - top
        return QRectF(layout.x_of(needle) - wide / 2, top, wide, bottom - top)

    # -- pointer ------------------------------------------------------------------------------------------

    def needle_at(self, place: QPointF) -> int | None:
        """The needle at a point of the widget."""
        return self.bed_layout().needle_at(place.x(), place.y())

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        needle = self.needle_at(event.position())
        if event.button() != Qt.MouseButton.LeftButton or needle is None:
            super().mousePressEvent(event)
            return
        self._pressed = needle, event.position()
        self._dragged_to = None
        if self._interactive:
            self._focus_on(needle)

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._hover(self.needle_at(event.position()))
        if self._pressed is None:
            return
        needle, start = self._pressed
        if self._dragged_to is None and abs(event.position().y() - start.y()) < _DRAG_FROM_PX:
            return
        # The tip follows the pointer from where the needle was taken hold of.
        layout = self.bed_layout()
        now = layout.tip(Position(int(self._scene.positions[needle])))
        moved = (start.y() - event.position().y()) if layout.turned else (event.position().y() - start.y())
        aim = layout.height - (now + moved) if layout.turned else now + moved
        position = layout.position_at(aim)
        if position is not self._dragged_to:
            self._dragged_to = position
            self.needle_dragged.emit(needle, int(position))

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None or event.button() != Qt.MouseButton.LeftButton:
            super().mouseReleaseEvent(event)
            return
        (needle, _), position = self._pressed, self._dragged_to
        self._pressed = self._dragged_to = None
        if position is None:
            self.needle_pressed.emit(needle)
        else:
            self.needle_dropped.emit(needle, int(position))

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._hover(None)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        self._pressed = self._dragged_to = None

    def _hover(self, needle: int | None) -> None:
        index = -1 if needle is None else needle
        if index != self._hovered:
            self._hovered = index
            self.needle_hovered.emit(index)

    # -- keyboard -----------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        layout = self.bed_layout()
        step = -1 if layout.turned else 1
        moves = {
            Qt.Key.Key_Left: self._focused - step,
            Qt.Key.Key_Right: self._focused + step,
            Qt.Key.Key_Home: layout.last if layout.turned else layout.first,
            Qt.Key.Key_End: layout.first if layout.turned else layout.last,
        }
        key = Qt.Key(event.key())
        now = int(self._scene.positions[self._focused])
        if not self._interactive:
            super().keyPressEvent(event)
        elif key in moves:
            self._focus_on(max(layout.first, min(layout.last, moves[key])))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.needle_pressed.emit(self._focused)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            to = now + (1 if (key == Qt.Key.Key_Down) is not layout.turned else -1)
            if Position.OUT <= to <= Position.HOLD:
                self.needle_dropped.emit(self._focused, to)
        else:
            super().keyPressEvent(event)

    def _focus_on(self, needle: int) -> None:
        if needle != self._focused:
            frames = self.needle_rect(self._focused), self.needle_rect(needle)
            self._focused = needle
            self.needle_focused.emit(needle)
            announce_focus(self, self.bed_layout().column_of(needle))
            for frame in frames:
                self.update(frame.toAlignedRect().adjusted(-3, -3, 3, 3))

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
