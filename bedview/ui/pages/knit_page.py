"""Knit: one row at a time, readable at two metres, worked by one key."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import datetime
from functools import partial
from typing import Final

from PySide6.QtCore import QEvent, QLocale, Qt, QTime, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from typing_extensions import override

from bedview.session.glance import Glance, glance_at, parts_done
from bedview.session.knitting_run import KnittingRun
from bedview.session.press_guard import PressGuard
from bedview.session.saying import spoken
from bedview.store.journal import JournalError
from bedview.ui.class_view.sources import ClassSource, KnittingSource
from bedview.ui.knit.acts_layout import ActLine, Sign
from bedview.ui.knit.acts_view import act_lines
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.column import KnitColumn
from bedview.ui.knit.preferences import KnitPreferences
from bedview.ui.knit.scaled_text import Run
from bedview.ui.knit.side_sheet import SideSheet
from bedview.ui.parts.piece_pictures import broken_off_words
from bedview.ui.parts.said import SaidLine, announce
from bedview.ui.sounds import Cue, Sounds
from bedview.ui.theme import Theme
from bedview.ui.voice import Voice

FORWARD: Final = (Qt.Key.Key_PageDown, Qt.Key.Key_F5, Qt.Key.Key_Period, Qt.Key.Key_Right)
"""Keys of keyboards, pedals and presenters that confirm a step, wherever on the page the keyboard is. A field
to write in keeps those that it needs."""
FORWARD_HERE: Final = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)
"""Keys that confirm a step unless they press the button that the keyboard is on."""
BACK: Final = (Qt.Key.Key_PageUp, Qt.Key.Key_Left)
SAY_AGAIN: Final = Qt.Key.Key_S
HELP: Final = Qt.Key.Key_H
TURN: Final = Qt.Key.Key_T
_ARROWS: Final = (Qt.Key.Key_Left, Qt.Key.Key_Right)
_SCROLLS: Final = {Qt.Key.Key_Up: -80, Qt.Key.Key_Down: 80}
_SHEET_PX: Final = 430
_SHEET_SHARE: Final = 0.46


class KnitPage(QWidget):
    """The page.

    Args:
        run: where the knitter stands.
        theme: how it looks.
        preferences: sounds and voice.
        voice: what speaks; looked for in the system if left out.
        sounds: what sounds; likewise.
        now_ms: the clock that tells presses apart; one that only goes forward.
        parent: as ever.
    """

    second_piece_wanted = Signal(object)
    """A second piece is to be opened, as a :class:`~bedview.plan.piece.Piece`."""
    finish_wanted = Signal()
    """All is knitted; the page that shows how it is made up is wanted."""
    full_screen_changed = Signal(bool)
    """The page has put its window on the whole screen, or back."""

    def __init__(
        self,
        run: KnittingRun,
        theme: Theme,
        preferences: KnitPreferences | None = None,
        *,
        voice: Voice | None = None,
        sounds: Sounds | None = None,
        now_ms: Callable[[], float] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Knit"))
        self._run = run
        self._theme = theme
        self._guard = PressGuard()
        self._held = False
        self._released_at = 0
        self._now_ms = now_ms or (lambda: time.monotonic() * 1000)
        self._scenes = BedScenes(run)
        preferences = preferences or KnitPreferences()
        self.voice = voice or Voice(parent=self)
        self.sounds = sounds or Sounds(parent=self)
        self.voice.switch(preferences.voice)
        self.sounds.switch(preferences.sounds)
        self.column = KnitColumn(theme, self)
        self.said = SaidLine(theme, self)
        self.sheet = SideSheet(run, self._scenes, theme, self.voice, self.sounds, preferences, self)
        self._connect()
        self._listen_to_keys()
        self._show_step()
        if run.news:
            self.said.say(run.news)
        elif run.breaks_off and not run.at_end:
            self.said.say(broken_off_words(run.opened))

    def _connect(self) -> None:
        run, column, sheet = self._run, self.column, self.sheet
        run.cursor_moved.connect(self._moved)
        run.procedure_changed.connect(self._scenes.forget)
        run.told.connect(self._tell)
        column.done_pressed.connect(self.confirm)
        column.back_pressed.connect(self.go_back)
        column.say_pressed.connect(self.say_again)
        column.finish_pressed.connect(self.finish_wanted)
        column.help_pressed.connect(self.ask_for_help)
        column.full_screen_pressed.connect(self.switch_full_screen)
        column.needle_pressed.connect(self._needle_pressed)
        sheet.bed_changed.connect(self._show_bed)
        sheet.closed.connect(self._sheet_closed)
        sheet.step_chosen.connect(self._stand_at)
        sheet.second_wanted.connect(self.second_piece_wanted)

    def _listen_to_keys(self) -> None:
        for keys, forward in ((FORWARD, True), (BACK, False)):
            for key in keys:
                shortcut = QShortcut(QKeySequence(key), self)
                shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
                # A key that is held down must not run away with the rows.
                shortcut.setAutoRepeat(False)
                shortcut.activated.connect(partial(self._key_pressed, key, forward=forward))

    # -- row by row ---------------------------------------------------------------------------------------

    def confirm(self) -> None:
        """The step at hand is done."""
        self._write_down(self._run.confirm)

    def go_back(self) -> None:
        """The step before is not done after all."""
        self._write_down(self._run.back)

    def say_again(self) -> None:
        """Say what to do, aloud and to a screen reader."""
        text = spoken(self._run.procedure, self._run.cursor)
        announce(self, text)
        if not self.voice.say_anyway(text):
            self.said.say(text)

    def _write_down(self, act: object) -> bool:
        """Do what the journal must hold; say so if it does not."""
        assert callable(act)
        self.said.clear()
        try:
            act()
        except JournalError as error:
            self.said.say(self.tr("Not saved, so not confirmed: {why}.").format(why=error))
            return False
        return True

    def _key_pressed(self, key: Qt.Key, *, forward: bool) -> None:
        focused = QApplication.focusWidget()
        if key in _ARROWS and focused is not None and self.sheet.isAncestorOf(focused):
            return  # Whoever moves about in the sheet does not mean to confirm rows.
        if self._guard.counts(self._now_ms(), repeated=self._held):
            (self.confirm if forward else self.go_back)()

    def _moved(self, _step: int) -> None:
        self._show_step()
        self.sheet.refresh()
        self._sound()

    def _sound(self) -> None:
        text = spoken(self._run.procedure, self._run.cursor)
        announce(self, text)
        self.voice.say(text)
        if not self._run.at_end:
            hands = self._glance is not None and self._glance.needs_hands
            self.sounds.play(Cue.HANDS if hands else Cue.PLAIN)

    # -- when something went wrong ------------------------------------------------------------------------

    def ask_for_help(self) -> None:
        """Open the sheet, or put it away."""
        if self.sheet.isHidden():
            self.sheet.show_view(self.sheet.menu)
        else:
            self.sheet.close_sheet()
        self._lay_out()

    def _sheet_closed(self) -> None:
        self._lay_out()
        self._show_bed()
        self.setFocus()

    def _stand_at(self, step: int) -> None:
        before = self._run.cursor
        if self._write_down(lambda: self._run.go_to(step)):
            self.sheet.close_sheet()
            row = self._run.passes_done + 1
            text = self.tr("You stand before row {row} now.").format(row=row)
            self.said.say(text, self.tr("Undo"), lambda: self._write_down(lambda: self._run.go_to(before)))
            self._lay_out()

    def _needle_pressed(self, needle: int) -> None:
        if self.sheet.shown is not None:
            self.sheet.shown.press_needle(needle)

    def _tell(self, text: str) -> None:
        self.said.say(text, self.tr("Find my place"), self._find_place)
        self._lay_out()

    def _find_place(self) -> None:
        self.sheet.show_view(self.sheet.find_place)
        self._lay_out()

    # -- showing ------------------------------------------------------------------------------------------

    def _show_step(self) -> None:
        run = self._run
        procedure = run.procedure
        self._glance: Glance | None = None if run.at_end else glance_at(procedure, run.cursor)
        self.column.show_parts(parts_done(procedure, run.cursor))
        if self._glance is None:
            self._show_end()
        else:
            self._show_glance(self._glance)
        self.column.show_end(at_end=run.at_end, finished=not run.breaks_off)
        self.column.back.setEnabled(run.cursor > 0)
        self.column.saved.say(self._saved_words())
        self._show_bed()
        self.column.settle()

    def _show_glance(self, glance: Glance) -> None:
        place = glance.place
        if place.makes_row:
            row = Run(self.tr("row {row}").format(row=place.row), "ink", bold=True)
        else:
            before = self.tr("before row {row}") if place.row <= place.rows else self.tr("after row {row}")
            row = Run(before.format(row=min(place.row, place.rows)), "ink", bold=True)
        of = Run(self.tr(" of {rows}").format(rows=place.rows), "quiet_ink")
        counter = self.tr("counter at {count}").format(count=place.counter)
        if place.makes_row and place.rows_in_part:
            in_part = self.tr("{row} of {rows} in this part")
            in_part = in_part.format(row=place.row_in_part, rows=place.rows_in_part)
            counter = f"{counter} · {in_part}"
        self.column.show_where(place.part, self._run.opened.title, (row, of), counter)
        self.column.show_acts(act_lines(glance))
        then = glance.then or self.tr("nothing more: that is the last step")
        self.column.show_then(self.tr("then"), then[:1].upper() + then[1:], glance.progress)

    def _show_end(self) -> None:
        if self._run.breaks_off:
            self._show_break()
            return
        rows = self._run.procedure.timeline.passes
        row = (Run(self.tr("{rows} rows").format(rows=rows), "ink", bold=True),)
        self.column.show_where(self.tr("Finished"), self._run.opened.title, row, "")
        self.column.show_acts(
            [
                ActLine(self.tr("All rows are knitted"), Sign.DONE),
                ActLine(self.tr("Finish shows what is joined to what, and in which order."), Sign.NOTHING),
            ]
        )
        another = self.tr("The second one of a pair is under Changed here.")
        self.column.show_then(self.tr("then"), self.tr("Make it up"), another)

    def _show_break(self) -> None:
        """There is more of the piece, but no way to knit it as it is planned."""
        rows = self._run.procedure.timeline.passes
        row = (Run(self.tr("after row {row}").format(row=rows), "ink", bold=True),)
        self.column.show_where(self.tr("The plan breaks off here"), self._run.opened.title, row, "")
        self.column.show_acts([ActLine(broken_off_words(self._run.opened), Sign.NOTHING)])
        kept = self.tr("Your place is kept: put it right on the page Plan, and knit on here.")
        self.column.show_then(self.tr("then"), self.tr("Plan"), kept)

    def _show_bed(self) -> None:
        scene = self.sheet.scene()
        shown = self.sheet.shown
        caption = shown.caption() if shown is not None else ""
        self.column.show_bed(scene or self._scenes.at_hand(), caption if scene else "")

    def _saved_words(self) -> str:
        parts = []
        run = self._run
        if run.saved_at is not None:
            text = self.tr("Row {row} saved {time}") if run.is_kept else self.tr("Row {row} done {time}")
            parts.append(text.format(row=run.passes_done, time=_clock_time(run.saved_at)))
        if self._glance is not None and self._glance.weights and not self._glance.weights_now:
            parts.append(self._glance.weights)
        return " · ".join(parts)

    # -- for a class --------------------------------------------------------------------------------------

    def turn_round(self) -> None:
        """See the bed from the other side of the table, or no longer."""
        self._scenes.turn_round()
        self._show_bed()

    def class_source(self) -> ClassSource:
        """What a class looks at while this page is shown; a clicker's keys count as they do here."""
        on = partial(self._key_pressed, FORWARD[0], forward=True)
        return KnittingSource(self._run, on, partial(self._key_pressed, BACK[0], forward=False))

    # -- the window ---------------------------------------------------------------------------------------

    def switch_full_screen(self) -> None:
        """Fill the screen, or no longer."""
        window = self.window()
        window.setWindowState(window.windowState() ^ Qt.WindowState.WindowFullScreen)
        self.full_screen_changed.emit(self._is_whole())
        self.column.settle()

    def _is_whole(self) -> bool:
        return bool(self.window().windowState() & Qt.WindowState.WindowFullScreen)

    def _lay_out(self) -> None:
        width, height = self.width(), self.height()
        sheet = 0
        if not self.sheet.isHidden():
            sheet = round(min(self._theme.px(_SHEET_PX), width * _SHEET_SHARE))
            self.sheet.setGeometry(width - sheet - 8, 8, sheet, height - 16)
            sheet += 8
        top = 0
        if not self.said.isHidden():
            top = self.said.sizeHint().height() + 8
            self.said.setGeometry(24, 4, width - sheet - 40, top - 4)
        self.column.setGeometry(0, top, width - sheet, height - top)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self._lay_out()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        self._lay_out()
        self.setFocus()

    @override
    def event(self, event: QEvent) -> bool:
        # The line that says something asks for its room when it comes and gives it back when it goes.
        if event.type() == QEvent.Type.LayoutRequest:
            self._lay_out()
        elif isinstance(event, QKeyEvent) and event.key() in (*FORWARD, *BACK):
            self._notice_held(event)
        return super().event(event)

    def _notice_held(self, event: QKeyEvent) -> None:
        """See whether a key is only being held down, before its shortcut hears of it.

        Qt for X11 now and then takes a repeat for a release and a new press; both then have one time stamp,
        which no hand can do. Repeats that it does know never reach the shortcuts, so the guard is told here.
        """
        if event.type() == QEvent.Type.KeyRelease:
            self._released_at = event.timestamp()
        elif event.type() == QEvent.Type.ShortcutOverride:
            self._held = event.isAutoRepeat() or 0 < event.timestamp() == self._released_at
            if event.isAutoRepeat():
                self._guard.counts(self._now_ms(), repeated=True)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        # A field has had its say with Return, and lets it through all the same.
        writing = isinstance(QApplication.focusWidget(), QLineEdit)
        forward = key in FORWARD or (key in FORWARD_HERE and not writing)
        back = key in BACK
        if forward or back:
            if self._guard.counts(self._now_ms(), repeated=event.isAutoRepeat()):
                (self.confirm if forward else self.go_back)()
        elif key in _SCROLLS and self.sheet.shown is not None:
            self.sheet.move_view(_SCROLLS[key])
        elif key == SAY_AGAIN:
            self.say_again()
        elif key == HELP:
            self.ask_for_help()
        elif key == TURN:
            self.turn_round()
        elif key == Qt.Key.Key_F11:
            self.switch_full_screen()
        elif key == Qt.Key.Key_Escape and self.sheet.shown is not None:
            self.sheet.step_back()
        elif key == Qt.Key.Key_Escape and self._is_whole():
            self.switch_full_screen()
        else:
            super().keyPressEvent(event)


def _clock_time(moment: datetime) -> str:
    """The time of day as the locale writes it; with the day if that is another."""
    local = moment.astimezone()
    time = QLocale().toString(QTime(local.hour, local.minute), QLocale.FormatType.ShortFormat)
    if local.date() == datetime.now().astimezone().date():
        return time
    return f"{local.date().isoformat()} {time}"
