"""A voice that says lines aloud, where the system has one; elsewhere it is quietly absent."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Final, Protocol

from PySide6.QtCore import QLocale, QObject
from typing_extensions import override

from bedview import language
from bedview.ui.sounds import stay_quiet_about_libraries
from bedview.ui.switched import Switched

_LOG = logging.getLogger(__name__)
_SILENT: Final = "mock"
"""An engine that Qt always offers, and that says nothing."""


class Speaker(Protocol):
    """What can speak."""

    def say(self, text: str) -> object:
        """Begin to say a text."""

    def stop(self) -> object:
        """Stop at once."""


class Voice(Switched[Speaker]):
    """Says lines, once it is switched on.

    Args:
        find: finds a speaker; None if there is none.
        parent: as ever.
    """

    def __init__(
        self, find: Callable[[QObject], Speaker | None] | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(find or _system_voice, parent)

    @override
    def switch(self, on: bool) -> bool:
        speaker = self.found() if self.is_on else None
        if not on and speaker is not None:
            speaker.stop()
        return super().switch(on)

    def say(self, text: str) -> None:
        """Say a line instead of the one being said, if it is on."""
        if self.is_on:
            self.say_anyway(text)

    def say_anyway(self, text: str) -> bool:
        """Say a line that was asked for, even if it is off.

        Returns:
            Whether there is a voice.
        """
        speaker = self.found()
        if speaker is not None:
            speaker.stop()
            speaker.say(text)
        return speaker is not None


def _system_voice(parent: QObject) -> Speaker | None:
    stay_quiet_about_libraries()
    try:
        from PySide6.QtTextToSpeech import QTextToSpeech
    except ImportError as error:  # Its library wants parts of the system that need not be there.
        _LOG.info("no voice: %s", error)
        return None
    engines = [name for name in QTextToSpeech.availableEngines() if name != _SILENT]
    if not engines:
        return None
    speaker = QTextToSpeech(engines[0], parent)
    if speaker.state() == QTextToSpeech.State.Error or not speaker.availableVoices():
        _LOG.info("no voice: %s", speaker.errorString())
        return None
    if language.code() != language.ENGLISH:
        speaker.setLocale(QLocale(language.code()))
    return speaker
