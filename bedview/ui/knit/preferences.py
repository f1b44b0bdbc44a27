"""What a knitter chose for the Knit page, from one start to the next: sounds and voice, both off at first."""

from __future__ import annotations

from PySide6.QtCore import QSettings


class KnitPreferences:
    """The choices.

    Args:
        settings: where they are kept; the user's own if left out.
    """

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings if settings is not None else QSettings("bedview", "bedview")

    @property
    def sounds(self) -> bool:
        """Whether a sound tells plain rows from those that need hands."""
        return self._is_set("knit/sounds")

    @sounds.setter
    def sounds(self, on: bool) -> None:
        self._settings.setValue("knit/sounds", on)

    @property
    def voice(self) -> bool:
        """Whether every step is said aloud."""
        return self._is_set("knit/voice")

    @voice.setter
    def voice(self, on: bool) -> None:
        self._settings.setValue("knit/voice", on)

    def _is_set(self, key: str) -> bool:
        # An INI file gives its values back as text.
        return str(self._settings.value(key, "false")).lower() == "true"
