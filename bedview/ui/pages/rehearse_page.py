"""Rehearse: the bed step by step, what to do now and why, and what becomes of a mistake."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.picture.bed_scene import View
from bedview.session.machine_words import position_labels
from bedview.session.rehearsal import Rehearsal
from bedview.session.what_if import Slip
from bedview.ui.bed_widget import BedWidget
from bedview.ui.class_view.sources import ClassSource, RehearsalSource
from bedview.ui.parts.counting import counted
from bedview.ui.parts.outcome_words import OutcomeWords
from bedview.ui.parts.piece_pictures import (
    bed_of,
    broken_off_words,
    marks_of,
    part_title,
    piece_chart,
    used_stretch,
    yarns_seen,
)
from bedview.ui.parts.player import Player
from bedview.ui.parts.said import announce
from bedview.ui.parts.step_controls import StepControls
from bedview.ui.parts.step_words import Act, Actor, StepWords, acts_of
from bedview.ui.parts.time_line import TimeLine
from bedview.ui.parts.watch_list import WatchList
from bedview.ui.parts.what_if_line import WhatIfLine
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme


class PlanWords(QWidget):
    """The sentence with what may go wrong below it.

    Both are placed by hand: a layout would make every new sentence a new layout of the whole page.
    """

    def __init__(self, words: StepWords, what_if: WhatIfLine, theme: Theme) -> None:
        super().__init__()
        self._words = words
        self._what_if = what_if
        self._chips_high = theme.px(36)
        words.setParent(self)
        what_if.setParent(self)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        words_high = self.height() - self._chips_high
        self._words.setGeometry(0, 0, self.width(), words_high)
        self._what_if.setGeometry(0, words_high, self.width(), self._chips_high)


class RehearsePage(QWidget):
    """The page.

    Args:
        rehearsal: what is rehearsed.
        theme: how it looks.
        remembered: how fast it plays.
        parent: as ever.
    """

    def __init__(
        self, rehearsal: Rehearsal, theme: Theme, remembered: Remembered, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Rehearse"))
        self._rehearsal = rehearsal
        self._theme = theme
        self._view = View()
        self.player = Player(rehearsal, remembered.rows_a_second, self)
        self.bed = BedWidget(look=theme.look)
        self.words = StepWords(theme)
        self.outcome = OutcomeWords(rehearsal, theme)
        self.what_if = WhatIfLine(rehearsal, theme)
        self.time_line = TimeLine(theme)
        self.controls = StepControls(rehearsal, self.player, theme, remembered)
        self.watch = WatchList(rehearsal, theme)
        self._lay_out()
        self._connect()
        self._show_piece()

    def _lay_out(self) -> None:
        px = self._theme.px
        self._said = QStackedWidget()
        self._said.addWidget(PlanWords(self.words, self.what_if, self._theme))
        self._said.addWidget(self.outcome)
        below = QVBoxLayout()
        below.setContentsMargins(px(24), px(4), px(24), px(16))
        below.setSpacing(px(8))
        below.addWidget(self._said)
        below.addWidget(self.time_line)
        below.addWidget(self.controls)
        below.addWidget(self.watch)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        bed = QHBoxLayout()
        bed.setContentsMargins(px(20), 0, px(20), 0)
        bed.addWidget(self.bed)
        column.addLayout(bed, 1)
        column.addLayout(below)

    def _connect(self) -> None:
        rehearsal = self._rehearsal
        rehearsal.cursor_moved.connect(self._follow_cursor)
        rehearsal.outcome_changed.connect(self._show_outcome)
        rehearsal.opened.changed.connect(self._show_piece)
        self._theme.look_changed.connect(lambda: self.bed.set_look(self._theme.look))
        self.what_if.slip_chosen.connect(self._slip_in)
        self.outcome.back_wanted.connect(self._back_to_plan)
        self.time_line.row_wanted.connect(self._go_to_row)
        self.controls.row_typed.connect(self._take_typed_row)
        self.watch.step_wanted.connect(self._go_to_step)

    # -- what is shown ------------------------------------------------------------------------------------

    def _show_piece(self) -> None:
        """The piece says something new: show all of it."""
        opened = self._rehearsal.opened
        chart = piece_chart(opened)
        self._parts = chart.parts
        self._yarns = yarns_seen(opened.piece)
        # The stretch in use is that of the whole piece, so that the picture stands still.
        procedure = opened.procedure
        labels = position_labels(procedure.words)
        self._view = replace(self._view, stretch=used_stretch(procedure.timeline), labels=labels)
        self._show_marks()
        self._follow_cursor()

    def _show_marks(self) -> None:
        marks = marks_of(folded for _, folded in self._rehearsal.watched)
        self.time_line.show_piece(self._parts, self._rehearsal.opened.procedure.timeline.passes, tuple(marks))

    def _show_outcome(self) -> None:
        there = self._rehearsal.outcome is not None
        self.player.stop()
        self._said.setCurrentIndex(1 if there else 0)
        self._show_marks()
        self._follow_cursor()

    def _follow_cursor(self, _step: int = 0) -> None:
        """Show the step at the cursor everywhere."""
        rehearsal = self._rehearsal
        scene = bed_of(rehearsal, self._yarns, self._view)
        self.bed.show_scene(scene)
        self.time_line.show_row(rehearsal.row, self._where())
        self.controls.refresh()
        self.watch.refresh()
        if rehearsal.outcome is not None:
            self.outcome.refresh()
            return
        self.what_if.refresh()
        if rehearsal.at_end:
            self.words.show_words("", self._end_acts(), self._end_words())
            return
        step = rehearsal.steps[rehearsal.cursor]
        self.words.show_words(
            self._where(), acts_of(step, scene.coming.towards if scene.coming else None), step.why
        )

    def _where(self) -> str:
        """The row, the part, and how far in the part one is."""
        rehearsal = self._rehearsal
        if rehearsal.at_end or rehearsal.outcome is not None:
            return self.tr("Row {row} of {rows}").format(
                row=rehearsal.row, rows=rehearsal.opened.procedure.timeline.passes
            )
        step = rehearsal.steps[rehearsal.cursor]
        part = self._parts[step.segment]
        title = part_title(rehearsal.opened.piece, step.segment)
        if not step.makes_pass:
            return self.tr("{part} · before row {row}").format(part=title, row=rehearsal.row)
        return self.tr("{part} · row {row} of {rows}").format(
            part=title, row=step.passes - part.first + 1, rows=part.rows
        )

    @property
    def _breaks_off(self) -> bool:
        return self._rehearsal.outcome is None and self._rehearsal.opened.trouble is not None

    def _end_acts(self) -> tuple[Act, ...]:
        if self._breaks_off:
            return (Act(self.tr("The plan breaks off here."), Actor.NOBODY),)
        if not self._rehearsal.steps:
            return (Act(self.tr("This piece has no rows yet."), Actor.NOBODY),)
        return (Act(self.tr("That was the last row."), Actor.NOBODY),)

    def _end_words(self) -> str:
        if self._breaks_off:
            return self.tr("{trouble} The page Plan is where it is put right.").format(
                trouble=broken_off_words(self._rehearsal.opened)
            )
        count = len(self._rehearsal.watched)
        if not self._rehearsal.steps:
            return self.tr("Give it a part on the page Plan.")
        if not count:
            return self.tr("Nothing on the way will show or be lost.")
        one = self.tr("One thing on the way is worth watching.")
        return counted(one, self.tr("{count} things on the way are worth watching."), count)

    # -- for a class --------------------------------------------------------------------------------------

    def turn_round(self) -> None:
        """See the bed from the other side of the table, or no longer."""
        self._view = replace(self._view, turned=not self._view.turned)
        self._follow_cursor()

    def class_source(self) -> ClassSource:
        """What a class looks at while this page is shown."""
        return RehearsalSource(self._rehearsal)

    # -- what is wanted -----------------------------------------------------------------------------------

    def _slip_in(self, slip: Slip) -> None:
        self._rehearsal.slip_in(slip)
        self.setFocus()
        announce(self, f"{self.outcome.heading.text()} {self.outcome.happens.text()}")

    def _back_to_plan(self) -> None:
        self._rehearsal.leave_outcome()
        self.setFocus()

    def _go_to_row(self, row: int) -> None:
        self.player.stop()
        self._rehearsal.go_to_row(row)

    def _take_typed_row(self, row: int) -> None:
        self._go_to_row(row)
        self.setFocus()

    def _go_to_step(self, step: int) -> None:
        self.player.stop()
        self._rehearsal.go_to(step)

    def _go_to_part(self, by: int) -> None:
        """To the part before or behind; back to the beginning of this one first."""
        rehearsal = self._rehearsal
        starts = [
            step.number
            for step, before in zip(rehearsal.steps, (None, *rehearsal.steps), strict=False)
            if before is None or before.segment != step.segment
        ]
        if by < 0:
            rehearsal.go_to(max((start for start in starts if start < rehearsal.cursor), default=0))
        else:
            last = len(rehearsal.steps)
            rehearsal.go_to(min((start for start in starts if start > rehearsal.cursor), default=last))

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        rehearsal = self._rehearsal
        wanted = {
            Qt.Key.Key_Left: rehearsal.back,
            Qt.Key.Key_Right: rehearsal.on,
            Qt.Key.Key_Home: lambda: rehearsal.go_to(rehearsal.first),
            Qt.Key.Key_End: lambda: rehearsal.go_to(len(rehearsal.steps)),
            Qt.Key.Key_PageUp: lambda: self._go_to_part(-1),
            Qt.Key.Key_PageDown: lambda: self._go_to_part(1),
            Qt.Key.Key_N: rehearsal.next_finding,
            Qt.Key.Key_T: self.turn_round,
            Qt.Key.Key_Space: self.player.toggle,
            Qt.Key.Key_Escape: self._back_to_plan,
        }.get(Qt.Key(event.key()))
        if wanted is None or event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
            return
        if event.key() == Qt.Key.Key_Space:
            if event.isAutoRepeat():
                return
        else:
            self.player.stop()
        wanted()
        if not event.isAutoRepeat():
            announce(self, self.words.text())

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        px = self._theme.px
        # A quarter of the page belongs to words; the bed takes what is left.
        self._said.setFixedHeight(max(px(124), min(px(280), round(0.24 * self.height()))))
        self.controls.fit_into(self.width() - 2 * px(24))
        self.watch.make_room_for((self.height() - px(520)) // px(90))
        super().resizeEvent(event)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        self.player.stop()
        super().hideEvent(event)
