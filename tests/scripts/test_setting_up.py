"""Filling the environment and fetching parts of the system, without doing either."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import environment
import pytest
import stages
import system_parts


class Environment:
    """An environment in a folder of its own, where only the calls to install are noted."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.done: list[str] = []
        self.python = folder / "bin" / "python"
        monkeypatch.setattr(os, "name", "posix")
        monkeypatch.setattr(environment, "VENV", folder)
        monkeypatch.setattr(environment, "_STAMP", folder / "stamp")
        monkeypatch.setattr(environment, "_create", self.create)
        monkeypatch.setattr(environment, "_works", lambda python: python.exists())
        monkeypatch.setattr(environment, "_install", self.install)
        monkeypatch.setattr(system_parts, "prepare", lambda **_: None)

    def create(self) -> None:
        self.done.append("create")
        self.python.parent.mkdir(exist_ok=True)
        self.python.touch()

    def install(self, _python: Path, *arguments: str) -> None:
        self.done.append(Path(arguments[-1]).name)

    def after(self, purpose: environment.Purpose) -> list[str]:
        """What is done to prepare for a purpose."""
        self.done.clear()
        assert environment.prepare(purpose) == self.python
        return list(self.done)


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    return Environment(tmp_path, monkeypatch)


def test_second_time_does_nothing(made: Environment) -> None:
    assert made.after("run") == ["create", "lock-run.txt", environment.ROOT.name]
    assert made.after("run") == []


def test_tests_need_more_than_the_program(made: Environment) -> None:
    made.after("run")
    assert made.after("test") == ["lock-test.txt", environment.ROOT.name]
    assert made.after("run") == []


def test_another_lock_fills_anew(made: Environment, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    made.after("run")
    changed = tmp_path / "changed.txt"
    changed.write_text("numpy==2.0.0\n", encoding="utf-8")
    monkeypatch.setitem(environment._LOCKS, "run", changed)
    assert made.after("run") == ["changed.txt", environment.ROOT.name]


def test_environment_moved_is_made_anew(made: Environment, tmp_path: Path) -> None:
    made.after("run")
    stamp = tmp_path / "stamp"
    stamp.write_text(stamp.read_text(encoding="utf-8").splitlines()[0] + "\n/elsewhere\n", encoding="utf-8")
    assert made.after("run")[0] == "create"


def test_install_that_fails_leaves_no_stamp(made: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_python: Path, *_arguments: str) -> None:
        raise environment.SetupError("no")

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(environment, "_install", refuse)
        with pytest.raises(environment.SetupError):
            environment.prepare("run")
    assert made.after("run") == ["lock-run.txt", environment.ROOT.name]


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("WARNING: Retrying after NameResolutionError('x')\nERROR: No matching distribution", "network"),
        ("ERROR: first\nERROR: No space left on device\nnotice", "No space left on device"),
        ("killed", "killed"),
        ("", "no reason"),
    ],
)
def test_failure_of_pip_is_one_line(said: str, why: str) -> None:
    message = environment._why_pip_failed(said)
    assert why in message
    assert "\n" not in message


@pytest.fixture
def bare_system(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A Debian where one library, a font and all programs are missing."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(system_parts, "_loads", lambda library: library != "libpulse.so.0")
    monkeypatch.setattr(system_parts, "_FONT_FOLDER", tmp_path)
    monkeypatch.setattr(shutil, "which", lambda name: name if name == "apt-get" else None)
    (tmp_path / "opentype" / "inter").mkdir(parents=True)


@pytest.mark.usefixtures("bare_system")
def test_names_the_packages_that_are_missing() -> None:
    assert system_parts.missing_packages(for_tests=False) == ["fonts-dejavu-core", "libpulse0"]
    more = {"chromium", "chromium-driver", "fonts-dejavu-core", "libpulse0", "xdotool", "xvfb"}
    assert set(system_parts.missing_packages(for_tests=True)) == more


@pytest.mark.usefixtures("bare_system")
def test_asks_the_administrator_where_it_may_not_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    system_parts.prepare(for_tests=False)
    assert "apt-get install fonts-dejavu-core libpulse0\n" in capsys.readouterr().out


@pytest.mark.usefixtures("bare_system")
def test_installs_what_it_can_where_one_package_is_not_to_be_had(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    installed: list[str] = []

    def apt_get(*arguments: str) -> str:
        if arguments[0] != "install":
            return ""
        packages = [argument for argument in arguments[1:] if not argument.startswith("-")]
        if "libpulse0" in packages:
            return "E: no package libpulse0"
        installed.extend(packages)
        return ""

    monkeypatch.setattr(os, "geteuid", lambda: 0)
    monkeypatch.setattr(system_parts, "_apt_get", apt_get)
    system_parts.prepare(for_tests=False)
    assert installed == ["fonts-dejavu-core"]
    assert "E: no package libpulse0" in capsys.readouterr().err


def test_every_stage_runs_and_one_that_fails_is_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran: list[list[str]] = []

    def run(command: list[str], **_options: object) -> subprocess.CompletedProcess[str]:
        ran.append(command)
        return subprocess.CompletedProcess(command, 1 if "mypy" in command else 0)

    monkeypatch.setattr(environment, "prepare", lambda _purpose: Path("python"))
    monkeypatch.setattr(subprocess, "run", run)
    assert stages.main([]) == 1
    assert len(ran) == 5
    assert capsys.readouterr().out.splitlines()[-1] == "== failed: mypy"
    ran.clear()
    assert stages.main(["tests/bed", "-q"]) == 0
    assert ran == [["python", "-m", "pytest", "tests/bed", "-q"]]
