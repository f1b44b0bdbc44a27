"""The guards of ``conftest.py`` bite: small tests that would pass without them, and some that still must."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

GUARDED = """
import logging
import os
import warnings
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, qWarning


def test_bad_python_warning():
    warnings.warn("take care")


def test_bad_qt_warning():
    qWarning("take care")


def test_bad_log():
    logging.getLogger("bedview").warning("take care")


@pytest.mark.expects_log("rain")
def test_bad_silence():
    pass


@pytest.fixture
def closing():
    yield
    qWarning("take care")


def test_bad_qt_warning_at_the_end(closing):
    pass


@pytest.mark.expects_log("take c.re")
def test_good_log():
    logging.getLogger("bedview").warning("take care")


@pytest.mark.qt_log_ignore("take care")
def test_good_qt_warning():
    qWarning("take care")


def test_good_home():
    assert Path.home() != Path(os.environ["HOME_BEFORE"])
    assert list(Path.home().iterdir()) == []
    settings = QSettings("bedview", "bedview")
    assert Path(settings.fileName()).is_relative_to(Path.home())
"""


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The last word on each small test: a test may pass and its putting away fail."""
    folder = tmp_path_factory.mktemp("guarded")
    (folder / "conftest.py").write_bytes((ROOT / "tests" / "conftest.py").read_bytes())
    (folder / "test_guarded.py").write_text(GUARDED, encoding="utf-8")
    said = subprocess.run(
        [sys.executable, "-m", "pytest", "-c", ROOT / "pyproject.toml", "--rootdir", folder, "-rA", folder],
        cwd=folder,
        env={"HOME_BEFORE": str(Path.home()), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    ).stdout
    summary = said.partition("short test summary info")[2].splitlines()
    words = [line.split() for line in summary if "::" in line]
    return {word[1].rpartition("::")[2]: word[0] for word in words}


@pytest.mark.parametrize("name", ["python_warning", "qt_warning", "log", "silence", "qt_warning_at_the_end"])
def test_what_is_unseen_elsewhere_fails(name: str, outcomes: dict[str, str]) -> None:
    assert outcomes[f"test_bad_{name}"] in {"FAILED", "ERROR"}


@pytest.mark.parametrize("name", ["log", "qt_warning", "home"])
def test_what_is_expected_passes(name: str, outcomes: dict[str, str]) -> None:
    assert outcomes[f"test_good_{name}"] == "PASSED"
