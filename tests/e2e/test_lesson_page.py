"""A lesson's page to take home, in a real browser: it opens at the task and steps through the right way."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium.webdriver import Chrome

from bedview.bed.needles import needle_name
from bedview.bed.state import BedState
from bedview.export.handout.lesson_page import lesson_page
from bedview.lessons.lesson import Lesson
from bedview.lessons.lesson_file import read_lesson
from bedview.lessons.shown_way import shown_way
from tests.e2e.browser import PHONE, TABLET, Page, browser, open_page, undisturbed

LETTERS = "owuh"


@pytest.fixture(scope="module")
def driver(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(autouse=True)
def nothing_goes_wrong(driver: Chrome) -> Iterator[None]:
    with undisturbed(driver):
        yield


def opened(driver: Chrome, name: str, tmp_path: Path, size: tuple[int, int] = TABLET) -> tuple[Page, Lesson]:
    lesson = read_lesson(name)
    path = tmp_path / f"{name}.html"
    path.write_text(lesson_page(lesson), encoding="utf-8")
    open_page(driver, path, size, clock=False)
    driver.execute_script("localStorage.clear()")
    return open_page(driver, path, size), lesson


def states_of(lesson: Lesson) -> list[BedState]:
    """The bed where the learner begins, and after each step of the way and each taking back."""
    found = []
    for leg in shown_way(lesson).legs:
        steps = leg.procedure.steps[leg.first :]
        first = steps[0].first_line - 1 if steps else leg.timeline.lines - 1
        found.append(leg.timeline.state_at(first))
        found += [leg.timeline.state_at(step.last_line) for step in steps]
    return found


@pytest.mark.parametrize("name", ["carriage-side", "cams-forgotten", "dropped-group", "first-rows"])
def test_each_step_shows_the_bed_of_the_way(name: str, driver: Chrome, tmp_path: Path) -> None:
    page, lesson = opened(driver, name, tmp_path)
    for state in states_of(lesson):
        shown = {needle: (position, loops) for needle, position, loops in page.read()["needles"]}
        for needle in range(lesson.bed.needles):
            found = shown.get(needle_name(needle, lesson.bed.needles), ("o", 0))
            assert found == (LETTERS[state.position[needle]], state.height[needle])
        assert f"counter {state.row}" in page.read()["bed"]
        page.forward()
    assert page.read()["acts"] == [lesson.done]


def test_a_row_taken_back_is_gone_from_the_fabric_too(driver: Chrome, tmp_path: Path) -> None:
    page, _lesson = opened(driver, "cams-forgotten", tmp_path)
    begun = page.read()
    assert begun["acts"] == ["Take the last row back, loop by loop."]
    assert begun["row"] == "before row 6 of 6", "five rows are knitted, one of them wrongly"
    fabric = page.drawn()[1]
    page.forward()
    undone = page.drawn()[1]
    assert undone != fabric
    assert page.read()["row"] == "row 5 of 6"
    # The bed before the wrong row was knitted hung the same fabric from its needles.
    page.back()
    page.back()
    before = page.drawn()[1]
    assert page.read()["acts"][-1].startswith("Knit to the")
    assert undone == before


def test_task_and_lesson_are_at_hand(driver: Chrome, tmp_path: Path) -> None:
    page, lesson = opened(driver, "carriage-side", tmp_path)
    task = page.driver.find_element("css selector", ".top .task")
    assert task.text == lesson.task
    button = page.button("list-button")
    assert button.text == "The lesson"
    button.click()
    text = page.driver.find_element("id", "list").text
    for said in (*lesson.says, lesson.task, "How the bed is set up", "Bring R6 to hold."):
        assert said in text
    assert "still on the needles" not in text


def test_start_again_comes_back_to_the_task(driver: Chrome, tmp_path: Path) -> None:
    page, _lesson = opened(driver, "carriage-side", tmp_path)
    begun = page.read()["step"]
    assert begun == 4, "four rows and the hand's work before the first of them are the set-up"
    page.forward()
    page.forward()
    page.button("again").click()
    assert page.read()["step"] == begun
    page.back()
    assert page.read()["step"] == begun - 1, "the set-up can be stepped through as well"


def test_links_to_rows_are_each_one_s_own(driver: Chrome, tmp_path: Path) -> None:
    page, _lesson = opened(driver, "cams-forgotten", tmp_path)
    names = page.ask("[...document.querySelectorAll('#list [id]')].map((each) => each.id)")
    assert len(names) == len(set(names))
    assert "row-5-2" in names
    steps = page.ask("[...document.querySelectorAll('#list a[data-step]')].map((each) => +each.dataset.step)")
    assert steps == sorted(steps)
    assert len(set(steps)) == len(steps)


@pytest.mark.parametrize("size", [PHONE, TABLET, (844, 390)])
def test_nothing_runs_out_of_the_window(size: tuple[int, int], driver: Chrome, tmp_path: Path) -> None:
    page, _lesson = opened(driver, "flat-bootee", tmp_path, size)
    assert page.ask("document.documentElement.scrollWidth <= innerWidth")
    acts = "document.getElementById('acts').getBoundingClientRect()"
    keys = "document.querySelector('.keys').getBoundingClientRect()"
    assert page.ask(f"{acts}.top >= 0 && {keys}.bottom <= innerHeight")
