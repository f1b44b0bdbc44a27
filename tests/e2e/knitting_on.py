"""The app, confirming step after step by itself until it is killed: started by the test of killing it.

Before each confirmation it prints the number of steps done with a question mark; after it, what the page says
of the last row, and the number with an exclamation mark.
"""

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from bedview.ui.app import open_window
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.knit_page import KnitPage


def main() -> None:
    """Open a piece on the page Knit and go on until the end."""
    app = QApplication(sys.argv[:1])
    window = open_window(str(Path(sys.argv[1])), "knit")
    clock = QTimer()
    clock.timeout.connect(lambda: _confirm(app, window))
    clock.start(0)
    app.exec()


def _confirm(app: QApplication, window: MainWindow) -> None:
    page = window.page
    if not isinstance(page, KnitPage):
        return
    run = page._run
    if run.at_end:
        app.quit()
        return
    _say(f"{run.cursor}?")
    page.confirm()
    _say(f"{run.cursor}! {page.column.saved.text()}")


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


main()
