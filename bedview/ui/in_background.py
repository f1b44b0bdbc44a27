"""Work that would hold up the window, done beside it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar, cast

from PySide6.QtCore import QObject, Signal

Result = TypeVar("Result")


class Errand(QObject, Generic[Result]):
    """One piece of work on a thread of its own.

    Only the last one started counts: what an earlier one brings back is dropped.

    Args:
        done: is called on the window's thread with what the work brought back.
        failed: is called there with the exception instead, if it raised one.
        parent: as ever.
    """

    _returned = Signal(int, object, object)

    def __init__(
        self,
        done: Callable[[Result], object],
        failed: Callable[[Exception], object],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._done = done
        self._failed = failed
        self._number = 0
        self._returned.connect(self._take)

    def start(self, work: Callable[[], Result]) -> None:
        """Begin, and come back at once."""
        self._number += 1
        number = self._number

        def run() -> None:
            try:
                self._bring(number, work(), None)
            except Exception as error:  # noqa: BLE001 - handed to whoever asked for the work
                self._bring(number, None, error)

        threading.Thread(target=run, name="bedview-errand", daemon=True).start()

    def drop(self) -> None:
        """What is on its way counts no more."""
        self._number += 1

    def _bring(self, number: int, result: Result | None, error: Exception | None) -> None:
        try:
            self._returned.emit(number, result, error)
        except RuntimeError:
            return  # The window is gone, and so is everyone who would want to know.

    def _take(self, number: int, result: object, error: Exception | None) -> None:
        if number != self._number:
            return
        if error is not None:
            self._failed(error)
        else:
            self._done(cast("Result", result))
