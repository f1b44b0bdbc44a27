"""The swatch book of this machine: one small file, for the next piece, written whole.

A file that cannot be used is said to be so and left as it stands: nothing is written over it, since somebody
may still mend it.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Final

import platformdirs
from pydantic import ValidationError

from bedview.language import gettext as _
from bedview.plan.problems import first_problem
from bedview.plan.swatch import SwatchBook
from bedview.store.json_text import parse_json
from bedview.store.whole_file import OutputError, read_whole, reason, write_whole

MAX_BYTES: Final = 4 * 2**20
FILE: Final = "swatches.json"


def default_file() -> Path:
    """Where the book of this user of this machine lies."""
    return platformdirs.user_data_path("bedview") / FILE


class SwatchFile:
    """The file of a swatch book.

    Args:
        path: where it lies; it is made when the first swatch is kept.
    """

    def __init__(self, path: Path) -> None:
        self._path = path

    def load(self) -> SwatchBook:
        """The book; an empty one if there is no file yet.

        Raises:
            PieceError: if there is a file that cannot be used.
        """
        return _parse(read_whole(self._path, MAX_BYTES)) if self._path.exists() else SwatchBook()

    def change(self, change: Callable[[SwatchBook], SwatchBook]) -> SwatchBook:
        """Change what stands in the file now; another window may have written there since.

        Args:
            change: makes the new book of the old one.

        Returns:
            The book as it was written.

        Raises:
            PieceError: if there is a file that cannot be used, or the new book would be none; what stood
                there before still stands.
            OutputError: if it cannot be written; the same.
        """
        book = change(self.load())
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(
                self._path, _("cannot be written: {reason}").format(reason=reason(error))
            ) from None
        document = book.model_dump(mode="json", exclude_unset=True) | {"format": book.format}
        data = (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()
        _parse(data)
        write_whole(self._path, data, _parse)
        return book


def _parse(data: bytes) -> SwatchBook:
    document = parse_json(data)
    try:
        return SwatchBook.model_validate(document)
    except ValidationError as error:
        raise first_problem(error, document, SwatchBook.model_json_schema) from None
