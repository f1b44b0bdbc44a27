"""The desktop app: the window first, then everything it needs."""

from __future__ import annotations

import signal
import sys

from PySide6.QtCore import QCoreApplication, QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication

from bedview.ui.desk import Desk
from bedview.ui.garbage import Collector
from bedview.ui.main_window import MainWindow
from bedview.ui.remembered import Remembered
from bedview.ui.speaking import speak_to
from bedview.ui.theme import Theme
from bedview.ui.unforeseen import keep_going

_LISTEN_MS = 200


class _Bell(QObject):
    """Carries news of what nobody foresaw to the window's thread."""

    rung = Signal()


def run(path_or_demo: str | None = None, page: str | None = None) -> int:
    """Open the window and stay until it is closed.

    Args:
        path_or_demo: a piece's file or the name of a demo; where it was left if none is given.
        page: the page to begin with.

    Returns:
        The exit code.
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    QCoreApplication.setApplicationName("bedview")
    remembered = Remembered()
    speak_to(app, remembered.language)
    window = open_window(path_or_demo, page, remembered)
    bell = _Bell()
    bell.rung.connect(
        lambda: window.said.say(QCoreApplication.translate("app", "Something went wrong; your work is kept."))
    )
    keep_going(bell.rung.emit)
    # Python hears of Ctrl+C only while it runs; Qt lets it run now and then.
    signal.signal(signal.SIGINT, lambda *_: window.close())
    listening = QTimer()
    listening.start(_LISTEN_MS)
    listening.timeout.connect(lambda: None)
    collector = Collector()
    code: int = app.exec()
    collector.stop()
    return code


def open_window(
    path_or_demo: str | None = None, page: str | None = None, remembered: Remembered | None = None
) -> MainWindow:
    """Show the window at once, and begin to load the piece when it has been painted."""
    remembered = remembered or Remembered()
    theme = Theme(remembered.look, remembered.text_scale)
    desk = Desk(remembered)
    window = MainWindow(theme, desk, remembered, page or "")
    theme.setParent(window)
    desk.setParent(window)
    name = path_or_demo or remembered.piece

    def begin() -> None:
        if name:
            desk.open(name)
        else:
            desk.close_piece()

    window.waiting.painted.connect(lambda: QTimer.singleShot(0, window, begin))
    window.show()
    return window
