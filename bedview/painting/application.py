"""The application object that fonts and pictures need, where no window has made one."""

from __future__ import annotations

import os
import sys
from functools import lru_cache

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QGuiApplication


def painting_application() -> QCoreApplication:
    """The application there is, or one without a window that lasts as long as the program.

    Raises:
        TypeError: if there is one without fonts and pictures.
    """
    there = QGuiApplication.instance()
    if there is None:
        return _windowless()
    if not isinstance(there, QGuiApplication):
        raise TypeError("the application that runs cannot draw")
    return there


@lru_cache(maxsize=1)
def _windowless() -> QGuiApplication:
    unseen = sys.platform.startswith("linux") and not any(map(os.environ.get, ("DISPLAY", "WAYLAND_DISPLAY")))
    return QGuiApplication(["bedview", "-platform", "offscreen"] if unseen else ["bedview"])
