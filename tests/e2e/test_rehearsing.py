"""From a file to the last row of a rehearsal, with the real window on a real (unseen) screen and real keys.

The window runs in its own process, which prints where it stands whenever that changes; this one presses keys.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.store.piece_file import write_piece
from tests.e2e.telling_program import TellingProgram, telling_program
from tests.ui.desktop import HOLD_R4, STEPS, small_piece

# The program as it is, and beside it one that prints what the window shows, for whoever cannot see it.
PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from bedview.ui import app as desktop

told = []

def tell():
    for window in QApplication.topLevelWidgets():
        if isinstance(window, desktop.MainWindow) and window.isActiveWindow():
            page = window.page
            words = getattr(page, "words", None)
            outcome = getattr(page, "outcome", None)
            shown = outcome.heading.text() if outcome is not None and outcome.isVisible() else ""
            now = f"{window.page_name}|{words.sentence if words else ''}|{shown}"
            if told[-1:] != [now]:
                told.append(now)
                print(now, flush=True)

def opened(*arguments):
    window = real(*arguments)
    timer = QTimer(window)
    timer.timeout.connect(tell)
    timer.start(20)
    window.activateWindow()
    return window

real, desktop.open_window = desktop.open_window, opened
sys.exit(desktop.run(sys.argv[1], "plan"))
"""


@pytest.fixture
def window(tmp_path: Path) -> Iterator[TellingProgram]:
    path = tmp_path / "mooring.piece.json"
    write_piece(path, small_piece())
    with telling_program(PROGRAM, str(path)) as program:
        yield program


def test_from_the_file_to_the_last_row(window: TellingProgram) -> None:
    window.shows("plan")
    window.press("Control_L", "2")
    window.shows(
        "rehearse",
        "Thread the tar-black wool. Cast on L4 to R4 with e-wraps, ending at the right. "
        "Set the hold cams to on. Knit to the left.",
    )
    window.press("Right")
    window.shows("rehearse", "Knit to the right.")
    window.press("Right")
    window.shows("rehearse", "Bring R4 to hold, knit to the left.")
    for _ in range(STEPS - HOLD_R4):
        window.press("Right")
    window.shows("rehearse", "That was the last row.")
    window.press("Home")
    window.press("space")
    window.shows("rehearse", "Bring R4 to hold, knit to the left.")
    window.press("End")
    window.shows("rehearse", "That was the last row.")
    window.press("Control_L", "q")
    assert window.ended() == 0


def test_a_mistake_is_slipped_in_and_taken_back_by_keyboard_alone(window: TellingProgram) -> None:
    window.shows("plan")
    window.press("Control_L", "2")
    window.press("Right")
    window.press("Right")
    window.shows("rehearse", "Bring R4 to hold, knit to the left.")
    # From the page itself the first thing reached is the first mistake.
    window.press("Tab")
    window.press("space")
    window.shows("rehearse", "Bring R4 to hold, knit to the left.", "What if the hold cams are off?")
    window.press("Escape")
    window.shows("rehearse", "Bring R4 to hold, knit to the left.")
    window.press("Control_L", "q")
    assert window.ended() == 0
