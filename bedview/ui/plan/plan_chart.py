"""The chart as the document: parts are dragged, chosen, put in between; edges are dragged where they lie."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QWidget
from typing_extensions import override

from bedview.picture.chart import ChartScene
from bedview.picture.chart_layout import ChartLayout
from bedview.session.grips import Grip
from bedview.ui.parts.chart_view import ChartView
from bedview.ui.theme import Theme

_GRIP_PX = 12.0
"""Half the side of the target of an edge: 24 pixels across."""
_BETWEEN_PX = 6.0
"""How near to the line between two parts the sign to put one in shows."""
_PLUS_PX = 13.0


@dataclass(slots=True)
class _Drag:
    """A drag under way.

    Attributes:
        start: where it began.
        layout: how the chart lay then.
        grip: the edge that is dragged; None for parts.
        to: for parts the gap they would go to; None while the pointer has hardly moved.
        copies: whether they would be copied there.
    """

    start: QPointF
    layout: ChartLayout
    grip: Grip | None = None
    to: int | None = None
    copies: bool = False


class PlanChart(ChartView):
    """The chart.

    Args:
        scene: what it shows.
        theme: how it looks.
        parent: as ever.
    """

    extended = Signal(int)
    """All parts up to this one are to be chosen too."""
    parts_dropped = Signal(int, bool)
    """The chosen parts go into a gap (0: below the first part); whether as copies."""
    gap_pressed = Signal(int)
    """A new part is wanted in a gap."""
    edge_dragged = Signal(object, int, int)
    """An edge was dragged so many needles to the right and so many rows up, from where it began."""
    edge_dropped = Signal()
    """That drag is over."""

    def __init__(self, scene: ChartScene, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(scene, theme, parent)
        self._edges: tuple[Grip, ...] = ()
        self._count = 1
        self._drag: _Drag | None = None
        self._gap: int | None = None
        self.setMouseTracking(True)

    def show_edges(self, edges: tuple[Grip, ...]) -> None:
        """Show the edges that can be dragged now."""
        self._edges = edges
        self.update()

    def choose_count(self, count: int) -> None:
        """So many parts are chosen, from the chosen one on."""
        self._count = count
        self.update()

    # -- places -------------------------------------------------------------------------------------------

    def place_of_edge(self, grip: Grip) -> QPointF:
        """Where an edge is taken hold of."""
        layout = self.places()
        half = {"left": -0.5, "right": 0.5, "top": 0.0}[grip.edge]
        y = layout.top_of(grip.pass_number) + (0 if grip.edge == "top" else layout.row / 2)
        return QPointF(layout.x_of(grip.needle + half), y)

    def edge_at(self, place: QPointF) -> Grip | None:
        """The edge at a point."""
        for grip in self._edges:
            at = self.place_of_edge(grip) - place
            if max(abs(at.x()), abs(at.y())) <= _GRIP_PX:
                return grip
        return None

    def gap_at(self, place: QPointF) -> int | None:
        """The gap between parts at a point of the column of cards; None where a card lies."""
        layout = self.places()
        if not layout.cards_left <= place.x() <= layout.cards_right:
            return None
        near = [(abs(y - place.y()), gap) for gap, y in enumerate(self._gap_lines(layout))]
        away, gap = min(near, default=(_BETWEEN_PX + 1, 0))
        return gap if away <= _BETWEEN_PX else None

    def _nearest_gap(self, y: float) -> int:
        lines = self._gap_lines(self.places())
        return min(range(len(lines)), key=lambda gap: abs(lines[gap] - y))

    @staticmethod
    def _gap_lines(layout: ChartLayout) -> list[float]:
        """Heights of the gaps: below the first card, between cards, above the last."""
        if not layout.cards:
            return []
        tops = [top for top, _ in layout.cards]
        bottoms = [bottom for _, bottom in layout.cards]
        between = [(top + bottom) / 2 for top, bottom in zip(tops, bottoms[1:], strict=False)]
        return [bottoms[0] + 2, *between, tops[-1] - 2]

    # -- the mouse ----------------------------------------------------------------------------------------

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            return
        place = event.position()
        grip, gap = self.edge_at(place), self.gap_at(place)
        part = self.part_at(place)
        if grip is not None:
            self._drag = _Drag(place, self.places(), grip)
        elif gap is not None:
            self.gap_pressed.emit(gap)
        elif part is not None and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.extended.emit(part)
        else:
            inside = part is not None and self._is_chosen(part)
            if not (inside and self._count > 1):
                super().mousePressEvent(event)
            if part is not None and self.mark_at(place) is None:
                self._drag = _Drag(place, self.places())

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        if self._drag is None:
            self._hover(place)
            return
        far = (place - self._drag.start).manhattanLength() >= QApplication.startDragDistance()
        if self._drag.grip is not None:
            layout = self._drag.layout
            needles = round((place.x() - self._drag.start.x()) / layout.cell)
            rows = round((self._drag.start.y() - place.y()) / layout.row)
            self.edge_dragged.emit(self._drag.grip, needles, rows)
        elif far or self._drag.to is not None:
            self._drag.to = self._nearest_gap(place.y())
            self._drag.copies = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self.setCursor(
                Qt.CursorShape.DragCopyCursor if self._drag.copies else Qt.CursorShape.ClosedHandCursor
            )
            self.update()

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        drag, self._drag = self._drag, None
        if drag is None:
            return
        self.unsetCursor()
        self.update()
        if drag.grip is not None:
            self.edge_dropped.emit()
        elif drag.to is not None:
            self.parts_dropped.emit(drag.to, drag.copies)
        elif self._count > 1:
            part = self.part_at(event.position())
            if part is not None:
                self.part_pressed.emit(part)

    def _hover(self, place: QPointF) -> None:
        grip, gap = self.edge_at(place), self.gap_at(place)
        if grip is not None:
            across = grip.edge != "top"
            self.setCursor(Qt.CursorShape.SizeHorCursor if across else Qt.CursorShape.SizeVerCursor)
        elif self.part_at(place) is not None or gap is not None:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
        else:
            self.unsetCursor()
        if gap != self._gap:
            self._gap = gap
            self.setToolTip(self.tr("Put a part in here") if gap is not None else "")
            self.update()

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._gap = None
        self.update()
        super().leaveEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        up_down = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()))
        if event.key() == Qt.Key.Key_Escape and self._drag is not None:
            self._drag = None
            self.unsetCursor()
            self.update()
        elif up_down and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            event.ignore()
        elif up_down and event.modifiers() & Qt.KeyboardModifier.ShiftModifier and self.scene.parts:
            self._by_keyboard = True
            chosen = self.scene.chosen or 0
            to = chosen + self._count if up_down > 0 else chosen - 1
            self.extended.emit(max(0, min(to, len(self.scene.parts) - 1)))
        else:
            super().keyPressEvent(event)

    def _is_chosen(self, part: int) -> bool:
        first = self.scene.chosen
        return first is not None and first <= part < first + self._count

    # -- painting -----------------------------------------------------------------------------------------

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        look, layout = self._theme.look, self.places()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.scene.chosen is not None and self._count > 1:
                self._paint_others(painter, layout)
            painter.setPen(QPen(QColor(look.card), 1.5))
            painter.setBrush(QColor(look.carriage))
            for grip in self._edges:
                painter.drawEllipse(self.place_of_edge(grip), 5.5, 5.5)
            if self._drag is not None and self._drag.to is not None:
                self._paint_drop(painter, layout, self._drag)
            elif self._gap is not None:
                self._paint_plus(painter, layout, self._gap)

    def _paint_others(self, painter: QPainter, layout: ChartLayout) -> None:
        """A frame round every further card that is chosen."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(self._theme.look.carriage), 3))
        first = self.scene.chosen or 0
        for top, bottom in layout.cards[first + 1 : first + self._count]:
            painter.drawRoundedRect(QRectF(2, top, layout.cards_right - 4, bottom - top), 6, 6)

    def _paint_drop(self, painter: QPainter, layout: ChartLayout, drag: _Drag) -> None:
        """A thick line where the parts would go, with a sign if they would be copied."""
        y = self._gap_lines(layout)[drag.to or 0]
        painter.setPen(
            QPen(QColor(self._theme.look.carriage), 4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
        )
        painter.drawLine(QPointF(4, y), QPointF(layout.cards_right - 4, y))
        if drag.copies:
            self._paint_plus(painter, layout, drag.to or 0)

    def _paint_plus(self, painter: QPainter, layout: ChartLayout, gap: int) -> None:
        look = self._theme.look
        y = self._gap_lines(layout)[gap]
        x = layout.cards_right / 2
        painter.setPen(QPen(QColor(look.carriage), 2))
        painter.drawLine(QPointF(8, y), QPointF(layout.cards_right - 8, y))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.carriage))
        painter.drawEllipse(QPointF(x, y), _PLUS_PX, _PLUS_PX)
        painter.setPen(QPen(QColor(look.on_carriage), 2.4))
        painter.drawLine(QPointF(x - 6, y), QPointF(x + 6, y))
        painter.drawLine(QPointF(x, y - 6), QPointF(x, y + 6))
