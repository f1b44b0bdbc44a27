from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.bed.needles import Position
from bedview.picture.bed_scene import View
from bedview.picture.look import DARK
from bedview.ui.bed_widget import BedWidget
from tests.picture.examples import standing

NO_KEY = Qt.KeyboardModifier.NoModifier
SCENE = standing("owwwwwhhho", loops="0111111110")


@pytest.fixture
def bed(qtbot: QtBot) -> Iterator[BedWidget]:
    widget = BedWidget(SCENE, interactive=True)
    qtbot.addWidget(widget)
    widget.resize(1000, 390)
    widget.show()
    qtbot.waitExposed(widget)
    yield widget
    widget.close()


def point(bed: BedWidget, needle: int, position: Position = Position.WORK) -> QPoint:
    """A point on a needle, at the height of a position's tip."""
    layout = bed.bed_layout()
    y = layout.tip(position)
    return QPoint(round(layout.x_of(needle)), round(layout.height - y if layout.turned else y))


@pytest.mark.parametrize("turned", [False, True])
def test_a_click_names_the_needle(qtbot: QtBot, bed: BedWidget, turned: bool) -> None:
    bed.show_scene(replace(SCENE, view=View(turned=turned)))
    for needle in (0, 4, 9):
        with qtbot.waitSignal(bed.needle_pressed) as said:
            QTest.mouseClick(bed, Qt.MouseButton.LeftButton, NO_KEY, point(bed, needle))
        assert said.args == [needle]


@pytest.mark.parametrize("turned", [False, True])
def test_a_needle_can_be_drawn_forward(qtbot: QtBot, bed: BedWidget, turned: bool) -> None:
    bed.show_scene(replace(SCENE, view=View(turned=turned)))
    live: list[tuple[int, int]] = []
    bed.needle_dragged.connect(lambda needle, position: live.append((needle, position)))
    QTest.mousePress(bed, Qt.MouseButton.LeftButton, NO_KEY, point(bed, 2))
    QTest.mouseMove(bed, point(bed, 2, Position.UPPER))
    QTest.mouseMove(bed, point(bed, 2, Position.HOLD))
    with qtbot.assertNotEmitted(bed.needle_pressed), qtbot.waitSignal(bed.needle_dropped) as said:
        QTest.mouseRelease(bed, Qt.MouseButton.LeftButton, NO_KEY, point(bed, 2, Position.HOLD))
    assert live == [(2, Position.UPPER), (2, Position.HOLD)]
    assert said.args == [2, Position.HOLD]


def test_hovering_tells_each_needle_once(bed: BedWidget) -> None:
    told: list[int] = []
    bed.needle_hovered.connect(told.append)
    for needle in (3, 3, 4):
        QTest.mouseMove(bed, point(bed, needle))
    QTest.mouseMove(bed, QPoint(2, 2))
    assert told == [3, 4, -1]


def test_the_keyboard_walks_along_the_bed(qtbot: QtBot, bed: BedWidget) -> None:
    bed.setFocus()
    QTest.keyClick(bed, Qt.Key.Key_Home)
    told: list[int] = []
    bed.needle_focused.connect(told.append)
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_End, Qt.Key.Key_Right):
        QTest.keyClick(bed, key)
    assert told == [1, 2, 1, 9]
    with qtbot.waitSignal(bed.needle_pressed) as said:
        QTest.keyClick(bed, Qt.Key.Key_Return)
    assert said.args == [9]


def test_the_keyboard_moves_a_needle_one_position(qtbot: QtBot, bed: BedWidget) -> None:
    bed.setFocus()
    QTest.keyClick(bed, Qt.Key.Key_Home)
    with qtbot.assertNotEmitted(bed.needle_dropped):
        QTest.keyClick(bed, Qt.Key.Key_Up)
    with qtbot.waitSignal(bed.needle_dropped) as said:
        QTest.keyClick(bed, Qt.Key.Key_Down)
    assert said.args == [0, Position.WORK]


def test_a_quiet_bed_leaves_keys_to_its_page(qtbot: QtBot) -> None:
    bed = BedWidget(SCENE)
    qtbot.addWidget(bed)
    bed.resize(800, 300)
    assert bed.focusPolicy() == Qt.FocusPolicy.NoFocus
    with qtbot.assertNotEmitted(bed.needle_focused), qtbot.assertNotEmitted(bed.needle_pressed):
        for key in (Qt.Key.Key_Right, Qt.Key.Key_Return, Qt.Key.Key_Space):
            QTest.keyClick(bed, key)


def test_a_reader_hears_the_bed_and_every_needle(bed: BedWidget) -> None:
    seen = QAccessible.queryAccessibleInterface(bed)
    assert seen.role() == QAccessible.Role.List
    assert seen.text(QAccessible.Text.Name) == "The bed"
    assert seen.text(QAccessible.Text.Description).startswith(
        "L4 to R1 working, R2 to R4 hold, carriage on the right"
    )
    assert seen.childCount() == 10
    names = [seen.child(column).text(QAccessible.Text.Name) for column in range(10)]
    assert names[0] == "L5, out of work, no loop"
    assert names[8] == "R4, hold, one loop"
    cell = seen.child(3)
    assert seen.indexOfChild(cell) == 3
    assert bed.rect().contains(bed.mapFromGlobal(cell.rect().center()))
    assert (
        seen.childAt(cell.rect().center().x(), cell.rect().center().y()).text(QAccessible.Text.Name)
        == names[3]
    )
    assert seen.child(10) is None


def test_a_reader_can_ask_a_needle_for_its_yarn(bed: BedWidget) -> None:
    seen = QAccessible.queryAccessibleInterface(bed)
    assert seen.child(8).text(QAccessible.Text.Description) == "one loop of sea blue"
    assert seen.child(0).text(QAccessible.Text.Description) == ""


def test_a_reader_hears_the_bed_from_the_side_it_is_seen_from(bed: BedWidget) -> None:
    bed.show_scene(replace(SCENE, view=View(turned=True)))
    seen = QAccessible.queryAccessibleInterface(bed)
    assert seen.child(0).text(QAccessible.Text.Name).startswith("R5,")
    cells = [seen.child(column).rect().center().x() for column in range(10)]
    assert cells == sorted(cells)


def test_a_reader_is_told_when_the_bed_has_changed(bed: BedWidget, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[QAccessible.Event, int]] = []
    monkeypatch.setattr(QAccessible, "isActive", lambda: True)
    monkeypatch.setattr(
        QAccessible, "updateAccessibility", lambda event: told.append((event.type(), event.child()))
    )
    bed.setFocus()
    bed.show_scene(standing("hhhhhhhhhh"))
    assert (QAccessible.Event.DescriptionChanged, -1) in told
    focused = bed.bed_layout().column_of(bed.focused)
    assert (QAccessible.Event.NameChanged, focused) in told


def test_a_reader_hears_the_new_state(bed: BedWidget) -> None:
    seen = QAccessible.queryAccessibleInterface(bed)
    bed.show_scene(standing("hhhhhhhhhh"))
    assert seen.text(QAccessible.Text.Description).startswith("L5 to R5 hold")
    assert seen.child(0).text(QAccessible.Text.Name) == "L5, hold, no loop"


def test_looks_and_scenes_change_what_is_painted(bed: BedWidget) -> None:
    before = bed.grab().toImage()
    bed.set_look(DARK)
    dark = bed.grab().toImage()
    bed.show_scene(standing("hhhhhhhhhh"))
    assert before != dark
    assert bed.grab().toImage() != dark


def test_a_bed_of_another_size_keeps_the_keyboard_on_a_needle(bed: BedWidget) -> None:
    bed.show_scene(standing("wwww"))
    assert 0 <= bed.focused < 4
    assert bed.grab().width() == bed.width()
