"""The class view by keys, clicker and pointer; counted on the small piece of eight needles and six rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position, needle_index
from bedview.picture.colour import contrast
from bedview.picture.look import MARK_CONTRAST, TEXT_CONTRAST
from bedview.plan.piece import Piece
from bedview.session.knitting_run import KnittingRun
from bedview.session.open_piece import OpenPiece
from bedview.session.record import Record
from bedview.session.rehearsal import Rehearsal
from bedview.session.what_if import Mistake
from bedview.ui.bed_widget import BedWidget
from bedview.ui.class_view.looks import CLASS_DARK, CLASS_LIGHT
from bedview.ui.class_view.opening import ClassOpener, screen_for_class
from bedview.ui.class_view.pointer import Pointing
from bedview.ui.class_view.sources import KnittingSource, RehearsalSource
from bedview.ui.class_view.view import ClassView
from bedview.ui.knit.acts_layout import Sign
from bedview.ui.pages.knit_page import KnitPage
from bedview.ui.pages.rehearse_page import RehearsePage
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import HOLD_R4, SMALL, STEPS, opened, rehearsal, remembered

R4 = needle_index("R4", 20)


@pytest.fixture
def rehearsed() -> Rehearsal:
    found = rehearsal()
    found.go_to(HOLD_R4)
    return found


@pytest.fixture
def view(qtbot: QtBot, rehearsed: Rehearsal) -> Iterator[ClassView]:
    made = ClassView(RehearsalSource(rehearsed), Theme(LookChoice.LIGHT))
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()


def loop_of(view: ClassView, needle: int) -> QPoint:
    """A point of the view on a needle's loop."""
    return view.pointer.point_of(needle).toPoint()


def pointed(view: ClassView) -> int | None:
    return view.pointing.needle


def shown(opener: ClassOpener) -> ClassView | None:
    return opener.view


def turned(bed: BedWidget) -> bool:
    return bed.scene.view.turned


# -- what there is to see ---------------------------------------------------------------------------------


def test_it_says_what_hands_do_then_what_the_carriage_does(view: ClassView) -> None:
    assert view.words.text().splitlines()[:2] == ["1. Bring R4 to hold", "2. Knit to the left"]
    assert view.where.text() == "Turn · row 3 of 6"
    assert view.title.text() == "Mooring sample"


def test_the_class_sees_the_bed_from_across_the_table(view: ClassView) -> None:
    layout = view.bed.bed_layout()
    assert layout.turned
    assert layout.x_of(R4) < layout.x_of(needle_index("L4", 20))
    QTest.keyClick(view, Qt.Key.Key_H)
    assert "the knitter’s left is on your right" in view.foot.text()
    QTest.keyClick(view, Qt.Key.Key_T)
    layout = view.bed.bed_layout()
    assert layout.x_of(R4) > layout.x_of(needle_index("L4", 20))
    assert "across the table" not in view.foot.text()


@pytest.mark.parametrize("size", [(1280, 720), (1920, 1080), (1024, 768)])
def test_the_bed_is_large_and_nothing_lies_on_anything(view: ClassView, size: tuple[int, int]) -> None:
    view.resize(*size)
    rows = [view.where.geometry(), view.bed.geometry(), view.words.geometry(), view.foot.geometry()]
    for upper, lower in pairwise(rows):
        assert upper.bottom() < lower.top()
    assert rows[-1].bottom() <= view.height()
    assert not view.where.geometry().intersects(view.title.geometry())
    assert view.bed.width() * view.bed.height() > 0.5 * view.width() * view.height()


@pytest.mark.parametrize("size", [(1280, 720), (1920, 1080)])
def test_words_are_read_from_the_last_row_and_fit(view: ClassView, size: tuple[int, int]) -> None:
    view.resize(*size)
    layout = view.words.layout_shown()
    assert layout.height <= view.words.height()
    assert layout.px >= 0.07 * view.height(), "letters a fourteenth of the screen"


def test_a_mistake_that_is_looked_at_is_seen_by_the_class(view: ClassView, rehearsed: Rehearsal) -> None:
    slip = next(each for each in rehearsed.slips if each.mistake is Mistake.CAMS_FORGOTTEN)
    rehearsed.slip_in(slip)
    assert slip.words in view.words.text()
    rehearsed.leave_outcome()
    assert slip.words not in view.words.text()


@pytest.mark.parametrize("look", [CLASS_LIGHT, CLASS_DARK])
def test_its_looks_stand_out_more_than_they_must(look: object) -> None:
    palette = CLASS_LIGHT if look is CLASS_LIGHT else CLASS_DARK
    assert contrast(palette.ink, palette.paper) == pytest.approx(21, abs=0.1), "black and white"
    for name in ("quiet_ink", "hands", "carriage"):
        assert contrast(getattr(palette, name), palette.paper) >= 1.4 * TEXT_CONTRAST, name
    for ground, marks in ((palette.plate, ("needle", "idle", "ink")), (palette.paper, ("needle", "idle"))):
        for name in marks:
            assert contrast(getattr(palette, name), ground) >= MARK_CONTRAST, name
    assert {each.name for each in fields(palette)} >= {"on_hands", "on_carriage"}
    for ink, ground in (("on_hands", "hands"), ("on_carriage", "carriage"), ("on_body", "body")):
        assert contrast(getattr(palette, ink), getattr(palette, ground)) >= TEXT_CONTRAST


def test_light_and_dark_change_by_a_key(view: ClassView) -> None:
    light = view.grab().toImage()
    QTest.keyClick(view, Qt.Key.Key_L)
    assert view.bed.look is CLASS_DARK
    assert view.grab().toImage() != light
    QTest.keyClick(view, Qt.Key.Key_L)
    assert view.bed.look is CLASS_LIGHT


# -- stepping ---------------------------------------------------------------------------------------------


def test_a_clicker_steps_on_and_back(view: ClassView, rehearsed: Rehearsal) -> None:
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    assert rehearsed.cursor == HOLD_R4 + 1
    assert "Bring L4 to hold" in view.words.text()
    QTest.keyClick(view, Qt.Key.Key_PageUp)
    assert rehearsed.cursor == HOLD_R4
    assert view.bed.scene.positions[R4] == Position.WORK


def test_the_end_is_told_and_nothing_comes_after(view: ClassView, rehearsed: Rehearsal) -> None:
    for _ in range(STEPS + 2):
        QTest.keyClick(view, Qt.Key.Key_PageDown)
    assert rehearsed.at_end
    assert view.words.text() == "That was the last row."


@pytest.mark.usefixtures("qapp")
def test_where_a_plan_breaks_off_the_class_hears_why() -> None:
    # R9 bears no loop that could be transferred.
    wrong = {"kind": "actions", "actions": [{"do": "transfer", "from": "R9", "to": "R8"}]}
    broken = OpenPiece(Piece.read({**SMALL, "segments": [*SMALL["segments"][:1], wrong]}))
    source = RehearsalSource(Rehearsal(broken))
    for _ in range(STEPS):
        source.forward()
    assert broken.trouble is not None
    assert source.moment().lines[0].sign is Sign.CAUTION
    assert "cannot be knitted" in source.moment().lines[0].text
    empty = RehearsalSource(Rehearsal(OpenPiece(Piece.read({**SMALL, "segments": []}))))
    assert empty.moment().lines[0].text == "This piece has no rows yet."


def test_the_keys_are_told_until_the_first_step(view: ClassView) -> None:
    assert "Escape: leave" in view.foot.text()
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    assert "Escape: leave" not in view.foot.text()
    QTest.keyClick(view, Qt.Key.Key_H)
    assert "Escape: leave" in view.foot.text()


def test_a_step_confirms_a_row_where_it_is_knitted(qtbot: QtBot) -> None:
    run = KnittingRun(opened(), Record())
    source = KnittingSource(run, run.confirm, run.back)
    view = ClassView(source, Theme(LookChoice.DARK))
    qtbot.addWidget(view)
    assert source.moment().lines[-1].sign in (Sign.NOTHING, Sign.CARRIAGE, Sign.CAUTION)
    source.forward()
    assert run.cursor == 1
    assert view.where.text().endswith("row 2 of 6")
    source.back()
    assert run.cursor == 0
    for _ in range(STEPS):
        source.forward()
    assert view.words.text() == "All rows are knitted"


def test_a_clicker_that_bounces_confirms_one_row(qtbot: QtBot) -> None:
    clock = [0.0]
    run = KnittingRun(opened(), Record())
    page = KnitPage(run, Theme(LookChoice.LIGHT), now_ms=lambda: clock[0])
    qtbot.addWidget(page)
    source = page.class_source()
    source.forward()
    source.forward()
    assert run.cursor == 1
    clock[0] += 5_000
    source.forward()
    assert run.cursor == 2
    clock[0] += 5_000
    source.back()
    assert run.cursor == 1


# -- the pointer ------------------------------------------------------------------------------------------


def test_the_ring_follows_the_hand_and_names_the_needle(view: ClassView) -> None:
    before = view.grab().toImage()
    QTest.mouseMove(view, loop_of(view, R4))
    assert pointed(view) == R4
    assert view.grab().toImage() != before
    QTest.mouseMove(view, QPoint(5, 5))
    assert pointed(view) is None
    assert view.pointing.place == pytest.approx((5 / 1280, 5 / 720))


def test_a_click_keeps_a_mark_that_stays_on_its_needle(view: ClassView) -> None:
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=loop_of(view, R4))
    QTest.mouseMove(view, QPoint(5, 5))
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    QTest.keyClick(view, Qt.Key.Key_T)
    assert view.pointing.needles == {R4}
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=loop_of(view, R4))
    assert view.pointing.needles == set()


def test_keys_move_the_pointer_as_the_class_sees_it(view: ClassView) -> None:
    QTest.keyClick(view, Qt.Key.Key_Right)
    first = view.pointing.needle
    assert first is not None
    QTest.keyClick(view, Qt.Key.Key_Right)
    assert view.pointing.needle == first - 1, "turned round, the right is the knitter's left"
    QTest.keyClick(view, Qt.Key.Key_T)
    QTest.keyClick(view, Qt.Key.Key_Right)
    assert view.pointing.needle == first
    layout = view.bed.bed_layout()
    QTest.keyClick(view, Qt.Key.Key_Home)
    assert view.pointing.needle == layout.first
    QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert view.pointing.needle == layout.first + 5
    QTest.keyClick(view, Qt.Key.Key_Return)
    assert view.pointing.needles == {layout.first + 5}
    QTest.keyClick(view, Qt.Key.Key_Delete)
    assert not view.pointing.needles


def test_marks_beside_the_needles_are_kept_in_place() -> None:
    pointing = Pointing(place=(0.2, 0.9))
    pointing.keep_mark(near=0.05)
    pointing.place = (0.6, 0.9)
    pointing.keep_mark(near=0.05)
    pointing.place = (0.22, 0.88)
    pointing.keep_mark(near=0.05)
    assert pointing.places == [(0.6, 0.9)]


# -- opening and leaving ----------------------------------------------------------------------------------


def test_the_projector_is_the_screen_that_is_not_the_teacher_s() -> None:
    desk, projector, third = object(), object(), object()
    assert screen_for_class(desk, [desk, projector, third]) is projector
    assert screen_for_class(projector, [desk, projector]) is desk
    assert screen_for_class(desk, [desk]) is desk


def test_it_opens_once_for_a_page_and_leaves_by_escape(qtbot: QtBot, tmp_path: Path) -> None:
    theme = Theme(LookChoice.LIGHT)
    page = RehearsePage(rehearsal(), theme, remembered(tmp_path))
    qtbot.addWidget(page)
    opener = ClassOpener(theme, page)
    assert opener.open_for(page)
    view = shown(opener)
    assert view is not None
    assert view.windowState() & Qt.WindowState.WindowFullScreen
    assert opener.open_for(page)
    assert shown(opener) is view
    view.turn_round()
    with qtbot.waitSignal(view.destroyed):
        QTest.keyClick(view, Qt.Key.Key_Escape)
    assert shown(opener) is None
    assert opener.open_for(page)
    again = shown(opener)
    assert again is not None
    assert not again.turned, "as it was left"
    again.close()
    assert not opener.open_for(None)


def test_pages_turn_their_bed_round_by_a_key(qtbot: QtBot, tmp_path: Path) -> None:
    theme = Theme(LookChoice.LIGHT)
    rehearse = RehearsePage(rehearsal(), theme, remembered(tmp_path))
    knit = KnitPage(KnittingRun(opened(), Record()), theme)
    for page, bed in ((rehearse, rehearse.bed), (knit, knit.column.bed)):
        qtbot.addWidget(page)
        assert not turned(bed)
        QTest.keyClick(page, Qt.Key.Key_T)
        assert turned(bed)
        QTest.keyClick(page, Qt.Key.Key_T)
        assert not turned(bed)
