"""The class view with the real window on a real (unseen) screen and real keys, as a clicker sends them.

The program runs in its own process, which prints what stands on its windows whenever that changes.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.store.piece_file import write_piece
from tests.e2e.screen import LONGEST_WAIT_S, Hands, screen
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


class Windows:
    """The program's windows, as their keys and their words."""

    def __init__(self, hands: Hands, running: subprocess.Popen[str]) -> None:
        self.press = hands.press
        self._running = running
        self._lines: queue.Queue[str] = queue.Queue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self._running.stdout is not None
        for line in self._running.stdout:
            self._lines.put(line.rstrip("\n"))

    def show(self, wanted: str) -> None:
        """Wait until the window that has the keyboard says so."""
        seen: list[str] = []
        while wanted not in seen:
            try:
                seen.append(self._lines.get(timeout=LONGEST_WAIT_S))
            except queue.Empty:
                raise AssertionError(f"waited in vain for {wanted!r} after {seen}") from None

    def end(self) -> int:
        """Wait until the program has ended; its exit code."""
        code = self._running.wait(timeout=LONGEST_WAIT_S)
        self._reader.join()
        return code


@pytest.fixture
def windows(tmp_path: Path) -> Iterator[Windows]:
    path = tmp_path / "mooring.piece.json"
    write_piece(path, small_piece())
    with screen(WIDE, HIGH) as display:
        hands = Hands(display)
        running = subprocess.Popen(
            [sys.executable, "-c", PROGRAM, str(path)],
            env={**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"},
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            yield Windows(hands, running)
        finally:
            if running.poll() is None:
                running.terminate()
            running.wait(timeout=LONGEST_WAIT_S)
            if running.stdout is not None:
                running.stdout.close()
            hands.close()


def test_a_class_is_shown_a_row_by_clicker_and_left_by_escape(windows: Windows) -> None:
    whole = f"class {WIDE}x{HIGH}"
    windows.show("page rehearse")
    windows.press("F9")
    windows.show(f"{whole} turned 1. Thread the tar-black wool [0]")
    windows.press("Next")
    windows.show(f"{whole} turned 1. Knit to the right [0]")
    windows.press("Next")
    windows.show(f"{whole} turned 1. Bring R4 to hold [0]")
    windows.press("Right")
    windows.press("Return")
    windows.show(f"{whole} turned 1. Bring R4 to hold [1]")
    windows.press("t")
    windows.show(f"{whole} plain 1. Bring R4 to hold [1]")
    windows.press("Prior")
    windows.show(f"{whole} plain 1. Knit to the right [1]")
    windows.press("Escape")
    windows.show("page rehearse")
    windows.press("F9")
    windows.show(f"{whole} plain 1. Knit to the right [0]")
    windows.press("F9")
    windows.show("page rehearse")
    windows.press("Control_L", "q")
    assert windows.end() == 0
