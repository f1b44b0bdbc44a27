"""Views of the page Learn with something to see in them, for pictures of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from bedview.bed.needles import Position, parse_needles
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.foretell_view import ForetellView
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.pages.learn_page import LearnPage


def _lesson(page: LearnPage, name: str) -> LessonView:
    page.open_lesson(name)
    assert isinstance(page.view, LessonView)
    return page.view


def _at_work(page: LearnPage) -> None:
    """Needles chosen, nothing done yet."""
    view = _lesson(page, "hold-cams")
    view.hands.choose(parse_needles("R1-R6", view.lesson.bed.needles))


def _missed(page: LearnPage) -> None:
    """The hold cams forgotten, and what the lesson says of it."""
    _at_work(page)
    assert isinstance(page.view, LessonView)
    view = page.view
    view.hands.place(Position.HOLD)
    view.hands.push()
    view.hands.push()
    view.check.click()


def _reached(page: LearnPage) -> None:
    """A task done."""
    view = _lesson(page, "carriage-side")
    view.hands.switch_cams()
    for needle in ("R6", "L6", "R5", "L5"):
        view.hands.choose(parse_needles(needle, view.lesson.bed.needles))
        view.hands.place(Position.HOLD)
        view.hands.push()
    view.check.click()


def _showing(page: LearnPage) -> None:
    """A right way half played."""
    view = _lesson(page, "both-ends")
    view.show_way(0)
    assert view.showing is not None
    for _ in range(5):
        view.showing.step_on()


def _long(page: LearnPage) -> None:
    """The longest task there is."""
    _lesson(page, "flat-bootee")


def _foretell(page: LearnPage) -> None:
    """A question with an answer half chosen."""
    page.foretell()
    assert isinstance(page.view, ForetellView)
    page.view.bed.stretch_chosen.emit(4, 8)


def _foretold(page: LearnPage) -> None:
    """That answer, and what came of it."""
    _foretell(page)
    assert isinstance(page.view, ForetellView)
    page.view.answer()


def _bench(page: LearnPage) -> None:
    """A gap made on the free bench, and why it came."""
    page.open_bench()
    assert isinstance(page.view, BenchView)
    hands = page.view.hands
    needles = hands.bench.timeline.bed.needles
    hands.choose(parse_needles("L8-R8", needles))
    hands.thread_yarn("main")
    hands.cast_on()
    hands.push()
    hands.push()
    hands.switch_cams()
    for position in (Position.HOLD, Position.UPPER):
        hands.choose(parse_needles("L8", needles))
        hands.place(position)
        hands.push()
        hands.push()
    hands.why_needle(parse_needles("L8", needles)[0])


VIEWS: Final[Mapping[str, Callable[[LearnPage], None]]] = {
    "lessons": LearnPage.show_overview,
    "at-work": _at_work,
    "missed": _missed,
    "reached": _reached,
    "showing": _showing,
    "long": _long,
    "foretell": _foretell,
    "foretold": _foretold,
    "bench": _bench,
}
"""What makes each view of the page, by its name."""
