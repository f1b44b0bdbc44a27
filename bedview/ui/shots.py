"""Every page of the app painted to files, with every demo, in light and dark, in two sizes.

The windows are never shown: they paint as they would on a screen, in the system's language. The user's
settings are neither read nor written.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QEventLoop, QSettings, Qt
from PySide6.QtWidgets import QApplication

from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.session.rehearsal import Rehearsal
from bedview.store.demos import demo_paths
from bedview.store.whole_file import OutputError
from bedview.store.whole_file import reason as why
from bedview.ui.desk import Desk
from bedview.ui.learn.examples import VIEWS
from bedview.ui.main_window import MainWindow
from bedview.ui.pages.finish_page import FinishPage
from bedview.ui.pages.learn_page import LearnPage
from bedview.ui.pages.names import FINISH, LEARN, PAGES, PLAN, REHEARSE
from bedview.ui.pages.start_page import StartPage
from bedview.ui.printing.print_page import PrintPage
from bedview.ui.remembered import Remembered
from bedview.ui.speaking import speak_to
from bedview.ui.theme import LookChoice, Theme

SIZES: Final = ((1280, 720), (1920, 1080))
PRINTED: Final = "printed"
"""The piece as it will be printed."""
LOOKS: Final = (LookChoice.LIGHT, LookChoice.DARK)
_LONGEST_WAIT_S = 30.0


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture: a page of a demo, at a step that tells something.

    Attributes:
        demo: its name; empty for the start page.
        page: the name of the page.
        what_if: whether a mistake is looked at.
        view: what is shown of the page Learn, or :data:`PRINTED`.
    """

    demo: str
    page: str
    what_if: bool = False
    view: str = ""

    @property
    def name(self) -> str:
        """The beginning of its file's name."""
        parts = (self.page or "start", "what-if" if self.what_if else "", self.view, self.demo)
        return "-".join(part for part in parts if part)


def paint_shots(folder: Path, shots: Sequence[Shot] | None = None) -> Iterator[Path]:
    """Paint them, one after the other; an application is made if there is none.

    Args:
        folder: where to; made if need be.
        shots: which; all if left out.

    Yields:
        The path of each picture when it is written.

    Raises:
        OutputError: if one cannot be written.
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    speak_to(app, "")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(folder, f"cannot be made: {why(error)}") from None
    for shot in all_shots() if shots is None else shots:
        for look in LOOKS:
            yield from _paint(shot, look, folder)
    app.processEvents()


def all_shots() -> list[Shot]:
    """What is painted, each in all looks and sizes."""
    shots = [Shot("", ""), *(Shot("", LEARN, view=view) for view in VIEWS)]
    for demo in demo_paths():
        shots += [Shot(demo, page) for page in PAGES]
        shots += [Shot(demo, REHEARSE, what_if=True), Shot(demo, PLAN, view=PRINTED)]
    return shots


def _paint(shot: Shot, look: LookChoice, folder: Path) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as scratch:
        settings = QSettings(str(Path(scratch) / "settings.ini"), QSettings.Format.IniFormat)
        window = _window(shot, look, Remembered(settings), Path(scratch))
        try:
            for width, height in SIZES:
                path = folder / f"{shot.name}-{look}-{width}x{height}.png"
                window.resize(width, height)
                QApplication.processEvents()
                _wait(partial(_is_settled, window))
                if not window.grab().save(str(path)):
                    raise OutputError(path, "cannot be written")
                yield path
        finally:
            window.close()
            window.deleteLater()


def _window(shot: Shot, look: LookChoice, remembered: Remembered, scratch: Path) -> MainWindow:
    """A window that shows what the shot is of."""
    theme, desk = Theme(look), Desk(remembered, copies=scratch / "copies")
    window = MainWindow(theme, desk, remembered, shot.page, scratch / "journal", scratch / "learners")
    theme.setParent(window)
    desk.setParent(window)
    window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    window.resize(*SIZES[0])
    window.show()
    if not shot.demo:
        desk.close_piece()
        if shot.page == LEARN:
            _show_learning(window, shot.view)
            return window
        _wait(lambda: isinstance(window.page, StartPage) and bool(window.page.tiles))
        return window
    desk.open(shot.demo)
    _wait(lambda: window.rehearsal is not None)
    rehearsal = window.rehearsal
    if rehearsal is not None:
        rehearsal.go_to(telling_step(rehearsal))
        if window.knitting is not None:
            window.knitting.go_to(telling_step(rehearsal))
        if shot.what_if and rehearsal.slips:
            rehearsal.slip_in(rehearsal.slips[0])
    if shot.view == PRINTED:
        window.show_print()
    return window


def _show_learning(window: MainWindow, view: str) -> None:
    """Show a view of the page Learn with something to see in it."""
    page = window.page
    assert isinstance(page, LearnPage)
    _wait(lambda: page.ready)
    VIEWS[view](page)


def _is_settled(window: MainWindow) -> bool:
    """Whether the page that is shown has worked out what it shows."""
    if isinstance(window.page, PrintPage):
        view = window.page.view
        return view.count > 0 and view.seen() <= view.painted
    if isinstance(window.page, FinishPage | LearnPage):
        return window.page.settled
    return window.page_name != FINISH


def telling_step(rehearsal: Rehearsal) -> int:
    """A step that shows what the piece is about: well into its first short rows, or half way through."""
    segments = rehearsal.opened.piece.segments
    steps = rehearsal.steps
    turning = [step.number for step in steps if isinstance(segments[step.segment], ShortRowsSegment)]
    return turning[len(turning) * 2 // 5] if turning else len(steps) // 2


def _wait(done: Callable[[], bool]) -> None:
    """Let Qt work until something is done.

    Raises:
        TimeoutError: if it takes longer than anything here should.
    """
    until = time.monotonic() + _LONGEST_WAIT_S
    while not done():
        if time.monotonic() > until:
            raise TimeoutError("a page took too long to load")
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents, 50)
