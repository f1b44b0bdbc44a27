"""See it done: a right way played on a bed of its own, action by action."""

from __future__ import annotations

from typing import Final

import numpy as np
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.actions import Knit
from bedview.lessons.hands import LessonAction, Unpick
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_scene import ComingPass, Touch, View
from bedview.picture.scene_building import scene_of, touches_of
from bedview.session.lesson_run import Showing
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.message_card import MessageCard
from bedview.ui.learn.told import Told, Tone
from bedview.ui.learn.tool_button import ToolButton
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.parts.layouts import bed_over
from bedview.ui.parts.piece_pictures import yarns_seen
from bedview.ui.theme import Theme

PLAY_MS: Final = 1400
"""Between two actions while it plays: time enough to read what comes."""


class ShowingBench(QWidget):
    """The bed on which it is shown.

    Args:
        showing: what is played.
        theme: how it looks.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    over = Signal()
    """The learner wants the bed back."""

    def __init__(
        self,
        showing: Showing,
        theme: Theme,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._showing = showing
        self._theme = theme
        self._view = View(stretch=(0, showing.bench.timeline.bed.needles - 1))
        self.bed = HandsBed(theme, interactive=False, tiles=tiles)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("How it is done"))
        self.card = MessageCard(theme)
        self.back = ToolButton(self.tr("Back"), "←", theme)
        self.play = ToolButton(self.tr("Play"), "P", theme, ButtonKind.PRIMARY)
        self.on = ToolButton(self.tr("On"), "→", theme)
        self.leave = ToolButton(self.tr("Now I do it myself"), self.tr("Esc"), theme)
        self._timer = QTimer(self)
        self._timer.setInterval(PLAY_MS)
        self._timer.timeout.connect(self._tick)
        self._lay_out()
        self.back.clicked.connect(self.step_back)
        self.on.clicked.connect(self.step_on)
        self.play.clicked.connect(self.toggle_playing)
        self.leave.clicked.connect(self.over)
        self._follow()

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(self._theme.px(8))
        for button in (self.back, self.play, self.on):
            row.addWidget(button)
        row.addStretch(1)
        row.addWidget(self.leave)
        self.setLayout(bed_over(self.bed, row, self.card, self._theme))

    @property
    def playing(self) -> bool:
        """Whether it plays by itself."""
        return self._timer.isActive()

    def step_on(self) -> None:
        """The next action."""
        action = self._showing.next_action
        if action is not None:
            self._showing.forward()
            self._follow(rides=isinstance(action, Knit))

    def step_back(self) -> None:
        """Take the last action back."""
        self._stop()
        self._showing.back()
        self._follow()

    def toggle_playing(self) -> None:
        """Play, or stop."""
        if self.playing:
            self._stop()
        elif not self._showing.at_end:
            self._timer.start()
            self.step_on()
        self._follow_controls()

    def _stop(self) -> None:
        self._timer.stop()
        self._follow_controls()

    def _tick(self) -> None:
        self.step_on()
        if self._showing.at_end:
            self._stop()

    def _follow(self, *, rides: bool = False) -> None:
        bench, action = self._showing.bench, self._showing.next_action
        state = bench.state
        scene = scene_of(
            bench.timeline.fabric,
            state,
            yarns_seen(bench),
            touches=self._touches(action),
            coming=self._coming(action),
            view=self._view,
        )
        if rides:
            self.bed.ride_to(scene)
        else:
            self.bed.show_scene(scene)
        if action is None:
            self.card.say(
                Told(Tone.REACHED, self.tr("Done. Now do it yourself: your own bed is as you left it."))
            )
        else:
            self.card.say(Told(Tone.PLAIN, self._sentence(action), heading=self.tr("This comes next")))
        self._follow_controls()

    def _touches(self, action: LessonAction | None) -> tuple[Touch, ...]:
        if action is None or isinstance(action, Unpick | Knit):
            return ()
        return tuple(touches_of(action, self._showing.bench.state.position.copy()))

    def _coming(self, action: LessonAction | None) -> ComingPass | None:
        """The row that comes, as it will be."""
        if not isinstance(action, Knit):
            return None
        timeline = self._showing.bench.timeline
        event = timeline.fork(timeline.lines - 1).append(Knit(1))
        towards = timeline.state.carriage.other
        return ComingPass(towards, *(np.asarray(each) for each in (event.knit, event.wrapped, event.dropped)))

    def _sentence(self, action: LessonAction) -> str:
        """What comes next, as one says it."""
        bench = self._showing.bench
        words, state = bench.words, bench.state
        if isinstance(action, Unpick):
            if action.rows == 1:
                return self.tr("Unpick a row.")
            return self.tr("Unpick {count} rows.").format(count=action.rows)
        if isinstance(action, Knit):
            return f"{words.carriage(state)}."
        return " ".join(f"{sentence}." for sentence in words.hand(action, state))

    def _follow_controls(self) -> None:
        self.back.setEnabled(self._showing.can_go_back)
        self.on.setEnabled(not self._showing.at_end)
        self.play.setEnabled(not self._showing.at_end or self.playing)
        self.play.say(self.tr("Pause") if self.playing else self.tr("Play"))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        wanted = {
            Qt.Key.Key_Left: self.step_back,
            Qt.Key.Key_Right: self.step_on,
            Qt.Key.Key_P: self.toggle_playing,
            Qt.Key.Key_Escape: self.over.emit,
        }.get(Qt.Key(event.key()))
        if wanted is None:
            super().keyPressEvent(event)
        else:
            wanted()

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        self._stop()
        super().hideEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.card.fit_into(self.height())
