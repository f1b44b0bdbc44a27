"""The menu's other one of the pair: mirrored, with what was noted of the first."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.plan.mirror import mirror_piece
from bedview.plan.starters import find_starter
from bedview.session.really_knitted import Change
from bedview.session.record import Record
from bedview.store.journal import Journal
from bedview.store.piece_file import write_piece
from bedview.ui.desk import Desk
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import FINISH
from bedview.ui.theme import Theme
from tests.ui.desktop import remembered

MITT = find_starter("mitt").make({"size": "0-1y", "stitches": 15, "rows": 21, "needles": 110, "pitch": 9})
BOTH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    kept = remembered(tmp_path)
    theme, desk = Theme(kept.look, kept.text_scale), Desk(kept)
    opened = MainWindow(theme, desk, kept, FINISH, tmp_path / "journal.sqlite3")
    theme.setParent(opened)
    desk.setParent(opened)
    qtbot.addWidget(opened)
    opened.show()
    qtbot.waitExposed(opened)
    yield opened
    opened.close()


def load(qtbot: QtBot, window: MainWindow, path: Path) -> None:
    with qtbot.waitSignal(window.desk.piece_opened):
        window.desk.open(str(path))


def test_the_other_mitt_is_mirrored(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    assert not window.menu.other.isEnabled()
    path = tmp_path / "mitt.piece.json"
    write_piece(path, MITT)
    load(qtbot, window, path)
    QTest.keyClick(window, Qt.Key.Key_P, BOTH)
    opened = window.desk.opened
    assert opened is not None
    assert opened.path is None
    assert opened.title == f"{MITT.title}, the second"
    assert opened.piece.segments == mirror_piece(MITT).segments
    assert opened.piece.seams == mirror_piece(MITT).seams
    assert "left and right exchanged" in window.said.text.text()


def test_what_was_noted_of_the_first_stands_in_the_other(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    path = tmp_path / "mitt.piece.json"
    write_piece(path, MITT)
    with Journal(tmp_path / "journal.sqlite3") as journal:
        Record(journal, path).keep_changes([Change(step=4, remark="the yarn ran thin here")])
    load(qtbot, window, path)
    window.menu.other.trigger()
    opened = window.desk.opened
    assert opened is not None
    assert "the yarn ran thin here" in str(opened.piece.to_document())
    assert "what you noted of the first" in window.said.text.text()
    assert opened.piece.made_by is None or opened.piece.made_by.mirrored
