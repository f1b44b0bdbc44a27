"""Makes the pages of an open piece, and joins what they want to what does it."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QObject, Signal
from PySide6.QtWidgets import QWidget

from bedview.session.knitting_run import KnittingRun
from bedview.session.making_up_run import MakingUpRun
from bedview.session.record import Record
from bedview.session.rehearsal import Rehearsal
from bedview.session.swatch_shelf import SwatchShelf
from bedview.store.journal import Journal
from bedview.store.journal_file import JournalError
from bedview.store.made_up import MadeUp
from bedview.store.swatches import SwatchFile, default_file
from bedview.ui.desk import Desk
from bedview.ui.finish.workshop import Workshop
from bedview.ui.pages.finish_page import FinishPage
from bedview.ui.pages.knit_page import KnitPage
from bedview.ui.pages.names import FINISH, KNIT, PLAN, REHEARSE
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.pages.rehearse_page import RehearsePage
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme


class PageMaker(QObject):
    """Makes pages of one open piece.

    Args:
        rehearsal: where its rehearsal stands.
        desk: where it lies.
        theme: how pages look.
        remembered: what was chosen on them.
        journal: where places in pieces are kept.
        parent: as ever.
    """

    step_wanted = Signal(int)
    """A page wants a step shown on the bed."""
    print_wanted = Signal()
    """A page wants the piece shown as it will be printed."""
    page_wanted = Signal(str)
    """A page wants another one shown."""
    trouble_met = Signal(str)
    """Something could not be done; one sentence says what."""

    def __init__(
        self,
        rehearsal: Rehearsal,
        desk: Desk,
        theme: Theme,
        remembered: Remembered,
        journal: Path,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self._desk = desk
        self._theme = theme
        self._remembered = remembered
        self._journal_path = journal
        self._journal: Journal | None = None
        self._run: KnittingRun | None = None
        self._workshop = Workshop(self)

    @property
    def run(self) -> KnittingRun | None:
        """Where the knitter stands; None until the page Knit was made."""
        return self._run

    def make(self, name: str) -> QWidget:
        """Make a page by its name."""
        pages = {PLAN: self._plan, REHEARSE: self._rehearse, KNIT: self._knit, FINISH: self._finish}
        return pages[name]()

    def put_away(self) -> None:
        """Close what was opened for the pages; they must not be used any more."""
        if self._journal is not None:
            with suppress(JournalError):
                self._journal.close()
            self._journal = None
        self._workshop.close()

    def _plan(self) -> PlanPage:
        shelf = SwatchShelf(SwatchFile(default_file()))
        page = PlanPage(self._rehearsal.opened, self._theme, self._remembered, shelf)
        page.step_wanted.connect(self.step_wanted)
        page.print_wanted.connect(self.print_wanted)
        page.piece_wanted.connect(self._desk.open_new)
        return page

    def _rehearse(self) -> RehearsePage:
        return RehearsePage(self._rehearsal, self._theme, self._remembered)

    def _finish(self) -> FinishPage:
        record = MadeUp(self._journal_path.parent / "making-up")
        run = MakingUpRun(record, lambda: self._desk.known_as)
        return FinishPage(self._rehearsal.opened, self._workshop, self._theme, run)

    def _knit(self) -> KnitPage:
        self._run = self._begin_run()
        page = KnitPage(self._run, self._theme)
        page.second_piece_wanted.connect(self._desk.open_new)
        page.finish_wanted.connect(lambda: self.page_wanted.emit(FINISH))
        return page

    def _begin_run(self) -> KnittingRun:
        """Go on where the journal says; where it says nothing, keep the place in memory and say so."""
        opened = self._rehearsal.opened
        try:
            self._journal = Journal(self._journal_path)
            return KnittingRun(opened, Record(self._journal, self._desk.known_as))
        except JournalError as error:
            self.put_away()
            text = QCoreApplication.translate("PageMaker", "Your place will not be remembered: {why}.")
            self.trouble_met.emit(text.format(why=error))
            return KnittingRun(opened, Record())
