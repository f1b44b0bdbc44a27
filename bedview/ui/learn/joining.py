"""Makes the page Learn and joins what it wants to what does it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QFileDialog

from bedview.plan.piece import Piece
from bedview.store.learners import Learners, default_folder
from bedview.store.piece_file import OutputError, write_piece
from bedview.ui.desk import Desk
from bedview.ui.learn.class_menu import ClassMenu
from bedview.ui.pages.learn_page import LearnPage
from bedview.ui.parts.said import SaidLine
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

if TYPE_CHECKING:
    from bedview.ui.main_window import MainWindow

_ENDING = ".piece.json"


def make_learn_page(
    window: MainWindow, theme: Theme, remembered: Remembered, folder: Path | None = None
) -> LearnPage:
    """The page, with its menu for teachers.

    Args:
        window: where it will stand.
        theme: how it looks.
        remembered: whose progress it was last.
        folder: where learners' files lie; the user's own if left out.
    """
    folder = folder or default_folder()
    desk, said = window.desk, window.said
    page = LearnPage(desk, theme, remembered, Learners(folder), bench_file=folder.parent / f"bench{_ENDING}")
    page.said.connect(said.say)
    page.save_wanted.connect(lambda piece: _save(page, piece, desk, remembered, said))
    menu = ClassMenu(page, window)
    menu.class_view_wanted.connect(window.show_to_class)
    menu.turn_wanted.connect(window.turn_bed_round)
    menu.said.connect(said.say)
    return page


def _save(page: LearnPage, piece: Piece, desk: Desk, remembered: Remembered, said: SaidLine) -> None:
    """Let the user choose a file for what was made on the bench."""

    def tr(text: str) -> str:
        return QCoreApplication.translate("joining", text)

    kinds = tr("Pieces ({pattern});;All files (*)").format(pattern=f"*{_ENDING}")
    name, _ = QFileDialog.getSaveFileName(page, tr("Save the piece"), "", kinds)
    if not name:
        return
    path = Path(name).with_name(Path(name).name.removesuffix(_ENDING) + _ENDING)
    try:
        write_piece(path, piece)
    except OutputError as error:
        said.say(tr("Not saved: {why}.").format(why=error.what))
        return
    remembered.remember_recent(path)
    said.say(tr("Saved as {name}.").format(name=path.name), tr("Open it"), lambda: desk.open(str(path)))
