"""Work that would hold up the window, done beside it.

No object of Qt's may be destroyed on another thread than the window's. So what the work holds is let go of on
the window's thread once the other has ended, and Python looks for garbage on the window's thread alone
(:mod:`bedview.ui.garbage`).
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, Generic, TypeVar, cast

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal

Result = TypeVar("Result")


class _Carrier(QObject):
    """Does one piece of work on a thread of its own and carries back what it brings.

    It belongs to the application, so that it outlives whoever asked.

    Args:
        number: which one it is.
        work: what to do.
    """

    back = Signal(int, object, object)
    """On the window's thread: its number, and what the work brought back or the exception it raised."""
    _landed = Signal(object, object)

    def __init__(self, number: int, work: Callable[[], Any]) -> None:
        super().__init__(QCoreApplication.instance())
        self._number = number
        self._work = work
        self._landed.connect(self._hand_on, Qt.ConnectionType.QueuedConnection)
        self._thread = threading.Thread(target=self._run, name="bedview-errand", daemon=True)

    def begin(self) -> None:
        """Set off."""
        self._thread.start()

    def _run(self) -> None:
        result, error = None, None
        try:
            result = self._work()
        except Exception as raised:  # noqa: BLE001 - handed to whoever asked for the work
            error = raised
        try:
            self._landed.emit(result, error)
        except RuntimeError:
            return  # The application is gone, and so is everyone who would want to know.

    def _hand_on(self, result: object, error: Exception | None) -> None:
        # The thread has nothing left to do but to end; after that nothing of this is held by it any more.
        self._thread.join()
        self.back.emit(self._number, result, error)
        self.deleteLater()


class Errand(QObject, Generic[Result]):
    """One piece of work on a thread of its own.

    Only the last one started counts: what an earlier one brings back is dropped.

    Args:
        done: is called on the window's thread with what the work brought back.
        failed: is called there with the exception instead, if it raised one.
        parent: as ever.
    """

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

    def start(self, work: Callable[[], Result]) -> None:
        """Begin, and come back at once."""
        self._number += 1
        carrier = _Carrier(self._number, work)
        carrier.back.connect(self._take)
        carrier.begin()

    def drop(self) -> None:
        """What is on its way counts no more."""
        self._number += 1

    def _take(self, number: int, result: object, error: Exception | None) -> None:
        if number != self._number:
            return
        if error is not None:
            self._failed(error)
        else:
            self._done(cast("Result", result))
