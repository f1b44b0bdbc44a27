"""JSON, read more strictly than JSON asks: no key twice, no NaN, a place in the text for everything wrong.

The fast parser that comes with pydantic keeps the last of two equal keys without a word, and the parser that
can be asked about each object takes several times as long. So the text is parsed fast, and then held against
what it was parsed to: every key brings a colon, so a text whose keys all survived has exactly as many colons
as the same value written again. Only if they differ are the objects gone through one by one.
"""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, Final

from pydantic_core import from_json, to_json

from bedview.bed.needles import shorten
from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.problems import TOP, PieceError, Place, json_path

_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"
_PLACED: Final = re.compile(r"(?P<what>.*) at line (?P<line>\d+) column (?P<column>\d+)", re.DOTALL)
_PLAIN: Final = {
    "control character (\\u0000-\\u001F) found while parsing a string": marked(
        "a line break or control character stands inside a text; write \\n"
    ),
    "invalid unicode code point": marked("this is not UTF-8 text"),
    "lone leading surrogate in hex escape": marked("half a character: \\u followed by the wrong digits"),
    "unexpected end of hex escape": marked("half a character: \\u followed by the wrong digits"),
    "invalid escape": marked("a backslash is followed by something JSON does not know"),
    "invalid number": marked("this is not a number JSON knows; NaN and Infinity are none"),
    "number out of range": marked("this number is far too long"),
    "key must be a string": marked("a key must stand in double quotes"),
    "trailing comma": marked("there is a comma with nothing after it"),
    "trailing characters": marked("something follows after the end of the document"),
    "expected ident": marked("this is not a word JSON knows; it knows true, false and null"),
    "expected value": marked("a JSON value must stand here; NaN and Infinity are none"),
    "recursion limit exceeded": marked("lists and objects stand in one another far too deep"),
}


@contextmanager
def collecting_paused() -> Iterator[None]:
    """Keep the garbage collector out while very many objects are made that all stay."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()


def colons_of(value: object) -> int:
    """How many colons a value takes, written as JSON: one for each key, and those inside texts and keys."""
    return to_json(value).count(b":")


def parse_json(data: bytes, colons: Callable[[Any], int] = colons_of) -> Any:  # noqa: ANN401 - JSON is anything
    """The value that a JSON text says.

    Args:
        data: UTF-8; a byte order mark before it is passed over.
        colons: counts like :func:`colons_of`; one that knows what it counts in may be faster.

    Returns:
        What :func:`json.loads` would give. Numbers beyond all bounds come as infinity.

    Raises:
        PieceError: if it is no JSON, holds NaN or Infinity, or has a key twice in one object.
    """
    text = data.removeprefix(_BYTE_ORDER_MARK)
    if not text or text.isspace():
        raise PieceError("file", _("is empty"))
    try:
        if not text.isascii():
            text.decode()
        value = from_json(text, allow_inf_nan=False)
    except UnicodeDecodeError as error:
        raise PieceError(
            _line_and_column(text, error.start), _(_PLAIN["invalid unicode code point"])
        ) from None
    except ValueError as error:
        raise _broken(str(error)) from None
    # A colon written as an escape is not written so again, and might make up for one that is missing.
    escaped = b"\\" in text and b"\\u003" in text
    if escaped or text.count(b":") != colons(value):
        _refuse_key_twice(text)
    return value


def _line_and_column(text: bytes, offset: int) -> str:
    """Line and column of a byte, both from 1."""
    line = text.count(b"\n", 0, offset) + 1
    column = offset - text.rfind(b"\n", 0, offset)
    return _("line {line} column {column}").format(line=line, column=column)


def _broken(message: str) -> PieceError:
    placed = _PLACED.fullmatch(message)
    if placed is None:
        return PieceError(TOP, message)
    line, column = int(placed["line"]), max(int(placed["column"]), 1)
    where = _("line {line} column {column}").format(line=line, column=column)
    what = placed["what"]
    if what.startswith("EOF"):
        return PieceError(where, _("the file ends in the middle of something"))
    if what.startswith("expected `"):
        return PieceError(where, what.replace("`", "'"))
    return PieceError(where, _(_PLAIN.get(what, what)))


class _Twice:
    """Stands for an object with a key twice, and for all that it stands in."""

    def __init__(self, key: str) -> None:
        self.key = key
        self.place: Place = (key,)


class _KeyWatch:
    """Looks at each object as soon as it is complete, inner ones first, and keeps only the first fault."""

    def __init__(self) -> None:
        self.found: _Twice | None = None

    def look(self, pairs: list[tuple[str, object]]) -> object:
        """Look at one object, given as its keys and values."""
        if self.found is None and len(dict(pairs)) == len(pairs):
            return None
        if self.found is None:
            self.found = _Twice(_first_twice(pairs))
            return self.found
        for key, value in pairs:
            below = _place_in(value, self.found)
            if below is not None:
                self.found.place = (key, *below, *self.found.place)
                return self.found
        return None


def _first_twice(pairs: list[tuple[str, object]]) -> str:
    seen: set[str] = set()
    for key, _value in pairs:
        if key in seen:
            break
        seen.add(key)
    return key


def _place_in(value: object, fault: _Twice) -> Place | None:
    """Where in a value the fault stands, or None; objects without it have been dropped already."""
    if value is fault:
        return ()
    if isinstance(value, list):
        for index, entry in enumerate(value):
            below = _place_in(entry, fault) if entry is fault or isinstance(entry, list) else None
            if below is not None:
                return (index, *below)
    return None


def _refuse_key_twice(text: bytes) -> None:
    watch = _KeyWatch()
    top = json.loads(text, object_pairs_hook=watch.look)
    if watch.found is None:
        return
    place = (*(_place_in(top, watch.found) or ()), *watch.found.place)
    raise PieceError(
        json_path(place), _("the key '{key}' stands here twice").format(key=shorten(watch.found.key))
    )
