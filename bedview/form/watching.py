"""Following long work, and ending it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Progress = Callable[[float], None]
"""Told how much is done, 0 to 1."""
Stop = Callable[[], bool]
"""Asked now and then whether to give up."""


class Stopped(Exception):
    """The work was given up because the caller said so."""


@dataclass(frozen=True)
class Watch:
    """Who follows the work, and may end it."""

    progress: Progress | None = None
    stop: Stop | None = None

    def at(self, done: float) -> None:
        """Say how much is done.

        Raises:
            Stopped: if the caller wants it to end.
        """
        if self.stop is not None and self.stop():
            raise Stopped
        if self.progress is not None:
            self.progress(min(done, 1.0))
