"""Every lesson by keys and by what a screen reader hears alone: after each move the words are the bed's.

What is heard is taken apart again and compared with a bed of the lesson beside it, which does the same moves.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position, needle_name
from bedview.bed.state import BedState
from bedview.lessons.grading import solution_actions, started
from bedview.lessons.hands import perform
from bedview.lessons.lesson import Lesson
from bedview.lessons.lesson_file import lesson_names
from bedview.ui.learn import message_card
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.tools import Tool
from tests.ui.learning import do_by_keys, learn_page, lesson_view, press

STANDS = {
    "out of work": Position.OUT,
    "working": Position.WORK,
    "upper working": Position.UPPER,
    "hold": Position.HOLD,
}
NAME, DESCRIPTION = QAccessible.Text.Name, QAccessible.Text.Description


def counted(text: str, what: str) -> int:
    """How many of something are heard: "one wrap", "3 loops of the wool"."""
    found = re.search(rf"(one|\d+) {what}s?\b", text)
    if found is None:
        return 0
    return 1 if found[1] == "one" else int(found[1])


def yarn_heard(text: str) -> str:
    found = re.search(r"loops? of ([^,]+)", text)
    return found[1] if found else ""


def assert_heard(bed: QAccessibleInterface, lesson: Lesson, state: BedState, yarns: list[str]) -> None:
    """Each needle by its name, and the machine in the bed's description."""
    for needle in range(lesson.bed.needles):
        cell = bed.child(needle)
        name, stands, *_borne = cell.text(NAME).split(", ")
        assert name == needle_name(needle, lesson.bed.needles)
        assert STANDS[stands] == state.position[needle]
        heard = cell.text(DESCRIPTION)
        assert counted(heard, "loop") == state.height[needle] - state.wraps[needle]
        assert counted(heard, "wrap") == counted(cell.text(NAME), "wrap") == state.wraps[needle]
        assert yarn_heard(heard) in ("", *yarns)
        assert bool(yarn_heard(heard)) == (state.height[needle] > state.wraps[needle])
    whole = bed.text(DESCRIPTION)
    assert f"carriage on the {state.carriage.value}" in whole
    assert f"hold cams {'on' if state.hold_cams else 'off'}" in whole
    feeder = f"{yarns[state.yarn]} in the feeder" if state.threaded else "no yarn in the feeder"
    assert feeder in whole
    assert whole.endswith(f"row {state.row}")


@pytest.mark.parametrize("name", list(lesson_names()))
def test_the_words_follow_every_move_of_a_lesson(qtbot: QtBot, tmp_path: Path, name: str) -> None:
    page = learn_page(qtbot, tmp_path)
    view = lesson_view(page, name)
    lesson = view.lesson
    yarns = [yarn.name or yarn.id for yarn in lesson.yarns]
    bed = QAccessible.queryAccessibleInterface(view.bench.bed)
    assert bed.childCount() == lesson.bed.needles
    timeline = started(lesson)
    assert_heard(bed, lesson, timeline.state, yarns)
    for item, action in zip(lesson.solutions[0].actions, solution_actions(lesson), strict=True):
        do_by_keys(view, dict(item))
        timeline = perform(timeline, action)
        assert_heard(bed, lesson, timeline.state, yarns)


# -- what is said by itself -------------------------------------------------------------------------------


@pytest.fixture
def announced(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What a reader is asked to say."""
    said: list[str] = []
    monkeypatch.setattr(message_card, "announce", lambda _widget, text: said.append(text))
    return said


def test_a_lesson_that_is_opened_is_read_out(qtbot: QtBot, tmp_path: Path, announced: list[str]) -> None:
    lesson = lesson_view(learn_page(qtbot, tmp_path), "carriage-side").lesson
    (heard,) = announced
    for text in (lesson.title, *lesson.says, lesson.task, "0 to 3 bring to a position"):
        assert text in heard


def test_a_question_is_read_out_and_so_is_the_next(
    qtbot: QtBot, tmp_path: Path, announced: list[str]
) -> None:
    page = learn_page(qtbot, tmp_path)
    page.foretell()
    view = page.view
    assert isinstance(view, ForetellView)
    for _ in range(2):
        assert view.question.text() in announced[-1]
        press(Qt.Key.Key_Return)
        assert announced[-1].startswith(("Right.", "Not quite."))
        press(Qt.Key.Key_Return)


def test_why_is_asked_once(qtbot: QtBot, tmp_path: Path, announced: list[str]) -> None:
    lesson_view(learn_page(qtbot, tmp_path), "carriage-side")
    press("?")
    assert announced[-1].startswith("Why? Row 4: ")


def test_buttons_are_named_by_what_stands_on_them(qtbot: QtBot, tmp_path: Path) -> None:
    view = lesson_view(learn_page(qtbot, tmp_path), "carriage-side")
    for button in (view.check, view.hint, view.show_me):
        assert button.accessibleName().startswith(button.plain_text())
    assert view.bench.tools.buttons[Tool.PUSH].accessibleName() == "Push the carriage to the left (key K)"
    press("k")
    assert view.bench.tools.buttons[Tool.PUSH].accessibleName() == "Push the carriage to the right (key K)"
