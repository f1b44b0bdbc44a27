from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bedview.picture.marks import Boxes
from bedview.store.demos import demo_paths
from bedview.store.piece_file import write_piece
from bedview.ui.pages.start_page import StartPage, demo_says, demos_seen
from bedview.ui.parts.piece_tile import shape_of
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme
from tests.ui.desktop import remembered, small_piece


@pytest.fixture
def kept(tmp_path: Path) -> Remembered:
    return remembered(tmp_path)


@pytest.fixture
def page(qtbot: QtBot, kept: Remembered, tmp_path: Path) -> Iterator[StartPage]:
    path = tmp_path / "mooring.piece.json"
    write_piece(path, small_piece())
    kept.remember_recent(path)
    theme = Theme(LookChoice.LIGHT)
    made = StartPage(kept, theme)
    qtbot.addWidget(made)
    theme.dress(made)
    made.resize(1280, 656)
    made.show()
    qtbot.waitUntil(lambda: len(made.tiles) == len(demo_paths()))
    yield made
    made.close()


def test_every_demo_has_a_tile_with_title_and_sentence(page: StartPage) -> None:
    assert [tile.seen.name for tile in page.tiles] == list(demo_paths())
    for tile in page.tiles:
        assert tile.seen.title
        assert demo_says(tile.seen.name) == tile.seen.says
        interface = QAccessible.queryAccessibleInterface(tile)
        assert interface.text(QAccessible.Text.Name) == tile.seen.title
        assert interface.role() == QAccessible.Role.Button


def test_a_tile_opens_its_demo_by_pointer_and_by_key(qtbot: QtBot, page: StartPage) -> None:
    tile = page.tiles[1]
    with qtbot.waitSignal(page.piece_wanted) as clicked:
        QTest.mouseClick(tile, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(page.piece_wanted) as pressed:
        tile.setFocus()
        QTest.keyClick(tile, Qt.Key.Key_Space)
    assert clicked.args == pressed.args == [tile.seen.name]


def test_pieces_of_late_and_any_other_can_be_opened(qtbot: QtBot, page: StartPage, tmp_path: Path) -> None:
    assert [button.plain_text() for button in page.recent] == ["mooring"]
    with qtbot.waitSignal(page.piece_wanted) as wanted:
        page.recent[0].click()
    assert wanted.args == [str(tmp_path / "mooring.piece.json")]
    with qtbot.waitSignal(page.file_wanted):
        page.open_file.click()


@pytest.mark.usefixtures("qapp")
def test_the_small_picture_shows_as_many_parts_as_knit() -> None:
    seen = next(each for each in demos_seen() if each.name == "harbour-heel")
    assert seen.chart is not None
    knitted = sum(part.rows > 0 for part in seen.chart.parts)
    picture = shape_of(seen.chart, 300, 150, Theme(LookChoice.LIGHT))
    boxes = [mark for mark in picture.marks() if isinstance(mark, Boxes)]
    assert len({mark.fill for mark in boxes} - {Theme(LookChoice.LIGHT).look.ink}) == knitted


@pytest.mark.parametrize(("width", "across"), [(420, 1), (800, 2), (1280, 3), (1920, 5)])
def test_tiles_stand_in_as_many_columns_as_fit(
    qtbot: QtBot, page: StartPage, width: int, across: int
) -> None:
    page.resize(width, 900)
    qtbot.waitUntil(lambda: len({tile.y() for tile in page.tiles}) == -(-len(page.tiles) // across))
    assert len({tile.x() for tile in page.tiles}) == across
