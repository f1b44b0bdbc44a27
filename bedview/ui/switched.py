"""What the system may or may not have, and what is switched on and off: a sound, a voice."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtCore import QObject

Instrument = TypeVar("Instrument")


class Switched(QObject, Generic[Instrument]):
    """Something off until it is switched on; it is looked for only then, for that may take a moment.

    Args:
        find: finds the instrument, given its owner; None if the system has none.
        parent: as ever.
    """

    def __init__(self, find: Callable[[QObject], Instrument | None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._find = find
        self._instrument: Instrument | None = None
        self._looked = False
        self._on = False

    @property
    def is_on(self) -> bool:
        """Whether it is switched on."""
        return self._on

    def switch(self, on: bool) -> bool:
        """Switch it on or off.

        Returns:
            Whether it is on now; it stays off where the system has none.
        """
        self._on = on and self.found() is not None
        return self._on

    def found(self) -> Instrument | None:
        """The instrument, looked for if that was not done yet; None if there is none."""
        if not self._looked:
            self._looked = True
            self._instrument = self._find(self)
        return self._instrument
