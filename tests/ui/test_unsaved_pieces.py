"""Pieces that have no file yet: they outlast the program, are offered again, and can be thrown away."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Piece
from bedview.session import editing
from bedview.store.piece_file import read_piece
from bedview.store.recovery import RecoveryCopies, default_folder
from bedview.ui.desk import Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import KNIT
from bedview.ui.pages.start_page import StartPage
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered
from tests.ui.planning import bag


@pytest.fixture
def room() -> Iterator[QObject]:
    """Owns what has no window; Qt's objects belong to their thread."""
    made = QObject()
    yield made
    made.deleteLater()
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


@pytest.fixture
def settings(tmp_path: Path) -> Remembered:
    return remembered(tmp_path)


def copies() -> list[Piece]:
    return [each.piece for each in RecoveryCopies(default_folder()).without_file()]


def begun(qtbot: QtBot, desk: Desk) -> str:
    """A new piece laid down and its copy kept; its name."""
    desk.open_new(bag().piece)
    qtbot.waitUntil(lambda: copies() == [bag().piece])
    return desk._remembered.piece


def window_on(qtbot: QtBot, desk: Desk, settings: Remembered, journal: Path) -> MainWindow:
    theme = Theme(LookChoice.LIGHT)
    window = MainWindow(theme, desk, settings, journal=journal)
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    return window


def test_a_new_piece_that_nobody_edited_lies_open_again_at_the_next_start(
    qtbot: QtBot, settings: Remembered, room: QObject
) -> None:
    desk = Desk(settings, room)
    name = begun(qtbot, desk)
    assert desk.state_words == "not saved yet"
    after = Desk(settings, room)
    with qtbot.waitSignal(after.piece_opened):
        after.open(name)
    assert after.opened is not None
    assert after.opened.piece == bag().piece
    assert after.state_words == "not saved yet"


def test_its_edits_come_with_it(qtbot: QtBot, settings: Remembered, room: QObject) -> None:
    desk = Desk(settings, room)
    name = begun(qtbot, desk)
    assert desk.opened is not None
    changed = editing.with_fields(desk.opened.piece, (2,), {"down_to": 8})
    desk.opened.revise(changed, "Needles left")
    qtbot.waitUntil(lambda: copies() == [changed])
    after = Desk(settings, room)
    with qtbot.waitSignal(after.piece_opened):
        after.open(name)
    assert after.opened is not None
    assert after.opened.piece == changed


def test_saving_it_ends_the_copy(qtbot: QtBot, tmp_path: Path, settings: Remembered, room: QObject) -> None:
    desk = Desk(settings, room)
    begun(qtbot, desk)
    path = tmp_path / "bag.piece.json"
    assert desk.save(path)
    assert copies() == []
    assert read_piece(path) == bag().piece
    assert desk.state_words == "saved"


def test_one_that_is_gone_is_told_and_nothing_lies_open(
    qtbot: QtBot, settings: Remembered, room: QObject
) -> None:
    desk = Desk(settings, room)
    with qtbot.waitSignal(desk.trouble_met):
        desk.open("new-nobody-knows")
    assert desk.opened is None
    assert settings.piece == ""


def test_the_first_page_offers_it_and_throws_it_away_and_takes_it_back(
    qtbot: QtBot, tmp_path: Path, settings: Remembered
) -> None:
    window = window_on(qtbot, Desk(settings), settings, tmp_path / "journal")
    name = begun(qtbot, window.desk)
    window.desk.close_piece()
    start = window.page
    assert isinstance(start, StartPage)
    opens, away = start.unsaved[0]
    assert opens.plain_text() == bag().piece.title
    away.click()
    assert copies() == []
    assert isinstance(window.page, StartPage)
    assert window.page.unsaved == []
    window.said.action.click()
    assert copies() == [bag().piece]
    with qtbot.waitSignal(window.desk.piece_opened):
        window.page.unsaved[0][0].click()
    assert window.desk.opened is not None
    assert settings.piece == name
    window.close()


def test_the_place_of_the_knitter_is_kept_for_it_and_goes_with_it_to_its_file(
    qtbot: QtBot, tmp_path: Path, settings: Remembered
) -> None:
    journal = tmp_path / "knitting.sqlite3"
    window = window_on(qtbot, Desk(settings), settings, journal)
    name = begun(qtbot, window.desk)
    window.show_page(KNIT)
    assert window.knitting is not None
    assert window.knitting.is_kept
    for _ in range(3):
        window.knitting.confirm()
    window.close()
    again = window_on(qtbot, Desk(settings), settings, journal)
    with qtbot.waitSignal(again.desk.piece_opened):
        again.desk.open(name)
    again.show_page(KNIT)
    assert again.knitting is not None
    assert again.knitting.cursor == 3
    assert again.desk.save(tmp_path / "bag.piece.json")
    again.close()
    third = window_on(qtbot, Desk(settings), settings, journal)
    with qtbot.waitSignal(third.desk.piece_opened):
        third.desk.open(str(tmp_path / "bag.piece.json"))
    third.show_page(KNIT)
    assert third.knitting is not None
    assert third.knitting.cursor == 3
    third.close()
