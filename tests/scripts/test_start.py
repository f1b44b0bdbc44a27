"""What ``scripts/start.py`` does once everything is installed, with a stand-in for the program."""

import sys
from pathlib import Path

import environment
import opening
import pytest

STAND_IN = """#!/bin/sh
shift 2
echo "$* [$QT_QPA_PLATFORM]" >> {log}
[ "$1" = demos ] && printf 'harbour  A heel for the harbour\\nhut  A cap\\n'
exit {code}
"""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the stand-in is a shell script")


class Trial:
    """A stand-in for the Python that runs the program; it notes what it is asked."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.log = folder / "log"
        self.python = folder / "python"
        self.written = folder / "demo"
        self.behave(code=0)
        for variable in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
            monkeypatch.delenv(variable, raising=False)
        monkeypatch.setattr(environment, "prepare", lambda _purpose: self.python)
        monkeypatch.setattr(opening, "_WRITTEN", self.written)
        monkeypatch.setattr(sys, "platform", "linux")

    def behave(self, code: int) -> None:
        self.python.write_text(STAND_IN.format(log=self.log, code=code), encoding="utf-8")
        self.python.chmod(0o755)

    def asked(self) -> list[str]:
        return self.log.read_text(encoding="utf-8").splitlines()


@pytest.fixture
def trial(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Trial:
    return Trial(tmp_path, monkeypatch)


@pytest.mark.parametrize("variable", ["DISPLAY", "WAYLAND_DISPLAY"])
def test_opens_the_first_demo_on_a_display(
    variable: str, trial: Trial, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(variable, ":1")
    assert opening.main([]) == 0
    assert trial.asked() == ["demos []", "open harbour []"]


def test_opens_the_piece_named(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":1")
    assert opening.main(["cap.piece.json"]) == 0
    assert trial.asked() == ["open cap.piece.json []"]


def test_writes_page_and_pictures_without_a_display(trial: Trial, capsys: pytest.CaptureFixture[str]) -> None:
    assert opening.main(["below/cap.piece.json"]) == 0
    page, pictures = trial.written / "cap.html", trial.written / "pictures"
    assert trial.asked() == [
        f"sheet below/cap.piece.json -o {page} [offscreen]",
        f"shots {pictures} [offscreen]",
    ]
    said = capsys.readouterr().out
    assert "no display" in said
    assert str(page) in said
    assert str(pictures) in said


def test_offscreen_counts_as_no_display(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":1")
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen:size=800x600")
    assert opening.main(["cap"]) == 0
    assert [line.split()[0] for line in trial.asked()] == ["sheet", "shots"]


def test_what_fails_is_said_in_one_line(trial: Trial, capsys: pytest.CaptureFixture[str]) -> None:
    trial.behave(code=3)
    assert opening.main(["cap"]) == 1
    errors = capsys.readouterr().err.splitlines()
    assert len(errors) == 1
    assert errors[0].startswith("bedview: `bedview sheet cap ")


def test_failed_set_up_is_said_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(_purpose: str) -> Path:
        raise environment.SetupError("no room on the disk")

    monkeypatch.setattr(environment, "prepare", refuse)
    assert opening.main([]) == 1
    assert capsys.readouterr().err == "bedview: no room on the disk\n"
