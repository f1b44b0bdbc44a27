"""The page New piece: what is written there is what is made, and nothing is asked twice."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Piece
from bedview.plan.units import LengthUnit
from bedview.ui.pages.new_page import NewPage
from bedview.ui.plan.empty_form import EmptyForm
from bedview.ui.plan.form_lines import FormLine
from bedview.ui.plan.starter_form import StarterForm
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered
from tests.ui.planning import write


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> NewPage:
    kept = remembered(tmp_path)
    kept.length_unit = LengthUnit.CM
    theme = Theme(LookChoice.LIGHT)
    made = NewPage(kept, theme)
    theme.setParent(made)
    theme.dress(made)
    qtbot.addWidget(made)
    made.resize(1280, 656)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def begin(page: NewPage, name: str) -> StarterForm:
    QTest.mouseClick(page.choices[name], Qt.MouseButton.LeftButton)
    assert isinstance(page.form, StarterForm)
    return page.form


def line(page: NewPage, key: str) -> FormLine:
    assert page.form is not None
    return page.form.first.lines[key]


def size(page: NewPage) -> str:
    entry = line(page, "size").entry
    assert not isinstance(entry, FormLine)
    return str(entry.property("currentText"))


def made_by(qtbot: QtBot, page: NewPage) -> Piece:
    qtbot.waitUntil(page.make.isEnabled)
    with qtbot.waitSignal(page.piece_made) as told:
        page.make.click()
    piece = told.args[0] if told.args else None
    assert isinstance(piece, Piece)
    return piece


def test_a_choice_takes_the_keyboard_to_the_first_measure(page: NewPage) -> None:
    begin(page, "sock")
    assert QApplication.focusWidget() is line(page, "foot_length").entry


# The table has 38 at 24.0 cm, 39 at 24.67 and 40 at 25.33 (ISO/TS 19407): 25 cm lies half way.
@pytest.mark.parametrize(("length", "nearest"), [("24", "38"), ("24.5", "39"), ("25", "40"), ("25.2", "40")])
def test_the_size_follows_the_length_of_the_foot(
    qtbot: QtBot, page: NewPage, length: str, nearest: str
) -> None:
    begin(page, "bootee")
    write(line(page, "foot_length").entry, length)
    assert size(page) == nearest
    assert nearest in made_by(qtbot, page).title


def test_a_size_that_was_chosen_stays(page: NewPage) -> None:
    begin(page, "bootee")
    entry = line(page, "size").entry
    entry.setFocus()
    QTest.keyClick(entry, Qt.Key.Key_Down)
    chosen = size(page)
    assert chosen == "39"
    write(line(page, "foot_length").entry, "30")
    assert size(page) == chosen


def test_what_was_refused_is_not_made_behind_ones_back(page: NewPage) -> None:
    begin(page, "bootee")
    write(line(page, "foot_length").entry, "250")
    write(line(page, "foot_girth").entry, "23")
    page.reckon()
    # The name that stands beside the entry, and what is allowed; the other entry does not take it away.
    assert line(page, "foot_length").wrong.text() == "Foot length cannot be 250; it may be 6 to 36 cm."
    assert line(page, "foot_length").wrong.isVisible()
    assert not page.make.isEnabled()
    write(line(page, "foot_length").entry, "25")
    page.reckon()
    assert not line(page, "foot_length").wrong.isVisible()
    assert page.make.isEnabled()


def test_an_empty_piece_may_begin_with_a_swatch(qtbot: QtBot, page: NewPage) -> None:
    QTest.mouseClick(page.choices[""], Qt.MouseButton.LeftButton)
    form = page.form
    assert isinstance(form, EmptyForm)
    assert page.make.isEnabled(), "all of it may be left out"
    write(line(page, "stitches").entry, "20/4 in")
    page.reckon()
    assert not page.make.isEnabled()
    assert form.missing.text() == "Still missing: Rows to 10 cm, Tension. Or leave all of them empty."
    write(line(page, "rows").entry, "32")
    write(line(page, "tension").entry, "7")
    (gauge,) = made_by(qtbot, page).gauges
    # 20 stitches to 101.6 mm.
    assert gauge.stitches / gauge.over_mm == pytest.approx(20 / 101.6)
    assert (gauge.rows, gauge.over_mm, gauge.tension) == (32, 100, 7)
