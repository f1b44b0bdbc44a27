"""A bed with its tools and the line that answers: what lessons and the free bench have in common."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from bedview.bed.needles import Position
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_scene import BedScene, Touch, TouchKind, View
from bedview.picture.scene_building import scene_of
from bedview.session.bench_run import BenchRun
from bedview.ui.learn.carriage_ride import motion_wanted
from bedview.ui.learn.hands import Hands
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.message_card import TIGHT_PX, MessageCard
from bedview.ui.learn.told import Told
from bedview.ui.learn.tool_row import ToolRow
from bedview.ui.learn.tools import Tool
from bedview.ui.parts.layouts import bed_over
from bedview.ui.parts.piece_pictures import yarns_seen
from bedview.ui.parts.said import announce
from bedview.ui.theme import Theme

DEPTH: Final = 24
"""Courses of fabric shown below the needles: as many as fit, or nearly."""
_FLASH_MS: Final = 260
_FLASHES: Final = 6
"""Halves of a flash: on and off three times, then on to stay."""
WHY_KEY: Final = "?"


def scene_of_bench(bench: BenchRun, touches: tuple[Touch, ...] = (), view: View | None = None) -> BedScene:
    """The bench as it stands, with some needles marked."""
    timeline = bench.timeline
    return scene_of(timeline.fabric, timeline.state, yarns_seen(bench), touches=touches, view=view)


class Workbench(QWidget):
    """The bench on screen.

    Args:
        hands: whose bench it is.
        tools: which tools lie there.
        theme: how it looks.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    def __init__(
        self,
        hands: Hands,
        tools: frozenset[Tool],
        theme: Theme,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.hands = hands
        self._theme = theme
        self._view = View(depth=DEPTH, stretch=(0, hands.bench.timeline.bed.needles - 1))
        self._drawn: tuple[int, Position] | None = None
        self._flashing: tuple[int, ...] = ()
        self._flash = QTimer(self)
        self._flash.setInterval(_FLASH_MS)
        self._flash.timeout.connect(self._flash_on)
        self._flashes_left = 0
        self._asked: tuple[int, int] = (-1, 0)
        self.bed = HandsBed(theme, tiles=tiles)
        self.card = MessageCard(theme)
        self.tools = ToolRow(hands, tools, theme)
        self._lay_out()
        self._connect()
        self.show_bed()
        self.bed.go_to(hands.cursor)

    def _lay_out(self) -> None:
        self.setLayout(bed_over(self.bed, self.tools, self.card, self._theme))

    def _connect(self) -> None:
        bed, hands = self.bed, self.hands
        bed.needle_pressed.connect(hands.tap)
        bed.needle_dragged.connect(self._draw_along)
        bed.needle_dropped.connect(self._drop)
        bed.needle_focused.connect(self._follow_focus)
        bed.needle_toggled.connect(hands.toggle)
        bed.stretch_chosen.connect(self._choose_stretch)
        bed.carriage_pushed.connect(self._push)
        bed.loop_asked.connect(hands.why_loop)
        hands.moved.connect(self._bed_moved)
        hands.choice_changed.connect(self._choice_moved)
        hands.said.connect(self.say)
        self.tools.bed_wanted.connect(self.bed.setFocus)

    @property
    def settled(self) -> bool:
        """Whether nothing moves: no carriage rides, no needle flashes."""
        return not self.bed.riding and not self._flash.isActive()

    # -- what is shown ------------------------------------------------------------------------------------

    def say(self, told: Told, first: str = "") -> None:
        """Say something; the needles it is about flash, and readers hear something else ``first``."""
        self.card.say(told, first)
        flashed = bool(self._flashing)
        self._stop_flashing()
        if told.needles:
            self._flashing = told.needles
            self._flashes_left = _FLASHES if motion_wanted(self) else 0
            if self._flashes_left:
                self._flash.start()
        if told.needles or flashed:
            self.bed.mark(self._touches())

    def show_bed(self) -> None:
        """Show the bed as it stands, at once."""
        self.bed.show_scene(self._scene())
        self.tools.refresh()

    def _bed_moved(self, is_row: bool) -> None:
        self._stop_flashing()
        self._asked = (-1, 0)
        if is_row:
            self.bed.ride_to(self._scene())
            self.tools.refresh()
        else:
            self.show_bed()

    def _choice_moved(self) -> None:
        self._stop_flashing()
        self.bed.mark(self._touches())
        self.bed.go_to(self.hands.cursor)
        self.tools.refresh()
        if self.hands.chosen:
            needles = self.hands.bench.words.needles(self.hands.chosen)
            announce(self, self.tr("Chosen: {needles}.").format(needles=needles))

    def _scene(self) -> BedScene:
        return scene_of_bench(self.hands.bench, self._touches(), self._view)

    def _touches(self) -> tuple[Touch, ...]:
        if self._drawn is not None:
            needle, to = self._drawn
            state = self.hands.bench.state
            moved = tuple(each for each in self.hands.group_of(needle) if state.position[each] != to)
            return (Touch(TouchKind.PLACE, moved, to=to),) if moved else ()
        if self._flashing:
            return (Touch(TouchKind.POINT, self._flashing),) if self._flashes_left % 2 == 0 else ()
        return (Touch(TouchKind.CHOOSE, self.hands.chosen),) if self.hands.chosen else ()

    def _flash_on(self) -> None:
        self._flashes_left -= 1
        if self._flashes_left <= 0:
            self._flash.stop()
        self.bed.mark(self._touches())

    def _stop_flashing(self) -> None:
        self._flash.stop()
        self._flashing, self._flashes_left = (), 0

    # -- what hands do ------------------------------------------------------------------------------------

    def _draw_along(self, needle: int, to: int) -> None:
        self._drawn = needle, Position(to)
        self.bed.mark(self._touches())

    def _drop(self, needle: int, to: int) -> None:
        self._drawn = None
        self.hands.move(needle, Position(to))
        self.show_bed()

    def _follow_focus(self, needle: int) -> None:
        self.hands.cursor = needle
        self._asked = (-1, 0)
        self.tools.refresh()

    def _choose_stretch(self, one: int, other: int) -> None:
        self.hands.choose_stretch(one, other)

    def _push(self) -> None:
        if Tool.PUSH in self.tools.tools:
            self.hands.push()
        else:
            self.hands.refuse(self.tr("The carriage stays where it is in this lesson."))

    def _why(self) -> None:
        """Why the needle under the keyboard bears what it bears; pressed again, one loop deeper."""
        needle, depth = self.hands.cursor, 0
        if self._asked[0] == needle:
            depth = self._asked[1] + 1
        loops = self.bed.scene.fabric.loops
        if depth and (depth >= len(loops) or loops[depth, needle] < 0):
            depth = 0
        self._asked = (needle, depth)
        if depth:
            self.hands.why_loop(int(loops[depth, needle]))
        else:
            self.hands.why_needle(needle)

    def press_key(self, event: QKeyEvent) -> bool:
        """Do what a key stands for, wherever the keyboard is.

        Returns:
            Whether it stands for anything.
        """
        if event.text() == WHY_KEY:
            self._why()
        elif event.key() == Qt.Key.Key_Escape and self.hands.chosen:
            self.hands.choose(())
        else:
            return self.tools.press_key(event)
        return True

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.press_key(event):
            super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.card.fit_into(self.height())
        self.tools.make_small(self.height() < self._theme.px(TIGHT_PX))
