import subprocess
import sys
import threading
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bedview.store.piece_file import write_piece
from bedview.ui.app import open_window
from bedview.ui.unforeseen import keep_going, log_path
from tests.ui.desktop import remembered, small_piece

# What is there when the window has been painted for the first time.
FIRST_PAINT = """
import sys
from PySide6.QtWidgets import QApplication
from bedview.ui.app import open_window

app = QApplication([])
window = open_window("harbour-heel")

def tell():
    heavy = {"numpy", "pydantic", "scipy", "pyqtgraph", "psygnal", "fsrs", "bedview.ui.pages.learn_page"}
    print(sorted(heavy.intersection(sys.modules)))
    app.quit()

window.waiting.painted.connect(tell)
app.exec()
"""


def test_the_window_is_painted_before_anything_heavy_is_imported() -> None:
    said = subprocess.run(
        [sys.executable, "-c", FIRST_PAINT], capture_output=True, text=True, check=True, timeout=60
    ).stdout
    assert said.splitlines()[0] == "[]"


def test_a_piece_named_at_the_start_is_opened_on_its_page(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "mooring.piece.json"
    write_piece(path, small_piece())
    window = open_window(str(path), "plan", remembered(tmp_path))
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: window.page_name == "plan")
    assert window.desk.title == "Mooring sample"
    window.close()


def test_without_a_name_the_piece_that_was_open_comes_back(qtbot: QtBot, tmp_path: Path) -> None:
    kept = remembered(tmp_path)
    kept.piece = "harbour-heel"
    window = open_window(remembered=kept)
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: window.page_name == "rehearse")
    assert window.desk.title.startswith("Harbour heel")
    window.close()


def test_the_first_start_shows_what_there_is_to_try(qtbot: QtBot, tmp_path: Path) -> None:
    window = open_window(remembered=remembered(tmp_path))
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: bool(getattr(window.page, "tiles", [])))
    assert window.page_name == ""
    window.close()


@pytest.fixture
def hooks(monkeypatch: pytest.MonkeyPatch) -> None:
    """The program's hooks come back when the test is over."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)


@pytest.mark.usefixtures("hooks")
@pytest.mark.expects_log("unforeseen: ZeroDivisionError")
def test_what_nobody_foresaw_is_written_down_and_told(capfd: pytest.CaptureFixture[str]) -> None:
    told: list[bool] = []
    keep_going(lambda: told.append(True))
    try:
        _ = 1 / 0
    except ZeroDivisionError as error:
        sys.excepthook(type(error), error, error.__traceback__)
    assert told == [True]
    story = log_path().read_text(encoding="utf-8")
    assert "ZeroDivisionError: division by zero" in story
    assert "Traceback" in story
    assert "Traceback" not in capfd.readouterr().err


@pytest.mark.usefixtures("hooks")
@pytest.mark.expects_log("unforeseen: ValueError")
def test_so_is_what_happens_beside_the_window() -> None:
    told: list[bool] = []
    keep_going(lambda: told.append(True))

    def fail() -> None:
        raise ValueError("a slipped stitch")

    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    assert told == [True]
    assert "a slipped stitch" in log_path().read_text(encoding="utf-8")


@pytest.mark.usefixtures("hooks")
@pytest.mark.expects_log("unforeseen")
def test_a_log_grown_too_long_begins_anew() -> None:
    log_path().parent.mkdir(parents=True)
    log_path().write_text("x" * (2 << 20), encoding="utf-8")
    keep_going(lambda: None)
    sys.excepthook(KeyError, KeyError("row"), None)
    assert log_path().stat().st_size < 1000
