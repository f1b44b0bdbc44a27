"""Lessons through the real page: right ways and wrong ones, by keys alone and by pointer."""

import json
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAccessible, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position, format_needles
from bedview.lessons.lesson_file import lesson_names, lesson_paths
from bedview.store.learners import Learners
from bedview.ui.learn import workbench
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.learn.told import Tone
from bedview.ui.learn.tools import Tool, tools_of
from bedview.ui.pages.learn_page import LearnPage
from tests.lessons.test_wrong_ways import IDS, WRONG_WAYS, WrongWay
from tests.ui.learning import at_needle, choose, do_by_keys, drag, drag_to, learn_page, lesson_view, press

L6, L5, L1, R1, R6 = 4, 5, 9, 10, 15
"""Needles of the lessons' usual bed of twenty."""


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> LearnPage:
    return learn_page(qtbot, tmp_path)


def verdict(view: LessonView) -> tuple[Tone, str]:
    press("c")
    return view.bench.card.told.tone, view.bench.card.text.text()


def ways() -> list[tuple[str, int]]:
    found = []
    for name, path in lesson_paths().items():
        count = len(json.loads(path.read_bytes())["solutions"])
        found += [(name, number) for number in range(count)]
    return found


# -- right and wrong, by keys ----------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "way"), ways(), ids=[f"{name}-{way}" for name, way in ways()])
def test_every_lesson_is_solved_by_keys_alone_in_every_right_way(
    page: LearnPage, name: str, way: int
) -> None:
    view = lesson_view(page, name)
    for item in view.lesson.solutions[way].actions:
        do_by_keys(view, dict(item))
        assert view.bench.card.told.tone is not Tone.REFUSED, view.bench.card.text.text()
    assert verdict(view) == (Tone.REACHED, view.lesson.done)


@pytest.mark.parametrize("way", WRONG_WAYS, ids=IDS)
def test_the_usual_wrong_way_is_told_on_the_page_and_its_needles_are_marked(
    page: LearnPage, way: WrongWay
) -> None:
    view = lesson_view(page, way.lesson)
    for item in way.actions:
        # Switching the cams on that are on already is nothing one can do with a switch.
        if item["do"] != "hold_cams" or item["on"] != view.hands.bench.state.hold_cams:
            do_by_keys(view, item)
    tone, told = verdict(view)
    assert tone is Tone.MISSED
    for words in way.says:
        assert words in told
    marked = view.bench._flashing
    assert format_needles(marked, view.lesson.bed.needles) == way.needles


def test_tools_of_a_lesson_are_only_those_it_needs(page: LearnPage) -> None:
    assert tools_of(lesson_view(page, "four-positions").lesson) == {Tool.PLACE}
    first = lesson_view(page, "first-rows")
    assert set(first.bench.tools.buttons) == {Tool.THREAD, Tool.CAST_ON, Tool.PUSH}
    for name in lesson_names():
        assert Tool.MORE not in tools_of(lesson_view(page, name).lesson)


# -- by pointer ------------------------------------------------------------------------------------------


def test_a_needle_is_dragged_forward_and_the_carriage_pushed(page: LearnPage) -> None:
    view = lesson_view(page, "far-side")
    bed = view.bench.bed
    do_by_keys(view, {"do": "hold_cams", "on": True})
    drag_to(bed, L6, Position.HOLD)
    assert bed.scene.positions[L6] == Position.HOLD
    for passes in (5, 6):
        QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=bed.carriage_rect().center().toPoint())
        assert view.hands.bench.timeline.passes == passes
    drag_to(bed, L6, Position.UPPER)
    view.bench.tools.buttons[Tool.PUSH].click()
    view.bench.tools.buttons[Tool.PUSH].click()
    view.check.click()
    assert view.bench.card.told.tone is Tone.REACHED


def test_several_are_chosen_by_drawing_along_and_move_together(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    drag(bed, at_needle(bed, R6), at_needle(bed, R1))
    assert view.hands.chosen == tuple(range(R1, R6 + 1))
    assert bed.scene.touched() == view.hands.chosen
    assert view.bench.tools.needles.text() == "R1-R6"
    drag_to(bed, R1 + 2, Position.HOLD)
    assert (bed.scene.positions[R1 : R6 + 1] == Position.HOLD).all()
    assert view.hands.bench.can_undo
    view.undo.click()
    assert (bed.scene.positions[R1 : R6 + 1] == Position.WORK).all(), "one gesture, one undo"


def test_a_tap_brings_a_needle_one_position_on_and_home_again(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    seen = []
    for needle in [R6] * 4 + [R6 + 1] * 4:
        QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=at_needle(bed, needle))
        seen.append(Position(int(bed.scene.positions[needle])))
    out, work, upper, hold = Position.OUT, Position.WORK, Position.UPPER, Position.HOLD
    # A stitch goes home by way of upper working; an empty needle goes out of work again.
    assert seen == [upper, hold, upper, hold, work, upper, hold, out]


def test_while_a_needle_is_drawn_the_bed_shows_where_it_goes(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    start = at_needle(bed, R6)
    reach = bed.bed_layout().tip(Position.HOLD) - bed.bed_layout().tip(Position.WORK)
    QTest.mousePress(bed, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(bed, start + QPoint(0, round(reach)))
    (touch,) = bed.scene.touches
    assert (touch.needles, touch.to) == ((R6,), Position.HOLD)
    assert bed.scene.positions[R6] == Position.WORK, "not before it is let go"
    QTest.mouseRelease(bed, Qt.MouseButton.LeftButton, pos=start + QPoint(0, round(reach)))
    assert bed.scene.positions[R6] == Position.HOLD
    assert bed.scene.touches == ()


def test_a_loop_of_the_fabric_says_why_it_is_there(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    layout = bed.bed_layout()
    below = QPoint(round(layout.x_of(R1)), round(layout.loop_line + 2.5 * layout.row))
    QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=below)
    assert view.bench.card.told.tone is Tone.WHY
    assert view.bench.card.text.text() == "Row 2: R1 is in work, so it knits."
    assert not view.hands.bench.can_undo, "asking changes nothing"


def test_why_by_keys_goes_down_the_wale(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    told = []
    for _ in range(6):
        press("?")
        told.append(view.bench.card.text.text())
    assert [text[:5] for text in told] == ["Row 4", "Row 3", "Row 2", "Row 1", "A clo", "Row 4"]


# -- keys on the bed -------------------------------------------------------------------------------------


def test_arrows_choose_with_shift_and_space_and_move_what_is_chosen(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    assert QApplication.focusWidget() is bed
    assert bed.focused == R1
    for _ in range(2):
        QTest.keyClick(bed, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert list(view.hands.chosen) == [R1, R1 + 1, R1 + 2]
    press(Qt.Key.Key_Right, 2)
    press(Qt.Key.Key_Space)
    assert list(view.hands.chosen) == [R1, R1 + 1, R1 + 2, R1 + 4]
    press(Qt.Key.Key_Down)
    assert bed.scene.positions[list(view.hands.chosen)].tolist() == [Position.UPPER] * 4
    press(Qt.Key.Key_Escape)
    assert not view.hands.chosen
    press(Qt.Key.Key_Down)
    assert bed.scene.positions[R1 + 4] == Position.HOLD
    assert bed.scene.positions[R1] == Position.UPPER, "only the needle under the keyboard"


def test_undo_is_the_beds(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    press("3")
    press("k")
    control = Qt.KeyboardModifier.ControlModifier
    QTest.keyClick(view.bench.bed, Qt.Key.Key_Z, control)
    assert view.hands.bench.timeline.passes == 4
    QTest.keyClick(view.check, Qt.Key.Key_Z, control)
    assert view.bench.bed.scene.positions[R1] == Position.WORK
    QTest.keyClick(view.bench.bed, Qt.Key.Key_Z, control | Qt.KeyboardModifier.ShiftModifier)
    assert view.bench.bed.scene.positions[R1] == Position.HOLD


def test_what_cannot_be_done_gets_one_line_and_changes_nothing(page: LearnPage) -> None:
    view = lesson_view(page, "hand-wraps")
    choose("L6")
    press("w")
    assert view.bench.card.told.tone is Tone.REFUSED
    assert view.bench.card.text.text() == "L6 is not in hold, so it cannot be wrapped."
    choose("Q7")
    assert view.bench.card.told.tone is Tone.REFUSED
    assert not view.hands.bench.can_undo


def test_a_held_key_pushes_the_carriage_once(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    for again in (False, True, True):
        event = QKeyEvent(
            QEvent.Type.KeyPress, Qt.Key.Key_K, Qt.KeyboardModifier.NoModifier, "k", autorep=again
        )
        QApplication.sendEvent(view.bench.bed, event)
    assert view.hands.bench.timeline.passes == 5


# -- asking ----------------------------------------------------------------------------------------------


def test_a_hint_is_given_when_asked_and_kept(page: LearnPage, tmp_path: Path) -> None:
    page.choose_learner("Ada")
    view = lesson_view(page, "hold-cams")
    press("i")
    assert view.bench.card.told.tone is Tone.HINT
    assert view.bench.card.text.text() == view.lesson.hint
    assert Learners(tmp_path / "learners").load("Ada").lessons["hold-cams"].hints == 1


def test_seeing_it_done_plays_on_another_bed(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    press("k")
    view.show_me.menu().actions()[0].trigger()
    showing = view.showing
    assert showing is not None
    assert showing.card.text.text() == "Bring R1 to R6 to hold."
    assert showing.bed.scene.touched() == tuple(range(R1, R6 + 1))
    said = []
    while showing.on.isEnabled():
        press(Qt.Key.Key_Right)
        said.append(showing.card.text.text())
    assert said[:3] == ["Set the hold cams to on.", "Knit to the right.", "Knit to the left."]
    assert showing.bed.scene.passes == 6
    press(Qt.Key.Key_Left)
    assert showing.bed.scene.passes == 5
    press(Qt.Key.Key_Escape)
    assert view.showing is None
    assert view.bench.bed.scene.passes == 5, "one's own bed is as it was left"
    assert QApplication.focusWidget() is view.bench.bed


def test_a_right_way_plays_by_itself_to_its_end(qtbot: QtBot, page: LearnPage) -> None:
    view = lesson_view(page, "scrap-off")
    view.show_way(1)
    assert view.showing is not None
    view.showing._timer.setInterval(1)
    press("p")
    qtbot.waitUntil(lambda: not view.showing.on.isEnabled())  # type: ignore[union-attr]
    assert not view.showing.playing
    assert view.showing.card.told.tone is Tone.REACHED


def test_reached_leads_to_the_next_lesson(page: LearnPage) -> None:
    view = lesson_view(page, "four-positions")
    assert not view.next_lesson.isVisible()
    for item in view.lesson.solutions[0].actions:
        do_by_keys(view, dict(item))
    press("c")
    assert view.next_lesson.isVisible()
    assert QApplication.focusWidget() is view.next_lesson
    press(Qt.Key.Key_Space)
    assert isinstance(page.view, LessonView)
    assert page.view.run.name == "first-rows"


def test_a_lesson_that_was_left_is_as_it_was(page: LearnPage) -> None:
    lesson_view(page, "hold-cams")
    press("k", 3)
    press(Qt.Key.Key_Escape)
    assert page.view is None
    assert lesson_view(page, "hold-cams").bench.bed.scene.passes == 7


def test_a_lesson_is_started_over_and_all_of_it_comes_back_with_redo(page: LearnPage) -> None:
    view = lesson_view(page, "hold-cams")
    press("h")
    press("k", 3)
    page.class_menu.actions()[0].trigger()
    assert view.bench.bed.scene.passes == 4
    assert not view.hands.bench.can_undo
    for _ in range(4):
        view.redo.click()
    assert view.bench.bed.scene.passes == 7


def test_the_beds_of_two_learners_are_apart(page: LearnPage) -> None:
    page.choose_learner("Ada")
    lesson_view(page, "hold-cams")
    press("k")
    page.choose_learner("Ben")
    assert lesson_view(page, "hold-cams").bench.bed.scene.passes == 4
    page.choose_learner("Ada")
    assert lesson_view(page, "hold-cams").bench.bed.scene.passes == 5


def test_the_rows_of_a_lesson_that_is_done_can_be_foretold(page: LearnPage) -> None:
    for name, asks in (("four-positions", False), ("carriage-side", True)):
        view = lesson_view(page, name)
        for item in view.lesson.solutions[0].actions:
            do_by_keys(view, dict(item))
        press("c")
        assert view.foretell.isVisible() is asks
    view.foretell.click()
    assert isinstance(page.view, ForetellView)
    assert page.view.question.text() == "The carriage goes to the left. Which needles will knit?"
    assert page.view.source.text().startswith("From “Holding on the carriage’s side”, row 5.")


# -- what moves ------------------------------------------------------------------------------------------


def test_the_carriage_rides_and_a_new_gesture_ends_the_ride(
    page: LearnPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bedview.ui.learn.hands_bed.motion_wanted", lambda _: True)
    view = lesson_view(page, "hold-cams")
    bed = view.bench.bed
    press("k")
    assert bed.riding
    assert bed.scene.passes == 5, "the model does not wait for the picture"
    bed.grab()
    press("3")
    assert not bed.riding


def test_nothing_moves_where_the_system_says_so(page: LearnPage, monkeypatch: pytest.MonkeyPatch) -> None:
    for place in ("bedview.ui.learn.hands_bed", "bedview.ui.learn.workbench"):
        monkeypatch.setattr(f"{place}.motion_wanted", lambda _: False)
    view = lesson_view(page, "hold-cams")
    press("k")
    assert not view.bench.bed.riding
    press("c")
    assert not view.bench._flash.isActive()
    assert view.bench.bed.scene.touched() == tuple(range(L6, L1 + 1))


def test_needles_at_fault_flash_and_stay_marked(
    qtbot: QtBot, page: LearnPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workbench, "motion_wanted", lambda _: True)
    view = lesson_view(page, "hold-cams")
    view.bench._flash.setInterval(1)
    press("k")
    press("c")
    assert view.bench._flash.isActive()
    qtbot.waitUntil(lambda: not view.bench._flash.isActive())
    assert view.bench.bed.scene.touched() == tuple(range(L6, L1 + 1))
    press("k")
    assert view.bench.bed.scene.touched() == ()


# -- for everyone ----------------------------------------------------------------------------------------


def test_every_control_has_a_name_and_is_reached_by_tab(page: LearnPage) -> None:
    view = lesson_view(page, "scrap-off")
    reached = set()
    for _ in range(40):
        press(Qt.Key.Key_Tab)
        reached.add(QApplication.focusWidget())
    shown = [button for button in view.findChildren(QPushButton) if button.isVisible() and button.isEnabled()]
    assert set(shown) <= reached
    for button in shown:
        assert QAccessible.queryAccessibleInterface(button).text(QAccessible.Text.Name)


def test_what_happened_is_said_in_words(page: LearnPage) -> None:
    view = lesson_view(page, "carriage-side")
    do_by_keys(view, {"do": "hold_cams", "on": True})
    assert view.bench.card.text.text() == "The hold cams are on."
    do_by_keys(view, {"do": "place", "needles": "R6", "position": "hold"})
    assert view.bench.card.text.text() == "R6 stands in hold."
    press("k")
    assert view.bench.card.text.text() == "Row 5, to the left: L6 to R5 knitted. Wrapped: R6."


@pytest.mark.parametrize(("width", "height"), [(900, 560), (1280, 660), (1920, 1020)])
@pytest.mark.parametrize("name", ["four-positions", "flat-bootee"])
def test_nothing_is_cut_off_or_too_small_to_hit(
    qtbot: QtBot, page: LearnPage, name: str, width: int, height: int
) -> None:
    page.resize(width, height)
    view = lesson_view(page, name)
    qtbot.waitUntil(lambda: view.width() == width)
    for button in view.findChildren(QPushButton):
        if button.isVisible():
            assert button.height() >= 24
            assert button.width() >= button.minimumSizeHint().width()
            assert button.mapTo(page, QPoint(button.width(), 0)).x() <= width
    assert view.bench.bed.height() >= 180
