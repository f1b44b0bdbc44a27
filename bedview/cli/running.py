"""Runs a command and turns whatever goes wrong into one line and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Final

import click

from bedview.plan.piece import Piece
from bedview.plan.problems import PieceError
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.store.demos import find_piece
from bedview.store.piece_file import OutputError, read_piece

DONE: Final = 0
ERROR_STANDS: Final = 1
UNUSABLE: Final = 2
NOT_WRITTEN: Final = 3


class Unusable(Exception):
    """An input that can't be used; its text is the whole line after ``bedview:``."""


@dataclass(slots=True)
class Outcome:
    """The worst that happened so far, as an exit code."""

    code: int = DONE
    _rank: dict[int, int] = field(
        default_factory=lambda: {DONE: 0, ERROR_STANDS: 1, UNUSABLE: 2, NOT_WRITTEN: 3}
    )

    def at_least(self, code: int) -> None:
        """Remember a code if it is worse than what is remembered."""
        if self._rank[code] > self._rank[self.code]:
            self.code = code


def run(arguments: list[str]) -> int:
    """Run a command.

    Returns:
        Its exit code: 0 done, 1 an error finding stands, 2 unusable input, 3 an output could not be written.
    """
    from bedview.cli.commands import app

    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    try:
        code = app.main(arguments, prog_name="bedview", standalone_mode=False)
        sys.stdout.flush()
    except Unusable as error:
        return _say(str(error), UNUSABLE)
    except click.Abort:
        return _say("stopped", UNUSABLE)
    except click.ClickException as error:
        return _say(error.format_message(), UNUSABLE)
    except OutputError as error:
        return _say(str(error), NOT_WRITTEN)
    except (BrokenPipeError, SystemExit):
        # Whoever read has read enough; Python must not complain about it again while it ends. click ends the
        # program then with code 1, which means something else here; it leaves this way for nothing else.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        return _say(f"the output could not be written: {error.strerror or error}", NOT_WRITTEN)
    return code if isinstance(code, int) else DONE


def complain(message: str) -> None:
    """Print one line on standard error."""
    print(f"bedview: {' '.join(message.split())}", file=sys.stderr)


def _say(message: str, code: int) -> int:
    complain(message)
    return code


def load(name: str) -> tuple[Piece, Procedure]:
    """The piece of a file or a demo, compiled to its end.

    Raises:
        Unusable: if it can't be read or can't be done.
    """
    piece = load_piece(name)
    try:
        return piece, compile_piece(piece)
    except PlanError as error:
        raise Unusable(f"{name}: {error.where}: {error.message}") from None


def load_piece(name: str) -> Piece:
    """The piece of a file or a demo.

    Raises:
        Unusable: if it can't be read.
    """
    try:
        return read_piece(find_piece(name))
    except PieceError as error:
        raise Unusable(f"{name}: {error.where}: {error.what}") from None


def each_file(names: Iterable[str], work: Callable[[str], int]) -> int:
    """Do some work for each file; an unusable one gets its line and the rest are done.

    Args:
        names: paths or demos.
        work: does one and gives its exit code.

    Returns:
        The worst exit code.
    """
    outcome = Outcome()
    for name in names:
        try:
            outcome.at_least(work(name))
        except Unusable as error:
            complain(str(error))
            outcome.at_least(UNUSABLE)
    return outcome.code
