from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog, QMenu
from pytestqt.qtbot import QtBot

from bedview.picture.look import DARK
from bedview.plan.piece import Piece
from bedview.store.piece_file import read_piece, write_piece
from bedview.ui.desk import TAKEN_UP, Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import KNIT, LEARN, PAGES, PLAN, REHEARSE
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import HOLD_R4, remembered, small_piece

CTRL = Qt.KeyboardModifier.ControlModifier


def made(qtbot: QtBot, kept: Remembered, page: str = "") -> MainWindow:
    theme, desk = Theme(kept.look, kept.text_scale), Desk(kept)
    window = MainWindow(theme, desk, kept, page)
    theme.setParent(window)
    desk.setParent(window)
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    return window


@pytest.fixture
def kept(tmp_path: Path) -> Remembered:
    return remembered(tmp_path)


@pytest.fixture
def window(qtbot: QtBot, kept: Remembered) -> Iterator[MainWindow]:
    opened = made(qtbot, kept)
    yield opened
    opened.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    target = tmp_path / "mooring.piece.json"
    write_piece(target, small_piece())
    return target


def load(qtbot: QtBot, window: MainWindow, name: str | Path) -> None:
    with qtbot.waitSignal(window.desk.piece_opened):
        window.desk.open(str(name))


def edit(window: MainWindow, title: str) -> None:
    opened = window.desk.opened
    assert opened is not None
    opened.edit(opened.piece.revised(title=title), "Title")


# -- opening ---------------------------------------------------------------------------------------------


def test_a_piece_is_opened_and_named(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    assert window.page_name == REHEARSE
    assert window.header.title.text() == "Mooring sample · saved"
    assert window.windowTitle() == "Mooring sample[*] – bedview"
    assert not window.isWindowModified()


def test_a_demo_is_opened_by_its_name(qtbot: QtBot, window: MainWindow) -> None:
    load(qtbot, window, "harbour-heel")
    assert window.header.title.text().endswith("· demo")


def test_what_cannot_be_read_gives_one_line_and_what_lay_open_stays(
    qtbot: QtBot, window: MainWindow, path: Path, tmp_path: Path
) -> None:
    load(qtbot, window, path)
    broken = tmp_path / "broken.piece.json"
    broken.write_text('{"format": 1,', encoding="utf-8")
    with qtbot.waitSignal(window.desk.trouble_met):
        window.desk.open(str(broken))
    assert window.said.isVisible()
    assert "broken.piece.json can't be opened" in window.said.text.text()
    assert window.desk.title == "Mooring sample"
    assert window.page_name == REHEARSE


def test_a_file_that_is_not_there_leads_to_the_pieces_that_are(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignals([window.desk.trouble_met, window.desk.piece_opened]):
        window.desk.open("nowhere.piece.json")
    assert window.page_name == ""
    assert window.said.isVisible()
    assert all(window.header.pills[name].isHidden() for name in PAGES)
    assert not window.header.pills[LEARN].isHidden()
    qtbot.waitUntil(lambda: bool(window.page and window.page.tiles))  # type: ignore[attr-defined]


def test_a_file_can_be_dropped_anywhere(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(path))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    copy = Qt.DropAction.CopyAction
    entering = QDragEnterEvent(QPoint(400, 300), copy, dropped, buttons, keys)
    window.dragEnterEvent(entering)
    assert entering.isAccepted()
    with qtbot.waitSignal(window.desk.piece_opened):
        window.dropEvent(QDropEvent(QPointF(400, 300), copy, dropped, buttons, keys))
    assert window.desk.title == "Mooring sample"


def test_a_piece_chosen_in_the_dialog_is_opened(
    qtbot: QtBot, window: MainWindow, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    with qtbot.waitSignal(window.desk.piece_opened):
        window.menu.open_wanted.emit()
    assert window.desk.title == "Mooring sample"


# -- pages -----------------------------------------------------------------------------------------------


def test_pages_are_reached_by_shortcut_and_by_pill(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    for key, name in ((Qt.Key.Key_1, PLAN), (Qt.Key.Key_3, KNIT), (Qt.Key.Key_2, REHEARSE)):
        QTest.keyClick(window, key, CTRL)
        assert window.page_name == name
        assert window.header.pills[name].isChecked()
    window.header.pills[PLAN].click()
    assert window.page_name == PLAN


def test_keys_go_to_the_page_wherever_the_keyboard_is(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    window.header.menu_button.setFocus()
    QTest.keyClick(window.header.menu_button, Qt.Key.Key_Right)
    assert window.rehearsal is not None
    assert window.rehearsal.cursor == 1
    # A key that nobody takes ends there.
    QTest.keyClick(window.header.menu_button, Qt.Key.Key_Q)
    assert window.rehearsal.cursor == 1


def test_show_it_leads_from_plan_to_the_bed(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    window.show_page(PLAN)
    window.page.step_wanted.emit(HOLD_R4)  # type: ignore[union-attr]
    assert window.page_name == REHEARSE
    assert window.rehearsal is not None
    assert window.rehearsal.cursor == HOLD_R4


def test_the_whole_screen_is_the_knitters(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    window.show_page(KNIT)
    window.showFullScreen()
    qtbot.waitUntil(window.header.isHidden)
    window.showNormal()
    qtbot.waitUntil(lambda: not window.header.isHidden())


# -- saving and undo -------------------------------------------------------------------------------------


def test_an_edit_shows_in_the_title_and_is_undone_from_anywhere(
    qtbot: QtBot, window: MainWindow, path: Path
) -> None:
    load(qtbot, window, path)
    edit(window, "Anchor sample")
    assert window.header.title.text() == "Anchor sample · not saved yet"
    assert window.isWindowModified()
    assert window.menu.undo.text() == "Undo: Title"
    QTest.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert window.header.title.text() == "Mooring sample · saved"
    assert window.menu.redo.isEnabled()


def test_saving_writes_the_file(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    edit(window, "Anchor sample")
    QTest.keyClick(window, Qt.Key.Key_S, CTRL)
    assert read_piece(path).title == "Anchor sample"
    assert window.header.title.text() == "Anchor sample · saved"


def test_a_demo_is_saved_to_a_file_of_ones_own(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load(qtbot, window, "harbour-heel")
    target = tmp_path / "mine.piece.json"
    proposed: list[str] = []

    def choose(_parent: object, _title: str, start: str, _kinds: str) -> tuple[str, str]:
        proposed.append(start)
        return str(target), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", choose)
    window.save()
    assert proposed == ["harbour-heel--wrapped-by-the-pass.piece.json"]
    assert isinstance(read_piece(target), Piece)
    assert window.header.title.text().endswith("· saved")


def test_a_file_that_cannot_be_written_gives_a_line(
    qtbot: QtBot, window: MainWindow, path: Path, tmp_path: Path
) -> None:
    load(qtbot, window, path)
    edit(window, "Anchor sample")
    assert not window.desk.save(tmp_path / "no such folder" / "x.piece.json")
    assert window.said.isVisible()
    assert window.header.title.text() == "Anchor sample · not saved yet"


def test_unsaved_edits_outlive_the_window(qtbot: QtBot, kept: Remembered, path: Path) -> None:
    first = made(qtbot, kept)
    load(qtbot, first, path)
    edit(first, "Anchor sample")
    first.close()
    second = made(qtbot, kept)
    load(qtbot, second, path)
    assert second.desk.title == "Anchor sample"
    assert second.said.isVisible()
    assert second.menu.undo.text() == f"Undo: {TAKEN_UP}"
    second.said.action.click()
    assert second.desk.title == "Mooring sample"
    assert not second.said.isVisible()
    second.close()


# -- what is remembered ----------------------------------------------------------------------------------


def test_the_window_comes_back_as_it_was_left(qtbot: QtBot, kept: Remembered, path: Path) -> None:
    first = made(qtbot, kept)
    first.resize(780, 600)
    load(qtbot, first, path)
    first.show_page(PLAN)
    first.close()
    assert kept.piece == str(path)
    assert kept.recent == [path]
    second = made(qtbot, kept)
    assert (second.width(), second.height()) == (780, 600)
    load(qtbot, second, kept.piece)
    assert second.page_name == PLAN
    second.close()


def test_the_page_asked_for_goes_before_the_one_remembered(
    qtbot: QtBot, kept: Remembered, path: Path
) -> None:
    kept.page = PLAN
    window = made(qtbot, kept, page=REHEARSE)
    load(qtbot, window, path)
    assert window.page_name == REHEARSE
    window.close()


def test_look_and_text_size_are_chosen_in_the_menu_and_kept(window: MainWindow, kept: Remembered) -> None:
    look_menu = next(each for each in window.menu.findChildren(QMenu) if each.title() == "Look")
    dark = next(action for action in look_menu.actions() if action.text() == "Dark")
    dark.trigger()
    assert DARK.paper in window.styleSheet()
    assert kept.look is LookChoice.DARK
    QTest.keyClick(window, Qt.Key.Key_Plus, CTRL)
    assert kept.text_scale == 1.15
    QTest.keyClick(window, Qt.Key.Key_0, CTRL)
    assert kept.text_scale == 1.0


def test_the_piece_is_put_away_and_the_demos_are_shown(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    window.desk.close_piece()
    assert window.page_name == ""
    assert window.windowTitle() == "bedview"
    qtbot.waitUntil(lambda: bool(window.page and window.page.tiles))  # type: ignore[attr-defined]


def test_recent_pieces_are_listed_and_opened(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    load(qtbot, window, path)
    window.desk.close_piece()
    window.menu._list_recent()
    again = window.menu._recent.actions()
    assert [action.text() for action in again] == ["mooring"]
    with qtbot.waitSignal(window.desk.piece_opened):
        again[0].trigger()
    assert window.desk.title == "Mooring sample"
