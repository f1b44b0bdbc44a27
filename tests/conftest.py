"""What holds for every test: no screen, nobody's own files, and no warning that goes unseen.

Python's warnings are errors by the settings in ``pyproject.toml``, Qt's by those of pytest-qt, which looks
while a test is set up and run. Here come the warnings that Qt gives while things are put away, and the
records of logging.
"""

import logging
import os
import re
from collections.abc import Generator, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMessageLogContext, QSettings, QtMsgType, qInstallMessageHandler

# Before any application is made: draw unseen, with the numbers and words of no particular country.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.update({"LC_ALL": "C.UTF-8", "LANGUAGE": "en"})

_HOME_FOLDERS = {
    "HOME": "",
    "USERPROFILE": "",
    "XDG_CONFIG_HOME": ".config",
    "XDG_DATA_HOME": ".local/share",
    "XDG_STATE_HOME": ".local/state",
    "XDG_CACHE_HOME": ".cache",
    "APPDATA": "AppData/Roaming",
    "LOCALAPPDATA": "AppData/Local",
}
_QT_HARMLESS = (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg)
# Said by the platform that draws unseen whenever a window has a least size; see also pyproject.toml.
_QT_OF_THE_PLATFORM = "This plugin does not support propagateSizeHints()"


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A new, empty home for each test, so that none reads or writes the files of whoever runs it."""
    home = tmp_path_factory.mktemp("home")
    for variable, folder in _HOME_FOLDERS.items():
        monkeypatch.setenv(variable, str(home / folder))
    for kind in (QSettings.Format.NativeFormat, QSettings.Format.IniFormat):
        QSettings.setPath(kind, QSettings.Scope.UserScope, str(home / ".config"))
    return home


class _Collector(logging.Handler):
    """Keeps every record from warnings upwards."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


@pytest.fixture(autouse=True)
def no_unexpected_log(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail a test at a warning in the log, or at the lack of one that it is marked to expect."""
    marker = request.node.get_closest_marker("expects_log")
    patterns: tuple[str, ...] = marker.args if marker else ()
    collector = _Collector()
    root = logging.getLogger()
    root.addHandler(collector)
    try:
        yield
    finally:
        root.removeHandler(collector)
    said = [f"{record.name}: {record.levelname}: {record.getMessage()}" for record in collector.records]
    unexpected = [line for line in said if not any(re.search(pattern, line) for pattern in patterns)]
    missing = [pattern for pattern in patterns if not any(re.search(pattern, line) for line in said)]
    assert not unexpected, "unexpected in the log"
    assert not missing, "expected in the log, and not there"


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_teardown() -> Generator[None]:
    """Fail a test at a warning that Qt gives while its widgets are closed and its fixtures end."""
    said: list[str] = []

    def keep(kind: QtMsgType, _context: QMessageLogContext, text: str) -> None:
        if kind not in _QT_HARMLESS and text != _QT_OF_THE_PLATFORM:
            said.append(text)

    before = qInstallMessageHandler(keep)
    try:
        yield
    finally:
        qInstallMessageHandler(before)
    assert not said, "Qt warned while the test was put away"
