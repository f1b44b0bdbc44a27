"""A tap paints one needle again and leaves the rest; what is on screen is what a whole picture would show."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QImage, QPaintEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from typing_extensions import override

from bedview.bed.needles import Position
from bedview.picture.bed_scene import BedScene, Touch, TouchKind, empty_scene
from bedview.ui.learn.hands_bed import HandsBed
from bedview.ui.learn.repainting import moved_needles
from bedview.ui.pages.learn_page import LearnPage
from tests.ui.learning import at_needle, learn_page, lesson_view

ROUNDED = 2
"""Of 255: lines that are cut at the edge of a part may round otherwise."""
LESSONS = ("four-positions", "carriage-side", "scrap-off", "flat-bootee")


class Painted(QObject):
    """How wide the bed was painted, each time."""

    def __init__(self, bed: HandsBed) -> None:
        super().__init__(bed)
        self.widths: list[int] = []
        bed.installEventFilter(self)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QPaintEvent):
            self.widths.append(event.rect().width())
        return False


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> LearnPage:
    return learn_page(qtbot, tmp_path)


def on_screen(page: LearnPage) -> QImage:
    """What the window has painted up to now, part by part."""
    return page.screen().grabWindow(page.winId()).toImage()


def apart(one: QImage, other: QImage) -> int:
    """How far two pictures are apart where they are furthest, of 255."""
    pixels = [
        np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)[..., :3].astype(int)
        for image in (one, other)
    ]
    return int(np.abs(pixels[0] - pixels[1]).max())


def settle(qtbot: QtBot, page: LearnPage) -> None:
    qtbot.waitUntil(lambda: page.settled)
    QApplication.processEvents()


@pytest.mark.parametrize("name", LESSONS)
@pytest.mark.parametrize("turned", [False, True])
def test_what_is_painted_in_parts_is_the_whole_picture(
    qtbot: QtBot, page: LearnPage, name: str, turned: bool
) -> None:
    bed = lesson_view(page, name).bench.bed
    if turned:
        page.turn_round()
    settle(qtbot, page)
    middle = bed.scene.needles // 2
    for needle in (middle, middle, middle, middle - 5, middle + 3, middle, middle + 4, middle + 4, 0):
        QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=at_needle(bed, needle))
        settle(qtbot, page)
        assert apart(on_screen(page), page.grab().toImage()) <= ROUNDED


def test_a_tap_paints_a_few_columns(qtbot: QtBot, page: LearnPage) -> None:
    bed = lesson_view(page, "carriage-side").bench.bed
    needle = bed.scene.needles // 2 + 3
    bed.go_to(needle)
    settle(qtbot, page)
    painted = Painted(bed)
    QTest.mouseClick(bed, Qt.MouseButton.LeftButton, pos=at_needle(bed, needle))
    settle(qtbot, page)
    assert bed.scene.positions[needle] == Position.UPPER
    assert painted.widths
    assert max(painted.widths) < bed.width() / 4


def test_beds_of_the_page_paint_their_tiles_once(page: LearnPage) -> None:
    first = lesson_view(page, "carriage-side").bench.bed._cache
    assert lesson_view(page, "far-side").bench.bed._cache is first


# -- what changed -----------------------------------------------------------------------------------------


def moved(scene: BedScene, *needles: int) -> BedScene:
    positions = scene.positions.copy()
    positions[list(needles)] = Position.HOLD
    return replace(scene, positions=positions)


def test_needles_that_moved_are_all_that_changed() -> None:
    scene = empty_scene(8)
    assert moved_needles(scene, moved(scene, 1, 6)) == (1, 6)
    assert moved_needles(scene, scene) == ()


def test_anything_else_that_changed_calls_for_the_whole_picture() -> None:
    scene = empty_scene(8)
    loops = scene.loops.copy()
    loops[3] = 1
    for other in (
        replace(scene, loops=loops),
        replace(scene, hold_cams=True),
        replace(scene, row=1),
        replace(scene, touches=(Touch(TouchKind.POINT, (2,)),)),
        empty_scene(10),
    ):
        assert moved_needles(scene, other) is None
        assert moved_needles(other, scene) is None
