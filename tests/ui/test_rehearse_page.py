from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position
from bedview.plan.piece import Piece
from bedview.ui.pages.rehearse_page import RehearsePage
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import HOLD_R4, ROWS, STEPS, rehearsal, remembered

R4 = 13
L4 = 6


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> Iterator[RehearsePage]:
    theme = Theme(LookChoice.LIGHT)
    made = RehearsePage(rehearsal(), theme, remembered(tmp_path))
    qtbot.addWidget(made)
    theme.dress(made)
    made.resize(1280, 656)
    made.show()
    qtbot.waitExposed(made)
    made.setFocus()
    yield made
    made.close()


def press(page: RehearsePage, key: Qt.Key, times: int = 1) -> None:
    for _ in range(times):
        QTest.keyClick(page, key)


def cursor(page: RehearsePage) -> int:
    return page._rehearsal.cursor


# -- what is shown ---------------------------------------------------------------------------------------


def test_the_first_step_says_everything_that_hands_do_and_the_first_pass(page: RehearsePage) -> None:
    assert page.words.sentence == (
        "Thread the tar-black wool. Cast on L4 to R4 with e-wraps, ending at the right. "
        "Set the hold cams to on. Knit to the left."
    )


def test_a_short_step_is_one_sentence_of_two_acts_and_says_why(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    assert page.words.sentence == "Bring R4 to hold, knit to the left."
    assert page.words.why == "The yarn leaves from R4, so this pass wraps it: no gap here."


def test_the_bed_stands_as_before_the_step_with_its_needle_marked(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    scene = page.bed.scene
    assert scene.passes == 2
    assert scene.positions[R4] == Position.WORK
    assert scene.touched() == (R4,)
    press(page, Qt.Key.Key_Right)
    assert page.bed.scene.positions[R4] == Position.HOLD
    assert page.bed.scene.wraps[R4] == 1


def test_the_part_and_the_row_in_it_are_told(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4 + 1)
    assert page.time_line.accessibleDescription() == "Turn · row 2 of 2"
    assert page.time_line.value() == 4
    assert page.controls.row.text() == "4"
    assert page.controls.of.text() == f"of {ROWS}"


def test_the_end_is_said(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_End)
    assert page.words.sentence == "That was the last row."
    assert not page.controls.on.isEnabled()
    assert page.what_if.chips[0].isHidden()


# -- moving ----------------------------------------------------------------------------------------------


def test_keys_step_and_jump(page: RehearsePage) -> None:
    moves = [
        (Qt.Key.Key_Right, 1),
        (Qt.Key.Key_Right, 2),
        (Qt.Key.Key_Left, 1),
        (Qt.Key.Key_PageDown, 2),
        (Qt.Key.Key_PageDown, 4),
        (Qt.Key.Key_PageUp, 2),
        (Qt.Key.Key_End, STEPS),
        (Qt.Key.Key_Home, 0),
        (Qt.Key.Key_Left, 0),
    ]
    for key, expected in moves:
        press(page, key)
        assert cursor(page) == expected


def test_buttons_step(page: RehearsePage) -> None:
    for button, expected in (
        (page.controls.on, 1),
        (page.controls.on, 2),
        (page.controls.back, 1),
        (page.controls.first, 0),
    ):
        button.click()
        assert cursor(page) == expected


def test_a_typed_row_is_gone_to_and_the_page_has_the_keyboard_again(page: RehearsePage) -> None:
    page.controls.row.setFocus()
    page.controls.row.selectAll()
    QTest.keyClicks(page.controls.row, "4")
    QTest.keyClick(page.controls.row, Qt.Key.Key_Return)
    assert cursor(page) == 3
    assert QApplication.focusWidget() is page


def test_a_row_that_is_not_there_is_not_gone_to(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right)
    page.controls.row.setFocus()
    page.controls.row.selectAll()
    QTest.keyClicks(page.controls.row, "99")
    QTest.keyClick(page.controls.row, Qt.Key.Key_Return)
    assert cursor(page) == 1


def test_a_press_on_the_time_line_goes_to_that_row_and_a_drag_follows(page: RehearsePage) -> None:
    line = page.time_line
    places = line.places()

    def middle_of(row: int) -> QPoint:
        return QPoint(round(places.x_of(row - 0.5)), round((places.top + places.bottom) / 2))

    QTest.mousePress(line, Qt.MouseButton.LeftButton, pos=middle_of(4))
    assert page._rehearsal.row == 4
    QTest.mouseMove(line, middle_of(6))
    assert page._rehearsal.row == 6
    QTest.mouseRelease(line, Qt.MouseButton.LeftButton, pos=middle_of(6))
    QTest.mouseMove(line, middle_of(2))
    assert page._rehearsal.row == 6
    QTest.mousePress(line, Qt.MouseButton.LeftButton, pos=middle_of(1))
    assert page._rehearsal.row == 1


def test_next_goes_to_what_is_to_be_watched(page: RehearsePage) -> None:
    watched = page._rehearsal.watched
    assert watched, "loops stay on the bed at the end"
    press(page, Qt.Key.Key_N)
    assert cursor(page) == watched[0][0]
    press(page, Qt.Key.Key_Home)
    page.watch.lines[0].button.click()
    assert cursor(page) == watched[0][0]
    assert page.watch.lines[0].button.plain_text() == watched[0][1].title


# -- playing ---------------------------------------------------------------------------------------------


def test_space_plays_to_the_end_and_stops_there(qtbot: QtBot, page: RehearsePage) -> None:
    page.player.set_speed(500)
    press(page, Qt.Key.Key_Space)
    assert page.controls.play.plain_text() == "Pause"
    qtbot.waitUntil(lambda: cursor(page) == STEPS)
    assert page.controls.play.plain_text() == "Play"
    assert not page.player.playing


def test_space_pauses_and_any_step_does(page: RehearsePage) -> None:
    for stopping in (Qt.Key.Key_Space, Qt.Key.Key_Right, Qt.Key.Key_End):
        page._rehearsal.go_to(0)
        press(page, Qt.Key.Key_Space)
        began = page.player.playing
        press(page, stopping)
        assert (began, page.player.playing) == (True, False)


def test_space_on_a_button_presses_the_button(page: RehearsePage) -> None:
    page.controls.on.setFocus()
    QTest.keyClick(page.controls.on, Qt.Key.Key_Space)
    assert cursor(page) == 1
    assert not page.player.playing


def test_the_speed_chosen_is_kept(page: RehearsePage, tmp_path: Path) -> None:
    fastest = page.controls.speed.menu().actions()[-1]
    fastest.trigger()
    assert page.controls.speed.plain_text().startswith("8 rows a second")
    assert page.player._timer.interval() == 125
    page.controls._remembered._settings.sync()
    assert remembered(tmp_path).rows_a_second == 8


# -- what if ---------------------------------------------------------------------------------------------


def chip(page: RehearsePage, words: str) -> None:
    found = [each for each in page.what_if.chips if each.plain_text() == words and not each.isHidden()]
    assert len(found) == 1, [each.plain_text() for each in page.what_if.chips]
    found[0].click()


def test_mistakes_of_this_very_step_are_offered(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    offered = {each.plain_text() for each in page.what_if.chips if not each.isHidden()}
    assert offered == {
        "the hold cams are off",
        "R4 stays in work",
        "the carriage stands on the left",
        "the feeder is empty",
    }


def test_a_mistake_shows_what_becomes_of_the_bed_and_what_it_does(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    chip(page, "the hold cams are off")
    assert page.outcome.isVisible()
    assert page.outcome.heading.text() == "What if the hold cams are off?"
    assert page.outcome.happens.text() == "The hold cams are off, so R4 knits too."
    scene = page.bed.scene
    # In the plan R4 waits in hold with a wrap now; here it has knitted its third row.
    assert scene.passes == 3
    assert scene.wraps[R4] == 0
    assert scene.positions[R4] == Position.WORK
    assert not scene.hold_cams


def test_one_steps_on_in_what_follows_and_back_to_the_plan(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    chip(page, "R4 stays in work")
    press(page, Qt.Key.Key_Right)
    assert page.bed.scene.passes == 4
    press(page, Qt.Key.Key_Left, 9)
    assert page.bed.scene.passes == 2, "not before the mistake"
    page.outcome.back.click()
    assert not page.outcome.isVisible()
    assert cursor(page) == HOLD_R4
    assert page.words.sentence == "Bring R4 to hold, knit to the left."


def test_escape_leads_back_to_the_plan(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    chip(page, "the feeder is empty")
    press(page, Qt.Key.Key_Escape)
    assert page._rehearsal.outcome is None
    assert cursor(page) == HOLD_R4


def test_the_feeder_empty_drops_all_that_worked(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    chip(page, "the feeder is empty")
    # R4 is held; L4 to R3 drop off.
    assert page.bed.scene.loops[L4:R4].sum() == 0
    assert page.bed.scene.loops[R4] == 1
    assert any("fall off" in label.text() for label in page.outcome.findings)


# -- for everyone ----------------------------------------------------------------------------------------


def test_every_control_has_a_name_and_is_reached_by_tab(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, HOLD_R4)
    reached = set()
    for _ in range(40):
        QTest.keyClick(QApplication.focusWidget() or page, Qt.Key.Key_Tab)
        reached.add(QApplication.focusWidget())
    wanted = {
        page.controls.first,
        page.controls.back,
        page.controls.play,
        page.controls.on,
        page.controls.next,
        page.controls.speed,
        page.controls.row,
        page.time_line,
        page.what_if.chips[0],
        page.watch.lines[0].button,
    }
    assert wanted <= reached
    for widget in wanted:
        assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


def test_the_time_line_is_a_slider_to_a_reader(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, 2)
    interface = QAccessible.queryAccessibleInterface(page.time_line)
    assert interface.role() == QAccessible.Role.Slider
    assert interface.valueInterface().currentValue() == 3
    assert interface.valueInterface().maximumValue() == ROWS


def test_the_bed_is_described_in_words(page: RehearsePage) -> None:
    press(page, Qt.Key.Key_Right, 3)
    description = QAccessible.queryAccessibleInterface(page.bed).text(QAccessible.Text.Description)
    assert description.startswith("L4 to R3 working, R4 hold")
    assert "carriage on the left" in description


@pytest.mark.parametrize(("width", "height"), [(900, 536), (1280, 656), (1920, 1016)])
def test_nothing_is_cut_off_or_too_small_to_hit(
    qtbot: QtBot, page: RehearsePage, width: int, height: int
) -> None:
    page.resize(width, height)
    press(page, Qt.Key.Key_Right, HOLD_R4)
    qtbot.waitUntil(lambda: page.width() == width)
    controls = page.controls
    for widget in (controls.first, controls.back, controls.play, controls.on, controls.next, controls.row):
        assert widget.width() >= widget.minimumSizeHint().width()
        assert widget.height() >= 24
        right = widget.mapTo(page, QPoint(widget.width(), 0)).x()
        assert right <= width
    for chip_button in page.what_if.chips:
        if chip_button.isVisible():
            assert chip_button.geometry().right() <= page.what_if.width()
            assert chip_button.width() >= chip_button.sizeHint().width()
    assert page.bed.height() >= 180


# -- a plan that cannot be done to its end ------------------------------------------------------------------


def test_where_the_plan_breaks_off_the_page_says_so_and_why(page: RehearsePage) -> None:
    opened = page._rehearsal.opened
    document = opened.piece.to_document()
    # Eight needles work: there is no way down to twelve.
    mend = {"kind": "short_rows", "title": "Mend", "down_to": 12}
    opened.revise(Piece.read({**document, "segments": [*document["segments"], mend]}), "Add a part")
    assert opened.trouble is not None
    assert "It cannot be knitted from Mend on" in page.watch.heading.text()
    assert page.watch.heading.isVisible()
    press(page, Qt.Key.Key_End)
    assert page.words.sentence == "The plan breaks off here."
    assert "It cannot be knitted from Mend on" in page.words.why
    opened.undo()
    press(page, Qt.Key.Key_End)
    assert page.words.sentence == "That was the last row."
