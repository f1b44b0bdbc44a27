"""Everything the knitter sees of a row, one below the other: where, the bed, what to do, what then."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget
from typing_extensions import override

from bedview.picture.bed_scene import BedScene
from bedview.session.glance import PartDone
from bedview.ui.bed_widget import BedWidget
from bedview.ui.knit.acts_layout import ActLine
from bedview.ui.knit.acts_view import ActsView
from bedview.ui.knit.arrangement import COUNTER_TALL, ROW_TALL, TARGET, Box, arrange, unit_for
from bedview.ui.knit.parts_bar import PartsBar
from bedview.ui.knit.scaled_text import Run, ScaledText
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.theme import Theme, system_scale

_LARGEST_TEXT = 1.4
"""Text on this page is large already; it grows with the user's wish only so far."""


class KnitColumn(QWidget):
    """The widgets and their places. It knows nothing of pieces; the page tells it what to show.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    done_pressed = Signal()
    back_pressed = Signal()
    help_pressed = Signal()
    say_pressed = Signal()
    full_screen_pressed = Signal()
    finish_pressed = Signal()
    needle_pressed = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.part = ScaledText(theme, bold=True, parent=self)
        self.piece = ScaledText(theme, "quiet_ink", parent=self)
        self.row = ScaledText(theme, bold=True, right=True, parent=self)
        self.counter = ScaledText(theme, "quiet_ink", right=True, parent=self)
        self.bar = PartsBar(theme, self)
        self.bed = BedWidget(look=theme.look, parent=self)
        self.caption = QLabel(self)
        self.acts = ActsView(theme, self)
        self.then_word = ScaledText(theme, "quiet_ink", parent=self)
        self.then = ScaledText(theme, lines=2, at_top=True, parent=self)
        self.progress = ScaledText(theme, "quiet_ink", lines=2, at_top=True, parent=self)
        self.saved = ScaledText(theme, "quiet_ink", lines=2, parent=self)
        self._make_buttons()
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        self.caption.setProperty("part", "badge")
        self.caption.hide()
        self.bed.needle_pressed.connect(self.needle_pressed)
        theme.look_changed.connect(self._dress)

    def _make_buttons(self) -> None:
        theme = self._theme
        self.buttons = QWidget(self)
        self.done = Button(self.tr("Done · Page Down"), theme, ButtonKind.PRIMARY, large=True)
        self.back = Button(self.tr("Back · Page Up"), theme, large=True)
        row = QHBoxLayout(self.buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(12))
        self.finish = Button(self.tr("Make it up"), theme, ButtonKind.PRIMARY, large=True)
        self.finish.hide()
        for button in (self.done, self.finish, self.back):
            row.addWidget(button, 1)
        self.foot = QWidget(self)
        self.say = Button(self.tr("Say it again · S"), theme, ButtonKind.QUIET, large=True)
        self.whole = Button(self.tr("Full screen · F11"), theme, ButtonKind.QUIET, large=True)
        self.help = Button(self.tr("Something went wrong? · H"), theme, ButtonKind.QUIET, large=True)
        foot = QHBoxLayout(self.foot)
        foot.setContentsMargins(0, 0, 0, 0)
        foot.setSpacing(theme.px(4))
        foot.addStretch(1)
        for button in (self.say, self.whole, self.help):
            foot.addWidget(button)
        self.done.clicked.connect(self.done_pressed)
        self.back.clicked.connect(self.back_pressed)
        self.finish.clicked.connect(self.finish_pressed)
        self.help.clicked.connect(self.help_pressed)
        self.say.clicked.connect(self.say_pressed)
        self.whole.clicked.connect(self.full_screen_pressed)

    # -- what is shown ------------------------------------------------------------------------------------

    def show_where(self, part: str, piece: str, row: tuple[Run, ...], counter: str) -> None:
        """Titles and numbers at the top."""
        self.part.say(part)
        self.piece.say(piece)
        self.row.show_runs(row)
        self.counter.say(counter)

    def show_parts(self, parts: Sequence[PartDone]) -> None:
        """How far the piece is."""
        self.bar.show_parts(parts)

    def show_bed(self, scene: BedScene, caption: str = "") -> None:
        """The picture, and what is to be said about it if it is not the moment at hand."""
        self.bed.show_scene(scene)
        self.caption.setText(caption)
        self.caption.setVisible(bool(caption))
        self._place_caption()

    def show_acts(self, lines: Sequence[ActLine]) -> None:
        """What to do now."""
        self.acts.show_lines(lines)

    def show_end(self, *, at_end: bool, finished: bool) -> None:
        """Whether there is nothing to confirm any more, and whether that is because the piece is knitted."""
        self.done.setVisible(not at_end)
        self.finish.setVisible(at_end and finished)

    def show_then(self, word: str, then: str, progress: str) -> None:
        """What comes after it."""
        self.then_word.say(word)
        self.then.say(then)
        self.progress.say(progress)

    def settle(self) -> None:
        """Give everything its place; after something else is shown."""
        if self.width() < 50 or self.height() < 50:
            return
        unit = unit_for(self.width(), self.height()) * min(_LARGEST_TEXT, self._text_scale())
        pair = self.done.minimumSizeHint().width() + self.back.minimumSizeHint().width() + 14
        self._name_buttons()
        self._scale(unit)
        places = arrange(
            self.width(),
            self.height(),
            self.acts.height_in,
            unit=unit,
            buttons_width=min(pair, self.width() * 0.45),
        )
        self._place_header(places.header, unit)
        _put(self.bar, places.bar)
        _put(self.bed, places.bed)
        _put(self.acts, places.acts)
        self._place_after(places.after, unit, stacked=places.stacked)
        _put(self.buttons, places.buttons)
        self._place_foot(places.foot, unit)
        self._place_caption()

    def _text_scale(self) -> float:
        return self._theme.text_scale * system_scale()

    # -- places -------------------------------------------------------------------------------------------

    def _place_header(self, box: Box, unit: float) -> None:
        upper, lower = ROW_TALL * unit, COUNTER_TALL * unit
        row = min(self.row.sizeHint().width(), box.width * 0.5)
        counter = min(self.counter.sizeHint().width(), box.width * 0.6)
        gap = 16 * unit
        self.part.setGeometry(*_whole(box.x, box.y, box.width - row - gap, upper))
        self.row.setGeometry(*_whole(box.right - row, box.y, row, upper))
        self.piece.setGeometry(*_whole(box.x, box.y + upper, box.width - counter - gap, lower))
        self.counter.setGeometry(*_whole(box.right - counter, box.y + upper, counter, lower))

    def _place_after(self, box: Box, unit: float, *, stacked: bool) -> None:
        if stacked:
            word = self.then_word.sizeHint().width() + 8 * unit
            self.then_word.setGeometry(*_whole(box.x, box.y, word, box.height))
            self.then.setGeometry(*_whole(box.x + word, box.y, box.width - word, box.height))
            self.progress.hide()
            return
        word = 24 * unit
        room = box.height - word
        then = min(62 * unit, room * 0.6)
        self.then_word.setGeometry(*_whole(box.x, box.y, box.width, word))
        self.then.setGeometry(*_whole(box.x, box.y + word, box.width, then))
        top = box.y + word + min(then, self._then_height(box.width)) + 4 * unit
        self.progress.setGeometry(*_whole(box.x, top, box.width, box.bottom - top))
        self.progress.setVisible(box.bottom - top > 18 * unit)

    def _then_height(self, width: float) -> float:
        return self.then.height_for(width)

    def _place_foot(self, box: Box, unit: float) -> None:
        self.foot.adjustSize()
        buttons = min(self.foot.sizeHint().width(), box.width)
        self.foot.setGeometry(*_whole(box.right - buttons, box.y, buttons, box.height))
        self.saved.setGeometry(
            *_whole(box.x, box.y + box.height * 0.12, box.width - buttons - 12 * unit, box.height * 0.8)
        )

    def _place_caption(self) -> None:
        if self.caption.isHidden():
            return
        self.caption.setMaximumWidth(max(60, self.bed.width() - 24))
        self.caption.adjustSize()
        bottom = self.bed.y() + self.bed.bed_layout().map_top
        left = self.bed.x() + (self.bed.width() - self.caption.width()) // 2
        self.caption.move(left, round(bottom) - self.caption.height() - 6)
        self.caption.raise_()

    def _name_buttons(self) -> None:
        """Short names where there is little room."""
        narrow = self.width() < 700
        self.done.say(self.tr("Done") if narrow else self.tr("Done · Page Down"), self.tr("Done, Page Down"))
        self.back.say(self.tr("Back") if narrow else self.tr("Back · Page Up"), self.tr("Back, Page Up"))
        self.say.setVisible(self.width() >= 1000)
        self.whole.setVisible(self.width() >= 700)
        window = self.window()
        whole = bool(window.windowState() & Qt.WindowState.WindowFullScreen)
        self.whole.say(self.tr("Leave full screen · F11") if whole else self.tr("Full screen · F11"))

    def _scale(self, unit: float) -> None:
        self.part.set_px(26 * unit)
        self.piece.set_px(17 * unit)
        self.row.set_px(33 * unit)
        self.counter.set_px(17 * unit)
        self.then_word.set_px(18 * unit)
        self.then.set_px(26 * unit)
        self.progress.set_px(18 * unit)
        self.saved.set_px(max(13, 16 * unit))
        high = round(max(TARGET, 50 * unit))
        for button, px in (
            (self.done, 21),
            (self.finish, 21),
            (self.back, 21),
            (self.say, 16),
            (self.whole, 16),
            (self.help, 16),
        ):
            size, side = max(14, round(px * unit)), round(max(8, 12 * unit))
            sheet = f"font-size: {size}px; min-height: {high - 2}px; padding: 0px {side}px;"
            if button.styleSheet() != sheet:
                button.setStyleSheet(sheet)

    def _dress(self) -> None:
        self.bed.set_look(self._theme.look)
        self.settle()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.settle()


def _whole(x: float, y: float, width: float, height: float) -> tuple[int, int, int, int]:
    rect = QRectF(x, y, max(0.0, width), max(0.0, height)).toRect()
    return rect.x(), rect.y(), rect.width(), rect.height()


def _put(widget: QWidget, box: Box) -> None:
    widget.setGeometry(*_whole(box.x, box.y, box.width, box.height))
