"""The shape to be turned, pointed at and measured: a painted picture, by mouse and by keys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from bedview.form.colouring import ColourBy
from bedview.form.measuring import Way, node_at
from bedview.form.shape import Shape
from bedview.form.stitch_sizes import Floats
from bedview.picture.colour import Colour
from bedview.plan.piece import Piece
from bedview.ui.finish.shape_painting import PaintedShape, ShapeScene, paint_shape
from bedview.ui.finish.turning import Turning
from bedview.ui.in_background import Errand
from bedview.ui.theme import Theme

_DEGREES_A_PIXEL: Final = 0.45
_DEGREES_A_KEY: Final = 10.0
_NEARER_A_KEY: Final = 1.15
_CLICK_PX: Final = 4.0
"""A press that moves no further is a click."""
_REST_MS: Final = 160
"""After so long without a turn the picture is painted finely."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Loops to point out: of a step's edges, in the colours of hands and carriage."""

    loops: tuple[int, ...] = ()
    other_loops: tuple[int, ...] = ()


class ShapeCanvas(QWidget):
    """The picture of the shape.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    loop_pressed = Signal(int)
    """A place on the shape was pressed; the loop that lies there."""
    ground_pressed = Signal()
    """A place beside the shape was pressed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._shapes: tuple[Shape, ...] = ()
        self._piece: Piece | None = None
        self._position = 0.0
        self._turning = Turning.from_view("corner")
        self._colour_by: ColourBy = "segment"
        self._marks = Marks()
        self._found: tuple[int, ...] = ()
        self._way: Floats | None = None
        self._painted: PaintedShape | None = None
        self._painting = self._wanted = False
        self._pressed: QPointF | None = None
        self._last = QPointF()
        self._by_keyboard = False
        self._errand: Errand[PaintedShape] = Errand(self._show_painted, self._give_up, self)
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._repaint)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(
            self.tr("Shape of the piece: arrows turn it, plus and minus draw it nearer, Home sets it back")
        )
        theme.look_changed.connect(self._repaint)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """The shapes from flat to made up."""
        return self._shapes

    @property
    def turning(self) -> Turning:
        """Where it is looked at from."""
        return self._turning

    @property
    def painted(self) -> PaintedShape | None:
        """What is seen now."""
        return self._painted

    @property
    def frame(self) -> int:
        """The shape nearest to the one that is seen."""
        return min(round(self._position), max(len(self._shapes) - 1, 0))

    def show_shapes(self, shapes: tuple[Shape, ...], piece: Piece | None) -> None:
        """Show another piece; nothing where there are no shapes."""
        self._shapes, self._piece = shapes, piece
        self._position = min(self._position, float(max(len(shapes) - 1, 0)))
        self._found, self._way = (), None
        if not shapes:
            self._painted = None
            self._errand.drop()
            self._painting = False
        self._repaint()

    def close_to(self, position: float) -> None:
        """Close the seams so far: 0 is flat, the number of the last shape made up."""
        self._position = position
        self._way = None
        self._repaint(moving=True)

    def look_from(self, view: str) -> None:
        """Look from a named side."""
        self._turning = Turning.from_view(view)
        self._repaint()

    def colour_by(self, meaning: ColourBy) -> None:
        """Let colours mean something else."""
        self._colour_by = meaning
        self._repaint()

    def mark(self, marks: Marks) -> None:
        """Point out the edges of a step."""
        self._marks = marks
        self._found = ()
        self._repaint()

    def point_at(self, loops: tuple[int, ...]) -> None:
        """Set a dot on loops that were pressed."""
        self._found = loops
        self.update()

    def show_way(self, way: Way | None) -> None:
        """Draw a way along the surface of the nearest shape."""
        self._way = None if way is None else way.places_mm
        self.update()

    # -- painting -----------------------------------------------------------------------------------------

    def _repaint(self, *, moving: bool = False) -> None:
        """Have it painted; while that is under way, only the latest wish is kept."""
        if not self._shapes or self._piece is None or self.width() < 2:
            self.update()
            return
        if moving:
            self._rest.start()
        if self._painting:
            self._wanted = True
            return
        scene = self._scene(moving=self._rest.isActive())
        self._painting = True
        self._errand.start(lambda: paint_shape(scene))

    def _scene(self, *, moving: bool) -> ShapeScene:
        assert self._piece is not None, "without a piece there is no shape"
        look = self._theme.look
        shown = self._shapes[self.frame]
        camera = self._turning.camera(self._shapes, shown, self.width(), self.height())
        marked: tuple[tuple[Colour, tuple[int, ...]], ...] = (
            (look.hands, self._marks.loops),
            (look.carriage, self._marks.other_loops),
        )
        return ShapeScene(
            self._shapes,
            self._position,
            camera,
            self._colour_by,
            marked,
            self._piece,
            look,
            self.devicePixelRatioF(),
            moving,
        )

    def _show_painted(self, painted: PaintedShape) -> None:
        self._painting = False
        self._painted = painted
        self.update()
        if self._wanted:
            self._wanted = False
            self._repaint(moving=False)

    def _give_up(self, error: Exception) -> None:
        self._painting = False
        raise error

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(look.line), 1))
            painter.setBrush(QColor(look.card))
            radius = self._theme.px(13)
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), radius, radius)
            if self._painted is not None:
                painter.drawImage(0, 0, self._painted.image)
                self._paint_over(painter, self._painted)
            if self.hasFocus() and self._by_keyboard:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(QColor(look.ink), 2))
                painter.drawRoundedRect(self.rect().adjusted(3, 3, -4, -4), radius, radius)

    def _paint_over(self, painter: QPainter, painted: PaintedShape) -> None:
        """What is seen through the fabric: the line of the seam, a way, the places pressed."""
        look = self._theme.look
        for loops, colour in ((self._marks.loops, look.hands), (self._marks.other_loops, look.carriage)):
            self._paint_line(painter, painted, loops, colour)
        if self._way is not None:
            seen = painted.camera.seen(self._way)
            self._stroke(painter, seen, look.card, 6.0)
            self._stroke(painter, seen, look.ink, 2.6)
        nodes = painted.shape.nodes_of_loops(np.array(self._found, np.int32))
        for x, y, _ in painted.camera.seen(painted.shape.places_mm[nodes[nodes >= 0]]).tolist():
            painter.setPen(QPen(QColor(look.card), 2))
            painter.setBrush(QColor(look.ink))
            painter.drawEllipse(QPointF(x, y), 6.0, 6.0)

    def _paint_line(
        self, painter: QPainter, painted: PaintedShape, loops: tuple[int, ...], colour: Colour
    ) -> None:
        nodes = painted.shape.nodes_of_loops(np.array(loops, np.int32))
        places = painted.shape.places_mm[nodes[nodes >= 0]]
        # Loops far from each other, the ends of strands, are no line.
        if len(places) < 3:
            painter.setPen(QPen(QColor(self._theme.look.card), 2))
            painter.setBrush(QColor(colour))
            for x, y, _ in painted.camera.seen(places).tolist():
                painter.drawEllipse(QPointF(x, y), 6.5, 6.5)
            return
        painter.setPen(QPen(QColor(colour), 2.0, Qt.PenStyle.DotLine))
        self._polyline(painter, painted.camera.seen(places))

    def _stroke(self, painter: QPainter, seen: Floats, colour: Colour, width: float) -> None:
        pen = QPen(QColor(colour), width)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        self._polyline(painter, seen)

    @staticmethod
    def _polyline(painter: QPainter, seen: Floats) -> None:
        painter.drawPolyline([QPointF(x, y) for x, y, _ in seen.tolist()])

    # -- mouse and keys -----------------------------------------------------------------------------------

    def loop_at(self, place: QPointF) -> int | None:
        """The loop that is seen at a point; None beside the shape."""
        if self._painted is None:
            return None
        node = node_at(self._painted.shape, *self._painted.camera.ray(place.x(), place.y()))
        return None if node is None else int(self._painted.shape.loop[node])

    @override
    def sizeHint(self) -> QSize:
        return QSize(560, 460)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(240, 200)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._repaint()

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._by_keyboard = False
        self._pressed = self._last = event.position()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        moved = event.position() - self._last
        self._last = event.position()
        if self._pressed is None or not self._is_drag(event.position()):
            return
        if event.buttons() & Qt.MouseButton.LeftButton:
            turning = self._turning.turned(moved.x() * _DEGREES_A_PIXEL, moved.y() * _DEGREES_A_PIXEL)
        else:
            turning = self._turning.moved(moved.x(), moved.y())
        self._turn_to(turning)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed = self._pressed, None
        if pressed is None or event.button() != Qt.MouseButton.LeftButton:
            return
        if (event.position() - pressed).manhattanLength() > _CLICK_PX:
            return
        loop = self.loop_at(event.position())
        if loop is None:
            self.ground_pressed.emit()
        else:
            self.loop_pressed.emit(loop)

    def _is_drag(self, place: QPointF) -> bool:
        return self._pressed is not None and (place - self._pressed).manhattanLength() > _CLICK_PX

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        self._turn_to(self._turning.nearer(_NEARER_A_KEY ** (event.angleDelta().y() / 120)))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        turns = {
            Qt.Key.Key_Left: (-_DEGREES_A_KEY, 0.0),
            Qt.Key.Key_Right: (_DEGREES_A_KEY, 0.0),
            Qt.Key.Key_Up: (0.0, -_DEGREES_A_KEY),
            Qt.Key.Key_Down: (0.0, _DEGREES_A_KEY),
        }
        key = Qt.Key(event.key())
        self._by_keyboard = True
        if key in turns:
            self._turn_to(self._turning.turned(*turns[key]))
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self._turn_to(self._turning.nearer(_NEARER_A_KEY))
        elif key == Qt.Key.Key_Minus:
            self._turn_to(self._turning.nearer(1 / _NEARER_A_KEY))
        elif key == Qt.Key.Key_Home:
            self._turn_to(Turning.from_view("corner"))
        else:
            super().keyPressEvent(event)

    def _turn_to(self, turning: Turning) -> None:
        self._turning = turning
        self._repaint(moving=True)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        # A frame tells where the keyboard is; whoever came by pointer needs none.
        self._by_keyboard = event.reason() in (
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
        )
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
