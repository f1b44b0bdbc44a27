"""A bed to work with one's own hands: tap, drag, choose, push the carriage, ask a loop why it is there.

Like the bed it is made of, it changes nothing itself: it says what hands did.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.bed.needles import Position, Side
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_layout import BedLayout
from bedview.picture.bed_scene import BedScene, Touch
from bedview.ui.bed_widget import BedWidget
from bedview.ui.learn.carriage_ride import CarriageRide, motion_wanted
from bedview.ui.learn.repainting import moved_needles
from bedview.ui.theme import Theme

_MOVE_FROM_PX = 9.0
"""A press becomes a drag when the pointer has moved so far: fingers are never quite still."""
_SHIFT = Qt.KeyboardModifier.ShiftModifier
REACH: Final = 1.0
"""So many columns beside its own a needle is painted over at most."""


class HandsBed(BedWidget):
    """The bed under the learner's hands.

    ``needle_pressed``, ``needle_dragged`` and ``needle_dropped`` say what was tapped and drawn along.

    Args:
        theme: how it looks.
        interactive: whether needles can be reached by keyboard.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    stretch_chosen = Signal(int, int)
    """Needles from the one to the other are chosen (drawn along the bed, or with Shift)."""
    needle_toggled = Signal(int)
    """A needle is chosen, or no longer, by the space bar."""
    carriage_pushed = Signal()
    """The carriage was pushed across."""
    loop_asked = Signal(int)
    """A loop of the fabric (its id) was tapped: why is it there?"""

    def __init__(
        self,
        theme: Theme,
        *,
        interactive: bool = True,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(look=theme.look, interactive=interactive, parent=parent)
        if tiles is not None:
            self._cache = tiles
        self._anchor: int | None = None
        self._choosing = False
        self._loop: int | None = None
        self._on_carriage = False
        self._turned = False
        self._ride: CarriageRide | None = None
        self._painted_as: BedLayout | None = None
        self.pressed_at: QPointF | None = None
        """Where the pointer was pressed last; None if a key was pressed since."""
        theme.look_changed.connect(lambda: self.set_look(theme.look))

    # -- what is shown ------------------------------------------------------------------------------------

    def ride_to(self, scene: BedScene) -> None:
        """Show the bed after a row; the carriage rides there, where things may move."""
        layout, before = self.bed_layout(), self.picture()
        stood = self.scene.carriage
        self.show_scene(scene)
        after = self.bed_layout()
        stands_still = (layout.first, layout.cell, layout.row) == (after.first, after.cell, after.row)
        if scene.carriage is not stood and stands_still and self.isVisible() and motion_wanted(self):
            right = (scene.carriage is Side.RIGHT) is not after.turned
            self._ride = CarriageRide(before, self.picture, after, to_right=right, cache=self._cache, on=self)

    def mark(self, touches: tuple[Touch, ...]) -> None:
        """Mark other needles; a ride that is under way goes on."""
        if touches == self.scene.touches:
            return
        super().show_scene(replace(self.scene, touches=touches))

    def turn_round(self) -> None:
        """See it from the other side of the table from now on, whatever scenes say."""
        self._turned = not self._turned
        self.show_scene(self.scene)

    def _as_seen(self, scene: BedScene) -> BedScene:
        if scene.view.turned is self._turned:
            return scene
        return replace(scene, view=replace(scene.view, turned=self._turned))

    def go_to(self, needle: int) -> None:
        """Put the keyboard on a needle, if it is shown."""
        if self.bed_layout().shows(needle):
            self._focus_on(needle)

    @override
    def show_scene(self, scene: BedScene) -> None:
        self._end_ride()
        super().show_scene(self._as_seen(scene))

    @override
    def _update_changed(self, before: BedScene, /) -> None:
        moved, layout = moved_needles(before, self.scene), self.bed_layout()
        if moved is None or layout.has_map or layout != self._painted_as:
            self.update()
            return
        for needle in moved:
            middle, half = layout.x_of(needle), (REACH + 0.5) * layout.cell
            self.update(QRectF(middle - half, 0, 2 * half, self.height()).toAlignedRect())

    def _end_ride(self) -> None:
        if self._ride is not None:
            self._ride.stop()
            self._ride = None

    @property
    def riding(self) -> bool:
        """Whether the carriage is under way."""
        return self._ride is not None and self._ride.riding

    def carriage_rect(self) -> QRectF:
        """Where the carriage stands."""
        layout = self.bed_layout()
        right = (self.scene.carriage is Side.RIGHT) is not layout.turned
        top = layout.plate_top
        if layout.turned:
            top = layout.height - layout.plate_top - layout.carriage_height
        return QRectF(layout.carriage_left(right), top, layout.carriage_width, layout.carriage_height + 8)

    def loop_at(self, place: QPointF) -> int | None:
        """The loop of the fabric at a point, below the reach of its needle."""
        layout, needle = self.bed_layout(), self.needle_at(place)
        if needle is None:
            return None
        y = layout.height - place.y() if layout.turned else place.y()
        reach = layout.tip(Position(int(self.scene.positions[needle]))) + 10 * layout.unit
        depth = int((y - layout.loop_line) // layout.row)
        loops = self.scene.fabric.loops
        if y < reach or not 0 <= depth < len(loops) or loops[depth, needle] < 0:
            return None
        return int(loops[depth, needle])

    # -- pointer ------------------------------------------------------------------------------------------

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._choosing, self._loop, self.pressed_at = False, None, event.position()
        self._on_carriage = self.carriage_rect().contains(event.position())
        if event.button() != Qt.MouseButton.LeftButton or self._on_carriage:
            return
        self._loop = self.loop_at(event.position())
        if self._loop is not None:
            return
        if event.modifiers() & _SHIFT and self._anchor is not None:
            needle = self.needle_at(event.position())
            if needle is not None:
                self.stretch_chosen.emit(self._anchor, needle)
            return
        super().mousePressEvent(event)
        if self._pressed is not None:
            self._anchor = self._pressed[0]

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None:
            super().mouseMoveEvent(event)
            return
        moved = event.position() - self._pressed[1]
        if self._dragged_to is None and not self._choosing:
            if max(abs(moved.x()), abs(moved.y())) < _MOVE_FROM_PX:
                return
            self._choosing = abs(moved.x()) > abs(moved.y())
        if not self._choosing:
            super().mouseMoveEvent(event)
            return
        layout = self.bed_layout()
        gate = layout.height - layout.gate if layout.turned else layout.gate
        needle = self.needle_at(QPointF(event.position().x(), gate))
        if needle is not None:
            self.stretch_chosen.emit(self._pressed[0], needle)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._on_carriage:
            self._on_carriage = False
            self.carriage_pushed.emit()
        elif self._loop is not None:
            if self.loop_at(event.position()) == self._loop:
                self.loop_asked.emit(self._loop)
            self._loop = None
        elif self._choosing:
            self._choosing, self._pressed = False, None
        else:
            super().mouseReleaseEvent(event)

    # -- keyboard -----------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.pressed_at = None
        key = Qt.Key(event.key())
        shift = bool(event.modifiers() & _SHIFT)
        control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if control or key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()
        elif key == Qt.Key.Key_Space:
            self._anchor = self.focused
            self.needle_toggled.emit(self.focused)
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_End):
            if not shift or self._anchor is None:
                self._anchor = self.focused
            start = self._anchor
            super().keyPressEvent(event)
            if shift:
                self.stretch_chosen.emit(start, self.focused)
            else:
                self._anchor = self.focused
        else:
            super().keyPressEvent(event)

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._ride is None or not self._ride.riding:
            super().paintEvent(event)
            self._painted_as = self.bed_layout()
            return
        self._painted_as = None
        with QPainter(self) as painter:
            self._ride.paint(painter)
            if self.hasFocus():
                self._paint_focus(painter)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._end_ride()
        super().resizeEvent(event)
