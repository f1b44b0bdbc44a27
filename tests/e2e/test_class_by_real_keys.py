"""The class view with the real window on a real (unseen) screen and real keys, as a clicker sends them.

The program runs in its own process, which prints what stands on its windows whenever that changes.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.store.piece_file import write_piece
from tests.e2e.telling_program import TellingProgram, telling_program
from tests.ui.desktop import small_piece

WIDE, HIGH = 1280, 800
PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from bedview.ui import app as desktop
from bedview.ui.class_view.view import ClassView

told = []

def tell():
    if QApplication.activeWindow() is None:
        # Nobody manages windows here: the keyboard is given by hand, once there is a window to give it to.
        for window in windows(desktop.MainWindow):
            window.activateWindow()
    lines = [f"page {each.page_name}" for each in windows(desktop.MainWindow) if each.isActiveWindow()]
    for view in windows(ClassView):
        if not view.isActiveWindow():
            continue
        first = (view.words.text().splitlines() or [""])[0]
        side = "turned" if view.bed.bed_layout().turned else "plain"
        lines.append(f"class {view.width()}x{view.height()} {side} {first} [{len(view.pointing.needles)}]")
    for line in lines:
        if told[-1:] != [line]:
            told.append(line)
            print(line, flush=True)

def windows(kind):
    return [each for each in QApplication.topLevelWidgets() if isinstance(each, kind) and each.isVisible()]

def opened(*arguments):
    window = real(*arguments)
    timer = QTimer(window)
    timer.timeout.connect(tell)
    timer.start(20)
    return window

real, desktop.open_window = desktop.open_window, opened
sys.exit(desktop.run(sys.argv[1], "rehearse"))
"""


@pytest.fixture
def windows(tmp_path: Path) -> Iterator[TellingProgram]:
    path = tmp_path / "mooring.piece.json"
    write_piece(path, small_piece())
    with telling_program(PROGRAM, str(path), size=(WIDE, HIGH)) as program:
        yield program


def test_a_class_is_shown_a_row_by_clicker_and_left_by_escape(windows: TellingProgram) -> None:
    whole = f"class {WIDE}x{HIGH}"
    windows.tells("page rehearse")
    windows.press("F9")
    windows.tells(f"{whole} turned 1. Thread the tar-black wool [0]")
    windows.press("Next")
    windows.tells(f"{whole} turned 1. Knit to the right [0]")
    windows.press("Next")
    windows.tells(f"{whole} turned 1. Bring R4 to hold [0]")
    windows.press("Right")
    windows.press("Return")
    windows.tells(f"{whole} turned 1. Bring R4 to hold [1]")
    windows.press("t")
    windows.tells(f"{whole} plain 1. Bring R4 to hold [1]")
    windows.press("Prior")
    windows.tells(f"{whole} plain 1. Knit to the right [1]")
    windows.press("Escape")
    windows.tells("page rehearse")
    windows.press("F9")
    windows.tells(f"{whole} plain 1. Knit to the right [0]")
    windows.press("F9")
    windows.tells("page rehearse")
    windows.press("Control_L", "q")
    assert windows.ended() == 0
