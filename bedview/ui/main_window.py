"""The main window: header, one page at a time, and the line that says what happened.

It appears before anything heavy is imported: pages are made when they are first shown.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QFileDialog, QMainWindow, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.ui.desk import Desk
from bedview.ui.measuring_again import measure_again
from bedview.ui.other_of_pair import open_other
from bedview.ui.pages import LATER_MS, load_learning
from bedview.ui.pages.names import ALL_PAGES, KNIT, LEARN, PAGES, PLAN, REHEARSE, START
from bedview.ui.parts.header import Header
from bedview.ui.parts.said import SaidLine
from bedview.ui.parts.waiting import WaitingPlate
from bedview.ui.piece_menu import PieceMenu
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

if TYPE_CHECKING:
    from bedview.plan.piece import Piece
    from bedview.session.knitting_run import KnittingRun
    from bedview.session.open_piece import OpenPiece
    from bedview.session.rehearsal import Rehearsal
    from bedview.ui.class_view.opening import ClassOpener
    from bedview.ui.pages.learn_page import LearnPage
    from bedview.ui.pages.making import PageMaker
    from bedview.ui.printing.opening import PrintOpener

FILES: Final = "*.piece.json"
USUAL_SIZE: Final = (1280, 800)


class MainWindow(QMainWindow):
    """The window.

    Args:
        theme: how it looks.
        desk: the piece that lies open.
        remembered: the window's place, the page.
        page: the page to begin with; the one shown last if left out.
        journal: where places in pieces are kept; in the user's own journal if left out.
        learners: folder of what learners have done; the user's own if left out.
    """

    def __init__(
        self,
        theme: Theme,
        desk: Desk,
        remembered: Remembered,
        page: str = "",
        journal: Path | None = None,
        learners: Path | None = None,
    ) -> None:
        super().__init__()
        self._theme = theme
        self.desk = desk
        self._remembered = remembered
        self._pages: dict[str, QWidget] = {}
        self._rehearsal: Rehearsal | None = None
        self._maker: PageMaker | None = None
        self._wanted = page or (LEARN if remembered.page == LEARN else "")
        self._learn: LearnPage | None = None
        self._journal = journal
        self._learners = learners
        self._handing_on = False
        self._class_opener: ClassOpener | None = None
        self._print_opener: PrintOpener | None = None
        self.menu = PieceMenu(self, desk, theme, remembered)
        self.header = Header(self.menu, theme)
        self.said = SaidLine(theme)
        self.waiting = WaitingPlate(theme)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.waiting)
        self._lay_out()
        self._connect()
        theme.dress(self)
        self.setAcceptDrops(True)
        self.setMinimumSize(720, 520)
        self.resize(*USUAL_SIZE)
        self.restoreGeometry(remembered.geometry)
        self._retitle()

    def _lay_out(self) -> None:
        whole = QWidget()
        whole.setProperty("part", "page")
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        said = QVBoxLayout()
        said.setContentsMargins(self._theme.px(24), 0, self._theme.px(20), 0)
        said.addWidget(self.said)
        column.addLayout(said)
        column.addWidget(self._stack, 1)
        self.setCentralWidget(whole)

    def _connect(self) -> None:
        self.header.page_chosen.connect(self.show_page)
        self.menu.new_wanted.connect(self.begin_piece)
        self.menu.open_wanted.connect(self.ask_for_piece)
        self.menu.save_wanted.connect(self.save)
        self.menu.save_as_wanted.connect(self.ask_where_to_save)
        self.menu.print_wanted.connect(self.show_print)
        self.menu.measure_wanted.connect(lambda: measure_again(self, self._theme, self._remembered))
        self.menu.other_wanted.connect(lambda: open_other(self, self._journal))
        self.menu.full_screen_wanted.connect(self._switch_full_screen)
        self.menu.class_view_wanted.connect(self.show_to_class)
        self.menu.turn_wanted.connect(self.turn_bed_round)
        self.menu.quit_wanted.connect(self.close)
        self.desk.piece_opened.connect(self._show_piece)
        self.desk.state_changed.connect(self._retitle)
        self.desk.trouble_met.connect(self.said.say)
        self.desk.edits_recovered.connect(self._say_recovered)
        self.desk.loading_begun.connect(lambda _name: self.said.clear())
        for number, name in enumerate(ALL_PAGES, 1):
            shortcut = QShortcut(QKeySequence(f"Ctrl+{number}"), self)
            shortcut.activated.connect(lambda name=name: self.show_page(name))

    # -- pages --------------------------------------------------------------------------------------------

    @property
    def rehearsal(self) -> Rehearsal | None:
        """Where the rehearsal of the open piece stands."""
        return self._rehearsal

    @property
    def knitting(self) -> KnittingRun | None:
        """Where the knitter stands in the open piece; None until the page Knit was shown."""
        return self._maker.run if self._maker else None

    @property
    def page_name(self) -> str:
        """Name of the page that is shown; empty for the start page."""
        shown = self._stack.currentWidget()
        if shown is not None and shown is self._learn:
            return LEARN
        return next((name for name, page in self._pages.items() if page is shown), START)

    @property
    def page(self) -> QWidget | None:
        """The page that is shown."""
        return self._stack.currentWidget()

    def show_page(self, name: str) -> None:
        """Show a page: of the open piece, of pieces to choose from while there is none, or Learn."""
        page = self._page_named(name)
        if page is None:
            return
        self._stack.setCurrentWidget(page)
        self._show_header()
        self.header.show_page(name)
        if name != START:
            self._remembered.page = name
        page.setFocus()

    def _page_named(self, name: str) -> QWidget | None:
        """The page of that name, made if need be; None if there is none now."""
        if name == LEARN:
            return self._learn_page()
        if name not in self._pages and name in PAGES and self._maker is not None:
            self._pages[name] = self._maker.make(name)
            self._stack.addWidget(self._pages[name])
        return self._pages.get(name)

    def _learn_page(self) -> LearnPage:
        """Learn stays as it is while pieces come and go."""
        if self._learn is None:
            from bedview.ui.learn.joining import make_learn_page

            self._learn = make_learn_page(self, self._theme, self._remembered, self._learners)
            self._learn.piece_wanted.connect(self._open_from_bench)
            self._stack.addWidget(self._learn)
        return self._learn

    def show_to_class(self) -> None:
        """Show the bed of this page to a class, on a screen of its own where there is one."""
        from bedview.ui.class_view.opening import ClassOpener

        self._class_opener = self._class_opener or ClassOpener(self._theme, self)
        if not self._class_opener.open_for(self.page):
            self.said.say(self.tr("The class view shows the bed of Rehearse, Knit and Learn."))

    def turn_bed_round(self) -> None:
        """See the bed of this page from the other side of the table, or no longer."""
        from bedview.ui.class_view.sources import Turnable

        page: object = self.page
        if isinstance(page, Turnable):
            page.turn_round()

    def show_print(self) -> None:
        """Show the piece as it will be printed."""
        from bedview.ui.printing.opening import PrintOpener

        self._print_opener = self._print_opener or PrintOpener(self._stack, self._theme, self)
        self._print_opener.open_for(self.desk.opened)

    def show_step(self, step: int) -> None:
        """Show the bed as it stands before a step of the plan."""
        if self._rehearsal is not None:
            self._rehearsal.leave_outcome()
            self._rehearsal.go_to(step)
            self.show_page(REHEARSE)

    def _show_piece(self) -> None:
        """Make room for the piece that lies open now, or show what could be opened."""
        for page in self._pages.values():
            self._stack.removeWidget(page)
            page.deleteLater()
        self._pages.clear()
        if self._maker is not None:
            self._maker.put_away()
            self._maker.deleteLater()
        self._rehearsal = self._maker = None
        opened = self.desk.opened
        if opened is None:
            self._show_start()
        else:
            self._make_pages(opened)
        self._show_pills()
        QTimer.singleShot(LATER_MS, self, load_learning)
        self._retitle()

    def _make_pages(self, opened: OpenPiece) -> None:
        from bedview.session.rehearsal import Rehearsal
        from bedview.store.journal import default_journal
        from bedview.ui.pages.making import PageMaker

        opened.speak_for(self._remembered.machine)
        self._rehearsal = Rehearsal(opened)
        journal = self._journal or default_journal()
        maker = PageMaker(self._rehearsal, self.desk, self._theme, self._remembered, journal, self)
        maker.step_wanted.connect(self.show_step)
        maker.page_wanted.connect(self.show_page)
        maker.print_wanted.connect(self.show_print)
        maker.trouble_met.connect(self.said.say)
        self._maker = maker
        left_at = self._remembered.page if self._remembered.page in PAGES else REHEARSE
        wanted = self._wanted if self._wanted in ALL_PAGES else left_at
        self._wanted = ""
        self.show_page(wanted)

    def _show_pills(self) -> None:
        """The pages that can be gone to now."""
        there = self.desk.opened is not None
        self.header.show_pages(ALL_PAGES if there else (START, LEARN), piece_open=there)

    def _show_start(self) -> None:
        from bedview.ui.pages.start_page import StartPage

        start = StartPage(self._remembered, self._theme, self.desk.without_file)
        start.piece_wanted.connect(self.desk.open)
        start.file_wanted.connect(self.ask_for_piece)
        start.new_wanted.connect(self.begin_piece)
        start.throwing_away_wanted.connect(self._throw_away)
        self._pages[START] = start
        self._stack.addWidget(start)
        wanted, self._wanted = self._wanted, ""
        self.show_page(LEARN if wanted == LEARN else START)

    def begin_piece(self) -> None:
        """Ask what a new piece shall be. What lies open stays until one is made."""
        from bedview.ui.pages.new_page import NewPage

        if isinstance(self._stack.currentWidget(), NewPage):
            return
        came_from = self._stack.currentWidget()
        page = NewPage(self._remembered, self._theme)
        page.piece_made.connect(self._open_new)
        page.put_away.connect(lambda: self._leave_new(page, came_from))
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        self.header.show_pages((), piece_open=False)
        next(iter(page.choices.values())).setFocus(Qt.FocusReason.TabFocusReason)

    def _open_new(self, piece: Piece) -> None:
        page = self._stack.currentWidget()
        self._wanted = PLAN
        self.desk.open_new(piece)
        if page is not None:
            self._stack.removeWidget(page)
            page.deleteLater()

    def _open_from_bench(self, piece: Piece) -> None:
        self._wanted = REHEARSE
        self.desk.open_new(piece)

    def _leave_new(self, page: QWidget, came_from: QWidget | None) -> None:
        came_from = came_from or self.waiting
        self._stack.setCurrentWidget(came_from)
        self._stack.removeWidget(page)
        page.deleteLater()
        self._show_pills()
        came_from.setFocus()

    def _retitle(self) -> None:
        opened = self.desk.opened
        self.header.show_title(self.desk.title, self.desk.state_words)
        self.setWindowTitle(f"{self.desk.title}[*] – bedview" if opened else "bedview")
        self.setWindowModified(opened is not None and opened.unsaved)
        self.menu.refresh()

    def _say_recovered(self) -> None:
        self.said.say(
            self.tr("Your edits from last time, which were not saved, are back."),
            self.tr("Take them out"),
            self.desk.undo,
        )

    def _throw_away(self, name: str) -> None:
        take_back = self.desk.throw_away(name)
        self.said.say(self.tr("Thrown away."), self.tr("Take it back"), take_back)

    # -- files --------------------------------------------------------------------------------------------

    def ask_for_piece(self) -> None:
        """Let the user choose a file to open."""
        folder = next((str(path.parent) for path in self._remembered.recent), "")
        name, _ = QFileDialog.getOpenFileName(self, self.tr("Open a piece"), folder, self._file_kinds())
        if name:
            self.desk.open(name)

    def save(self) -> None:
        """Save the piece; ask where to if it has no file yet."""
        opened = self.desk.opened
        if opened is not None and opened.path is None:
            self.ask_where_to_save()
        elif self.desk.save():
            self.said.clear()

    def ask_where_to_save(self) -> None:
        """Let the user choose a file to save to."""
        opened = self.desk.opened
        if opened is None:
            return
        named = opened.path or Path("".join(c if c.isalnum() else "-" for c in opened.title.lower()))
        start = str(named.with_name(named.name.removesuffix(".piece.json") + ".piece.json"))
        name, _ = QFileDialog.getSaveFileName(self, self.tr("Save the piece"), start, self._file_kinds())
        if name and self.desk.save(Path(name)):
            self.said.clear()

    def _file_kinds(self) -> str:
        return self.tr("Pieces ({pattern});;All files (*)").format(pattern=FILES)

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Keys that nobody took belong to the page, wherever the keyboard is.
        page = self._stack.currentWidget()
        focused = QApplication.focusWidget()
        inside = page is not None and focused is not None and (focused is page or page.isAncestorOf(focused))
        if page is None or inside or self._handing_on:
            super().keyPressEvent(event)
            return
        # What the page does not take either comes back up here.
        self._handing_on = True
        QCoreApplication.sendEvent(page, event)
        self._handing_on = False

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls() and event.mimeData().urls()[0].isLocalFile():
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.desk.open(event.mimeData().urls()[0].toLocalFile())

    @override
    def closeEvent(self, event: QCloseEvent) -> None:
        self._remembered.geometry = self.saveGeometry()
        self.desk.keep_copy()
        if self._maker is not None:
            self._maker.put_away()
        super().closeEvent(event)

    @override
    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.WindowStateChange:
            self._show_header()
        super().changeEvent(event)

    def _show_header(self) -> None:
        """The whole screen is the knitter's while one knits; the pages come back with the window."""
        self.header.setHidden(self.isFullScreen() and self.page_name == KNIT)

    def _switch_full_screen(self) -> None:
        self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)
