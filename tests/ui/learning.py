"""Hands at the page Learn: everything by keys, as somebody does who sees nothing of the bed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position
from bedview.store.learners import Learners
from bedview.ui.desk import Desk
from bedview.ui.learn.bench_view import BenchView
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.lesson_view import LessonView
from bedview.ui.learn.tools import Tool
from bedview.ui.pages.learn_page import LearnPage
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered

DIGITS = {"out": Qt.Key.Key_0, "work": Qt.Key.Key_1, "upper": Qt.Key.Key_2, "hold": Qt.Key.Key_3}


class Clock:
    """A clock that is turned by hand."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


def learn_page(qtbot: QtBot, folder: Path, clock: Callable[[], datetime] | None = None) -> LearnPage:
    """The page as it is shown, with its lessons read."""
    theme = Theme(LookChoice.LIGHT)
    kept = remembered(folder)
    desk = Desk(kept)
    page = LearnPage(
        desk, theme, kept, Learners(folder / "learners"), clock or Clock(), folder / "bench.json"
    )
    theme.setParent(page)
    desk.setParent(page)
    qtbot.addWidget(page)
    theme.dress(page)
    page.resize(1280, 660)
    page.show()
    qtbot.waitExposed(page)
    qtbot.waitUntil(lambda: page.ready)
    # The window of the test before may only go now, and take the keyboard along.
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    return page


def lesson_view(page: LearnPage, name: str) -> LessonView:
    page.open_lesson(name)
    assert isinstance(page.view, LessonView)
    return page.view


def bench_view(page: LearnPage) -> BenchView:
    page.open_bench()
    assert isinstance(page.view, BenchView)
    return page.view


def press(key: Qt.Key | str, times: int = 1) -> None:
    """Press a key wherever the keyboard is."""
    for _ in range(times):
        widget = QApplication.focusWidget()
        assert widget is not None
        if isinstance(key, str):
            QTest.keyClicks(widget, key)
        else:
            QTest.keyClick(widget, key)


def choose(needles: str) -> None:
    """Choose needles by their names."""
    press("n")
    press(needles)
    press(Qt.Key.Key_Return)


def do_by_keys(view: LessonView | BenchView, item: Mapping[str, Any]) -> None:
    """Do an action of a lesson's file by keys alone."""
    match item["do"]:
        case "place":
            choose(item["needles"])
            press(DIGITS[item["position"]])
        case "cast_on" | "hang" as what:
            choose(item["needles"])
            press("e" if what == "cast_on" else "o")
        case "wrap":
            choose(item["needle"])
            press("w")
        case "hold_cams":
            press("h")
        case "cut":
            press("x")
        case "thread":
            _thread(view, item["yarn"])
        case "unpick":
            press("u", item["rows"])
        case "knit":
            press("k", item["rows"])


def _thread(view: LessonView | BenchView, yarn: str) -> None:
    """By its key; where there are several, out of the menu that the key opens."""
    yarns = [each.id for each in view.hands.bench.yarns]
    if len(yarns) == 1:
        press("t")
    else:
        menu = view.bench.tools.buttons[Tool.THREAD].menu()
        menu.actions()[yarns.index(yarn)].trigger()


def at_needle(bed: HandsBed, needle: int) -> QPoint:
    """Where the hook of a needle is painted."""
    layout = bed.bed_layout()
    y = layout.tip(Position(int(bed.scene.positions[needle])))
    return QPoint(round(layout.x_of(needle)), round(max(y, layout.gate)))


def drag(widget: QWidget, start: QPoint, end: QPoint) -> None:
    """Press, move on the way, and release."""
    QTest.mousePress(widget, Qt.MouseButton.LeftButton, pos=start)
    for step in range(1, 5):
        QTest.mouseMove(widget, start + (end - start) * step / 4)
    QTest.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=end)


def drag_to(bed: HandsBed, needle: int, position: Position) -> None:
    """Draw a needle to a position."""
    start = at_needle(bed, needle)
    layout = bed.bed_layout()
    now = layout.tip(Position(int(bed.scene.positions[needle])))
    drag(bed, start, start + QPoint(0, round(layout.tip(position) - now)))
