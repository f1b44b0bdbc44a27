from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QPointF, QSettings, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from bedview.bed.needles import needle_index
from bedview.plan.piece import Piece
from bedview.session.knitting_run import KnittingRun
from bedview.session.machine import Machine
from bedview.session.open_piece import OpenPiece
from bedview.session.record import Record
from bedview.session.saying import spoken
from bedview.session.trouble import Trouble
from bedview.store.journal import Journal
from bedview.ui.knit.arrangement import TARGET
from bedview.ui.knit.preferences import KnitPreferences
from bedview.ui.knit.scaled_text import Run
from bedview.ui.knit.sheet_view import Choice
from bedview.ui.pages.knit_page import BACK, FORWARD, FORWARD_HERE, KnitPage
from bedview.ui.sounds import Cue, Sounds
from bedview.ui.theme import LookChoice, Theme
from bedview.ui.voice import Voice
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, acts, plain


class Heard:
    """What was said and sounded."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.cues: list[Cue] = []

    def say(self, text: str) -> None:
        self.lines.append(text)

    def stop(self) -> None:
        return

    def play(self, cue: Cue) -> None:
        self.cues.append(cue)


class Knitter:
    """A page in a window of its own, and the hand at its keys."""

    def __init__(self, qtbot: QtBot, run: KnittingRun, heard: Heard | None, settings: QSettings) -> None:
        self.qtbot = qtbot
        self.run = run
        self.now = 0.0
        self.theme = Theme(LookChoice.LIGHT)

        def voice(_parent: QObject) -> Heard | None:
            return heard

        self.page = KnitPage(
            run,
            self.theme,
            KnitPreferences(settings),
            voice=Voice(voice),
            sounds=Sounds(voice),
            now_ms=lambda: self.now,
        )
        self.theme.dress(self.page)
        qtbot.addWidget(self.page)
        self.page.resize(1280, 720)
        self.page.show()
        qtbot.waitExposed(self.page)
        self.page.activateWindow()

    def press(self, key: Qt.Key, after_ms: float = 1000, at: QWidget | None = None) -> None:
        self.now += after_ms
        target = at or QApplication.focusWidget() or self.page
        QTest.keyClick(target, key)

    def click(self, button: QWidget) -> None:
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def knit(self, rows: int) -> None:
        while self.run.passes_done < rows:
            self.press(Qt.Key.Key_PageDown)

    def choose(self, title: str) -> None:
        self.page.ask_for_help()
        choice = next(
            each for each in self.page.sheet.menu.choices if each.accessibleName().startswith(title)
        )
        self.click(choice)

    def write(self, field: QWidget, text: str) -> None:
        field.setFocus()
        QTest.keyClicks(field, text)

    def offers(self, view: QWidget) -> list[Choice]:
        """The choices in a view, once they are shown."""

        def shown() -> list[Choice]:
            return [each for each in view.findChildren(Choice) if each.isVisible()]

        self.qtbot.waitUntil(lambda: bool(shown()))
        return shown()

    def click_needle(self, name: str) -> None:
        bed = self.page.column.bed
        at = bed.needle_rect(needle_index(name, bed.scene.needles)).center()
        QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=QPointF(at.x(), at.y()).toPoint())


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal(tmp_path / "knitting.sqlite3") as journal:
        yield journal


@pytest.fixture
def heard() -> Heard:
    return Heard()


@pytest.fixture
def settings(tmp_path: Path) -> QSettings:
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


def at_the_machine(
    qtbot: QtBot, journal: Journal, path: Path, heard: Heard, settings: QSettings, piece: Piece | None = None
) -> Knitter:
    run = KnittingRun(OpenPiece(piece or a_heel(), path), Record(journal, path))
    return Knitter(qtbot, run, heard, settings)


@pytest.fixture
def knitter(qtbot: QtBot, journal: Journal, tmp_path: Path, heard: Heard, settings: QSettings) -> Knitter:
    return at_the_machine(qtbot, journal, tmp_path / "cosy.piece.json", heard, settings)


# -- keys -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", [*FORWARD, *FORWARD_HERE])
def test_one_press_of_any_forward_key_confirms_one_step(knitter: Knitter, key: Qt.Key) -> None:
    knitter.press(key)
    assert knitter.run.cursor == 1
    knitter.press(key)
    assert knitter.run.cursor == 2


@pytest.mark.parametrize("key", BACK)
def test_back_keys_go_one_back(knitter: Knitter, key: Qt.Key) -> None:
    knitter.knit(2)
    knitter.press(key)
    assert knitter.run.passes_done == 1


def test_a_bouncing_pedal_confirms_once(knitter: Knitter) -> None:
    knitter.press(Qt.Key.Key_PageDown)
    for _ in range(5):
        knitter.press(Qt.Key.Key_PageDown, after_ms=80)
    assert knitter.run.cursor == 1


@pytest.mark.parametrize("key", [Qt.Key.Key_PageDown, Qt.Key.Key_Space])
def test_a_key_held_down_does_not_run_away(knitter: Knitter, key: Qt.Key) -> None:
    knitter.press(key)
    for _ in range(20):
        # As a system repeats it: slowly enough for the guard, but marked.
        knitter.now += 400
        event = QKeyEvent(QKeyEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier, autorep=True)
        QApplication.sendEvent(knitter.page, event)
    assert knitter.run.cursor == 1


def test_a_pedal_works_with_the_keyboard_in_a_field_of_the_sheet(knitter: Knitter) -> None:
    knitter.knit(2)
    knitter.choose("Changed here")
    knitter.press(Qt.Key.Key_PageDown, at=knitter.page.sheet.changed.remark)
    assert knitter.run.passes_done == 3
    knitter.press(Qt.Key.Key_PageUp, at=knitter.page.sheet.changed.remark)
    assert knitter.run.passes_done == 2


def test_arrows_move_about_in_the_sheet_and_confirm_nothing(knitter: Knitter) -> None:
    knitter.knit(2)
    knitter.page.ask_for_help()
    knitter.press(Qt.Key.Key_Right)
    knitter.press(Qt.Key.Key_Left)
    assert knitter.run.passes_done == 2
    knitter.press(Qt.Key.Key_F5)
    assert knitter.run.passes_done == 3


def test_a_field_keeps_the_keys_it_writes(knitter: Knitter) -> None:
    knitter.knit(2)
    knitter.choose("Changed here")
    field = knitter.page.sheet.changed.remark
    field.setFocus()
    knitter.write(field, "a. b")
    assert field.text() == "a. b"
    assert knitter.run.passes_done == 2


def test_space_presses_the_button_it_is_on(knitter: Knitter) -> None:
    knitter.knit(2)
    knitter.page.column.back.setFocus()
    knitter.press(Qt.Key.Key_Space)
    assert knitter.run.passes_done == 1


def test_clicking_leaves_the_keyboard_with_the_page(knitter: Knitter) -> None:
    knitter.knit(2)
    knitter.click(knitter.page.column.back)
    assert knitter.run.passes_done == 1
    knitter.press(Qt.Key.Key_Space)
    assert knitter.run.passes_done == 2


# -- what is seen -----------------------------------------------------------------------------------------


def test_the_step_at_hand_is_said_in_full(knitter: Knitter) -> None:
    knitter.knit(5)
    column = knitter.page.column
    assert column.acts.text().splitlines()[:2] == ["1. Bring L5 to hold", "2. Knit to the right"]
    assert column.part.text() == "Heel"
    assert column.row.text() == "row 6 of 20"
    assert column.counter.text() == "counter at 5 · 2 of 12 in this part"
    assert column.then.text() == "R4 to hold, knit to the left"
    assert column.saved.text().startswith("Row 5 saved ")
    assert column.bed.scene.touched() == (needle_index("L5", 20),)


def test_all_is_seen_when_it_is_done(knitter: Knitter, qtbot: QtBot) -> None:
    knitter.knit(20)
    column = knitter.page.column
    assert knitter.run.at_end
    assert "All rows are knitted" in column.acts.text()
    knitter.press(Qt.Key.Key_PageDown)
    assert knitter.run.at_end
    with qtbot.waitSignal(knitter.page.finish_wanted):
        knitter.click(column.finish)
    knitter.press(Qt.Key.Key_PageUp)
    assert column.done.isVisible()


def test_a_step_without_a_row_is_confirmed_likewise(knitter: Knitter) -> None:
    assert knitter.page.column.row.text() == "before row 1 of 20"
    knitter.press(Qt.Key.Key_PageDown)
    assert knitter.page.column.row.text() == "row 1 of 20"


@pytest.mark.parametrize("size", [(900, 600), (1280, 720), (1920, 1080), (2560, 1440)])
def test_long_lists_of_hands_fit(
    qtbot: QtBot,
    journal: Journal,
    tmp_path: Path,
    heard: Heard,
    settings: QSettings,
    size: tuple[int, int],
) -> None:
    names = [f"L{number}" for number in range(5, 0, -1)] + [f"R{number}" for number in range(1, 6)]
    moves = [{"do": "transfer", "from": name, "to": "L10"} for name in names]
    edge = {"kind": "cast_on", "needles": "L5-R5"}
    put = {"do": "place", "needles": "L10", "position": "work"}
    piece = a_piece(edge, acts({"do": "knit", "rows": 1}, put, *moves, {"do": "knit", "rows": 1}))
    knitter = at_the_machine(qtbot, journal, tmp_path / "many.piece.json", heard, settings, piece)
    knitter.page.resize(*size)
    knitter.run.go_to(len(knitter.run.steps) - 1)
    view = knitter.page.column.acts
    layout = view.layout_shown()
    assert len([mark for mark in layout.marks if mark.number]) == 12
    assert layout.height <= view.height() + 1
    assert layout.px >= 13


def test_targets_are_large_enough(knitter: Knitter) -> None:
    column = knitter.page.column
    for button in (column.done, column.back, column.help, column.whole, column.say):
        assert button.height() >= 48, button.text()
        assert button.width() >= 48, button.text()
    knitter.page.ask_for_help()
    for choice in knitter.page.sheet.menu.findChildren(Choice):
        assert choice.height() >= 48


def test_a_row_that_is_not_saved_is_not_confirmed(knitter: Knitter, journal: Journal) -> None:
    knitter.knit(2)
    journal.close()
    knitter.press(Qt.Key.Key_PageDown)
    assert knitter.run.passes_done == 2
    assert knitter.page.column.saved.text().startswith("Row 2 saved")
    assert "Not saved, so not confirmed" in knitter.page.said.text.text()


# -- sound and voice --------------------------------------------------------------------------------------


def test_silent_at_first(knitter: Knitter, heard: Heard) -> None:
    knitter.knit(6)
    assert (heard.lines, heard.cues) == ([], [])


def test_sounds_tell_plain_rows_from_those_that_need_hands(knitter: Knitter, heard: Heard) -> None:
    knitter.page.ask_for_help()
    knitter.click(knitter.page.sheet.sounds_switch)
    knitter.page.ask_for_help()
    knitter.knit(5)
    # What comes: rows 1 to 3 plain, row 4 weights, rows 5 and 6 needles.
    assert heard.cues == [Cue.PLAIN] * 3 + [Cue.HANDS] * 3


def test_the_switches_say_whether_they_are_on(knitter: Knitter) -> None:
    knitter.page.ask_for_help()
    sheet = knitter.page.sheet
    assert [each.text() for each in (sheet.sounds_switch, sheet.voice_switch)] == [
        "Sounds: off",
        "Voice: off",
    ]
    knitter.click(sheet.sounds_switch)
    knitter.click(sheet.voice_switch)
    assert [each.text() for each in (sheet.sounds_switch, sheet.voice_switch)] == ["Sounds: on", "Voice: on"]


def test_the_voice_says_every_step_once_it_is_on(knitter: Knitter, heard: Heard) -> None:
    knitter.page.ask_for_help()
    knitter.click(knitter.page.sheet.voice_switch)
    knitter.page.ask_for_help()
    knitter.knit(1)
    assert heard.lines == ["Row 1. Knit to the left.", "Row 2. Knit to the right."]


def test_the_line_is_said_again_on_a_key(knitter: Knitter, heard: Heard) -> None:
    knitter.knit(5)
    knitter.press(Qt.Key.Key_S)
    assert heard.lines == ["Bring L 5 to hold. Knit to the right."]


# -- something went wrong ---------------------------------------------------------------------------------


def test_the_sheet_opens_and_closes_by_keys(knitter: Knitter) -> None:
    sheet = knitter.page.sheet
    shown = []
    for key in (Qt.Key.Key_H, Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Escape):
        knitter.press(key)
        shown.append(sheet.shown)
    assert shown == [sheet.menu, sheet.trouble, sheet.menu, None]
    assert knitter.page.hasFocus()


def test_the_page_stays_usable_beside_the_sheet(knitter: Knitter) -> None:
    knitter.knit(3)
    knitter.choose("Set the bed up again")
    column, sheet = knitter.page.column, knitter.page.sheet
    assert column.geometry().right() < sheet.geometry().left()
    knitter.click(column.done)
    assert knitter.run.passes_done == 4
    assert sheet.set_up.row.whole == 5


def test_set_up_shows_any_row(knitter: Knitter) -> None:
    knitter.knit(3)
    knitter.choose("Set the bed up again")
    view = knitter.page.sheet.set_up
    view.row.field.clear()
    knitter.write(view.row.field, "9")
    scene = knitter.page.column.bed.scene
    assert [name for name in ("L5", "L4", "R4", "R5") if scene.positions[needle_index(name, 20)] == 3] == [
        "L5",
        "L4",
        "R4",
        "R5",
    ]
    assert "before row 9" in knitter.page.column.caption.text()
    knitter.page.sheet.close_sheet()
    assert knitter.page.column.bed.scene.passes == 3
    assert knitter.page.column.caption.isHidden()


def test_find_my_place_by_clicking_needles(knitter: Knitter) -> None:
    knitter.knit(3)
    knitter.choose("Find my place")
    knitter.click_needle("L5")
    knitter.click_needle("R5")
    view = knitter.page.sheet.find_place
    assert view.needles.text() == "L5,R5"
    knitter.click(view.sides[next(side for side in view.sides if side.value == "right")])
    offers = knitter.offers(view)
    assert [offer.accessibleName().split(".")[0] for offer in offers] == ["Before row 7", "Before row 15"]
    knitter.click(offers[1])
    assert knitter.run.passes_done == 14
    assert knitter.page.sheet.shown is None
    knitter.click(knitter.page.said.action)
    assert knitter.run.passes_done == 3


def test_find_my_place_by_writing(knitter: Knitter) -> None:
    knitter.choose("Find my place")
    view = knitter.page.sheet.find_place
    knitter.write(view.needles, "l5, r5")
    scene = knitter.page.column.bed.scene
    assert scene.positions[needle_index("L5", 20)] == 3
    view.needles.clear()
    knitter.write(view.needles, "R99")
    assert view._wrong.isVisible()


def test_unpick_goes_back_and_can_be_undone(knitter: Knitter) -> None:
    knitter.knit(7)
    knitter.choose("Unpick")
    view = knitter.page.sheet.unpick
    knitter.click(view.row.less)
    assert view.row.whole == 5
    assert knitter.page.column.bed.scene.passes == 5
    knitter.click(view.go_on)
    assert knitter.run.passes_done == 5
    knitter.click(knitter.page.said.action)
    assert knitter.run.passes_done == 7


def test_the_dial_changed_here_turns_by_the_machine_s_own_steps(knitter: Knitter) -> None:
    knitter.knit(3)
    knitter.run.opened.speak_for(Machine(dial_steps=3))
    knitter.choose("Changed here")
    view = knitter.page.sheet.changed
    for _ in range(2):
        knitter.click(view.dial.more)
    assert view.dial.field.text() == "6.67"
    knitter.click(view.keep_dial)
    assert [each.dial for each in knitter.run.changes] == [6.67]
    knitter.click(view.dial.less)
    assert view.dial.field.text() == "6.33"


def test_changed_here_without_leaving_the_page(knitter: Knitter, qtbot: QtBot) -> None:
    knitter.knit(3)
    knitter.choose("Changed here")
    view = knitter.page.sheet.changed
    knitter.click(view.rows.more)
    knitter.click(view.more)
    assert (knitter.run.passes_done, knitter.run.procedure.timeline.passes) == (5, 22)
    assert knitter.page.column.row.text() == "row 6 of 22"
    knitter.click(view.dial.more)
    knitter.click(view.keep_dial)
    knitter.write(view.remark, "new cone")
    knitter.press(Qt.Key.Key_Return)
    assert [(each.rows, each.dial, each.remark) for each in knitter.run.changes] == [
        (2, None, ""),
        (0, 6.5, "new cone"),
    ]
    assert knitter.run.passes_done == 5
    view.as_knitted.click()
    view.mirrored.click()
    with qtbot.waitSignal(knitter.page.second_piece_wanted) as caught:
        knitter.click(view.second)
    assert OpenPiece(caught.args[0]).procedure.timeline.passes == 22


def test_what_cannot_be_left_out_is_said(knitter: Knitter) -> None:
    knitter.knit(3)
    knitter.choose("Changed here")
    view = knitter.page.sheet.changed
    knitter.click(view.rows.more)
    knitter.click(view.fewer)
    assert "Only 1" in view._wrong.text()
    assert knitter.run.changes == ()


def test_trouble_asks_for_the_needle_and_leads_on(knitter: Knitter) -> None:
    knitter.knit(6)
    knitter.choose("Trouble")
    view = knitter.page.sheet.trouble
    offers = {each.accessibleName(): each for each in knitter.offers(view)}
    assert "A needle was forgotten" in offers
    knitter.click(offers["The carriage is stuck half way"])
    assert knitter.page.column.caption.text() == "At which needle does the carriage stand? Click it."
    knitter.click_needle("L1")
    assert view._card is not None
    assert any("L1 to R3 have knitted" in act for act in view._card.acts)
    view.needle.clear()
    knitter.write(view.needle, "r2")
    assert any("R2 to R3 have knitted" in act or "R2 and R3 have knitted" in act for act in view._card.acts)
    view.choose(Trouble.FORGOTTEN)
    knitter.page.sheet.trouble.unpick_wanted.emit(5)
    assert knitter.page.sheet.shown is knitter.page.sheet.unpick
    assert knitter.page.sheet.unpick.row.whole == 5


def test_the_keyboard_stays_in_the_sheet_whatever_is_chosen(knitter: Knitter) -> None:
    knitter.knit(6)
    sheet = knitter.page.sheet
    for key in (Qt.Key.Key_H, Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Tab, Qt.Key.Key_Return):
        knitter.press(key)
        focused = QApplication.focusWidget()
        assert focused is not None
        assert sheet.isAncestorOf(focused)
    # Trouble, and of it what stands third; nothing of this has confirmed a row.
    assert sheet.trouble._card is not None
    assert sheet.trouble._card.title == "The hold cams were wrong"
    assert knitter.run.passes_done == 6


def test_a_choice_is_no_higher_than_its_words(knitter: Knitter) -> None:
    knitter.page.ask_for_help()
    choice = next(each for each in knitter.page.sheet.menu.choices if each.accessibleName().startswith("Unp"))
    line = choice.fontMetrics().lineSpacing()
    # A line of its own and one below, and less than another two around them.
    assert TARGET <= choice.height() < 4.5 * line


# -- the plan changes -------------------------------------------------------------------------------------


def test_an_edit_of_rows_knitted_is_told_in_one_line(knitter: Knitter) -> None:
    knitter.knit(7)
    document = a_heel().to_document()
    document["segments"][1]["rows"] = 8
    knitter.run.opened.edit(Piece.read(document), "Rows")
    assert "before row 12" in knitter.page.said.text.text()
    assert knitter.page.column.row.text() == "row 12 of 24"
    knitter.click(knitter.page.said.action)
    assert knitter.page.sheet.shown is knitter.page.sheet.find_place


def test_looks_can_change_meanwhile(knitter: Knitter) -> None:
    for look in (LookChoice.DARK, LookChoice.CONTRAST):
        knitter.theme.choose_look(look)
        assert knitter.page.column.bed.look is knitter.theme.look
        image = knitter.page.grab().toImage()
        assert image.pixelColor(8, image.height() - 4).name() == knitter.theme.look.paper


def test_larger_text_still_fits(knitter: Knitter) -> None:
    knitter.knit(5)
    knitter.theme.choose_text_scale(2.0)
    view = knitter.page.column.acts
    assert view.layout_shown().height <= view.height() + 1
    assert knitter.page.column.foot.geometry().bottom() <= knitter.page.height()


def test_full_screen_by_key_and_back_by_escape(knitter: Knitter, qtbot: QtBot) -> None:
    with qtbot.waitSignal(knitter.page.full_screen_changed) as caught:
        knitter.press(Qt.Key.Key_F11)
    assert caught.args == [True]
    with qtbot.waitSignal(knitter.page.full_screen_changed) as caught:
        knitter.press(Qt.Key.Key_Escape)
    assert caught.args == [False]


def test_a_long_card_is_moved_by_keys(knitter: Knitter, qtbot: QtBot) -> None:
    knitter.knit(6)
    knitter.page.resize(900, 600)
    knitter.choose("Trouble")
    sheet = knitter.page.sheet
    sheet.trouble.choose(Trouble.JAMMED)
    scroll = sheet._stack.currentWidget()
    assert isinstance(scroll, QScrollArea)
    bar = scroll.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    knitter.page.setFocus()
    knitter.press(Qt.Key.Key_Down)
    assert bar.value() == min(80, bar.maximum())
    knitter.press(Qt.Key.Key_Up)
    assert bar.value() == 0


def test_the_button_says_how_to_leave_the_full_screen(knitter: Knitter) -> None:
    whole = knitter.page.column.whole
    said = [whole.plain_text()]
    for _ in range(2):
        knitter.click(whole)
        said.append(whole.plain_text())
    assert said == ["Full screen · F11", "Leave full screen · F11", "Full screen · F11"]


def test_a_piece_without_steps_is_finished_from_the_start(
    qtbot: QtBot, journal: Journal, tmp_path: Path, heard: Heard, settings: QSettings
) -> None:
    knitter = at_the_machine(qtbot, journal, tmp_path / "nothing.piece.json", heard, settings, a_piece())
    assert "All rows are knitted" in knitter.page.column.acts.text()
    for key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_S):
        knitter.press(key)
    sheet = knitter.page.sheet
    for view in sheet.views:
        sheet.show_view(view)
    for trouble in Trouble:
        sheet.trouble.choose(trouble)
    knitter.run.remark("nothing yet")
    assert knitter.run.second_piece(really=True, mirrored=True).segments == ()


# -- a plan that cannot be done to its end ------------------------------------------------------------------


def test_where_the_plan_breaks_off_nobody_is_told_that_the_piece_is_finished(
    qtbot: QtBot, journal: Journal, tmp_path: Path, heard: Heard, settings: QSettings
) -> None:
    # Ten needles work: there is no way down to twelve.
    piece = a_piece(CAST_ON, plain(2), {"kind": "short_rows", "title": "Mend", "down_to": 12})
    knitter = at_the_machine(qtbot, journal, tmp_path / "broken.piece.json", heard, settings, piece)
    page = knitter.page
    assert "It cannot be knitted from Mend on" in page.said.text.text()
    knitter.knit(2)
    assert knitter.run.at_end
    assert not page.column.finish.isVisible()
    assert not page.column.done.isVisible()
    assert "It cannot be knitted from Mend on" in page.column.acts.text()
    assert spoken(knitter.run.procedure, knitter.run.cursor) == "The plan breaks off here."


@pytest.mark.parametrize("size", [(1280, 720), (1920, 1080), (900, 600)])
def test_letters_of_the_row_that_reach_down_are_not_cut_off(knitter: Knitter, size: tuple[int, int]) -> None:
    page = knitter.page
    page.resize(*size)
    page.column.show_where("Heel", "Cosy", (Run("rang 34", "ink", bold=True),), "")
    page.column.settle()
    picture = page.column.row.grab().toImage()
    lowest = [picture.pixel(x, picture.height() - 1) for x in range(picture.width())]
    assert len({*lowest}) == 1, "ink in the lowest line: the g goes on below it"
    inked = {picture.pixel(x, y) for x in range(picture.width()) for y in range(picture.height())}
    assert len(inked) > 1
