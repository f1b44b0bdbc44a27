"""Following long work, and ending it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

Progress = Callable[[float], None]
"""Told how much is done, 0 to 1."""
Stop = Callable[[], bool]
"""Asked now and then whether to give up."""


class Stopped(Exception):
    """The work was given up because the caller said so."""


@dataclass(frozen=True)
class Watch:
    """Who follows the work, and may end it.

    Attributes:
        progress: told how much of the whole is done.
        stop: asked whether to give up.
        start, end: the shares of the whole that are done before and after the work that is followed.
    """

    progress: Progress | None = None
    stop: Stop | None = None
    start: float = 0.0
    end: float = 1.0

    def part(self, start: float, end: float) -> Watch:
        """The same for a part of the work, from one share of it to another."""
        whole = self.end - self.start
        return replace(self, start=self.start + whole * start, end=self.start + whole * end)

    def at(self, done: float) -> None:
        """Say how much of this work is done.

        Raises:
            Stopped: if the caller wants it to end.
        """
        if self.stop is not None and self.stop():
            raise Stopped
        if self.progress is not None:
            self.progress(self.start + (self.end - self.start) * min(done, 1.0))
