"""The app is killed in the middle of knitting, again and again, and opens where it was."""

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from bedview.session.knitting_run import KnittingRun
from bedview.session.open_piece import OpenPiece
from bedview.session.record import Record
from bedview.store.journal import Journal, default_journal
from bedview.store.piece_file import read_piece, write_piece
from tests.session.knitting_pieces import CAST_ON, a_piece, plain

ROOT = Path(__file__).resolve().parents[2]
STEPS_BEFORE_KILL = [1, 2, 5, 3, 8, 1, 13, 4, 21, 2]
"""How many steps the app confirms before it is killed, each time."""


@pytest.fixture
def piece(tmp_path: Path) -> Path:
    path = tmp_path / "long.piece.json"
    write_piece(path, a_piece(CAST_ON, plain(300)))
    return path


def steps_done(piece: Path) -> int:
    with Journal(default_journal()) as journal:
        run = KnittingRun(OpenPiece(read_piece(piece), piece), Record(journal, piece))
        assert run.news == ""
        return run.cursor


def knit_until_killed(piece: Path, steps: int) -> tuple[int, int, str]:
    """Let the app confirm some steps and kill it.

    Returns:
        Steps done before the first, the last that was said to be done, and what the page said of it.
    """
    command = [sys.executable, "-m", "tests.e2e.knitting_on", str(piece)]
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen"}
    first, last, said = -1, -1, ""
    with subprocess.Popen(
        command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as app:
        assert app.stdout is not None
        assert app.stderr is not None
        while last < 0 or last - first < steps:
            line = app.stdout.readline()
            assert line, app.stderr.read()
            asked = re.match(r"(\d+)\?", line)
            done = re.match(r"(\d+)! (.*)", line)
            if asked and first < 0:
                first = int(asked[1])
            if done:
                last, said = int(done[1]), done[2]
        app.send_signal(signal.SIGKILL)
        for line in app.stdout:
            # What it still said before it died.
            done = re.match(r"(\d+)! (.*)", line)
            if done:
                last, said = int(done[1]), done[2]
    return first, last, said


def test_killed_ten_times_it_opens_where_it_was(piece: Path) -> None:
    before = 0
    for steps in STEPS_BEFORE_KILL:
        first, last, said = knit_until_killed(piece, steps)
        assert first == before
        # The first step casts on; so the rows are one less than the steps.
        assert said.startswith(f"Row {last - 1} saved "), said
        before = steps_done(piece)
        # A step that was under way when it died may be done or not; none that was said is lost.
        assert last <= before <= last + 1
    assert before >= sum(STEPS_BEFORE_KILL)
