"""The program in a process of its own, with real keys on an unseen screen; it prints what its windows show.

What is run is a small script that opens bedview as it is, and beside it prints a line whenever that changes.
"""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from tests.e2e.screen import LONGEST_WAIT_S, Hands, screen


class TellingProgram:
    """A program, as its keys and its lines.

    Args:
        hands: what presses the keys.
        running: the program.
    """

    def __init__(self, hands: Hands, running: subprocess.Popen[str]) -> None:
        self.press = hands.press
        self._running = running
        self._lines: queue.Queue[str] = queue.Queue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self._running.stdout is not None
        for line in self._running.stdout:
            self._lines.put(line.rstrip("\n"))

    def tells(self, wanted: str) -> None:
        """Wait until it prints a line."""
        seen: list[str] = []
        while wanted not in seen:
            try:
                seen.append(self._lines.get(timeout=LONGEST_WAIT_S))
            except queue.Empty:
                raise AssertionError(f"waited in vain for {wanted!r} after {seen}") from None

    def shows(self, page: str, sentence: str = "", what_if: str = "") -> None:
        """Wait until the window shows something: three fields with bars between them."""
        self.tells(f"{page}|{sentence}|{what_if}")

    def ended(self) -> int:
        """Wait until the program has ended; its exit code."""
        code = self._running.wait(timeout=LONGEST_WAIT_S)
        self._reader.join()
        return code


@contextmanager
def telling_program(
    script: str, *arguments: str, size: tuple[int, int] = (1280, 800)
) -> Iterator[TellingProgram]:
    """Run a script on a screen of its own; whatever happens, it ends with the test.

    Args:
        script: Python that opens the program and prints.
        arguments: what it finds in ``sys.argv[1:]``.
        size: of the screen, in pixels.
    """
    with screen(*size) as display:
        hands = Hands(display)
        running = subprocess.Popen(
            [sys.executable, "-c", script, *arguments],
            env={**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"},
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            yield TellingProgram(hands, running)
        finally:
            if running.poll() is None:
                running.terminate()
            running.wait(timeout=LONGEST_WAIT_S)
            if running.stdout is not None:
                running.stdout.close()
            hands.close()
