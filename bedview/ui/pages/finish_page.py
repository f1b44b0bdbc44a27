"""Finish: what is still open, seams and tails in the order of the hands, and the shape that comes of it."""

from __future__ import annotations

from collections import Counter
from functools import partial
from typing import Final

import numpy as np
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.finish.told import StepKind, Told
from bedview.plan.piece import Piece
from bedview.session.open_piece import OpenPiece
from bedview.ui.finish.group_list import GroupList
from bedview.ui.finish.messages import Marks, Shaped
from bedview.ui.finish.misfit_card import MisfitCard
from bedview.ui.finish.place_chart import PlaceChart
from bedview.ui.finish.shape_panel import ShapePanel
from bedview.ui.finish.step_entry import StepEntry
from bedview.ui.finish.workshop import Workshop
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.parts.piece_pictures import part_title, piece_chart
from bedview.ui.theme import Theme

_PAUSE_MS: Final = 300
"""After an edit nothing is worked out until so long no other comes."""


class FinishPage(QWidget):
    """The page.

    Args:
        opened: the piece.
        workshop: works out making up and shape.
        theme: how it looks.
        parent: as ever.
    """

    def __init__(
        self, opened: OpenPiece, workshop: Workshop, theme: Theme, parent: QWidget | None = None
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
        self.summary = Label(tone="quiet", wraps=True)
        self.groups = GroupList(theme)
        self.entries: list[StepEntry] = []
        self.misfits: list[MisfitCard] = []
        self.shape = ShapePanel(theme)
        self.chart = PlaceChart(theme)
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        px = self._theme.px
        inner = QWidget()
        inner.setProperty("part", "plain")
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, px(6), 0)
        self._column.setSpacing(px(6))
        self._column.addWidget(self.summary)
        self._column.addWidget(self.groups)
        self._column.addStretch(1)
        self.side = QScrollArea()
        self.side.setWidgetResizable(True)
        self.side.setFrameShape(QFrame.Shape.NoFrame)
        self.side.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.side.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.side.setWidget(inner)
        row = QHBoxLayout(self)
        row.setContentsMargins(px(22), px(4), px(18), px(14))
        row.setSpacing(px(20))
        row.addWidget(self.side)
        row.addWidget(self.chart)
        row.addWidget(self.shape, 1)

    def _connect(self) -> None:
        self._workshop.told.connect(self._show_told)
        self._workshop.progressed.connect(self._show_progress)
        self._workshop.shaped.connect(self._show_shape)
        self._workshop.picture_painted.connect(self.shape.canvas.show_picture)
        self._workshop.loop_found.connect(self.shape.take_loop)
        self._workshop.way_found.connect(self._show_way)
        self._workshop.failed.connect(self._show_failure)
        self.shape.canvas.picture_wanted.connect(self._workshop.ask_picture)
        self.shape.canvas.place_pressed.connect(self._workshop.ask_loop)
        self.shape.loop_chosen.connect(self._show_loop)
        self.shape.way_wanted.connect(self._workshop.ask_way)
        self.shape.stop_wanted.connect(self.stop)
        self.shape.begin_wanted.connect(self.begin)
        self._pause.timeout.connect(self._begin_if_new)
        self._opened.changed.connect(self._follow)

    # -- working out --------------------------------------------------------------------------------------

    @property
    def told(self) -> Told | None:
        """The making up in words; None until it is worked out."""
        return self._told

    @property
    def chosen(self) -> int:
        """Index of the chosen step; -1 for none."""
        return self._chosen

    @property
    def settled(self) -> bool:
        """Whether the shape is there and painted."""
        return self.shape.canvas.settled

    def begin(self) -> None:
        """Work out making up and shape."""
        self._worked_on = self._opened.piece
        self.shape.show_shape(None)
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
        for widget in (*self.entries, *self.misfits):
            self._column.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        # What merely stays open is told by its step.
        self.misfits = [
            MisfitCard(misfit, self._theme) for misfit in told.misfits if misfit.severity != "note"
        ]
        self.entries = [StepEntry(number, step, self._theme) for number, step in enumerate(told.steps, 1)]
        self.groups.show_groups(told.groups)
        for place, widget in enumerate((*self.misfits, *self.entries), 2):
            self._column.insertWidget(place, widget)
        for number, entry in enumerate(self.entries):
            entry.chosen.connect(partial(self.choose, number))
            entry.card_opened.connect(partial(self._scroll_later, number))
        self.summary.setText(self._summary(told))
        self.chart.show_piece(piece_chart(self._opened), self._opened.procedure.timeline.fabric)
        self._chosen = -1
        if self.entries:
            self.choose(0)

    def choose(self, step: int) -> None:
        """Open a step, and show its place on chart and shape."""
        if step == self._chosen:
            return
        self._chosen = step
        for number, entry in enumerate(self.entries):
            entry.choose(number == step)
        shown = self.entries[step].step
        marks = Marks(shown.loops, shown.other_loops)
        self.chart.mark(marks)
        self.shape.mark(marks)
        self._scroll_later(step)

    def _scroll_later(self, step: int) -> None:
        """Have a step and its open card in sight, once Qt has laid them out."""
        QTimer.singleShot(0, self, partial(self._scroll_to, step))

    def _scroll_to(self, step: int) -> None:
        if step < len(self.entries):
            entry = self.entries[step]
            self.side.ensureWidgetVisible(entry.card or entry, 0, self._theme.px(10))

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

    def _summary(self, told: Told) -> str:
        """How much there is to do, in one line."""
        kinds = Counter(step.kind for step in told.steps)
        ends = sum(len(step.ends) for step in told.steps if step.kind is StepKind.DARN_IN)
        lines = (
            (kinds[StepKind.GRAFT], self.tr("{count} graft"), self.tr("{count} grafts")),
            (kinds[StepKind.SEW], self.tr("{count} sewn seam"), self.tr("{count} sewn seams")),
            (ends, self.tr("{count} end to darn in"), self.tr("{count} ends to darn in")),
        )
        said = [counted(one, many, count) for count, one, many in lines if count]
        return ", ".join(said) if said else self.tr("Nothing to make up.")

    # -- pointing -----------------------------------------------------------------------------------------

    def _show_loop(self, loop: int) -> None:
        """Say which needle and which row a place on the shape is."""
        fabric = self._opened.procedure.timeline.fabric
        one = np.array([loop])
        needle = self._opened.procedure.words.needles([int(fabric.needle[loop])])
        row = int(fabric.pass_of(one)[0])
        part = part_title(self._opened.piece, self._opened.segment_of_action(int(fabric.action_of(one)[0])))
        text = self.tr("{needle}, row {row} · {part}") if row else self.tr("{needle}, cast on · {part}")
        self.shape.say_found(text.format(needle=needle, row=row, part=part))
        self.chart.mark(self.shape.canvas.marks)

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
        wanted = {
            Qt.Key.Key_Down: self._chosen + 1,
            Qt.Key.Key_Up: self._chosen - 1,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }.get(Qt.Key(event.key()))
        if wanted is None or last < 0:
            super().keyPressEvent(event)
        else:
            self.choose(max(0, min(wanted, last)))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        px = self._theme.px
        self.side.setFixedWidth(max(px(330), min(px(500), round(0.31 * self.width()))))
        self.chart.setFixedWidth(max(px(150), min(px(460), round(0.2 * self.width()))))
        super().resizeEvent(event)
