"""Measuring again in the middle of knitting, by keys, in the window."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bedview.plan.units import LengthUnit
from bedview.session.open_piece import OpenPiece
from bedview.ui.desk import Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.measuring_again import measure_again
from bedview.ui.pages.names import KNIT
from bedview.ui.plan.measure_sheet import MeasureSheet
from bedview.ui.theme import LookChoice, Theme
from tests.session.knitting_pieces import CAST_ON, a_piece
from tests.ui.desktop import remembered
from tests.ui.planning import write

GAUGE = {"yarn": "main", "tension": 6, "stitches": 16, "rows": 20, "over_mm": 100}


def window_with(qtbot: QtBot, tmp_path: Path) -> MainWindow:
    settings = remembered(tmp_path)
    settings.length_unit = LengthUnit.CM
    theme, desk = Theme(LookChoice.LIGHT), Desk(settings)
    window = MainWindow(theme, desk, settings, KNIT, tmp_path / "journal")
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.resize(1280, 720)
    window.show()
    parts = [{"kind": "plain", "title": name, "length_cm": 10} for name in ("Leg", "Foot")]
    desk.open_new(a_piece(CAST_ON, *parts, gauges=[GAUGE]))
    window.show_page(KNIT)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    return window


def opened(window: MainWindow) -> OpenPiece:
    assert window.desk.opened is not None
    return window.desk.opened


def test_rows_ahead_are_planned_anew_from_the_page_knit(qtbot: QtBot, tmp_path: Path) -> None:
    window = window_with(qtbot, tmp_path)
    run = window.knitting
    assert run is not None
    while run.passes_done < 30:
        run.confirm()
    QTest.keyClick(window, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    sheet = QApplication.activeModalWidget()
    assert isinstance(sheet, MeasureSheet)
    rows = sheet.form.lines["rows"].entry
    qtbot.waitUntil(rows.hasFocus)
    assert sheet.where.text() == (
        "In work: grey wool at tension 6; 30 rows are knitted. Planned with 16 stitches and 20 rows to 10 cm."
    )
    assert not sheet.apply.isEnabled()
    QTest.keyClicks(rows, "25")
    # 10 rows of the foot are 4 cm at 25 to 10 cm; 15 more make 10 cm.
    assert sheet.comes.text() == (
        "16 stitches and 25 rows to 10 cm. Foot: 10 rows measure 4.0 cm; 15 more make 10.0 cm. "
        "The piece has 45 rows instead of 40."
    )
    QTest.keyClick(rows, Qt.Key.Key_Return)
    assert (run.passes_done, run.procedure.timeline.passes) == (30, 45)
    assert window.said.text.text() == "The rows ahead are planned anew; those that are knitted stay."
    window.said.action.click()
    assert run.procedure.timeline.passes == 40
    assert opened(window).undo_words == ""
    window.close()


def test_nothing_is_measured_before_a_row_is_knitted(qtbot: QtBot, tmp_path: Path) -> None:
    window = window_with(qtbot, tmp_path)
    sheet = measure_again(window, window._theme, window._remembered)
    assert sheet is not None
    assert sheet.wrong.text() == "No row is knitted yet that could be measured."
    assert not sheet.apply.isEnabled()
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    window.close()


def test_what_is_already_too_long_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    window = window_with(qtbot, tmp_path)
    run = window.knitting
    assert run is not None
    while run.passes_done < 18:
        run.confirm()
    sheet = measure_again(window, window._theme, window._remembered)
    assert sheet is not None
    write(sheet.form.lines["rows"].entry, "15")
    # 18 rows at 15 to 10 cm are 12 cm.
    assert sheet.cautions.text() == "18 rows measure 12.0 cm already, 2.0 cm more than was asked."
    write(sheet.form.lines["height"].entry, "0")
    assert not sheet.apply.isEnabled()
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    window.close()
