"""Finish: what is still open, seams and tails in the order of the hands, and the shape that comes of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.fabric import Fabric
from bedview.finish.told import Told, mark_of
from bedview.plan.piece import Piece
from bedview.session.making_up_run import MakingUpRun
from bedview.session.open_piece import OpenPiece
from bedview.store.whole_file import OutputError
from bedview.ui.finish.in_short import making_up_in_short
from bedview.ui.finish.messages import Marks, Shaped
from bedview.ui.finish.place_bar import PlaceBar
from bedview.ui.finish.place_chart import PlaceChart
from bedview.ui.finish.pointing import Pointing
from bedview.ui.finish.shape_panel import ShapePanel
from bedview.ui.finish.step_entry import StepEntry
from bedview.ui.finish.step_list import StepList
from bedview.ui.finish.workshop import Workshop
from bedview.ui.parts.piece_pictures import broken_off_words, part_title, piece_chart
from bedview.ui.theme import Theme

_ON: Final = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_PageDown)
_BACK: Final = (Qt.Key.Key_Backspace, Qt.Key.Key_PageUp)
_NARROW: Final = 1000
"""In a window narrower than this, at the usual size of text, there is no room for the chart."""
_PAUSE_MS: Final = 300
"""After an edit nothing is worked out until so long no other comes."""


class FinishPage(QWidget):
    """The page.

    Args:
        opened: the piece.
        workshop: works out making up and shape.
        theme: how it looks.
        run: which steps are done; kept in memory only if left out.
        parent: as ever.
    """

    def __init__(
        self,
        opened: OpenPiece,
        workshop: Workshop,
        theme: Theme,
        run: MakingUpRun | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Finish"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._opened = opened
        self._workshop = workshop
        self._theme = theme
        self._worked_on: Piece | None = None
        self._told: Told | None = None
        self._chosen = -1
        self._run = MakingUpRun() if run is None else run
        self._ticks_before: frozenset[str] = frozenset()
        self._pointed: tuple[Fabric, Pointing] | None = None
        self._loop = -1
        self._found = ""
        self.steps = StepList(theme)
        self.place = PlaceBar(theme)
        self.shape = ShapePanel(theme)
        self.chart = PlaceChart(theme)
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        px = self._theme.px
        self._side = QWidget()
        self._side.setProperty("part", "plain")
        column = QVBoxLayout(self._side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.steps, 1)
        column.addWidget(self.place)
        self.place.hide()
        row = QHBoxLayout(self)
        row.setContentsMargins(px(22), px(4), px(18), px(14))
        row.setSpacing(px(20))
        row.addWidget(self._side)
        row.addWidget(self.chart)
        row.addWidget(self.shape, 1)

    def _connect(self) -> None:
        self._workshop.told.connect(self._show_told)
        self._workshop.progressed.connect(self._show_progress)
        self._workshop.shaped.connect(self._show_shape)
        self._workshop.picture_painted.connect(self.shape.canvas.show_picture)
        self._workshop.loop_found.connect(self.shape.take_loop)
        self._workshop.loop_passed.connect(self._pass_over)
        self._workshop.way_found.connect(self._show_way)
        self._workshop.failed.connect(self._show_failure)
        self.shape.canvas.picture_wanted.connect(self._workshop.ask_picture)
        self.shape.canvas.place_pressed.connect(self._workshop.ask_loop)
        self.shape.canvas.place_passed.connect(self._workshop.ask_passed)
        self.shape.canvas.pointer_left.connect(lambda: self._pass_over(None))
        self.shape.canvas.walk_wanted.connect(self._walk)
        self.chart.place_pressed.connect(self._press_chart)
        self.chart.place_passed.connect(self._pass_over_chart)
        self.chart.walk_wanted.connect(self._walk)
        self.shape.loop_chosen.connect(self._show_loop)
        self.shape.way_wanted.connect(self._workshop.ask_way)
        self.shape.stop_wanted.connect(self.stop)
        self.shape.begin_wanted.connect(self.begin)
        self.steps.pressed.connect(self.choose)
        self.steps.ticked.connect(self.tick)
        self.steps.completed.connect(self._show_steps)
        self.place.on_wanted.connect(self.go_on)
        self.place.back_wanted.connect(self.go_back)
        self.place.again_wanted.connect(self.begin_again)
        self._run.changed.connect(self._show_ticks)
        self._opened.saved.connect(self._follow_file)
        self._pause.timeout.connect(self._begin_if_new)
        self._opened.changed.connect(self._follow)

    # -- working out --------------------------------------------------------------------------------------

    @property
    def told(self) -> Told | None:
        """The making up in words; None until it is worked out."""
        return self._told

    @property
    def entries(self) -> list[StepEntry]:
        """The steps that are listed so far."""
        return self.steps.entries

    @property
    def run(self) -> MakingUpRun:
        """Which steps are done."""
        return self._run

    @property
    def chosen(self) -> int:
        """Index of the chosen step; -1 for none."""
        return self._chosen

    @property
    def settled(self) -> bool:
        """Whether the steps are there, and the shape is there and painted."""
        return self.steps.complete and self.shape.canvas.settled

    def begin(self) -> None:
        """Work out making up and shape."""
        self._worked_on = self._opened.piece
        self.shape.show_shape(None)
        if self._opened.trouble is not None:
            self._show_broken_off()
            return
        self.shape.show_waiting(self.tr("Working out the making up …"), 0.0, stoppable=True)
        self._workshop.begin(self._opened.piece)

    def stop(self) -> None:
        """Stop working out."""
        self._workshop.stop()
        self.shape.show_waiting(self.tr("The shape is not worked out."), None, stoppable=False)

    def _follow(self) -> None:
        if self.isVisible():
            self._pause.start()

    def _begin_if_new(self) -> None:
        if self._worked_on is not self._opened.piece and self.isVisible():
            self.begin()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._begin_if_new()

    # -- what is shown ------------------------------------------------------------------------------------

    def _show_told(self, told: Told) -> None:
        self._told = told
        self._chosen = -1
        self._run.take_steps(tuple(mark_of(step) for step in told.steps))
        self.steps.show_told(told, making_up_in_short(told))
        self.chart.show_piece(piece_chart(self._opened), self._opened.procedure.timeline.fabric)

    def _show_broken_off(self) -> None:
        """A piece that cannot be knitted to its end has no making up: say why, and where it is put right."""
        self._workshop.stop()
        self._told, self._chosen = None, -1
        self.steps.show_told(Told((), (), ()), "")
        self.place.hide()
        self.chart.show_piece(piece_chart(self._opened), self._opened.procedure.timeline.fabric)
        text = self.tr("{why} Once that is put right on the page Plan, its making up is shown here.")
        self.shape.show_waiting(text.format(why=broken_off_words(self._opened)), 0.0, stoppable=False)

    def _show_steps(self) -> None:
        """All steps are listed: show which are done, and open the one that comes next."""
        self._show_ticks()
        if self._run.trouble:
            self.place.say_news(self.tr("Your ticks could not be read: {why}.").format(why=self._run.trouble))
        if self.entries:
            # Before anything is done, what does not fit is to be read first.
            self.choose(min(self._run.next, len(self.entries) - 1), scroll=self._run.count > 0)

    def choose(self, step: int, *, scroll: bool = True) -> None:
        """Open a step, have it in sight, and show its place on chart and shape."""
        if step == self._chosen:
            return
        self._chosen = step
        self.steps.choose(step, scroll=scroll)
        shown = self.entries[step].step
        self._found = ""
        marks = Marks(shown.loops, shown.other_loops)
        self.chart.mark(marks)
        self.shape.mark(marks)

    # -- what is done -------------------------------------------------------------------------------------

    def tick(self, step: int, done: bool) -> None:
        """A step is done, or it is not after all; it is on disk before it is seen."""
        self._ticks_before = frozenset()
        self._try(lambda: self._run.tick(step, done=done))
        self.entries[step].show_done(done=self._run.is_done(step))

    def go_on(self) -> None:
        """The chosen step is done: tick it off and open the next."""
        if not self.entries or not self.steps.complete or self._run.count == self._run.of:
            return
        if not self._run.is_done(self._chosen):
            self.tick(self._chosen, True)
        following = self._run.next_after(self._chosen)
        if self._run.is_done(self._chosen) and following < len(self.entries):
            self.choose(following)

    def go_back(self) -> None:
        """The step done last, the chosen one or the nearest before it, is not done after all: open it."""
        if not self.steps.complete:
            return
        before = range(min(self._chosen, len(self.entries) - 1), -1, -1)
        done = next((step for step in before if self._run.is_done(step)), None)
        if done is not None:
            self.tick(done, False)
            self.choose(done)

    def begin_again(self) -> None:
        """Take all ticks back; or bring them back, straight after that."""
        before, self._ticks_before = self._ticks_before, frozenset()
        if before:
            self._try(lambda: self._run.take_up(before))
        else:
            kept = self._run.done
            self._ticks_before = kept if self._try(self._run.begin_again) else frozenset()
        self._show_ticks()
        if self.entries:
            self.choose(min(self._run.next, len(self.entries) - 1))

    def _show_ticks(self) -> None:
        if not self.steps.complete or self._told is None:
            return
        for number, entry in enumerate(self.entries):
            entry.show_done(done=self._run.is_done(number))
        self.place.show_place(self._run.count, self._run.of, taken_back=bool(self._ticks_before))

    def _follow_file(self) -> None:
        self._try(self._run.follow_file)

    def _try(self, act: Callable[[], object]) -> bool:
        """Do something that writes; say so if it could not be written."""
        try:
            act()
        except OutputError as error:
            self.place.say_news(self.tr("It could not be kept: {why}.").format(why=error.what))
            return False
        self.place.say_news("")
        return True

    def _show_progress(self, done: float) -> None:
        text = self.tr("Working out the shape: {percent} %").format(percent=round(100 * done))
        self.shape.show_waiting(text, done, stoppable=True)

    def _show_shape(self, shaped: Shaped) -> None:
        self.shape.show_shape(shaped)
        if not shaped.frames:
            words = self.tr("There is no fabric yet, so there is no shape.")
            self.shape.show_waiting(words, 0.0, stoppable=False)

    def _show_failure(self, why: str) -> None:
        text = self.tr("The shape could not be worked out: {why}.")
        self.shape.show_waiting(text.format(why=why), None, stoppable=False)

    # -- pointing -----------------------------------------------------------------------------------------

    @property
    def _pointing(self) -> Pointing:
        fabric = self._opened.procedure.timeline.fabric
        if self._pointed is None or self._pointed[0] is not fabric:
            self._pointed = fabric, Pointing(fabric)
        return self._pointed[1]

    def _show_loop(self, loop: int) -> None:
        """Say which needle and which row a place is, and show its wale and course on chart and shape."""
        if self._worked_on is not self._opened.piece:
            return  # What is seen is of the piece before the last edit.
        self._loop = loop
        self._found = self._said_of(loop)
        self.shape.say_found(self._found)
        self.shape.point_at(loop, self._pointing.wale(loop), self._pointing.course(loop))
        self.chart.mark(self.shape.canvas.marks)

    def _said_of(self, loop: int) -> str:
        fabric = self._opened.procedure.timeline.fabric
        one = np.array([loop])
        needle = self._opened.procedure.words.needles([int(fabric.needle[loop])])
        row = int(fabric.pass_of(one)[0])
        part = part_title(self._opened.piece, self._opened.segment_of_action(int(fabric.action_of(one)[0])))
        text = self.tr("{needle}, row {row} · {part}") if row else self.tr("{needle}, cast on · {part}")
        return text.format(needle=needle, row=row, part=part)

    def _pass_over(self, loop: int | None) -> None:
        """Say what the pointer is over; beside the fabric, what was pressed last."""
        if self._worked_on is self._opened.piece and not self.shape.measure.isChecked():
            self.shape.say_found(self._found if loop is None else self._said_of(loop))

    def _press_chart(self, needle: int, passes: int) -> None:
        loop = self._pointing.loop_at(needle, passes)
        if loop is not None:
            self.shape.take_loop(loop)

    def _pass_over_chart(self, place: tuple[int, int] | None) -> None:
        self._pass_over(None if place is None else self._pointing.loop_at(*place))

    def _walk(self, right: int, up: int) -> None:
        """Point at a stitch beside the one that is pointed at."""
        pointed = self.shape.canvas.marks.pressed
        loop = self._pointing.beside(self._loop, right, up) if pointed else self._pointing.middle()
        if loop is not None:
            self.shape.measure.setChecked(False)
            self._show_loop(loop)

    def _show_way(self, length_mm: float | None) -> None:
        if length_mm is None:
            words = self.tr("No way leads along the fabric from one to the other.")
        else:
            cm = self.locale().toString(length_mm / 10, "f", 1)
            words = self.tr("{cm} cm along the surface").format(cm=cm)
        self.shape.take_way(words, there=length_mm is not None)

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = len(self.entries) - 1
        key = Qt.Key(event.key())
        wanted = {
            Qt.Key.Key_Down: self._chosen + 1,
            Qt.Key.Key_Up: self._chosen - 1,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }.get(key)
        if wanted is not None and last >= 0:
            self.choose(max(0, min(wanted, last)))
        elif key in _ON or key in _BACK:
            # A key held down does not run away.
            if not event.isAutoRepeat():
                self.go_on() if key in _ON else self.go_back()
        else:
            super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        px, wide = self._theme.px, self.width()
        # Where text is large for the window, steps and shape share it.
        narrow = wide < px(_NARROW)
        self.chart.setVisible(not narrow)
        self.shape.show_narrow(narrow=narrow)
        self._side.setFixedWidth(
            round(0.48 * wide) if narrow else max(px(375), min(px(500), round(0.31 * wide)))
        )
        self.chart.setFixedWidth(max(px(150), min(px(460), round(0.2 * wide))))
        super().resizeEvent(event)
