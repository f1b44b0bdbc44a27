from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.plan.starters import STARTERS, find_starter
from bedview.plan.units import LengthUnit
from bedview.session import editing
from bedview.session.machine import Machine
from bedview.session.open_piece import OpenPiece
from bedview.ui.desk import Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import PLAN
from bedview.ui.pages.new_page import NewPage
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import ChoiceEntry, FlagEntry, TextEntry
from bedview.ui.plan.form_lines import Form
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered
from tests.ui.planning import bag, line_of, shown, write


@pytest.fixture
def room() -> Iterator[QObject]:
    """Owns what has no window: the collector may run on any thread, and Qt's objects belong to theirs."""
    made = QObject()
    yield made
    made.deleteLater()
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


@pytest.fixture
def settings(tmp_path: Path) -> Remembered:
    made = remembered(tmp_path)
    made.length_unit = LengthUnit.CM
    return made


def fill(form: Form, **texts: str) -> None:
    for key, text in texts.items():
        write(form.lines[key].entry, text)


def choose(form: Form, key: str, words: str) -> None:
    entry = form.lines[key].entry
    assert isinstance(entry, ChoiceEntry)
    place = entry.findText(words)
    assert place >= 0
    entry.setCurrentIndex(place)
    entry.activated.emit(place)


# -- yarn -------------------------------------------------------------------------------------------------


def test_inches_are_read_and_written_where_they_are_wanted(qtbot: QtBot, settings: Remembered) -> None:
    settings.length_unit = LengthUnit.IN
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.choose(1)
    write(line_of(page, "rows").entry, "2 in")
    # 2 in are 50.8 mm: 15.24 rows at 30 to 10 cm; 15 rows are 50 mm, 1.97 in.
    assert line_of(page, "rows").comes.text() == "2.0 in = 15 rows; 15 rows are 2.0 in"
    page.show_tab("machine")
    choose(page.machine.bed, "unit", "centimetres")
    page.choose(1)
    assert settings.length_unit is LengthUnit.CM
    assert line_of(page, "rows").comes.text() == "5.1 cm = 15 rows; 15 rows are 5.0 cm"
    entry = line_of(page, "rows").entry
    assert isinstance(entry, TextEntry)
    assert entry.text() == "5.08 cm"
    page.close()


def test_a_yarn_is_named_weighed_and_added(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.show_tab("yarn")
    card = page.yarn.cards[0]
    write(card.lines["name"].entry, "tarred twine")
    card.more.click()
    write(card.lines["colour"].entry, "#12")
    assert piece.piece.yarns[0].name == "tarred twine"
    assert "hexadecimal" in card.lines["colour"].wrong.text()
    page.yarn.add.click()
    assert [yarn.id for yarn in piece.piece.yarns] == ["main", "scrap", "yarn1"]
    assert len(page.yarn.cards) == 3
    piece.undo()
    assert len(page.yarn.cards) == 2
    page.close()


# -- machine ----------------------------------------------------------------------------------------------


def test_words_follow_the_machine_and_are_remembered(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.show_tab("machine")
    fill(page.machine.words, name_3="the front")
    told = [sentence for step in piece.steps for sentence in step.hands]
    assert any("to the front" in sentence for sentence in told)
    assert not any("to hold" in sentence for sentence in told)
    assert settings.machine.names == ("", "", "", "the front")
    upper = page.machine.words.lines["upper"].entry
    assert isinstance(upper, FlagEntry)
    upper.click()
    told = [sentence for step in piece.steps for sentence in step.hands]
    assert not any("upper" in sentence for sentence in told)
    assert any("the latch kept open" in sentence for sentence in told)
    assert not page.machine.words.lines["name_2"].entry.isVisible()
    assert piece.undo_words == "", "the machine is the user's, not the piece's"
    page.close()
    other = bag()
    other.speak_for(settings.machine)
    assert [step.hands for step in other.steps] == [step.hands for step in piece.steps]


def test_a_machine_comes_back_as_it_was_described(settings: Remembered) -> None:
    assert settings.machine == Machine()
    described = Machine(("a", "b", "c", "d"), has_upper=False, dial_steps=3, claws=8)
    settings.machine = described
    assert settings.machine == described


def test_several_machines_are_kept_for_the_next_piece(qtbot: QtBot, settings: Remembered) -> None:
    page = shown(qtbot, bag(), settings)
    page.show_tab("machine")
    card = page.machine.machine
    fill(card.form, title="attic", needles="110", pitch_mm="9", name_3="front", claws="4")
    choose(card.form, "steps", "3")
    assert not card.form.lines["which"].entry.isVisible()
    card.another.click()
    assert settings.machine == Machine()
    fill(card.form, title="shed", needles="200", pitch_mm="4.5")
    choose(card.form, "which", "attic")
    attic = Machine(("", "", "", "front"), True, 3, 4, "attic", 110, 9.0)
    assert settings.machine == attic
    assert card.form.lines["needles"].entry.text() == "110"  # type: ignore[union-attr]
    assert [each.title for each in settings.machines] == ["attic", "shed"]
    fill(card.form, title="loft")
    assert sorted(each.title for each in settings.machines) == ["loft", "shed"]
    page.close()


def test_the_piece_is_put_on_the_machine_s_bed(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.show_tab("machine")
    card = page.machine.machine
    assert not card.take_bed.isVisible()
    fill(card.form, needles="111")
    assert card.form.lines["needles"].wrong.text() == "An even number from 2 to 400 fits here."
    fill(card.form, needles="110", pitch_mm="9")
    assert card.take_bed.isVisible()
    assert piece.piece.bed.needles == 60
    card.take_bed.click()
    assert (piece.piece.bed.needles, piece.piece.bed.pitch_mm) == (110, 9)
    assert not card.take_bed.isVisible()
    piece.undo()
    assert piece.piece.bed.needles == 60
    page.close()


def test_a_bed_too_small_is_refused_beside_its_field(qtbot: QtBot, settings: Remembered) -> None:
    piece = bag()
    page = shown(qtbot, piece, settings)
    page.show_tab("machine")
    fill(page.machine.bed, needles="10")
    assert piece.piece.bed.needles == 60
    assert page.machine.bed.lines["needles"].wrong.text()
    fill(page.machine.bed, needles="40", pitch_mm="9")
    assert (piece.piece.bed.needles, piece.piece.bed.pitch_mm) == (40, 9)
    assert piece.trouble is None
    page.close()


# -- sizes and fit ----------------------------------------------------------------------------------------


@pytest.fixture
def sock(qtbot: QtBot, settings: Remembered) -> PlanPage:
    return shown(qtbot, OpenPiece(find_starter("sock").make({"size": "38", "tex": 200})), settings)


def test_a_measure_makes_the_piece_anew_as_one_step(sock: PlanPage) -> None:
    opened = sock._opened
    before = opened.piece
    sock.show_tab("sizes")
    form = sock.sizes.form
    assert form is not None
    write(form.first.lines["foot_length"].entry, "28")
    assert opened.piece == find_starter("sock").make({"size": "38", "tex": 200, "foot_length": 28})
    opened.undo()
    assert opened.piece == before
    form = sock.sizes.form
    assert form is not None
    write(form.first.lines["foot_length"].entry, "900")
    assert opened.piece.made_by is not None
    assert opened.piece.made_by.values.get("foot_length") != 900
    assert form.first.lines["foot_length"].wrong.isVisible()
    sock.close()


def test_sizes_stand_side_by_side_and_one_is_taken(qtbot: QtBot, sock: PlanPage) -> None:
    sock.show_tab("sizes")
    sock.sizes.grade.click()
    qtbot.waitUntil(lambda: bool(sock.sizes.sizes), timeout=30_000)
    assert list(sock.sizes.sizes) == [size.name for size in find_starter("sock").sizes]
    smallest, *_, largest = sock.sizes.sizes
    needles = []
    for size in (smallest, largest):
        sock.sizes.sizes[size].click()
        assert sock._opened.piece.title.endswith(f"size {size}")
        first, last = sock.chart.scene.used()
        needles.append(last - first + 1)
    assert needles[0] < needles[1]
    sock.close()


def test_the_fit_is_told_measure_by_measure(sock: PlanPage) -> None:
    sock.show_tab("fit")
    from bedview.plan.fit import fit

    measured = fit(sock._opened.piece, sock._opened.procedure)
    told = [label.accessibleName() for label in sock.fit.table.findChildren(Label) if label.accessibleName()]
    assert told == [line.says() for line in measured.lines]
    assert sock.fit.remark.isVisibleTo(sock.fit) == bool(measured.remark)
    sock.close()


def test_a_piece_without_measures_says_so(qtbot: QtBot, settings: Remembered) -> None:
    page = shown(qtbot, bag(), settings)
    page.show_tab("sizes")
    assert page.sizes.title.text() == "No measures"
    assert not page.sizes.grade.isVisible()
    page.close()


# -- a new piece ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("starter", [starter.name for starter in STARTERS])
def test_every_starter_is_seen_before_it_is_made(qtbot: QtBot, settings: Remembered, starter: str) -> None:
    theme = Theme(LookChoice.LIGHT)
    page = NewPage(settings, theme)
    theme.setParent(page)
    qtbot.addWidget(page)
    page.show()
    page.choose(starter)
    assert page.preview.scene is not None
    assert page.preview.scene.passes > 0
    with qtbot.waitSignal(page.piece_made) as made:
        page.make.click()
    assert made.args[0] == find_starter(starter).make({})
    page.close()


def test_new_pieces_begin_on_the_user_s_own_bed(qtbot: QtBot, settings: Remembered) -> None:
    settings.machine = Machine(title="attic", needles=150, pitch_mm=6.5)
    theme = Theme(LookChoice.LIGHT)
    page = NewPage(settings, theme)
    theme.setParent(page)
    qtbot.addWidget(page)
    page.show()
    for name, values in (("sock", {"needles": 150, "pitch": 6.5}), ("", None)):
        page.choose(name)
        with qtbot.waitSignal(page.piece_made) as made:
            page.make.click()
        assert (made.args[0].bed.needles, made.args[0].bed.pitch_mm) == (150, 6.5)
        if values is not None:
            assert made.args[0] == find_starter(name).make(values)
    page.close()


def test_from_the_start_page_to_a_plan_by_keys_alone(
    qtbot: QtBot, tmp_path: Path, settings: Remembered
) -> None:
    theme, desk = Theme(LookChoice.LIGHT), Desk(settings)
    window = MainWindow(theme, desk, settings, journal=tmp_path / "journal")
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    desk.close_piece()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QTest.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    page = window.page
    assert isinstance(page, NewPage)
    first = page.choices["sock"]
    qtbot.waitUntil(first.hasFocus)
    QTest.keyClick(first, Qt.Key.Key_Down)
    QTest.keyClick(page.choices["bootee"], Qt.Key.Key_Return)
    assert window.page_name == PLAN
    opened = desk.opened
    assert opened is not None
    assert opened.piece.made_by is not None
    assert opened.piece.made_by.starter == "bootee"
    assert desk.state_words == "not saved yet"
    window.close()


def test_a_new_piece_can_be_thought_better_of(qtbot: QtBot, tmp_path: Path, settings: Remembered) -> None:
    theme, desk = Theme(LookChoice.LIGHT), Desk(settings)
    window = MainWindow(theme, desk, settings, journal=tmp_path / "journal")
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    desk.open_new(bag().piece)
    before = window.page
    window.begin_piece()
    assert isinstance(window.page, NewPage)
    QTest.keyClick(window.page, Qt.Key.Key_Escape)
    assert window.page is before
    window.close()


def test_a_plan_that_cannot_be_knitted_is_saved_and_opened_again(
    qtbot: QtBot, tmp_path: Path, settings: Remembered, room: QObject
) -> None:
    piece = bag()
    piece.revise(editing.with_fields(piece.piece, (2,), {"down_to": 30}), "Needles left")
    path = tmp_path / "bag.piece.json"
    piece.save(path)
    desk = Desk(settings, room)
    with qtbot.waitSignal(desk.piece_opened):
        desk.open(str(path))
    assert desk.opened is not None
    assert desk.opened.piece == piece.piece
    assert desk.opened.trouble is not None


def test_an_edit_that_cannot_be_knitted_outlasts_the_program(
    qtbot: QtBot, tmp_path: Path, settings: Remembered, room: QObject
) -> None:
    path = tmp_path / "bag.piece.json"
    bag().save(path)
    desk = Desk(settings, room)
    with qtbot.waitSignal(desk.piece_opened):
        desk.open(str(path))
    opened = desk.opened
    assert opened is not None
    opened.revise(editing.with_fields(opened.piece, (2,), {"down_to": 30}), "Needles left")
    opened.keep_copy()
    after = Desk(settings, room)
    with qtbot.waitSignal(after.edits_recovered):
        after.open(str(path))
    assert after.opened is not None
    assert after.opened.piece == opened.piece
    after.undo()
    assert after.opened.piece == bag().piece
