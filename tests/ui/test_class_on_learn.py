"""What a class sees of Learn, and what a teacher takes out of it, on the window itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position, needle_index
from bedview.lessons.lesson_file import read_lesson
from bedview.ui.class_view.learn_source import LearnSource
from bedview.ui.class_view.view import ClassView
from bedview.ui.learn.class_menu import ClassMenu
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.pages.learn_page import LearnPage
from bedview.ui.theme import LookChoice, Theme
from tests.export.pdf import read_pdf
from tests.ui.learning import learn_page

R6 = needle_index("R6", 20)
LESSON = "carriage-side"


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> Iterator[LearnPage]:
    made = learn_page(qtbot, tmp_path)
    made.open_lesson(LESSON)
    yield made
    made.close()


@pytest.fixture
def view(qtbot: QtBot, page: LearnPage) -> Iterator[ClassView]:
    made = ClassView(LearnSource(page), Theme(LookChoice.LIGHT))
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    yield made
    made.close()


def lesson_of(page: LearnPage) -> LessonView:
    assert isinstance(page.view, LessonView)
    return page.view


# -- what the class sees ----------------------------------------------------------------------------------


def test_the_class_reads_the_task_and_follows_the_teacher_s_hands(
    qtbot: QtBot, page: LearnPage, view: ClassView
) -> None:
    assert view.words.text() == read_lesson(LESSON).task
    lesson_of(page).hands.move(R6, Position.HOLD)
    qtbot.waitUntil(lambda: view.bed.scene.positions[R6] == Position.HOLD)
    assert view.bed.bed_layout().turned
    assert not page.beds()[0].bed_layout().turned, "the teacher's own bed stays as it is"


def test_a_clicker_shows_the_right_way_step_by_step(qtbot: QtBot, page: LearnPage, view: ClassView) -> None:
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    qtbot.waitUntil(lambda: "Set the hold cams to on" in view.words.text())
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    qtbot.waitUntil(lambda: "Bring R6 to hold" in view.words.text())
    assert view.where.text() == "How it is done"
    QTest.keyClick(view, Qt.Key.Key_PageUp)
    qtbot.waitUntil(lambda: "Set the hold cams to on" in view.words.text())
    QTest.keyClick(view, Qt.Key.Key_PageUp)
    qtbot.waitUntil(lambda: view.words.text() == read_lesson(LESSON).task)
    assert lesson_of(page).showing is None


def test_the_verdict_is_told_to_the_class(qtbot: QtBot, page: LearnPage, view: ClassView) -> None:
    lesson_of(page).check.click()
    told = lesson_of(page).bench.card.told.text
    qtbot.waitUntil(lambda: told in view.words.text())


def test_another_lesson_or_a_question_is_followed(qtbot: QtBot, page: LearnPage, view: ClassView) -> None:
    page.open_lesson("hold-cams")
    qtbot.waitUntil(lambda: view.title.text() == read_lesson("hold-cams").title)
    page.foretell()
    qtbot.waitUntil(lambda: view.where.text() == "Foretell")
    assert "Which needles" in view.words.text()
    page.open_bench()
    qtbot.waitUntil(lambda: view.where.text() == "Free bench")
    page.show_overview()
    qtbot.waitUntil(lambda: view.words.text() == "Choose a lesson.")


def test_a_closed_view_listens_no_more(qtbot: QtBot, page: LearnPage) -> None:
    opened = ClassView(LearnSource(page), Theme(LookChoice.LIGHT))
    qtbot.addWidget(opened)
    opened.show()
    with qtbot.waitSignal(opened.destroyed):
        opened.close()
    lesson_of(page).hands.move(R6, Position.HOLD)
    lesson_of(page).check.click()
    page.open_lesson("hold-cams")


# -- what the teacher takes -------------------------------------------------------------------------------


@pytest.fixture
def menu(page: LearnPage) -> ClassMenu:
    return ClassMenu(page, page)


def choose(monkeypatch: pytest.MonkeyPatch, path: Path, kind: str = "") -> list[str]:
    """The next file dialog chooses a file; what it offered is noted."""
    offered: list[str] = []

    def ask(_parent: object, _title: str, name: str, kinds: str) -> tuple[str, str]:
        offered.extend((name, kinds))
        return str(path), kind or kinds.split(";;", maxsplit=1)[0]

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    return offered


def test_a_handout_is_written_on_the_paper_chosen(
    qtbot: QtBot, menu: ClassMenu, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered = choose(monkeypatch, tmp_path / "handout", "PDF on Letter (*.pdf)")
    with qtbot.waitSignal(menu.said, timeout=20_000) as said:
        menu.handout.trigger()
    assert said.args == ["Saved as handout.pdf."]
    assert offered[0] == "holding-on-the-carriage-s-side.pdf"
    with read_pdf((tmp_path / "handout.pdf").read_bytes()) as pdf:
        assert pdf.size_mm(0) == pytest.approx((215.9, 279.4), abs=0.2)


def test_a_page_is_written_to_take_home(
    qtbot: QtBot, menu: ClassMenu, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, tmp_path / "home.html")
    with qtbot.waitSignal(menu.said, timeout=20_000):
        menu.take_home.trigger()
    assert read_lesson(LESSON).title in (tmp_path / "home.html").read_text(encoding="utf-8")


def test_a_file_that_cannot_be_written_is_told(
    qtbot: QtBot, menu: ClassMenu, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, tmp_path / "nowhere" / "home.html")
    with qtbot.waitSignal(menu.said, timeout=20_000) as said:
        menu.take_home.trigger()
    assert said.args[0].startswith("Not saved: ")


def test_without_a_lesson_there_is_nothing_to_print(page: LearnPage, menu: ClassMenu) -> None:
    menu.refresh()
    assert menu.handout.isEnabled()
    page.open_bench()
    menu.refresh()
    assert not menu.handout.isEnabled()
    assert not menu.take_home.isEnabled()
    assert menu.class_view.isEnabled()


def test_the_lesson_offers_the_menu(page: LearnPage, menu: ClassMenu) -> None:
    page.open_lesson("hold-cams")
    assert menu.class_view in page.class_menu.actions()
    assert not lesson_of(page).more.isHidden()
