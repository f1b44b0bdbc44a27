"""A screen that nobody sees, and hands that press its keys: an X server and its extension for tests.

Keys go the whole way, from the server through the window system to whatever has the keyboard. Nothing of the
program under test is imported here.
"""

from __future__ import annotations

import ctypes
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from ctypes.util import find_library

LONGEST_WAIT_S = 30.0


class Hands:
    """Presses keys on one display.

    Args:
        display: its name, as ``:7``.
    """

    def __init__(self, display: str) -> None:
        self._x = ctypes.CDLL(find_library("X11") or "libX11.so.6")
        self._test = ctypes.CDLL(find_library("Xtst") or "libXtst.so.6")
        self._x.XOpenDisplay.restype = ctypes.c_void_p
        self._x.XStringToKeysym.restype = ctypes.c_ulong
        self._x.XKeysymToKeycode.argtypes = [ctypes.c_void_p, ctypes.c_ulong]
        self._x.XSync.argtypes = [ctypes.c_void_p, ctypes.c_int]
        self._x.XCloseDisplay.argtypes = [ctypes.c_void_p]
        self._test.XTestFakeKeyEvent.argtypes = [
            ctypes.c_void_p,
            ctypes.c_uint,
            ctypes.c_int,
            ctypes.c_ulong,
        ]
        self._display = self._x.XOpenDisplay(display.encode())
        assert self._display, f"no display {display}"

    def press(self, *names: str) -> None:
        """Press keys together, by the names X gives them: ``Right``, ``Control_L`` and ``2``."""
        codes = [self._x.XKeysymToKeycode(self._display, self._x.XStringToKeysym(n.encode())) for n in names]
        assert all(codes), f"no such key among {names}"
        for code in codes:
            self._test.XTestFakeKeyEvent(self._display, code, 1, 0)
        for code in reversed(codes):
            self._test.XTestFakeKeyEvent(self._display, code, 0, 0)
        self._x.XSync(self._display, 0)

    def close(self) -> None:
        """Leave the display."""
        self._x.XCloseDisplay(self._display)


@contextmanager
def screen(width: int, height: int) -> Iterator[str]:
    """An X server of its own; gives the name of its display."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{width}x{height}x24", "-nolisten", "tcp"],
        pass_fds=[writing],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    try:
        with os.fdopen(reading) as told:
            yield f":{told.readline().strip()}"
    finally:
        server.terminate()
        server.wait(timeout=LONGEST_WAIT_S)
