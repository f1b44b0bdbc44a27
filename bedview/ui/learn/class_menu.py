"""What a teacher takes from a lesson: the view for a class, a handout to print, a page to take home."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final, Protocol

from PySide6.QtCore import QLocale, QObject, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from bedview.lessons.lesson import Lesson
from bedview.store.whole_file import OutputError, write_whole
from bedview.ui.in_background import Errand
from bedview.ui.printing.document import usual_paper

HANDOUT_ENDING: Final = ".pdf"
PAGE_ENDING: Final = ".html"


class LessonPage(Protocol):
    """The page whose lesson it is."""

    class_menu: QMenu

    @property
    def lesson(self) -> Lesson | None:
        """The lesson that is shown."""


class ClassMenu(QObject):
    """Fills the page's menu and does what is chosen there.

    Args:
        page: the page.
        window: where dialogs belong; it owns this.
    """

    class_view_wanted = Signal()
    """The lesson is to be shown to a class."""
    turn_wanted = Signal()
    """The bed is to be seen from the other side of the table."""
    said = Signal(str)
    """What became of a file, in a sentence."""

    def __init__(self, page: LessonPage, window: QWidget) -> None:
        super().__init__(window)
        self._page = page
        self._window = window
        self._writing: Errand[Path] = Errand(self._written, self._failed, self)
        menu = page.class_menu
        self.class_view = self._add(menu, self.tr("Class view (F9)"), self.class_view_wanted.emit)
        self.turn = self._add(menu, self.tr("Turn the bed round (Ctrl+T)"), self.turn_wanted.emit)
        menu.addSeparator()
        self.handout = self._add(menu, self.tr("Handout to print…"), self.ask_for_handout)
        self.take_home = self._add(menu, self.tr("Page to step through at home…"), self.ask_for_page)
        menu.aboutToShow.connect(self.refresh)

    def _add(self, menu: QMenu, text: str, act: Callable[[], object]) -> QAction:
        action = menu.addAction(text)
        action.triggered.connect(lambda _checked=False: act())
        return action

    def refresh(self) -> None:
        """A handout and a page there are of a lesson alone."""
        for action in (self.handout, self.take_home):
            action.setEnabled(self._page.lesson is not None)

    # -- files --------------------------------------------------------------------------------------------

    def ask_for_handout(self) -> None:
        """Let the teacher choose a file and the paper, and write the handout there."""
        kinds = {
            "a4": self.tr("PDF on A4 (*.pdf)"),
            "letter": self.tr("PDF on Letter (*.pdf)"),
        }
        usual = usual_paper(QLocale())
        offered = sorted(kinds, key=lambda paper: paper != usual)
        path, kind = self._ask(
            self.tr("Save the handout"), HANDOUT_ENDING, ";;".join(kinds[each] for each in offered)
        )
        if path is not None:
            paper = next((each for each, words in kinds.items() if words == kind), usual)
            self.write_handout(path, paper)

    def ask_for_page(self) -> None:
        """Let the teacher choose a file, and write the page there."""
        path, _kind = self._ask(self.tr("Save the page"), PAGE_ENDING, self.tr("Web page (*.html)"))
        if path is not None:
            self.write_page(path)

    def write_handout(self, path: Path, paper: str) -> None:
        """Write the handout of the lesson that is shown, beside the window."""
        lesson = self._page.lesson
        if lesson is not None:
            self._writing.start(lambda: _put(path, _handout(lesson, paper)))

    def write_page(self, path: Path) -> None:
        """Write the page of the lesson that is shown, beside the window."""
        lesson = self._page.lesson
        if lesson is not None:
            self._writing.start(lambda: _put(path, _stepping_page(lesson)))

    def _ask(self, title: str, ending: str, kinds: str) -> tuple[Path | None, str]:
        """A file with that ending, and the kind chosen; None where nothing was."""
        lesson = self._page.lesson
        if lesson is None:
            return None, ""
        words = "".join(each if each.isalnum() else " " for each in lesson.title.lower()).split()
        name, kind = QFileDialog.getSaveFileName(self._window, title, "-".join(words) + ending, kinds)
        if not name:
            return None, ""
        path = Path(name)
        return (path if path.suffix.lower() == ending else path.with_name(path.name + ending)), kind

    def _written(self, path: Path) -> None:
        self.said.emit(self.tr("Saved as {name}.").format(name=path.name))

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, OutputError):
            raise error
        self.said.emit(self.tr("Not saved: {why}.").format(why=error.what))


def _handout(lesson: Lesson, paper: str) -> bytes:
    from bedview.export.handout.lesson_sheet import lesson_pages
    from bedview.export.paper.pages import PAPERS
    from bedview.export.printing import paper_measure, pdf_of

    return pdf_of(lesson_pages(lesson, PAPERS[paper], paper_measure()), lesson.title)


def _stepping_page(lesson: Lesson) -> bytes:
    from bedview.export.handout.lesson_page import lesson_page

    return lesson_page(lesson).encode()


def _put(path: Path, data: bytes) -> Path:
    write_whole(path, data)
    return path
