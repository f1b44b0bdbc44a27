"""From a blank start to a sheet on disk without a pointer: each step is a key where the keyboard is."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import PLAN
from bedview.ui.pages.new_page import NewPage
from bedview.ui.parts.buttons import Button
from bedview.ui.plan.entries import TextEntry
from bedview.ui.printing.print_page import PrintPage
from tests.export.pdf import read_pdf
from tests.ui.desktop import remembered
from tests.ui.test_main_window import made

KEYS = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
MOST_TABS = 80
LONG_MS = 20_000


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    opened = made(qtbot, remembered(tmp_path))
    opened.desk.close_piece()
    opened.activateWindow()
    qtbot.waitUntil(opened.isActiveWindow)
    yield opened
    opened.close()


def at_keyboard() -> QWidget:
    """The widget that has the keyboard; it must be there to be seen."""
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.isVisible()
    return focused


def press(key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(at_keyboard(), key, keys)
    # What a key has made comes into view before the next one.
    QApplication.processEvents()


def tab_to(wanted: Callable[[QWidget], bool]) -> QWidget:
    """Press Tab until the keyboard is where it is wanted."""
    for _ in range(MOST_TABS):
        if wanted(at_keyboard()):
            return at_keyboard()
        press(KEYS.Key_Tab)
    raise AssertionError("never reached by Tab")


def says(words: str) -> Callable[[QWidget], bool]:
    return lambda widget: isinstance(widget, Button) and widget.plain_text() == words


def answer_file_dialog(path: Path, answered: list[str]) -> QTimer:
    """Type a path into the next file dialog, and press Return."""
    timer = QTimer()
    timer.setInterval(10)

    def answer() -> None:
        dialog = QApplication.activeModalWidget()
        focused = QApplication.focusWidget()
        if not isinstance(dialog, QFileDialog) or focused is None or not dialog.isAncestorOf(focused):
            return
        timer.stop()
        QTest.keyClick(at_keyboard(), KEYS.Key_A, CTRL)
        QTest.keyClicks(at_keyboard(), str(path))
        answered.append(str(path))
        QTest.keyClick(at_keyboard(), KEYS.Key_Return)

    timer.timeout.connect(answer)
    timer.start()
    return timer


@pytest.mark.qt_log_ignore("This plugin does not support raise", "This plugin does not support grabbing")
def test_from_a_blank_start_to_a_sheet_on_disk(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    # A new piece: the second of the starters, its first measure typed over.
    press(KEYS.Key_N, CTRL)
    new = window.page
    assert isinstance(new, NewPage)
    press(KEYS.Key_Down)
    assert list(new.choices.values())[1] is at_keyboard()
    field = tab_to(lambda widget: isinstance(widget, TextEntry))
    assert new.isAncestorOf(field)
    tab_to(says("Make it"))
    press(KEYS.Key_Return)
    qtbot.waitUntil(lambda: window.page_name == PLAN, timeout=LONG_MS)
    opened = window.desk.opened
    assert opened is not None
    # Its sheet, with the questions for a class besides.
    press(KEYS.Key_P, CTRL)
    page = window.page
    assert isinstance(page, PrintPage)
    qtbot.waitUntil(page.print.isEnabled, timeout=LONG_MS)
    plain = page.view.count
    tab_to(lambda widget: getattr(widget, "text", str)() == "Questions for a class")
    press(KEYS.Key_Space)
    qtbot.waitUntil(lambda: page.view.count > plain, timeout=LONG_MS)
    for _ in range(page.view.count - 1):
        press(KEYS.Key_PageDown)
    assert page.view.current == page.view.count - 1
    tab_to(says("Save as PDF…"))
    answered: list[str] = []
    path = tmp_path / "sheet.pdf"
    timer = answer_file_dialog(path, answered)
    press(KEYS.Key_Return)
    assert answered == [str(path)]
    assert not timer.isActive()
    # A window manager gives the keyboard back when a dialog closes; here there is none.
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    assert says("Save as PDF…")(at_keyboard())
    qtbot.waitUntil(lambda: page.told.text() == "Saved: sheet.pdf", timeout=LONG_MS)
    with read_pdf(path.read_bytes()) as pdf:
        assert pdf.pages == page.view.count
        assert "".join(opened.title.split()) in "".join(pdf.text(0).split())
        last = "".join(pdf.text(pdf.pages - 1).split())
    assert f"page{page.view.count}of{page.view.count}" in last
    # And back to the plan, where the keyboard still is somewhere.
    press(KEYS.Key_Escape)
    assert window.page_name == PLAN
    at_keyboard()


def test_the_keyboard_is_never_lost_while_tabbing_round(window: MainWindow) -> None:
    press(KEYS.Key_N, CTRL)
    new = window.page
    assert isinstance(new, NewPage)
    buttons = {new.make, new.away, *new.choices.values()}
    press(KEYS.Key_Down)
    reached: list[QWidget] = []
    while at_keyboard() not in reached:
        reached.append(at_keyboard())
        press(KEYS.Key_Tab)
    # Measures come before what is made of them.
    assert isinstance(reached[2], TextEntry)
    assert 2 < reached.index(new.make) < reached.index(new.away)
    # Choices are one group: Tab enters it, arrows go through it.
    assert set(reached) & set(new.choices.values())
    assert all(widget.accessibleName() for widget in buttons)
    press(KEYS.Key_Escape)
    assert not isinstance(window.page, NewPage)
    at_keyboard()
