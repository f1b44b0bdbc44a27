"""A demo knitted from the first row to the last by real key presses, on a screen that nobody sees."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bedview.plan.procedure import compile_piece
from bedview.store.demos import find_piece
from bedview.store.journal import Journal, Progress, default_journal
from bedview.store.piece_file import read_piece, write_piece
from tests.session.knitting_pieces import a_heel

ROOT = Path(__file__).resolve().parents[2]
DEMO = "allotment-heel"
GAP_MS = 400
"""Between presses: a little more than the page asks for."""
KEYS = ("Next", "space", "Return", "Right", "F5", "period")
"""As X calls what pedals, presenters and keyboards send."""
LONGEST_S = 120

pytestmark = pytest.mark.skipif(
    not (shutil.which("Xvfb") and shutil.which("xdotool")),
    reason="Xvfb and xdotool are needed for real key presses; on Debian: apt-get install xvfb xdotool",
)


class Screen:
    """A screen that nobody sees, the app on it, and hands at its keys."""

    def __init__(self, display: str) -> None:
        self.environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}

    @contextmanager
    def opened(self, piece: str, title: str) -> Iterator[None]:
        """The app with a piece on the page Knit; whatever happens, it ends with the test."""
        command = [sys.executable, "-m", "bedview", "open", piece, "--page", "knit"]
        with subprocess.Popen(command, cwd=ROOT, env=self.environment) as app:
            try:
                found = ("search", "--sync", "--onlyvisible", "--name", title)
                self.hands(*found, "windowfocus", "--sync", "%1")
                yield
            finally:
                app.terminate()

    def hands(self, *does: str) -> None:
        """Let hands do something: xdotool's own commands, one after the other."""
        subprocess.run(
            ["xdotool", *does], env=self.environment, check=True, timeout=LONGEST_S, capture_output=True
        )

    def press(self, *keys: str) -> None:
        """Press keys with time for a row between them."""
        if keys:
            self.hands("key", "--delay", str(GAP_MS), *keys, "sleep", str(GAP_MS / 1000))


@pytest.fixture
def screen() -> Iterator[Screen]:
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1280x720x24", "-nolisten", "tcp"]
    with subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL) as server:
        os.close(writing)
        # The server writes the number of its display once it listens.
        with os.fdopen(reading) as told:
            number = told.readline().strip()
        try:
            yield Screen(f":{number}")
        finally:
            server.terminate()


def last_confirmed(piece: Path) -> Progress | None:
    with Journal(default_journal()) as journal:
        session = journal.latest(piece)
        return session.last() if session else None


def wait_for_step(piece: Path, step: int, screen: Screen) -> None:
    """Wait until a step has been confirmed; the presses may be ahead of the page."""
    for _ in range(100):
        last = last_confirmed(piece)
        if last is not None and last.step >= step:
            break
        screen.hands("sleep", "0.1")
    last = last_confirmed(piece)
    assert last is not None
    assert last.step == step


def test_a_demo_from_its_first_row_to_its_last(screen: Screen) -> None:
    path = find_piece(DEMO)
    procedure = compile_piece(read_piece(path))
    steps = len(procedure.steps)
    with screen.opened(DEMO, "Allotment"):
        presses = [KEYS[number % len(KEYS)] for number in range(steps)]
        screen.press(*presses)
        wait_for_step(path, steps - 1, screen)
        screen.press("Next")
        last = last_confirmed(path)
        assert last is not None
        assert (last.pass_number, last.of) == (procedure.timeline.passes, procedure.timeline.passes)


def test_back_a_held_key_and_a_bouncing_pedal(screen: Screen, tmp_path: Path) -> None:
    path = tmp_path / "cosy.piece.json"
    write_piece(path, a_heel())
    with screen.opened(str(path), "Quay cosy"):
        screen.press("Next", "Next", "Next")
        wait_for_step(path, 2, screen)
        screen.press("Prior")
        wait_for_step(path, 1, screen)
        screen.press("Left", "Right")
        wait_for_step(path, 1, screen)
        # Held down for two seconds: the server repeats it many times.
        screen.hands("keydown", "Next", "sleep", "2", "keyup", "Next", "sleep", "0.4")
        wait_for_step(path, 2, screen)
        # A bouncing pedal: four presses within a tenth of a second.
        screen.hands("key", "--delay", "25", "Next", "Next", "Next", "Next", "sleep", "0.4")
        wait_for_step(path, 3, screen)
        screen.hands("key", "--delay", "250", "h", "Return", "Escape", "Escape", "sleep", "0.4")
        wait_for_step(path, 3, screen)
