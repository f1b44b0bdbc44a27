"""The knitting journal: which rows have been knitted, and what was otherwise than planned.

A row counts as knitted once :meth:`Session.confirm` has been called for it, and from the moment that returns
it is on the disk: power may fail, the program may be killed. A row whose ``confirm`` was under way then is
there or is not there, never half. No row is there that was not confirmed.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import platformdirs

from bedview.store.journal_file import JournalError, open_database, plain_words

__all__ = ["Follows", "Journal", "JournalError", "Progress", "Remark", "Session", "default_journal"]


class Follows(StrEnum):
    """What a knitting session goes by."""

    PLAN = "plan"
    KNITTED = "knitted"


@dataclass(frozen=True, slots=True)
class Progress:
    """The last confirmed step of a session.

    Attributes:
        step: its number, from 0.
        pass_number: passes made after it.
        of: passes of the whole procedure, as it was then.
        confirmed_at: when, ISO 8601 with the offset of the clock.
        digest: what the procedure said up to this step (:func:`bedview.store.knitted.step_digests`).
    """

    step: int
    pass_number: int
    of: int
    confirmed_at: str
    digest: bytes

    def to_json(self, digest_now: bytes | None) -> dict[str, Any]:
        """What ``bedview progress --json`` prints.

        Args:
            digest_now: what the procedure says today up to this step; None if it has no such step.
        """
        told: dict[str, Any] = {
            "step": self.step,
            "pass": self.pass_number,
            "of": self.of,
            "confirmed_at": self.confirmed_at,
        }
        return told if digest_now == self.digest else told | {"changed": True}


@dataclass(frozen=True, slots=True)
class Remark:
    """What was otherwise than planned at a step; a field is None where nothing was said.

    Attributes:
        rows: rows really knitted.
        dial: tension really used.
        words: anything else.
    """

    rows: int | None = None
    dial: float | None = None
    words: str = ""


def default_journal() -> Path:
    """Where this user's journal lies."""
    return platformdirs.user_data_path("bedview") / "knitting.sqlite3"


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")


class Journal:
    """All knitting sessions of one user. Use it in the thread that opened it, and close it.

    Args:
        path: the database; made if it is not there.
        now: tells the time, ISO 8601.

    Attributes:
        set_aside: where a damaged journal was moved when this one was opened, or None.

    Raises:
        JournalError: if it cannot be opened.
    """

    def __init__(self, path: Path, now: Callable[[], str] = _now) -> None:
        self._database, self.set_aside = open_database(path)
        self._now = now

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the database. The sessions of this journal cannot be used any more."""
        self._database.close()

    def latest(self, piece_path: Path) -> Session | None:
        """The last session that was begun on the piece in this file, or None.

        Raises:
            JournalError: if the journal cannot be read.
        """
        with plain_words():
            row = self._database.execute(
                "SELECT id, first, follows, mirrored FROM session WHERE piece = ? ORDER BY id DESC LIMIT 1",
                (_known_as(piece_path),),
            ).fetchone()
        if row is None:
            return None
        return Session(self._database, self._now, row[0], row[1], Follows(row[2]), bool(row[3]))

    def session_for(self, piece_path: Path) -> Session:
        """The last session on the piece in this file, or its first one, begun now.

        Raises:
            JournalError: if the journal cannot be read or written.
        """
        return self.latest(piece_path) or self.begin(piece_path)

    def begin(
        self,
        piece_path: Path,
        *,
        first: Session | None = None,
        follows: Follows = Follows.PLAN,
        mirrored: bool = False,
    ) -> Session:
        """Begin a session.

        Args:
            piece_path: the file of the piece.
            first: for the second one of a pair, the session of the first.
            follows: whether it goes by the plan, or by what was really knitted of the first.
            mirrored: whether left and right are exchanged.

        Raises:
            JournalError: if the journal cannot be written.
        """
        number = None if first is None else first.number
        with plain_words():
            made = self._database.execute(
                "INSERT INTO session (piece, begun_at, first, follows, mirrored) VALUES (?, ?, ?, ?, ?)",
                (_known_as(piece_path), self._now(), number, follows.value, mirrored),
            ).lastrowid
        assert made is not None
        return Session(self._database, self._now, made, number, follows, mirrored)


def _known_as(path: Path) -> str:
    """The name a piece is known by; file names that are no text keep apart from one another."""
    return os.fsencode(path.resolve()).decode(errors="backslashreplace")


class Session:
    """One piece being knitted, from the first row to the last. Journals make them.

    Attributes:
        number: which session it is in its journal.
        first: for the second one of a pair, the number of the first one's session.
        follows: whether it goes by the plan or by what was knitted of the first.
        mirrored: whether left and right are exchanged.
    """

    def __init__(
        self,
        database: sqlite3.Connection,
        now: Callable[[], str],
        number: int,
        first: int | None,
        follows: Follows,
        mirrored: bool,
    ) -> None:
        self._database = database
        self._now = now
        self.number = number
        self.first = first
        self.follows = follows
        self.mirrored = mirrored

    def confirm(self, step: int, pass_number: int, of: int, digest: bytes) -> None:
        """Write down that a step has been done; it is on the disk when this returns.

        Args:
            step: its number, from 0.
            pass_number: passes made after it.
            of: passes of the whole procedure.
            digest: what the procedure says up to this step.

        Raises:
            JournalError: if it could not be written; it does not count as done then.
        """
        with plain_words():
            self._database.execute(
                "INSERT INTO confirmed (session, number, step, pass, of, digest, at) "
                "SELECT ?1, coalesce(max(number) + 1, 0), ?2, ?3, ?4, ?5, ?6 "
                "FROM confirmed WHERE session = ?1",
                (self.number, step, pass_number, of, digest, self._now()),
            )

    def back(self) -> Progress | None:
        """Take the last confirmed step back.

        Returns:
            What is the last one now.

        Raises:
            JournalError: if it could not be written; the step still counts then.
        """
        with plain_words():
            self._database.execute(
                "DELETE FROM confirmed WHERE session = ?1 AND number = "
                "(SELECT max(number) FROM confirmed WHERE session = ?1)",
                (self.number,),
            )
        return self.last()

    def last(self) -> Progress | None:
        """The last confirmed step, or None.

        Raises:
            JournalError: if the journal cannot be read.
        """
        rows = self._confirmed("ORDER BY number DESC LIMIT 1")
        return rows[0] if rows else None

    def confirmed(self) -> list[Progress]:
        """All confirmed steps, in the order of confirming.

        Raises:
            JournalError: if the journal cannot be read.
        """
        return self._confirmed("ORDER BY number")

    def _confirmed(self, order: str) -> list[Progress]:
        with plain_words():
            found = self._database.execute(
                f"SELECT step, pass, of, at, digest FROM confirmed WHERE session = ? {order}",  # noqa: S608
                (self.number,),
            ).fetchall()
        return [Progress(*row) for row in found]

    def remark(self, step: int, remark: Remark) -> None:
        """Write down what was otherwise at a step, in place of what was said of it before.

        Raises:
            JournalError: if it could not be written.
        """
        with plain_words():
            self._database.execute(
                "INSERT OR REPLACE INTO remark (session, step, rows, dial, words) VALUES (?, ?, ?, ?, ?)",
                (self.number, step, remark.rows, remark.dial, remark.words),
            )

    def remarks(self) -> dict[int, Remark]:
        """What was otherwise, by the number of the step.

        Raises:
            JournalError: if the journal cannot be read.
        """
        with plain_words():
            found = self._database.execute(
                "SELECT step, rows, dial, words FROM remark WHERE session = ? ORDER BY step", (self.number,)
            ).fetchall()
        return {step: Remark(rows, dial, words) for step, rows, dial, words in found}
