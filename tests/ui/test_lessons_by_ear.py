"""Every lesson by keys and by what a screen reader hears alone: after each move the words are the bed's.

What is heard is taken apart again and compared with a bed of the lesson beside it, which does the same moves.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtGui import QAccessible, QAccessibleInterface
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position, needle_name
from bedview.bed.state import BedState
from bedview.lessons.grading import solution_actions, started
from bedview.lessons.hands import perform
from bedview.lessons.lesson import Lesson
from bedview.lessons.lesson_file import lesson_names
from tests.ui.learning import do_by_keys, learn_page, lesson_view

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
