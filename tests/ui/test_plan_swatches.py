"""Swatches, another yarn or bed, and yarn at hand on the page Plan, by hand and by keys."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Gauge, Piece
from bedview.plan.swatch import KnittedSwatch, Measured
from bedview.plan.swatch_plan import SwatchPlan, plan_of
from bedview.plan.units import LengthUnit
from bedview.session import editing
from bedview.session.machine import Machine
from bedview.session.open_piece import OpenPiece
from bedview.session.swatch_shelf import SwatchShelf
from bedview.store.swatches import SwatchFile, default_file
from bedview.ui.desk import Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import PLAN
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.plan.entries import ChoiceEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.plan.swatch_entry import WHOLE
from bedview.ui.plan.swatch_sheet import SwatchSheet
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered
from tests.ui.planning import bag, write

TWINE = KnittedSwatch(
    yarn="rope wool",
    tension=7,
    needles=42,
    rows=60,
    marked_stitches=30,
    marked_rows=40,
    before=Measured(width_mm=125, height_mm=110),
    after=Measured(width_mm=120, height_mm=100),
)


@pytest.fixture
def settings(tmp_path: Path) -> Remembered:
    made = remembered(tmp_path)
    made.length_unit = LengthUnit.CM
    return made


@pytest.fixture
def shelf(tmp_path: Path) -> SwatchShelf:
    return SwatchShelf(SwatchFile(tmp_path / "kept" / "swatches.json"))


def shown(qtbot: QtBot, piece: OpenPiece, settings: Remembered, shelf: SwatchShelf) -> PlanPage:
    theme = Theme(LookChoice.LIGHT)
    page = PlanPage(piece, theme, settings, shelf)
    theme.setParent(page)
    qtbot.addWidget(page)
    theme.dress(page)
    page.resize(1280, 656)
    page.show()
    qtbot.waitExposed(page)
    page.show_tab("yarn")
    return page


def swatches(qtbot: QtBot, page: PlanPage) -> SwatchSheet:
    page.yarn.cards[0].swatches.click()
    sheet = page.yarn.sheet
    assert isinstance(sheet, SwatchSheet)
    qtbot.waitUntil(sheet.isVisible)
    return sheet


def fill(form: Form, **texts: str) -> None:
    for key, text in texts.items():
        write(form.lines[key].entry, text)


def test_a_swatch_is_written_down_by_keys_and_becomes_the_gauge(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf, tmp_path: Path
) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings, shelf)
    sheet = swatches(qtbot, page)
    qtbot.waitUntil(sheet.add.hasFocus)
    QTest.keyClick(sheet, Qt.Key.Key_Return)
    lines = sheet.entry.first.lines
    qtbot.waitUntil(lines["tension"].entry.hasFocus)
    # 24 stitches over 12 cm, 33 rows over 11 cm: 20 and 30 to 10 cm.
    for text, tabs in (("7", 2), ("24", 1), ("33", 1), ("12", 1), ("11 cm", 0)):
        entry = QApplication.focusWidget()
        assert isinstance(entry, TextEntry)
        entry.selectAll()
        QTest.keyClicks(entry, text)
        for _ in range(tabs):
            now = QApplication.focusWidget()
            assert now is not None
            QTest.keyClick(now, Qt.Key.Key_Tab)
    assert sheet.entry.comes.text() == "20 stitches and 30 rows to 10 cm."
    QTest.keyClick(sheet, Qt.Key.Key_Return)
    assert len(shelf.book.swatches) == 1
    qtbot.waitUntil(sheet.add.hasFocus)
    sheet.uses[0].setFocus()
    QTest.keyClick(sheet.uses[0], Qt.Key.Key_Return)
    assert [(each.tension, each.stitches, each.rows) for each in piece.piece.gauges] == [
        (6, 20, 30),
        (7, 20, 30),
    ]
    assert page.yarn.sheet is None
    piece.undo()
    assert len(piece.piece.gauges) == 1
    # The next piece finds it.
    assert len(SwatchShelf(SwatchFile(tmp_path / "kept" / "swatches.json")).of_yarn("Rope wool")) == 1
    page.close()


def test_needles_and_rows_of_the_whole_swatch_and_what_washing_did(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.write_down()
    way = sheet.entry.first.lines["way"].entry
    assert isinstance(way, ChoiceEntry)
    way.setCurrentIndex(1)
    way.activated.emit(1)
    assert sheet.entry._values["way"] == WHOLE
    # 40 needles are 25 cm and were 24; 60 rows are 27.27 cm and were 27.27: 16 × 22 to 10 cm.
    fill(sheet.entry.first, stitches="40", rows="60", after_width_mm="25", after_height_mm="27.27")
    sheet.entry.more.click()
    fill(sheet.entry.rest, before_width_mm="24", before_height_mm="27.27")
    assert sheet.entry.comes.text() == (
        "16 stitches and 22 rows to 10 cm. Washing changed it by +4 % across and +0 % up."
    )
    found = sheet.entry.swatch()
    assert found is not None
    assert (found.needles, found.marked_stitches, found.rows) == (40, 40, 60)
    page.close()


def test_what_is_missing_is_said_and_nothing_is_kept(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.write_down()
    sheet.keep.click()
    assert sheet.wrong.text().startswith("Yarn, tension, stitches and rows are needed")
    fill(sheet.entry.first, stitches="40", rows="50")
    sheet.entry.more.click()
    fill(sheet.entry.rest, needles="30")
    sheet.keep.click()
    assert "40 stitches are marked of only 30" in sheet.wrong.text()
    assert shelf.book.swatches == ()
    page.close()


def test_a_weighed_swatch_replaces_the_theory_and_the_page_says_so(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    page = shown(qtbot, bag(), settings, shelf)
    card = page.yarn.cards[0]
    assert "by the gauge at this tension" in card.takes.text()
    assert "10 % on top" in card.takes.text()
    shelf.put(TWINE.model_copy(update={"tension": 6, "grams": 25.0}))
    assert "by the weight of a swatch, with 5 % on top" in card.takes.text()
    shelf.take_out(shelf.book.swatches[0])
    assert "by the gauge at this tension" in card.takes.text()
    page.close()


def test_a_swatch_of_another_yarn_makes_the_yarn_that_one(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    shelf.put(TWINE.model_copy(update={"yarn": "larch wool", "tension": 6, "tex": 250}))
    piece = bag()
    page = shown(qtbot, piece, settings, shelf)
    swatches(qtbot, page).uses[0].click()
    yarn = piece.piece.yarns[0]
    assert (yarn.id, yarn.name, yarn.tex) == ("main", "larch wool", 250)
    assert piece.piece.gauges == (Gauge(yarn="main", tension=6, stitches=25, rows=40, over_mm=100),)
    piece.undo()
    assert piece.piece == bag().piece
    page.close()


def test_a_swatch_is_knitted_and_its_counts_are_not_typed_again(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.knit.click()
    fill(sheet.to_knit.form, stitches="60")
    assert sheet.to_knit.piece is None
    assert "needs 72 needles; the bed has 60" in sheet.to_knit.doubt.text()
    assert not sheet.make.isEnabled()
    fill(sheet.to_knit.form, stitches="24", tension="7")
    with qtbot.waitSignal(page.piece_wanted) as wanted:
        sheet.make.click()
    made = wanted.args[0]
    assert isinstance(made, Piece)
    assert plan_of(made) == SwatchPlan(24, 40)
    page.close()
    page = shown(qtbot, OpenPiece(made), settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.write_down()
    lines = sheet.entry.first.lines
    texts = [lines[key].entry.text() for key in ("yarn", "tension", "stitches", "rows")]  # type: ignore[union-attr]
    assert texts == ["rope wool", "7", "24", "40"]
    fill(sheet.entry.first, after_width_mm="12", after_height_mm="10")
    sheet.keep.click()
    assert (shelf.book.swatches[0].needles, shelf.book.swatches[0].rows) == (36, 60)
    page.close()


def test_a_tension_that_the_dial_lacks_is_said(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    piece = bag()
    piece.speak_for(Machine(dial_steps=3))
    page = shown(qtbot, piece, settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.write_down()
    fill(sheet.entry.first, tension="6.5")
    assert sheet.entry.doubts.text() == "Your dial has no 6.5; it has 6.33 and 6.67."
    fill(sheet.entry.first, tension="6.67")
    assert not sheet.entry.doubts.isVisible()
    page.close()


def test_a_spoilt_book_is_said_in_one_line(qtbot: QtBot, settings: Remembered, tmp_path: Path) -> None:
    path = tmp_path / "swatches.json"
    path.write_text("not a book")
    shelf = SwatchShelf(SwatchFile(path))
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    assert sheet.wrong.text().startswith("The swatch book of this machine can't be used")
    assert not shelf.put(TWINE)
    assert path.read_text() == "not a book"
    page.close()


# -- another yarn, another bed ---------------------------------------------------------------------------


def test_another_gauge_is_seen_before_it_is_done_and_is_one_step(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    shelf.put(TWINE.model_copy(update={"yarn": "larch wool"}))
    piece = bag()
    page = shown(qtbot, piece, settings, shelf)
    page.yarn.cards[0].regauge.click()
    sheet = page.yarn.show_regauge(0)
    assert not sheet.apply.isEnabled()
    entry = sheet.form.lines["swatch"].entry
    entry.setFocus()
    QTest.keyClick(entry, Qt.Key.Key_Down)
    # 20 needles of 20 to 10 cm are 10 cm, at 25 to 10 cm 25; from the middle 12.5, so 13 on each side.
    assert sheet.found is not None
    first = sheet.found.parts[0]
    assert first.after is not None
    assert (first.before.needles, first.after.needles) == (20, 26)
    # 4 rows of 30 to 10 cm are 1.33 cm; of 40 they are 5.33, an even number: 6.
    assert (first.before.rows, first.after.rows) == (4, 6)
    sheet.apply.click()
    assert piece.piece.yarns[0].name == "larch wool"
    assert piece.trouble is None
    piece.undo()
    assert piece.piece == bag().piece
    page.close()


def test_what_cannot_be_done_is_said(qtbot: QtBot, settings: Remembered, shelf: SwatchShelf) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings, shelf)
    sheet = page.yarn.show_regauge(0)
    fill(sheet.form, needles="12")
    assert "this one has 12" in sheet.wrong.text()
    assert not sheet.apply.isEnabled()
    fill(sheet.form, needles="13")
    assert sheet.wrong.text() == "Must be an even number, not 13."
    fill(sheet.form, needles="80")
    assert sheet.apply.isEnabled()
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    assert piece.piece == bag().piece
    page.close()


# -- yarn at hand ----------------------------------------------------------------------------------------


def test_balls_at_hand_run_out_near_a_row_and_joins_are_reminded_of(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    piece = OpenPiece(editing.with_fields(bag().piece, (1,), {"rows": 60}))
    page = shown(qtbot, piece, settings, shelf)
    at_hand = page.yarn.cards[0].at_hand
    write(at_hand.entry, "3 x")
    assert at_hand.form.lines["balls"].wrong.isVisible()
    # 100 stitches take about 1.9 m: 8 m last for some 20 rows of 20 stitches, 12 balls for all.
    write(at_hand.entry, "8 m")
    assert at_hand.says.text().startswith("Runs out near row ")
    assert at_hand.says.text().endswith("the figure may be 10 % off.")
    write(at_hand.entry, "12 x 8 m")
    assert at_hand.says.text() == "Lasts to the end, even if it takes 10 % more."
    assert "outside of short rows" in at_hand.joins.text()
    at_hand.remind.click()
    words = "Begin a new ball of rope wool"
    texts = [each.text for part in piece.piece.segments for each in part.reminders]
    assert texts
    assert set(texts) == {words}
    piece.undo()
    assert not any(part.reminders for part in piece.piece.segments)
    page.tabs.setFocus()
    at_hand.entry.left.emit()
    assert shelf.book.balls_of("rope wool") == "12 x 8 m"
    page.close()


def test_the_swatch_book_is_there_for_the_next_piece(
    qtbot: QtBot, settings: Remembered, shelf: SwatchShelf
) -> None:
    shelf.put_balls("rope wool", "2 x 50 g")
    page = shown(qtbot, bag(), settings, shelf)
    assert page.yarn.cards[0].at_hand.entry.text() == "2 x 50 g"
    page.close()


def test_swatches_lie_apart(qtbot: QtBot, settings: Remembered, shelf: SwatchShelf) -> None:
    shelf.put(TWINE)
    shelf.put(TWINE.model_copy(update={"after": Measured(width_mm=135, height_mm=100)}))
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    said = [label.text() for label in sheet.findChildren(QLabel) if label.isVisible()]
    assert sum("count it again, or leave it out" in each for each in said) == 2
    sheet.aways[1].click()
    assert shelf.book.swatches == (TWINE,)
    page.close()


def test_a_swatch_opens_as_a_new_piece_and_what_is_kept_outlasts_the_window(
    qtbot: QtBot, settings: Remembered, tmp_path: Path
) -> None:
    theme, desk = Theme(LookChoice.LIGHT), Desk(settings)
    window = MainWindow(theme, desk, settings, PLAN, tmp_path / "journal")
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    desk.open_new(bag().piece)
    window.show_page(PLAN)
    page = window.page
    assert isinstance(page, PlanPage)
    page.show_tab("yarn")
    sheet = swatches(qtbot, page)
    sheet.knit.click()
    sheet.make.click()
    opened = desk.opened
    assert opened is not None
    assert plan_of(opened.piece) == SwatchPlan()
    assert opened.trouble is None
    page = window.page
    assert isinstance(page, PlanPage)
    page.show_tab("yarn")
    sheet = swatches(qtbot, page)
    sheet.write_down()
    fill(sheet.entry.first, after_width_mm="15", after_height_mm="13.3")
    sheet.keep.click()
    assert not sheet.wrong.isVisible()
    sheet.reject()
    window.close()
    assert [each.marked_stitches for each in SwatchFile(default_file()).load().swatches] == [30]


def test_a_swatch_in_inches(qtbot: QtBot, settings: Remembered, shelf: SwatchShelf) -> None:
    settings.length_unit = LengthUnit.IN
    page = shown(qtbot, bag(), settings, shelf)
    sheet = swatches(qtbot, page)
    sheet.write_down()
    # 8 × 11 to the inch are 32 × 44 to 4 in; in centimetres 20.3 cm are 8 in.
    fill(sheet.entry.first, stitches="64", rows="88", after_width_mm="8", after_height_mm="20.32 cm")
    assert sheet.entry.comes.text() == "32 stitches and 44 rows to 4 in."
    page.close()
