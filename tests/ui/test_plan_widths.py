"""Widths and dials in the fields of a part: both figures, the rounding said, the dial of the machine."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Piece
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.units import LengthUnit
from bedview.session.machine import Machine
from bedview.session.open_piece import OpenPiece
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.remembered import Remembered
from tests.ui.desktop import remembered
from tests.ui.planning import BAG, bag, line_of, shown, write


@pytest.fixture
def settings(tmp_path: Path) -> Remembered:
    made = remembered(tmp_path)
    made.length_unit = LengthUnit.CM
    return made


def needles(piece: OpenPiece) -> str:
    part = piece.piece.segments[0]
    assert isinstance(part, CastOnSegment)
    return part.needles


def down_to(piece: OpenPiece) -> int:
    part = piece.piece.segments[2]
    assert isinstance(part, ShortRowsSegment)
    return part.down_to


def comes(page: PlanPage, key: str) -> str:
    return line_of(page, key).comes.text()


def test_a_width_becomes_needles_and_the_rounding_is_said(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.choose(0)
    # 20 stitches to 10 cm: 20 needles are 10 cm.
    assert comes(page, "needles") == "20 stitches are 10.0 cm wide."
    write(line_of(page, "needles").entry, "13.6 cm")
    # 13.6 cm are 27.2 stitches, 28 the even number next to them: 14 cm.
    assert needles(piece) == "L14-R14"
    assert comes(page, "needles") == (
        "13.6 cm = 27.2 stitches, rounded to an even number: 28; 28 stitches are 14.0 cm"
    )
    write(line_of(page, "needles").entry, "24")
    assert needles(piece) == "L12-R12"
    write(line_of(page, "needles").entry, "40 cm")
    assert "more than the bed's 60 needles" in line_of(page, "needles").wrong.text()
    write(line_of(page, "needles").entry, "L4 to R6")
    assert needles(piece) == "L4-R6"
    assert comes(page, "needles") == "10 stitches are 5.0 cm wide."
    page.close()


def test_short_rows_leave_as_many_at_both_ends(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.choose(2)
    write(line_of(page, "down_to").entry, "4.6 cm")
    # 9.2 stitches; 20 needles work, so an even number stays: 10, not 9.
    assert down_to(piece) == 10
    assert comes(page, "down_to") == (
        "4.6 cm = 9.2 stitches, rounded to an even number: 10; 10 stitches are 5.0 cm"
    )
    page.close()


def test_an_even_or_odd_number_of_rows_that_spares_one_is_said(qtbot: QtBot, settings: Remembered) -> None:
    # The carriage starts on the right. After an odd number of rows it stands on the left, and needles there
    # cannot be held before it has gone over; after an even number they can.
    aside = {"kind": "set_aside", "title": "Flap", "groups": ["L10-L8"]}
    document = {**BAG, "segments": [*BAG["segments"][:2], aside, BAG["segments"][3]]}
    page = shown(qtbot, OpenPiece(Piece.read(document)), settings)
    page.choose(1)
    # 30 rows to 10 cm: 5 cm are 15.
    write(line_of(page, "rows").entry, "5 cm")
    assert comes(page, "rows") == (
        "5.0 cm = 15 rows; 15 rows are 5.0 cm. "
        "14 rows or 16 would spare Flap the row that brings the carriage over"
    )
    write(line_of(page, "rows").entry, "5.4 cm")
    assert comes(page, "rows") == "5.4 cm = 16 rows; 16 rows are 5.3 cm"
    page.close()


def test_the_published_stitches_of_a_width(qtbot: QtBot, settings: Remembered) -> None:
    # designyourownsweater 2007/01: 28 stitches × 40 rows to 10 cm: 26 cm are 72.8, taken as 72; 5 cm are 20
    # rows. We take the even number that is nearest, 72.
    document = {**BAG, "bed": {"needles": 200, "pitch_mm": 4.5}}
    document["gauges"] = [{"yarn": "main", "tension": 6, "stitches": 28, "rows": 40, "over_mm": 100}]
    piece = OpenPiece(Piece.read(document))
    page = shown(qtbot, piece, settings)
    page.choose(0)
    write(line_of(page, "needles").entry, "26 cm")
    assert needles(piece) == "L36-R36"
    page.choose(1)
    write(line_of(page, "rows").entry, "5 cm")
    assert comes(page, "rows") == "5.0 cm = 20 rows; 20 rows are 5.0 cm"
    page.close()


def test_a_start_on_waste_is_as_wide_as_the_fabric(qtbot: QtBot, settings: Remembered) -> None:
    start = {**BAG["segments"][0], "how": "waste", "yarn": "main"}
    piece = OpenPiece(Piece.read({**BAG, "segments": [start, *BAG["segments"][1:]]}))
    page = shown(qtbot, piece, settings)
    page.choose(0)
    write(line_of(page, "needles").entry, "8 cm")
    assert needles(piece) == "L8-R8"
    page.close()


def test_a_width_without_a_gauge_is_refused(qtbot: QtBot, settings: Remembered) -> None:
    piece = OpenPiece(Piece.read({**BAG, "gauges": []}))
    page = shown(qtbot, piece, settings)
    page.choose(0)
    assert comes(page, "needles") == ""
    write(line_of(page, "needles").entry, "10 cm")
    assert line_of(page, "needles").wrong.text().startswith("A width becomes needles by the gauge")
    page.close()


def test_the_width_asked_for_one_part_is_not_told_of_another(qtbot: QtBot, settings: Remembered) -> None:
    short = {"kind": "short_rows", "title": "Dart", "down_to": 10, "back": {}}
    document = {**BAG, "segments": [*BAG["segments"][:3], short, *BAG["segments"][3:]]}
    piece = OpenPiece(Piece.read(document))
    page = shown(qtbot, piece, settings)
    page.choose(2)
    write(line_of(page, "down_to").entry, "4.6 cm")
    page.choose(3)
    assert comes(page, "down_to") == "10 stitches are 5.0 cm wide."
    page.close()


def test_a_dial_turns_by_its_own_steps_and_says_what_it_lacks(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    piece.speak_for(Machine(dial_steps=3))
    page = shown(qtbot, piece, settings)
    page.choose(1)
    entry = line_of(page, "tension").entry
    write(entry, "6.5")
    assert comes(page, "tension") == "Your dial has no 6.5; it has 6.33 and 6.67."
    write(entry, "6")
    assert comes(page, "tension") == ""
    QTest.keyClick(entry, Qt.Key.Key_Up)
    assert piece.piece.to_document()["segments"][1]["tension"] == 6.33
    assert comes(page, "tension") == ""
    page.close()
