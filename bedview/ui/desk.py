"""The desk: the piece that lies open, and all that is done with whole pieces. It shows nothing itself."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, QTimer, Signal

from bedview.language import gettext, marked
from bedview.ui.in_background import Errand
from bedview.ui.pages import load_pages
from bedview.ui.remembered import Remembered

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from bedview.plan.piece import Piece
    from bedview.session.open_piece import OpenPiece
    from bedview.store.recovery import Recovered, RecoveryCopies

TAKEN_UP: Final = marked("Edits from last time")
"""The edit that brings back what was not saved when the program ended; undo leads to the file."""
_COPY_AFTER_MS = 400
"""How long after an edit its copy is kept: edits come in bursts."""


class Desk(QObject):
    """What lies open.

    Args:
        remembered: where recent pieces are listed.
        parent: as ever.
        copies: the folder where copies of unsaved edits lie; the user's own if left out.
    """

    piece_opened = Signal()
    """Another piece lies open, or none."""
    state_changed = Signal()
    """Its title, whether it is saved, or what can be undone is another."""
    trouble_met = Signal(str)
    """Something could not be done; one sentence says what."""
    edits_recovered = Signal()
    """The piece that was opened has unsaved edits from last time."""
    loading_begun = Signal(str)
    """A piece is being read; its name."""

    def __init__(
        self, remembered: Remembered, parent: QObject | None = None, copies: Path | None = None
    ) -> None:
        super().__init__(parent)
        self._copies_folder = copies
        self._remembered = remembered
        self._opened: OpenPiece | None = None
        self._name = ""
        self._loading: Errand[OpenPiece] = Errand(self._put_down, self._refuse, self)
        self._copying: Errand[None] = Errand(lambda _: None, self._not_copied, self)
        self._copy_soon = QTimer(self)
        self._copy_soon.setSingleShot(True)
        self._copy_soon.setInterval(_COPY_AFTER_MS)
        self._copy_soon.timeout.connect(self._copy)

    @property
    def opened(self) -> OpenPiece | None:
        """The piece that lies open."""
        return self._opened

    @property
    def title(self) -> str:
        """Its title; empty if none lies open."""
        return self._opened.title if self._opened else ""

    @property
    def state_words(self) -> str:
        """Whether it is saved, in a word or two."""
        if self._opened is None:
            return ""
        if self._opened.unsaved:
            return self.tr("not saved yet")
        return self.tr("saved") if self._opened.path else self.tr("demo")

    @property
    def known_as(self) -> Path | None:
        """The file by which the piece is known: its own, its copy's while it is new, or that of the demo."""
        if self._opened is None or self._opened.path is not None:
            return None if self._opened is None else self._opened.path
        from bedview.store.demos import demo_paths
        from bedview.store.recovery import NEW

        if self._name.startswith(NEW):
            return _copies(self._copies_folder).place_of(self._name)
        return demo_paths().get(self._name)

    # -- opening ------------------------------------------------------------------------------------------

    def open(self, name: str) -> None:
        """Open a file, or a demo by its name. What lies open stays if that fails."""
        self._name = name
        self.loading_begun.emit(name)
        self._loading.start(partial(_load, name, self._copies_folder))

    def open_new(self, piece: Piece) -> None:
        """Lay a piece down that has no file yet."""
        from uuid import uuid4

        from bedview.session.open_piece import OpenPiece
        from bedview.store.recovery import NEW

        self._name = f"{NEW}{uuid4()}"
        self._put_down(OpenPiece(piece, None, _copies(self._copies_folder), self._name, is_new=True))
        self._copy()

    @property
    def without_file(self) -> Iterator[Recovered]:
        """Pieces that were begun and never saved, the newest first, each read when it is asked for."""
        return _copies(self._copies_folder).without_file()

    def throw_away(self, name: str) -> Callable[[], None]:
        """Throw the copy of a piece away that has no file; it does not lie open.

        Returns:
            What takes it back.
        """
        from bedview.store.whole_file import OutputError

        copies = _copies(self._copies_folder)
        found = copies.named(name)

        def take_back() -> None:
            if found is not None:
                copies.keep(name, found.piece)
            self.piece_opened.emit()

        try:
            copies.drop(name)
        except OutputError as error:
            self.trouble_met.emit(str(error))
        self.piece_opened.emit()
        return take_back

    def close_piece(self) -> None:
        """Put the piece away, so that none lies open. An unsaved one leaves its copy behind."""
        self.keep_copy()
        self._loading.drop()
        self._opened = None
        self._remembered.piece = ""
        self.piece_opened.emit()

    def _put_down(self, opened: OpenPiece) -> None:
        self.keep_copy()
        self._opened = opened
        opened.changed.connect(self._tell)
        opened.changed.connect(self._copy_later)
        opened.saved.connect(self._tell)
        if opened.path is not None:
            self._remembered.remember_recent(opened.path)
        self._remembered.piece = str(opened.path.absolute()) if opened.path else self._name
        self.piece_opened.emit()
        if opened.undo_words == gettext(TAKEN_UP):
            self.edits_recovered.emit()

    def _refuse(self, error: Exception) -> None:
        from bedview.plan.problems import PieceError
        from bedview.plan.procedure import PlanError

        if not isinstance(error, PieceError | PlanError):
            raise error
        if self._opened is None:
            self._remembered.piece = ""
        said = f"{error.where} {error.what}" if isinstance(error, PieceError) else str(error)
        self.trouble_met.emit(self.tr("{name} can't be opened: {why}.").format(name=self._name, why=said))
        if self._opened is None:
            self.piece_opened.emit()

    # -- the open piece -----------------------------------------------------------------------------------

    def save(self, path: Path | None = None) -> bool:
        """Save it, to another path if one is given.

        Returns:
            Whether it is saved now.
        """
        from bedview.store.piece_file import OutputError

        if self._opened is None or (path is None and self._opened.path is None):
            return False
        try:
            self._opened.save(path)
        except OutputError as error:
            self.trouble_met.emit(self.tr("Not saved: {why}.").format(why=error.what))
            return False
        if self._opened.path is not None:
            self._remembered.remember_recent(self._opened.path)
            self._remembered.piece = str(self._opened.path.absolute())
        return True

    def undo(self) -> None:
        """Take the last edit back."""
        if self._opened is not None:
            self._opened.undo()

    def redo(self) -> None:
        """Do the edit again that was taken back last."""
        if self._opened is not None:
            self._opened.redo()

    def keep_copy(self) -> None:
        """Keep a copy of unsaved edits now, if one is still to be kept."""
        from bedview.store.whole_file import OutputError

        if self._opened is None or not self._copy_soon.isActive():
            return
        self._copy_soon.stop()
        try:
            self._opened.keep_copy()
        except OutputError as error:
            self._not_copied(error)

    def _copy_later(self) -> None:
        self._copy_soon.start()

    def _copy(self) -> None:
        if self._opened is not None:
            self._copying.start(self._opened.keep_copy)

    def _not_copied(self, error: Exception) -> None:
        self.trouble_met.emit(
            self.tr("Your edits could not be copied to a safe place: {why}.").format(why=error)
        )

    def _tell(self) -> None:
        self.state_changed.emit()


def _copies(folder: Path | None) -> RecoveryCopies:
    from bedview.store.recovery import RecoveryCopies, default_folder

    return RecoveryCopies(folder or default_folder())


def _load(name: str, copies_folder: Path | None) -> OpenPiece:
    """Read a piece and work out all that the pages show of it, so that none of them waits."""
    load_pages()
    from bedview.session.open_piece import OpenPiece
    from bedview.store.demos import demo_paths, find_piece, spoken
    from bedview.store.piece_file import read_piece
    from bedview.store.recovery import NEW

    copies = _copies(copies_folder)
    kept = copies.named(name) if name.startswith(NEW) else None
    if kept is not None:
        opened = OpenPiece(kept.piece, None, copies, name, is_new=True)
    else:
        path = find_piece(name)
        is_demo = path in demo_paths().values()
        opened = OpenPiece(
            spoken(read_piece(path)) if is_demo else read_piece(path), None if is_demo else path, copies, name
        )
        left = copies.find(Path(opened.copy_name))
        if left is not None:
            opened.revise(left.piece, gettext(TAKEN_UP))
    if opened.steps:
        opened.folded  # noqa: B018 - asked for here, beside the window; kept for when a page asks
    return opened
