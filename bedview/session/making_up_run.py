"""Making up: which steps are done, on disk before anybody says so, and which comes next."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from psygnal import Signal

from bedview.plan.problems import PieceError
from bedview.store.made_up import MadeUp


def _nowhere() -> Path | None:
    return None


class MakingUpRun:
    """Where hands stand in the making up of an open piece.

    Steps are known by their marks. One that changed since it was done, or is gone, does not count; it counts
    again when the change is taken back.

    Args:
        record: what keeps the place; None to keep none.
        known_as: the file by which the piece is known now; None while it has none.

    Signals:
        changed: other steps are done now.

    Attributes:
        trouble: why what was kept could not be read; empty if it could.
    """

    changed = Signal()

    def __init__(self, record: MadeUp | None = None, known_as: Callable[[], Path | None] = _nowhere) -> None:
        self._record = record
        self._known_as = known_as
        self._kept_as = known_as()
        self._steps: tuple[str, ...] = ()
        self._done: frozenset[str] = frozenset()
        self.trouble = ""
        if record is not None and self._kept_as is not None:
            try:
                self._done = record.done(self._kept_as)
            except PieceError as error:
                self.trouble = str(error)

    @property
    def is_kept(self) -> bool:
        """Whether the place outlasts the program."""
        return self._record is not None and self._kept_as is not None

    @property
    def done(self) -> frozenset[str]:
        """Marks of all that was done, steps that have changed since among them."""
        return self._done

    @property
    def count(self) -> int:
        """How many of the steps are done."""
        return sum(mark in self._done for mark in self._steps)

    @property
    def next(self) -> int:
        """Number of the first step that is not done, from 0; how many there are if all are."""
        return next((number for number, mark in enumerate(self._steps) if mark not in self._done), self.of)

    @property
    def of(self) -> int:
        """How many steps there are."""
        return len(self._steps)

    def take_steps(self, marks: tuple[str, ...]) -> None:
        """These are the steps now."""
        self._steps = marks

    def is_done(self, step: int) -> bool:
        """Whether a step is done."""
        return self._steps[step] in self._done

    def next_after(self, step: int) -> int:
        """The first step behind one that is not done, else the first of all; :attr:`of` if all are done."""
        behind = (number for number in range(step + 1, self.of) if not self.is_done(number))
        return next(behind, self.next)

    def tick(self, step: int, *, done: bool = True) -> None:
        """A step is done, or it is not after all.

        Raises:
            OutputError: if it is not on disk; it does not count then.
        """
        self._keep(self._done | {self._steps[step]} if done else self._done - {self._steps[step]})

    def begin_again(self) -> frozenset[str]:
        """Nothing is done any more.

        Returns:
            What was, for :meth:`take_up`.

        Raises:
            OutputError: if it is not on disk; what was done still is then.
        """
        before = self._done
        self._keep(frozenset())
        return before

    def take_up(self, done: frozenset[str]) -> None:
        """Go on where these steps were done.

        Raises:
            OutputError: if it is not on disk.
        """
        self._keep(done)

    def follow_file(self) -> None:
        """The piece was saved; keep the place with the file it is known by now.

        Raises:
            OutputError: if it is not on disk there; it still is where it was.
        """
        known_as = self._known_as()
        if known_as != self._kept_as and self._record is not None and known_as is not None:
            self._record.keep(known_as, self._done)
        self._kept_as = known_as

    def _keep(self, done: frozenset[str]) -> None:
        if self._record is not None and self._kept_as is not None:
            self._record.keep(self._kept_as, done)
        if done != self._done:
            self._done = done
            self.changed.emit()
