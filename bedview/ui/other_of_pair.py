"""The other one of a pair, wherever the first is looked at: mirrored, with what was noted while knitting."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

if TYPE_CHECKING:
    from bedview.session.really_knitted import Change
    from bedview.ui.main_window import MainWindow


def open_other(window: MainWindow, journal: Path | None) -> None:
    """Lay down the other one of the pair of the piece that lies open.

    Where something was done otherwise while the first was knitted, the other follows that, and remarks stand
    in it as notes; else it follows the plan.

    Args:
        window: where the first lies open.
        journal: where it was noted what was done otherwise; in the user's own journal if None.
    """
    from bedview.plan.procedure import PlanError
    from bedview.session.really_knitted import second_piece
    from bedview.store.journal import default_journal

    first = window.desk.opened
    if first is None:
        return
    changes = _changes(window.desk.known_as, journal or default_journal())
    try:
        other = second_piece(first.piece, changes, really=bool(changes), mirrored=True)
    except (PlanError, ValueError):
        # What was done otherwise fits the plan no more; the plan alone always can be mirrored.
        changes = ()
        other = second_piece(first.piece, (), really=False, mirrored=True)
    window.desk.open_new(other)
    text = QCoreApplication.translate(
        "OtherOfPair", "This is the other one of the pair, left and right exchanged."
    )
    if changes:
        text = QCoreApplication.translate(
            "OtherOfPair",
            "This is the other one of the pair, left and right exchanged, with what you noted of the first.",
        )
    window.said.say(text)


def _changes(known_as: Path | None, path: Path) -> Sequence[Change]:
    """What was done otherwise when the piece was knitted last; nothing, if no journal says so."""
    from bedview.session.record import Record
    from bedview.store.journal import Journal
    from bedview.store.journal_file import JournalError

    if known_as is None or not path.exists():
        return ()
    try:
        with Journal(path) as journal:
            return Record(journal, known_as).changes()
    except JournalError:
        return ()
