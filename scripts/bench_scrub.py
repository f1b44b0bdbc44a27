"""Measure scrubbing: hold a key from the first row of a demo to the last, and time every frame painted.

A frame is all that one step costs on the window's thread, in that thread's own time: moving the cursor,
building the scene, refreshing every widget of the page, and painting. Run with the names of demos, or all; it
prints a line a demo and size, the first way over it (cold tiles) told apart, and fails where a frame of the
later ones took over 16 ms.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from statistics import median
from time import thread_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from bedview.session.open_piece import OpenPiece
from bedview.session.rehearsal import Rehearsal
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from bedview.ui.pages.rehearse_page import RehearsePage
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme

FRAME_MS = 16.0
SIZES = ((1280, 656), (1920, 1016))
"""Of the page, in windows of 1280 × 720 and 1920 × 1080."""


def scrub(page: RehearsePage, key: Qt.Key, steps: int) -> list[float]:
    """Hold a key for so many steps; the milliseconds each frame took."""
    frames = []
    for _ in range(steps):
        start = thread_time()
        QApplication.sendEvent(
            page, QKeyEvent(QEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier, "", True)
        )
        # Whatever was asked for is laid out and painted before this returns.
        QApplication.processEvents()
        frames.append((thread_time() - start) * 1000)
    return frames


def told(name: str, frames: Sequence[float]) -> str:
    """A line about some frames."""
    ordered = sorted(frames)
    late = sum(frame > FRAME_MS for frame in frames)
    return (
        f"{name:42} {len(frames):5} frames  median {median(ordered):5.1f} ms  "
        f"99 % {ordered[int(0.99 * (len(ordered) - 1))]:5.1f} ms  worst {ordered[-1]:5.1f} ms  "
        f"over {FRAME_MS:.0f} ms: {late}"
    )


def measure(name: str, size: tuple[int, int], theme: Theme) -> int:
    """Scrub through a demo to the end, back, and on again; how many warm frames were late."""
    opened = OpenPiece(read_piece(demo_paths()[name]))
    page = RehearsePage(Rehearsal(opened), theme, Remembered(QSettings("", "")))
    theme.dress(page)
    page.resize(*size)
    page.show()
    QApplication.processEvents()
    steps = len(opened.steps)
    where = f"{name} {size[0]}"
    print(told(f"{where}, cold", scrub(page, Qt.Key.Key_Right, steps)))
    warm = scrub(page, Qt.Key.Key_Left, steps) + scrub(page, Qt.Key.Key_Right, steps)
    print(told(f"{where}, back and on", warm))
    page.close()
    return sum(frame > FRAME_MS for frame in warm)


def main(names: Sequence[str]) -> int:
    """Measure some demos, or all."""
    app = QApplication(sys.argv[:1])
    theme = Theme(LookChoice.LIGHT, parent=app)
    late = sum(measure(name, size, theme) for name in names or demo_paths() for size in SIZES)
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
