"""Which steps of making up are done: a small file a piece, written whole, on this machine only.

A step is known by a mark (:func:`bedview.finish.told.mark_of`) that stays the same as long as the step does
the same to the same loops. From the moment :meth:`MadeUp.keep` returns, what it was told is on the disk.
"""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path
from typing import Annotated, Final

from pydantic import BaseModel, Field, ValidationError

from bedview.language import gettext as _
from bedview.plan.fields import STRICT
from bedview.plan.piece import FORMAT, FormatNumber
from bedview.plan.problems import first_problem
from bedview.store.json_text import parse_json
from bedview.store.whole_file import OutputError, read_whole, reason, write_whole

MAX_BYTES: Final = 4 * 2**20
MOST_STEPS: Final = 50_000
SUFFIX: Final = ".made-up.json"

Mark = Annotated[str, Field(min_length=1, max_length=64)]


class DoneSteps(BaseModel):
    """What a file holds.

    Attributes:
        format: number of the file's format.
        done: marks of the steps that are done, in order of the alphabet.
    """

    model_config = STRICT

    format: FormatNumber = FORMAT
    done: Annotated[list[Mark], Field(max_length=MOST_STEPS)]


class MadeUp:
    """The files of all pieces of this user.

    Args:
        folder: where they lie; made when the first is kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def done(self, piece: Path) -> frozenset[str]:
        """Marks of the steps that are done of the piece in this file; none yet if there is no note of it.

        Raises:
            PieceError: if what was kept cannot be used.
        """
        path = self._path(piece)
        return frozenset(_parse(read_whole(path, MAX_BYTES)).done) if path.exists() else frozenset()

    def keep(self, piece: Path, done: frozenset[str]) -> None:
        """Write down which steps are done of the piece in this file; nothing done, no file.

        Raises:
            OutputError: if it cannot be written; what stood there before still stands.
        """
        path = self._path(piece)
        try:
            if not done:
                path.unlink(missing_ok=True)
                return
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(path, _("cannot be written: {reason}").format(reason=reason(error))) from None
        document = DoneSteps(done=sorted(done)).model_dump(mode="json")
        write_whole(path, (json.dumps(document) + "\n").encode(), _parse)

    def _path(self, piece: Path) -> Path:
        """The file of a piece: its name to be found by people, and a mark of its whole path."""
        whole = os.fsencode(piece.resolve())
        plain = "".join(sign if sign.isalnum() and sign.isascii() else "-" for sign in piece.name.lower())
        return self._folder / f"{plain[:40]}-{hashlib.sha256(whole).hexdigest()[:12]}{SUFFIX}"


def _parse(data: bytes) -> DoneSteps:
    document = parse_json(data)
    try:
        return DoneSteps.model_validate(document)
    except ValidationError as error:
        raise first_problem(error, document, DoneSteps.model_json_schema) from None
