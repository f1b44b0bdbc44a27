"""Work beside the window: what it brings back, and that nothing is destroyed there."""

from __future__ import annotations

import gc
import threading
import weakref
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bedview.ui.garbage import Collector
from bedview.ui.in_background import Errand


@pytest.fixture
def collector(qapp: QApplication) -> Iterator[Collector]:
    """The desktop's collector; afterwards Python collects as before."""
    collector = Collector(qapp)
    yield collector
    collector.stop()
    collector.deleteLater()


class _Ring(QObject):
    """An object of Qt's in a cycle, so that only the garbage collector finds it."""

    def __init__(self) -> None:
        super().__init__()
        self.itself = self


def dropped_ring(ended_on: list[int]) -> None:
    """Make a ring and lose it; the thread it ends on is noted."""
    weakref.finalize(_Ring(), lambda: ended_on.append(threading.get_ident()))


def much_garbage() -> int:
    """Make more objects at a time than Python makes without collecting."""
    return len([[] for _ in range(20 * gc.get_threshold()[0])])


def nothing(_: object) -> None:
    """Take no notice."""


def unwanted(brought: object) -> None:
    """Fail, for nothing was to be brought back this way."""
    pytest.fail(f"brought back: {brought}")


def test_it_brings_back_what_the_work_made(qtbot: QtBot) -> None:
    brought: list[tuple[int, int]] = []
    errand: Errand[int] = Errand(lambda made: brought.append((made, threading.get_ident())), unwanted)
    errand.start(threading.get_ident)
    qtbot.waitUntil(lambda: bool(brought))
    made_on, taken_on = brought[0]
    assert taken_on == threading.get_ident()
    assert made_on != taken_on


def test_it_brings_back_what_went_wrong(qtbot: QtBot) -> None:
    raised: list[Exception] = []
    errand: Errand[str] = Errand(nothing, raised.append)
    errand.start(lambda: Path("no such file").read_text(encoding="utf-8"))
    qtbot.waitUntil(lambda: bool(raised))
    assert isinstance(raised[0], FileNotFoundError)


def test_only_the_last_one_counts(qtbot: QtBot) -> None:
    brought: list[str] = []
    errand: Errand[str] = Errand(brought.append, unwanted)
    gate = threading.Event()

    def first() -> str:
        gate.wait()
        return "first"

    errand.start(first)
    errand.start(lambda: "second")
    qtbot.waitUntil(lambda: bool(brought))
    gate.set()
    errand.start(lambda: "third")
    qtbot.waitUntil(lambda: brought[-1] == "third")
    assert brought == ["second", "third"]


def test_garbage_is_not_collected_on_the_thread(qtbot: QtBot, collector: Collector) -> None:
    ended_on: list[int] = []
    done: list[int] = []
    errand: Errand[int] = Errand(done.append, unwanted)
    dropped_ring(ended_on)
    errand.start(much_garbage)
    qtbot.waitUntil(lambda: bool(done))
    assert ended_on == []
    # Here it may be found, and is, as soon as there is enough of it.
    much_kept: list[list[int]] = [[] for _ in range(2 * gc.get_threshold()[0])]
    collector.look()
    assert ended_on == [threading.get_ident()]
    assert much_kept


def test_without_the_collector_it_would_be(qtbot: QtBot) -> None:
    """The test above can fail: Python itself collects wherever it happens to be."""
    ended_on: list[int] = []
    done: list[int] = []
    gc.collect()
    errand: Errand[int] = Errand(done.append, unwanted)
    weakref.finalize(_PlainRing(), lambda: ended_on.append(threading.get_ident()))
    errand.start(much_garbage)
    qtbot.waitUntil(lambda: bool(done))
    assert len(ended_on) == 1
    assert ended_on[0] != threading.get_ident()


class _PlainRing:
    """A cycle without anything of Qt's, which may end on any thread."""

    def __init__(self) -> None:
        self.itself = self


def test_who_asked_may_go_before_the_work_is_done(qtbot: QtBot) -> None:
    ended_on: list[int] = []
    gate = threading.Event()

    def ask() -> Callable[[], bool]:
        """Ask, and forget that one asked; the work holds an object of Qt's."""
        held = QObject()
        weakref.finalize(held, lambda: ended_on.append(threading.get_ident()))

        def work() -> str:
            gate.wait()
            return held.objectName()

        errand: Errand[str] = Errand(unwanted, unwanted)
        errand.start(work)
        gone = weakref.ref(errand)
        return lambda: gone() is None

    is_gone = ask()
    qtbot.waitUntil(is_gone)
    gate.set()
    qtbot.waitUntil(lambda: bool(ended_on))
    assert ended_on == [threading.get_ident()]


def test_stopping_hands_it_back_to_python(qapp: QApplication) -> None:
    assert gc.isenabled()
    collector = Collector(qapp)
    assert not gc.isenabled()
    collector.stop()
    collector.deleteLater()
    assert gc.isenabled()
