"""Foretell: before the row, choose what will knit, be wrapped, or show a gap; then see."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.timeline import Timeline
from bedview.lessons.foretell import Answered, Asks
from bedview.lessons.foretell import answer as compare
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_scene import BedScene, Touch, TouchKind, View
from bedview.picture.scene_building import scene_of
from bedview.plan.problems import PieceError
from bedview.session.foretell_run import ForetellRun
from bedview.store.whole_file import OutputError
from bedview.ui.learn.fitted_label import FittedLabel
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.lesson_head import LessonHead
from bedview.ui.learn.message_card import MessageCard
from bedview.ui.learn.told import Told, Tone
from bedview.ui.learn.tool_button import ToolButton
from bedview.ui.learn.when import when_again
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.parts.piece_pictures import used_stretch, yarns_seen
from bedview.ui.theme import Theme

_SHOWN_WHOLE = 40
"""Beds of up to so many needles are shown whole."""


class ForetellView(QWidget):
    """The question on screen.

    Args:
        run: the learner who foretells.
        title: whose rows are asked about.
        now: the clock, in UTC.
        theme: how it looks.
        tiles: images of tiles that beds shown before it have painted.
        parent: as ever.
    """

    left = Signal()
    """Back to all lessons."""
    trouble_met = Signal(str)
    """What was answered could not be kept; one sentence says why."""

    def __init__(
        self,
        run: ForetellRun,
        title: str,
        now: Callable[[], datetime],
        theme: Theme,
        tiles: TileCache | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.run = run
        self._now, self._theme = now, theme
        self._view = View()
        self._chosen: set[int] = set()
        self._answered: Answered | None = None
        self.question = FittedLabel(theme, 2.75, bold=True)
        self.source = FittedLabel(theme, 1.5, tone="quiet")
        self.bed = HandsBed(theme, tiles=tiles)
        self.card = MessageCard(theme)
        self.none = ToolButton(self.tr("Choose none"), "0", theme)
        self.go = ToolButton("", self.tr("Return"), theme, ButtonKind.PRIMARY)
        self.head = LessonHead(title, (), theme)
        self._lay_out()
        self.head.left.connect(self.left)
        self.none.clicked.connect(self._choose_none)
        self.go.clicked.connect(self._go_on)
        self.bed.needle_pressed.connect(self._press)
        self.bed.needle_toggled.connect(self._toggle)
        self.bed.stretch_chosen.connect(self._choose_stretch)
        self.ask_next()

    def _lay_out(self) -> None:
        px = self._theme.px
        self._words = QWidget()
        words = QHBoxLayout(self._words)
        words.setContentsMargins(px(24), 0, px(24), 0)
        words.setSpacing(px(28))
        words.addWidget(self.question, 6)
        words.addWidget(self.source, 5)
        bed = QHBoxLayout()
        bed.setContentsMargins(px(20), 0, px(20), 0)
        bed.addWidget(self.bed)
        buttons = QHBoxLayout()
        buttons.setSpacing(px(8))
        buttons.addWidget(self.none)
        buttons.addStretch(1)
        buttons.addWidget(self.go)
        below = QVBoxLayout()
        below.setContentsMargins(px(24), 0, px(24), px(14))
        below.setSpacing(px(10))
        below.addWidget(self.card)
        below.addLayout(buttons)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(self.head)
        column.addWidget(self._words)
        column.addLayout(bed, 1)
        column.addLayout(below)

    # -- asking -------------------------------------------------------------------------------------------

    @property
    def chosen(self) -> frozenset[int]:
        """Needles chosen so far; for gaps, the one on the left of each."""
        return frozenset(self._chosen)

    @property
    def answered(self) -> bool:
        """Whether the question that stands was answered."""
        return self._answered is not None

    def ask_next(self) -> None:
        """Put the next question, or say when it comes."""
        self._chosen.clear()
        self._answered = None
        question = self.run.next()
        there = question is not None
        self.bed.setEnabled(there)
        self.none.setVisible(there)
        self.go.say(self.tr("That is my answer") if there else self.tr("Back to all lessons"))
        if question is None or self.run.timeline is None or self.run.rows is None:
            self._show_none_due()
            return
        self.question.setText(question.text)
        where = self.tr("From “{title}”, row {row}. Tap the needles, or draw along several.")
        if question.asks is Asks.GAP:
            where = self.tr("From “{title}”, row {row}. Tap between the two needles.")
        self.source.setText(where.format(title=self.run.rows.title, row=question.row))
        timeline = self.run.timeline
        whole = timeline.bed.needles <= _SHOWN_WHOLE
        stretch = (0, timeline.bed.needles - 1) if whole else used_stretch(timeline)
        self._view = View(stretch=stretch)
        self.bed.show_scene(self._scene(timeline))
        self.bed.go_to(timeline.bed.needles // 2)
        state = timeline.state
        cams = self.tr("The hold cams are on.") if state.hold_cams else self.tr("The hold cams are off.")
        told = Told(Tone.PLAIN, self.tr("{cams} Choose, then see.").format(cams=cams))
        self.card.say(told, f"{self.question.text()} {self.source.text()}")

    def _show_none_due(self) -> None:
        self.question.setText(self.tr("That was all for now."))
        due = self.run.next_due
        text = self.tr("What you knew comes back later, what you missed comes back soon.")
        if due is not None:
            text = self.tr("The next question comes back {when}.").format(when=when_again(due, self._now()))
        self.source.setText(text)
        told = Told(Tone.PLAIN, self.tr("Nothing is due. Come back when it is."))
        self.card.say(told, f"{self.question.text()} {self.source.text()}")

    def _scene(self, timeline: Timeline, marked: frozenset[int] | None = None) -> BedScene:
        assert self.run.rows is not None
        touches = self._marks(self.chosen) if marked is None else self._marks(marked, TouchKind.POINT)
        seen = yarns_seen(self.run.rows)
        return scene_of(timeline.fabric, timeline.state, seen, touches=touches, view=self._view)

    def _marks(self, chosen: frozenset[int], kind: TouchKind = TouchKind.CHOOSE) -> tuple[Touch, ...]:
        """Chosen needles, or the pairs beside chosen gaps; after the answer, those it is about."""
        if not chosen:
            return ()
        question = self.run.question
        if question is not None and question.asks is Asks.GAP:
            return tuple(Touch(kind, (left, left + 1)) for left in sorted(chosen))
        return (Touch(kind, tuple(sorted(chosen))),)

    # -- choosing -----------------------------------------------------------------------------------------

    def _press(self, needle: int) -> None:
        """A tap; for a gap it is that on the side of the needle that was tapped."""
        place = self.bed.pressed_at
        question = self.run.question
        if question is not None and question.asks is Asks.GAP and place is not None:
            layout = self.bed.bed_layout()
            if (place.x() < layout.x_of(needle)) is not layout.turned:
                needle -= 1
        self._toggle(needle)

    def _toggle(self, needle: int) -> None:
        question = self.run.question
        if self._answered is not None or question is None:
            return
        needles = self.bed.scene.needles
        last = needles - 2 if question.asks is Asks.GAP else needles - 1
        if 0 <= needle <= last:
            self._chosen ^= {needle}
            self._show_chosen()

    def _choose_stretch(self, one: int, other: int) -> None:
        question = self.run.question
        if self._answered is None and question is not None and question.asks is not Asks.GAP:
            self._chosen.update(range(min(one, other), max(one, other) + 1))
            self._show_chosen()

    def _choose_none(self) -> None:
        if self._answered is None:
            self._chosen.clear()
            self._show_chosen()

    def _show_chosen(self) -> None:
        self.bed.mark(self._marks(self.chosen))
        rows, question = self.run.rows, self.run.question
        assert rows is not None
        assert question is not None
        words = rows.words()
        if question.asks is Asks.GAP:
            pairs = [words.needles([left, left + 1]) for left in sorted(self._chosen)]
            named = self.tr("between {pairs}").format(pairs="; ".join(pairs)) if pairs else ""
        else:
            named = words.needles(self._chosen)
        text = self.tr("You say: {needles}.").format(needles=named) if named else self.tr("You say: none.")
        self.card.say(Told(Tone.PLAIN, text))

    # -- answering ----------------------------------------------------------------------------------------

    def _go_on(self) -> None:
        if self.run.question is None:
            self.left.emit()
        elif self._answered is None:
            self.answer()
        else:
            self.ask_next()
        self.take_focus()

    def answer(self) -> None:
        """Answer with what is chosen, and see."""
        question, rows = self.run.question, self.run.rows
        assert question is not None
        assert rows is not None
        try:
            answered = self.run.answer(self.chosen)
        except (PieceError, OutputError) as error:
            self.trouble_met.emit(self.tr("Your answer could not be kept: {why}.").format(why=error))
            answered = compare(question, self.chosen, rows.words())
        self._answered = answered
        marked = frozenset((*answered.missed, *answered.wrong)) or question.answer
        self.bed.ride_to(self._scene(question.outcome, marked))
        self.none.hide()
        self.go.say(self.tr("Next question"))
        tone = Tone.REACHED if answered.right else Tone.MISSED
        heading = "" if answered.right else self.tr("Not quite")
        self.card.say(Told(tone, self._verdict(answered), heading=heading))

    def _verdict(self, answered: Answered) -> str:
        rows, question = self.run.rows, self.run.question
        assert rows is not None
        assert question is not None
        words = rows.words()
        parts = []
        if question.asks is not Asks.GAP:
            if answered.missed:
                missed = words.needles(answered.missed)
                parts.append(self.tr("You missed {needles}.").format(needles=missed))
            if answered.wrong:
                wrong = words.needles(answered.wrong)
                parts.append(self.tr("You should not have chosen {needles}.").format(needles=wrong))
        parts.append(answered.says)
        due = self.run.due_again()
        if due is not None:
            text = self.tr("This question comes back {when}.")
            parts.append(text.format(when=when_again(due, self._now())))
        return " ".join(part for part in parts if part)

    # -- Qt's calls ---------------------------------------------------------------------------------------

    def beds(self) -> list[HandsBed]:
        """The beds on screen."""
        return [self.bed]

    def shown_bed(self) -> HandsBed:
        """The bed that is looked at."""
        return self.bed

    def take_focus(self) -> None:
        """Put the keyboard where hands are, or on the way back where nothing is asked."""
        (self.bed if self.run.question is not None else self.go).setFocus()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self._go_on()
        elif key == Qt.Key.Key_0:
            self._choose_none()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        least = self._theme.px(88 if self.height() >= self._theme.px(560) else 66)
        self._words.setFixedHeight(max(least, round(0.15 * self.height())))
        self.card.fit_into(self.height())
