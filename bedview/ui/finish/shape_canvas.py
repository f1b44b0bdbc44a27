"""The shape to be turned, pointed at and measured: a painted picture, by mouse and by keys."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
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

from bedview.plan.units import say_length
from bedview.ui.finish.messages import Marks, Picture, PictureWanted
from bedview.ui.finish.place_chart import WALKS
from bedview.ui.finish.turning import Turning
from bedview.ui.parts.keyboard_frame import KeyboardFramed
from bedview.ui.theme import Theme

if TYPE_CHECKING:
    from bedview.form.colouring import ColourBy

_DEGREES_A_PIXEL: Final = 0.45
_DEGREES_A_KEY: Final = 10.0
_NEARER_A_KEY: Final = 1.15
_CLICK_PX: Final = 4.0
"""A press that moves no further is a click."""
_STILL_MS: Final = 60
"""A pointer that stays so long is over something."""
_REST_MS: Final = 160
"""After so long without a turn the picture is painted finely."""


class ShapeCanvas(KeyboardFramed):
    """The picture of the shape.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    picture_wanted = Signal(object)
    """A picture is wanted: :class:`~bedview.ui.finish.messages.PictureWanted`; one at a time."""
    place_pressed = Signal(float, float)
    """A place in the picture was pressed, in pixels."""

    place_passed = Signal(float, float)
    """The pointer came to rest over a place in the picture."""
    pointer_left = Signal()
    """The pointer is no longer over the picture."""
    walk_wanted = Signal(int, int)
    """The stitch pointed at is to be the one so many to the right and so many up."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._frames = 0
        self._position = 0.0
        self._turning = Turning.from_view("corner")
        self._colour_by: ColourBy = "segment"
        self._marks = Marks()
        self._with_way = self._with_body = False
        self._figures: tuple[tuple[float, float, float], ...] = ()
        self._image: QImage | None = None
        self._asked = self._wanted = False
        self._pressed: QPointF | None = None
        self._last = QPointF()
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._repaint)
        self._still = QTimer(self, singleShot=True, interval=_STILL_MS)
        self._still.timeout.connect(lambda: self.place_passed.emit(self._last.x(), self._last.y()))
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(
            self.tr(
                "Shape of the piece: arrows turn it, plus and minus draw it nearer, Home sets it back, "
                "Shift and arrows go from stitch to stitch"
            )
        )
        theme.look_changed.connect(self._repaint)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def frames(self) -> int:
        """How many shapes there are from flat to made up; 0 while there is none."""
        return self._frames

    @property
    def turning(self) -> Turning:
        """Where it is looked at from."""
        return self._turning

    @property
    def marks(self) -> Marks:
        """What is pointed out."""
        return self._marks

    @property
    def settled(self) -> bool:
        """Whether what is seen is what is wanted."""
        return self._image is not None and not self._asked and not self._rest.isActive()

    @property
    def frame(self) -> int:
        """The shape nearest to the one that is seen."""
        return min(round(self._position), max(self._frames - 1, 0))

    def show_frames(self, frames: int) -> None:
        """Show another piece, made up; nothing where there are no shapes."""
        self._frames = frames
        self._position = float(max(frames - 1, 0))
        self._marks = replace(self._marks, pressed=())
        self._with_way = self._asked = self._wanted = False
        if not frames:
            self._image = None
        self._repaint()

    def close_to(self, position: float) -> None:
        """Close the seams so far: 0 is flat, the number of the last shape made up."""
        if position != self._position:
            self._position = position
            self._with_way = False
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
        """Point something out."""
        self._marks = marks
        self._repaint()

    def show_way(self, *, there: bool) -> None:
        """Draw the way that was measured last, or none."""
        self._with_way = there
        self._repaint()

    def show_body(self, *, there: bool) -> None:
        """Draw the body the piece is made for in it, or do not."""
        self._with_body = there
        self._repaint()

    @property
    def figures(self) -> tuple[tuple[float, float, float], ...]:
        """Figures written into the picture: x and y in pixels, and a length in millimetres."""
        return self._figures

    # -- painting -----------------------------------------------------------------------------------------

    def _repaint(self, *, moving: bool = False) -> None:
        """Have it painted; while that is under way, only the latest wish is kept."""
        if moving:
            self._rest.start()
        self._wanted = True
        self._ask()

    def _ask(self) -> None:
        if self._asked or not self._wanted or not self._frames or self.width() < 2:
            return
        self._asked, self._wanted = True, False
        self.picture_wanted.emit(
            PictureWanted(
                position=self._position,
                turning=self._turning,
                width=self.width(),
                height=self.height(),
                ratio=self.devicePixelRatioF(),
                colour_by=self._colour_by,
                marks=self._marks,
                with_way=self._with_way,
                palette=self._theme.look,
                moving=self._rest.isActive(),
                with_body=self._with_body,
            )
        )

    def show_picture(self, picture: Picture) -> None:
        """Show a picture that was wanted."""
        if not self._frames:
            return
        form = QImage.Format.Format_ARGB32_Premultiplied
        image = QImage(picture.pixels, picture.width, picture.height, 4 * picture.width, form).copy()
        image.setDevicePixelRatio(picture.ratio)
        self._image, self._figures = image, picture.figures
        self._asked = False
        self.update()
        self._ask()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._theme.look
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(look.line), 1))
            painter.setBrush(QColor(look.card))
            radius = self._theme.px(13)
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), radius, radius)
            if self._image is not None:
                painter.drawImage(0, 0, self._image)
                self._write_figures(painter)
            self.paint_frame(painter, look, self.rect().adjusted(3, 3, -4, -4), radius)

    def _write_figures(self, painter: QPainter) -> None:
        """Lengths on small grounds of their own, beside their places."""
        look, metrics, air = self._theme.look, self.fontMetrics(), 5
        written: list[QRectF] = []
        for x, y, mm in self._figures:
            text = say_length(mm)
            ground = QRectF(metrics.boundingRect(text)).adjusted(-air, -air / 2, air, air / 2)
            ground.moveBottomLeft(QPointF(x + 2 * air, y - air))
            ground.moveLeft(min(ground.left(), self.width() - ground.width() - air))
            ground.moveTop(max(ground.top(), air))
            for above in written:
                if ground.intersects(above):
                    ground.moveTop(above.bottom() + 2)
            written.append(ground)
            painter.setPen(QPen(QColor(look.line), 1))
            painter.setBrush(QColor(look.paper))
            painter.drawRoundedRect(ground, 4, 4)
            painter.setPen(QColor(look.ink))
            painter.drawText(ground, Qt.AlignmentFlag.AlignCenter, text)

    # -- mouse and keys -----------------------------------------------------------------------------------

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
        self.worked_by(keyboard=False)
        self._pressed = self._last = event.position()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        moved = event.position() - self._last
        self._last = event.position()
        if self._pressed is None:
            self._still.start()
            return
        if not self._is_drag(event.position()):
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
        self.place_pressed.emit(event.position().x(), event.position().y())

    def _is_drag(self, place: QPointF) -> bool:
        return self._pressed is not None and (place - self._pressed).manhattanLength() > _CLICK_PX

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._still.stop()
        self.pointer_left.emit()

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
        self.worked_by(keyboard=True)
        if key in turns and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.walk_wanted.emit(*WALKS[key])
        elif key in turns:
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
