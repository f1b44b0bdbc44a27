"""The database file of the journal: opened safely, brought up to date, never lost without a word."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from bedview.language import gettext as _

_BUSY_MS: Final = 2000
"""How long to wait for another bedview that is writing."""
_PAGE_BYTES: Final = 1024
_DAMAGED: Final = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})
_BESIDE: Final = ("", "-wal", "-shm")
"""Endings of the files that make up one database."""

_STEPS: Final[Sequence[str]] = (
    """
    CREATE TABLE session (
        id INTEGER PRIMARY KEY,
        piece TEXT NOT NULL,           -- resolved path of the piece file
        begun_at TEXT NOT NULL,
        first INTEGER REFERENCES session,  -- for the other one of a pair: the session of the first
        follows TEXT NOT NULL,         -- 'plan', or 'knitted': the rows of the first as really knitted
        mirrored INTEGER NOT NULL
    );
    CREATE INDEX session_of_piece ON session (piece);
    CREATE TABLE confirmed (
        session INTEGER NOT NULL REFERENCES session,
        number INTEGER NOT NULL,       -- 0, 1, 2 … in the order of confirming
        step INTEGER NOT NULL,
        pass INTEGER NOT NULL,
        of INTEGER NOT NULL,
        digest BLOB NOT NULL,          -- of all steps up to this one
        at TEXT NOT NULL,
        PRIMARY KEY (session, number)
    ) WITHOUT ROWID;
    CREATE TABLE remark (
        session INTEGER NOT NULL REFERENCES session,
        step INTEGER NOT NULL,
        rows INTEGER,                  -- really knitted
        dial REAL,                     -- really used
        words TEXT NOT NULL,
        PRIMARY KEY (session, step)
    ) WITHOUT ROWID;
    """,
)
"""How the schema grew; the database counts in ``user_version`` how many of these it has been through."""


class JournalError(Exception):
    """The journal could not be read or written; one sentence says why. What it held, it still holds."""


@contextmanager
def plain_words() -> Iterator[None]:
    """Turn what SQLite raises into one sentence.

    Raises:
        JournalError: in place of any fault of SQLite's.
    """
    try:
        yield
    except sqlite3.Error as error:
        raise JournalError(_sentence(error)) from None


def _sentence(error: sqlite3.Error) -> str:
    match _code(error):
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return _("another bedview is writing in the knitting journal; try again in a moment")
        case sqlite3.SQLITE_FULL:
            return _("there is no space left on the disk for the knitting journal")
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM | sqlite3.SQLITE_CANTOPEN:
            return _("the knitting journal cannot be written: you are not allowed to, or its folder is gone")
        case sqlite3.SQLITE_CORRUPT | sqlite3.SQLITE_NOTADB:
            return _("the knitting journal is damaged; it is set aside when bedview next starts")
    return _("the knitting journal cannot be used: {error}").format(error=error)


def _code(error: sqlite3.Error) -> int:
    """The primary result code: what it is about, without the finer grades."""
    return getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF


def open_database(path: Path) -> tuple[sqlite3.Connection, Path | None]:
    """Open the database, or make it.

    Returns:
        The connection, and where a damaged database was moved to, or None.

    Raises:
        JournalError: if it cannot be opened, or comes from a newer program.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JournalError(
            _("the folder of the knitting journal cannot be made: {reason}").format(reason=error.strerror)
        ) from None
    with plain_words():
        try:
            return _connect(path), None
        except sqlite3.DatabaseError as error:
            if _code(error) not in _DAMAGED:
                raise
        aside = _move_aside(path)
        return _connect(path), aside


def _connect(path: Path) -> sqlite3.Connection:
    # Each statement is a transaction of its own unless one is begun by hand.
    connection = sqlite3.connect(path, timeout=_BUSY_MS / 1000, isolation_level=None)
    try:
        # A commit writes whole pages, and a row is short. It matters to a new database only.
        connection.execute(f"PRAGMA page_size = {_PAGE_BYTES}")
        # In WAL mode a commit appends to the log; FULL syncs the log at each commit, NORMAL would not.
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        _bring_up_to_date(connection)
        _look_through(connection)
    except BaseException:
        connection.close()
        raise
    return connection


def _look_through(connection: sqlite3.Connection) -> None:
    found = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if found != "ok":
        damage = sqlite3.DatabaseError(found)
        damage.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
        raise damage


def _bring_up_to_date(connection: sqlite3.Connection) -> None:
    version = _version(connection)
    if version > len(_STEPS):
        raise JournalError(_("the knitting journal was written by a newer bedview"))
    if version == len(_STEPS):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Another program may have done it meanwhile.
        for number in range(_version(connection), len(_STEPS)):
            for statement in _STEPS[number].split(";"):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {number + 1}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _move_aside(path: Path) -> Path:
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    aside = path.with_name(f"{path.stem}.damaged-{stamp}{path.suffix}")
    try:
        for ending in _BESIDE:
            part = path.with_name(path.name + ending)
            if part.exists():
                part.rename(aside.with_name(aside.name + ending))
    except OSError as error:
        raise JournalError(
            _("the knitting journal is damaged and cannot be moved: {reason}").format(reason=error.strerror)
        ) from None
    return aside
