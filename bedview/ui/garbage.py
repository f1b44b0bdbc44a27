"""Python's garbage is looked for on the window's thread alone.

Python collects on whichever thread happens to make the object that is one too many, and destroys there what
it finds. Widgets often lie in cycles, and Qt allows none of them to be destroyed beside its own thread.
"""

from __future__ import annotations

import gc
from typing import Final

from PySide6.QtCore import QObject, QTimer

_LOOK_MS: Final = 500


class Collector(QObject):
    """Collects garbage now and then on its own thread, while Python's own collecting is off on all of them.

    Args:
        parent: as ever.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._was_on = gc.isenabled()
        gc.disable()
        self._soon = QTimer(self)
        self._soon.setInterval(_LOOK_MS)
        self._soon.timeout.connect(self.look)
        self._soon.start()

    def look(self) -> None:
        """Collect the oldest generation that has grown as far as Python lets it, and all younger ones."""
        full = [count > most > 0 for count, most in zip(gc.get_count(), gc.get_threshold(), strict=True)]
        # An older generation is looked at only if the younger ones are, as Python does it.
        oldest = next((place for place, each in enumerate(full) if not each), len(full)) - 1
        if oldest >= 0:
            gc.collect(oldest)

    def stop(self) -> None:
        """Leave it to Python again, if it was so before."""
        self._soon.stop()
        if self._was_on:
            gc.enable()
