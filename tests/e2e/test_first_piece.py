"""Someone's first bootee, from the blank start to the printed sheet, every click and key counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from bedview.ui.main_window import MainWindow
from bedview.ui.pages.names import PLAN
from bedview.ui.pages.new_page import NewPage
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.pages.start_page import StartPage
from bedview.ui.parts.buttons import Button
from bedview.ui.printing.print_page import PrintPage
from tests.e2e.test_by_keys_alone import LONG_MS, at_keyboard
from tests.export.pdf import read_pdf
from tests.ui.desktop import remembered
from tests.ui.test_main_window import made
from tests.ui.test_printing import print_to

# Keystroke-level model (Card, Moran and Newell 1983): pointing, a key, making up one's mind.
CLICK_S = 1.1
KEY_S = 0.25
DECISION_S = 1.35
MOST_S = 180
"""The promise: under three minutes."""


@dataclass
class Person:
    """Clicks and types on what can be seen, and counts it."""

    clicks: int = 0
    keys: int = 0
    decisions: int = 0

    def click(self, widget: QWidget) -> None:
        """Point at a thing and press; it must be in sight, wholly, and take a press."""
        assert widget.isVisible()
        assert widget.isEnabled()
        assert widget.visibleRegion().contains(widget.rect().center()), "it is covered, or scrolled away"
        self.decisions += 1
        self.clicks += 1
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
        QApplication.processEvents()

    def write(self, text: str, then: Qt.Key) -> None:
        """Write where the keyboard is, and press a key."""
        self.decisions += 1
        self.keys += len(text) + 1
        QTest.keyClicks(at_keyboard(), text)
        QTest.keyClick(at_keyboard(), then)
        QApplication.processEvents()

    def read(self, label: QLabel) -> str:
        """Look for something; it must be in sight."""
        assert label.visibleRegion().boundingRect().height() >= label.height(), "it is cut off"
        self.decisions += 1
        return label.text()

    @property
    def seconds(self) -> float:
        """How long it took."""
        return CLICK_S * self.clicks + KEY_S * self.keys + DECISION_S * self.decisions


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    opened = made(qtbot, remembered(tmp_path))
    opened.desk.close_piece()
    opened.resize(1280, 720)
    opened.activateWindow()
    qtbot.waitUntil(opened.isActiveWindow)
    yield opened
    opened.close()


def test_bootees_are_planned_and_printed_within_three_minutes(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    person = Person()
    start = window.page
    assert isinstance(start, StartPage)
    person.click(start.new_piece)
    new = window.page
    assert isinstance(new, NewPage)
    qtbot.waitUntil(new.choices["bootee"].isVisible)
    person.click(new.choices["bootee"])
    # A foot 25 cm long and 23 cm round; the swatch 22 by 32 at dial 7. The keyboard is where one begins.
    for number in ("25", "23", "22", "32"):
        person.write(number, Qt.Key.Key_Tab)
    person.write("7", Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.page_name == PLAN, timeout=LONG_MS)
    plan = window.page
    assert isinstance(plan, PlanPage)
    opened = window.desk.opened
    assert opened is not None
    gauge = opened.piece.gauges[0]
    assert (gauge.stitches, gauge.rows, gauge.tension) == (22, 32, 7)
    # Does it fit, and how much yarn? Both stand there without a click.
    qtbot.waitUntil(plan.totals.fit.isVisible)
    assert "All measures fit" in person.read(plan.totals.fit)
    assert person.read(plan.totals.yarn).startswith("Yarn: ")
    person.click(plan.print)
    sheet = window.page
    assert isinstance(sheet, PrintPage)
    qtbot.waitUntil(sheet.print.isEnabled, timeout=LONG_MS)
    path = tmp_path / "sheet.pdf"
    print_to(path, monkeypatch)
    person.click(sheet.print)
    # The system's dialog takes one more look and a Return.
    person.decisions += 1
    person.keys += 1
    qtbot.waitUntil(lambda: sheet.run is None, timeout=LONG_MS)
    with read_pdf(path.read_bytes()) as pdf:
        assert "Bootee" in pdf.text(0)
    assert person.clicks == 4
    assert person.keys == 15
    assert person.seconds < MOST_S / 4


def test_after_printing_another_piece_can_be_begun(qtbot: QtBot, window: MainWindow) -> None:
    """Pages are laid out beside the window while Learn is imported there; the menu outlives both."""
    window.begin_piece()
    new = window.page
    assert isinstance(new, NewPage)
    person = Person()
    person.click(new.choices["bootee"])
    person.click(new.make)
    qtbot.waitUntil(lambda: window.page_name == PLAN, timeout=LONG_MS)
    plan = window.page
    assert isinstance(plan, PlanPage)
    person.click(plan.print)
    sheet = window.page
    assert isinstance(sheet, PrintPage)
    qtbot.waitUntil(sheet.print.isEnabled, timeout=LONG_MS)
    person.click(sheet.away)
    window.begin_piece()
    new = window.page
    assert isinstance(new, NewPage)
    person.click(new.choices[""])
    for number, key in (("22", Qt.Key.Key_Tab), ("32", Qt.Key.Key_Tab), ("7", Qt.Key.Key_Return)):
        person.write(number, key)
    qtbot.waitUntil(lambda: isinstance(window.page, PlanPage) and window.page is not plan, timeout=LONG_MS)
    # The keyboard is on the first thing to choose; Return chooses it, and one writes a width.
    focused = at_keyboard()
    assert isinstance(focused, Button)
    assert focused.plain_text() == "Cast on"
    person.write("", Qt.Key.Key_Return)
    person.write("20 cm", Qt.Key.Key_Tab)
    opened = window.desk.opened
    assert opened is not None
    # 22 stitches to 10 cm: 44 in 20 cm.
    assert [part.model_dump()["needles"] for part in opened.piece.segments] == ["L22-R22"]
