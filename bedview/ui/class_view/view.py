"""The class view: a whole screen for those who look from their seats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QCloseEvent, QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.picture.words import needle_in_words
from bedview.ui.bed_widget import BedWidget
from bedview.ui.class_view.looks import ClassTheme
from bedview.ui.class_view.pointer import PointerLayer, Pointing
from bedview.ui.class_view.sources import ClassSource, Moment
from bedview.ui.knit.acts_view import ActsView
from bedview.ui.knit.arrangement import ActsRoom
from bedview.ui.knit.scaled_text import ScaledText
from bedview.ui.parts.said import announce
from bedview.ui.theme import Theme

CLASS_KEY: Final = Qt.Key.Key_F9
"""Opens the class view, and leaves it."""
_MARGIN, _HEAD, _WORDS, _FOOT = 0.022, 0.075, 0.27, 0.045
"""Heights as shares of the view's: air, the line above the bed, the words below it, the last line.

The words keep their room whether they need it or not: the bed must not jump from row to row."""
_LETTERS = 1.5
"""Names of needles are so much larger than on a page."""
_FEW = 5
"""Needles that the pointer passes over at once with Shift."""


class ClassView(QWidget):
    """The view: a window of its own, to fill a projector's screen.

    Args:
        source: what the class looks at.
        usual: how the other windows look.
        turned: whether the bed is seen from across the table at first.
        parent: the window it belongs to.
    """

    left = Signal()
    """It was closed."""

    def __init__(
        self, source: ClassSource, usual: Theme, *, turned: bool = True, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle(self.tr("Class view"))
        self.setAccessibleName(self.tr("Class view"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setCursor(Qt.CursorShape.BlankCursor)
        self._source = source
        source.setParent(self)
        self.theme = ClassTheme(usual, self)
        self.turned = turned
        self.pointing = Pointing()
        self._help = True
        self.where = ScaledText(self.theme, bold=True, parent=self)
        self.title = ScaledText(self.theme, "quiet_ink", right=True, parent=self)
        self.bed = BedWidget(look=self.theme.look, parent=self)
        self.bed.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.words = ActsView(self.theme, self)
        self.foot = ScaledText(self.theme, "quiet_ink", parent=self)
        self.pointer = PointerLayer(self.bed, self.pointing, self.theme, self)
        source.changed.connect(self._follow)
        self.theme.look_changed.connect(self._put_on_look)
        self._show_moment()

    # -- what is shown ------------------------------------------------------------------------------------

    def _follow(self) -> None:
        self._show_moment()
        announce(self, self.words.text())

    def _show_moment(self) -> None:
        moment = self._source.moment()
        self.where.say(moment.where[:1].upper() + moment.where[1:])
        self.title.say(moment.title)
        self.words.show_lines(moment.lines)
        self._show_bed(moment)
        self._show_foot()
        self._fit_words()

    def _show_bed(self, moment: Moment) -> None:
        view = replace(moment.scene.view, turned=self.turned, letters=_LETTERS)
        self.bed.show_scene(replace(moment.scene, view=view))
        self.pointer.update()

    def _show_foot(self) -> None:
        if self._help:
            self.foot.say(
                self.tr(
                    "Page up and down: steps · arrows: point · Return: mark · T: turn round · "
                    "L: light or dark · H: these keys · Escape: leave"
                )
            )
        elif self.turned:
            self.foot.say(self.tr("Seen from across the table: the knitter’s left is on your right."))
        else:
            self.foot.say("")

    def _put_on_look(self) -> None:
        self.bed.set_look(self.theme.look)
        self.update()

    # -- what is wanted -----------------------------------------------------------------------------------

    def turn_round(self) -> None:
        """See the bed from the other side of the table."""
        self.turned = not self.turned
        if self.pointing.needle is None:
            self.pointing.place = None
        self._show_moment()
        self._point_at(self.pointing.needle)

    def switch_help(self) -> None:
        """Show what the keys do, or no longer."""
        self._help = not self._help
        self._show_foot()

    def clear_marks(self) -> None:
        """Take all marks away."""
        self.pointing.clear()
        self.pointer.update()

    def keep_mark(self) -> None:
        """Keep a mark where the pointer is, or take it away again."""
        self.pointing.keep_mark(near=self.pointer.radius / max(1, self.height()))
        self.pointer.update()

    def move_pointer(self, columns: int) -> None:
        """Move the pointer along the bed, as the class sees it; from the middle if it was not there."""
        layout = self.bed.bed_layout()
        now = self.pointing.needle
        column = layout.columns // 2 if now is None else layout.column_of(now) + columns
        column = max(0, min(column, layout.columns - 1))
        self._point_at(layout.last - column if layout.turned else layout.first + column)
        assert self.pointing.needle is not None
        announce(self, needle_in_words(self.bed.scene, self.pointing.needle))

    def _point_at(self, needle: int | None) -> None:
        if needle is not None:
            at = self.pointer.point_of(needle)
            self.pointing.needle = needle
            self.pointing.place = at.x() / max(1, self.width()), at.y() / max(1, self.height())
        self.pointer.update()

    def _follow_hand(self, at: QPointF) -> None:
        self.pointing.place = at.x() / max(1, self.width()), at.y() / max(1, self.height())
        inside = self.bed.geometry().contains(at.toPoint())
        self.pointing.needle = self.bed.needle_at(at - QPointF(self.bed.pos())) if inside else None
        self.pointer.update()

    def _forget_help(self) -> None:
        if self._help:
            self.switch_help()

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        few = _FEW if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        columns = self.bed.bed_layout().columns
        wanted: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_PageDown: self._source.forward,
            Qt.Key.Key_Space: self._source.forward,
            Qt.Key.Key_PageUp: self._source.back,
            Qt.Key.Key_Backspace: self._source.back,
            Qt.Key.Key_Left: lambda: self.move_pointer(-few),
            Qt.Key.Key_Right: lambda: self.move_pointer(few),
            Qt.Key.Key_Home: lambda: self.move_pointer(-columns),
            Qt.Key.Key_End: lambda: self.move_pointer(columns),
            Qt.Key.Key_Return: self.keep_mark,
            Qt.Key.Key_Enter: self.keep_mark,
            Qt.Key.Key_Delete: self.clear_marks,
            Qt.Key.Key_T: self.turn_round,
            Qt.Key.Key_L: self.theme.change,
            Qt.Key.Key_H: self.switch_help,
            Qt.Key.Key_Escape: self.close,
            CLASS_KEY: self.close,
        }
        key = Qt.Key(event.key())
        if key not in wanted:
            super().keyPressEvent(event)
            return
        is_step = key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_Space, Qt.Key.Key_Backspace)
        if is_step and event.isAutoRepeat():
            return  # A key held down must not run away with the rows.
        if is_step:
            self._forget_help()
        wanted[key]()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._follow_hand(event.position())

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._follow_hand(event.position())
        if event.button() == Qt.MouseButton.LeftButton:
            self.keep_mark()
        else:
            self.clear_marks()

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self.pointing.place = self.pointing.needle = None
        self.pointer.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(self.theme.look.paper))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        wide, high = self.width(), self.height()
        edge = round(_MARGIN * high)
        head, words, foot = (round(share * high) for share in (_HEAD, _WORDS, _FOOT))
        inner = wide - 4 * edge
        self.where.setGeometry(2 * edge, edge // 2, round(0.62 * inner), head)
        self.title.setGeometry(2 * edge + round(0.64 * inner), edge // 2, round(0.36 * inner), head)
        self.foot.setGeometry(2 * edge, high - foot - edge // 3, inner, foot)
        top, bottom = head + edge, high - foot - words - edge
        self.bed.setGeometry(0, top, wide, bottom - top)
        self.words.setGeometry(2 * edge, bottom + edge // 2, inner, words)
        self.pointer.setGeometry(0, 0, wide, high)
        self.where.set_px(0.6 * head)
        self.title.set_px(0.42 * head)
        self.foot.set_px(0.56 * foot)
        self._fit_words()
        self._point_at(self.pointing.needle)

    def _fit_words(self) -> None:
        room = ActsRoom(self.words.width(), self.words.height(), self.words.height())
        self.words.height_in(room, 1.45 * self.height() / 720)
        self.words.update()

    @override
    def closeEvent(self, event: QCloseEvent) -> None:
        self._source.put_away()
        self.left.emit()
        super().closeEvent(event)
