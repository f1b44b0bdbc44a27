"""One press, one row: a pedal that bounces, or a key that is held down, must not run away with the rows."""

from __future__ import annotations

from typing import Final

QUIET_MS: Final = 300
"""Nobody knits a row in less."""


class PressGuard:
    """Says which presses count.

    A press counts when nothing was pressed for so long before it. Presses that do not count start the quiet
    anew: a pedal that is held down and sends one press after another is heard once, until it is let go.

    Args:
        quiet_ms: how long it must have been quiet.
    """

    def __init__(self, quiet_ms: float = QUIET_MS) -> None:
        self._quiet_ms = quiet_ms
        self._last_ms: float | None = None

    def counts(self, now_ms: float, *, repeated: bool = False) -> bool:
        """Whether a press counts.

        Args:
            now_ms: when it came, on any clock that only goes forward.
            repeated: the system itself says that the key is only being held down.
        """
        quiet = self._last_ms is None or now_ms - self._last_ms >= self._quiet_ms
        self._last_ms = now_ms
        return quiet and not repeated
