"""Copies of pieces with edits that have not been saved, so that they outlive a crash.

A copy is written whole, shortly after each edit, and dropped when the piece is saved or its edits are given
up. One that is still there when a piece is opened was left behind by a crash. When to write one is the
session's business; nothing here starts a thread or a timer.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import platformdirs

from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.problems import PieceError
from bedview.store.bounds import MAX_BYTES
from bedview.store.piece_file import parse_piece
from bedview.store.piece_text import piece_text
from bedview.store.whole_file import OutputError, read_whole, reason, write_whole

NEW: Final = "new-"
"""Names of pieces that have no file yet begin with this."""
_ENDING: Final = ".copy"
_LONGEST_HEAD: Final = 2**16


@dataclass(frozen=True, slots=True)
class Recovered:
    """A copy that was left behind.

    Attributes:
        name: what :meth:`RecoveryCopies.keep` was told: the path of the piece, or another name.
        piece: the piece with its unsaved edits.
        kept_at: when it was kept, in seconds since 1970.
    """

    name: str
    piece: Piece
    kept_at: float


def default_folder() -> Path:
    """Where this user's copies lie."""
    return platformdirs.user_state_path("bedview") / "recovery"


class RecoveryCopies:
    """The copies in one folder, one for each name.

    A name is the path of the piece, or, while it has none yet, a word that begins with :data:`NEW`.

    Args:
        folder: where they lie; made when the first is kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def keep(self, name: str, piece: Piece) -> None:
        """Keep a copy of a piece, in place of an earlier one of that name.

        Raises:
            OutputError: if it cannot be written; the earlier one still stands.
        """
        head = json.dumps({"name": name}).encode()
        try:
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(
                self._folder, _("cannot be made: {reason}").format(reason=reason(error))
            ) from None
        write_whole(self.place_of(name), head + b"\n" + piece_text(piece))

    def drop(self, name: str) -> None:
        """Forget the copy of that name, if there is one.

        Raises:
            OutputError: if it is there and cannot be removed.
        """
        place = self.place_of(name)
        try:
            place.unlink(missing_ok=True)
        except OSError as error:
            raise OutputError(place, _("cannot be removed: {reason}").format(reason=reason(error))) from None

    def find(self, path: Path) -> Recovered | None:
        """The copy that was left behind of the piece in a file, if it is newer than the file.

        A copy that says what the file says, or that cannot be read, is none.
        """
        found = self._read(self.place_of(str(path)))
        if found is None:
            return None
        try:
            if path.stat().st_mtime > found.kept_at:
                return None
            return None if read_whole(path, MAX_BYTES) == piece_text(found.piece) else found
        except (OSError, PieceError):
            # The file is gone or broken: all the more reason to offer the copy.
            return found

    def named(self, name: str) -> Recovered | None:
        """The copy of that name, if it is there and can be read."""
        return self._read(self.place_of(name))

    def without_file(self) -> Iterator[Recovered]:
        """The copies of pieces that have no file yet, the newest first, each read when it is asked for."""
        return self._newest(NEW)

    def all(self) -> list[Recovered]:
        """All copies that were left behind and can be read, the newest first."""
        return list(self._newest())

    def _newest(self, beginning: str = "") -> Iterator[Recovered]:
        """Copies whose names begin so."""
        for place in sorted(self._folder.glob(f"*{_ENDING}"), key=_kept_at, reverse=True):
            found = self._read(place, beginning)
            if found is not None:
                yield found

    def place_of(self, name: str) -> Path:
        """The file of the copy of that name, whether it is there or not."""
        digest = hashlib.blake2b(name.encode(errors="surrogateescape"), digest_size=16).hexdigest()
        return self._folder / f"{digest}{_ENDING}"

    def _read(self, place: Path, beginning: str = "") -> Recovered | None:
        """A copy, if it can be read and its name begins so."""
        try:
            kept_at = place.stat().st_mtime
            head, _, text = read_whole(place, MAX_BYTES + _LONGEST_HEAD).partition(b"\n")
            name = str(json.loads(head)["name"])
            return Recovered(name, parse_piece(text), kept_at) if name.startswith(beginning) else None
        except (OSError, ValueError, KeyError, TypeError):
            return None


def _kept_at(place: Path) -> float:
    """When a copy was kept; as long ago as can be if it is gone meanwhile."""
    try:
        return place.stat().st_mtime
    except OSError:
        return 0.0
