"""A beginner at the first lessons, with the real window on a real (unseen) screen and real keys alone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.e2e.telling_program import TellingProgram, telling_program

# The program as it is, and beside it one that prints what the page says, for whoever cannot see it.
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
            view = getattr(page, "view", None)
            if not getattr(page, "ready", False):
                continue
            where = type(view).__name__ if view is not None else "lessons"
            if hasattr(view, "run") and hasattr(view.run, "name"):
                where = view.run.name
            bench = getattr(view, "bench", None)
            card = bench.card if bench is not None else getattr(view, "card", None)
            now = f"{where}|{card.text.text() if card is not None else ''}|"
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
sys.exit(desktop.run(None, "learn"))
"""
FIRST = "Tap a needle or drag it forward; draw along the bed to choose several. Then press Check."


@pytest.fixture
def window() -> Iterator[TellingProgram]:
    with telling_program(PROGRAM) as program:
        yield program


def type_needles(window: TellingProgram, first: str, last: str) -> None:
    """Choose a stretch by its names; a keyboard says a dash by its name."""
    window.press("n")
    for sign in f"{first}-{last}":
        window.press({"-": "minus"}.get(sign, sign.lower()))
    window.press("Return")


def test_the_first_lesson_is_done_wrong_then_right_by_keys_alone(window: TellingProgram) -> None:
    window.shows("lessons")
    # The keyboard is on the lesson to go on with.
    window.press("space")
    window.shows("four-positions", FIRST)
    type_needles(window, "L8", "L1")
    window.press("1")
    window.shows("four-positions", "L8 to L1 stand in working position.")
    type_needles(window, "R1", "R4")
    window.press("3")
    window.shows("four-positions", "R1 to R4 stand in hold.")
    window.press("c")
    window.shows(
        "four-positions",
        "Upper working is one step further forward than work. Not there yet: L4 to L1. "
        "L4 to L1 stand in working position.",
    )
    type_needles(window, "L4", "L1")
    window.press("2")
    window.shows("four-positions", "L4 to L1 stand in upper working.")
    window.press("c")
    window.shows(
        "four-positions",
        "All twelve stand where they should. How far a needle reaches out is its position; "
        "you will never need another sign.",
    )
    # The next lesson is offered, and taken.
    window.press("space")
    window.shows("first-rows", FIRST)
    window.press("Control_L", "q")
    assert window.ended() == 0


def test_rows_are_knitted_and_undone_by_keys_alone(window: TellingProgram) -> None:
    window.shows("lessons")
    for key in ("Tab", "Tab", "space"):
        window.press(key)
    window.shows("hold-cams", FIRST)
    window.press("h")
    window.shows("hold-cams", "The hold cams are on.")
    window.press("k")
    window.shows("hold-cams", "Row 5, to the right: L6 to R6 knitted.")
    window.press("Control_L", "z")
    window.shows("hold-cams", "Taken back.")
    window.press("Escape")
    window.shows("lessons")
    window.press("Control_L", "q")
    assert window.ended() == 0
