"""Measure the start: the first paint of the app's window against that of a bare one, each in its own process.

Both processes are started the same way and timed from their start until their first window has been painted;
the app's also until a demo stands in it. They take turns, so that whatever else the computer does weighs on
both. ``python scripts/bench_start.py`` fails where the app's first paint takes more than 2.5 times as long.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from statistics import median
from time import perf_counter

ROUNDS = 7
MOST = 2.5
DEMO = "harbour-bootee"

BARE = """
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMainWindow

class Window(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        print("painted", flush=True)
        QTimer.singleShot(0, app.quit)

app = QApplication([])
window = Window()
window.resize(1280, 800)
window.show()
app.exec()
"""

OURS = f"""
from PySide6.QtWidgets import QApplication
from bedview.ui.app import open_window

app = QApplication([])
window = open_window("{DEMO}", "rehearse")
window.waiting.painted.connect(lambda: print("painted", flush=True))

def loaded():
    app.processEvents()
    print("loaded", flush=True)
    app.quit()

from PySide6.QtCore import Qt
window.desk.piece_opened.connect(loaded, Qt.ConnectionType.QueuedConnection)
app.exec()
"""


def times(program: str) -> dict[str, float]:
    """Milliseconds from the start of a program until it prints each of its words."""
    with tempfile.TemporaryDirectory() as home:
        variables = {**os.environ, "HOME": home, "XDG_CONFIG_HOME": home}
        variables.setdefault("QT_QPA_PLATFORM", "offscreen")
        start = perf_counter()
        running = subprocess.Popen(
            [sys.executable, "-c", program], env=variables, stdout=subprocess.PIPE, text=True
        )
        assert running.stdout is not None
        found = {line.strip(): (perf_counter() - start) * 1000 for line in running.stdout}
        running.wait()
    return found


def main() -> int:
    """Let both take turns, and compare the medians."""
    bare, ours = [], []
    for _ in range(ROUNDS):
        bare.append(times(BARE))
        ours.append(times(OURS))
    floor = median(each["painted"] for each in bare)
    painted = median(each["painted"] for each in ours)
    loaded = median(each["loaded"] for each in ours)
    print(f"bare window painted  {floor:6.0f} ms")
    print(f"ours painted         {painted:6.0f} ms  {painted / floor:.2f} times")
    print(f"demo painted         {loaded:6.0f} ms  {loaded / floor:.2f} times")
    return 0 if painted <= MOST * floor else 1


if __name__ == "__main__":
    sys.exit(main())
