"""Two short sounds: the next row is plain, or hands are needed. Quietly absent where nothing can sound."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from enum import Enum
from typing import Final, Protocol

import numpy as np
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QLoggingCategory, QObject

from bedview.ui.switched import Switched

_LOG = logging.getLogger(__name__)
SAMPLES_A_SECOND: Final = 44_100
_LOUDNESS: Final = 0.35
_FADE_S: Final = 0.012


class Cue(Enum):
    """What is said by a sound: its tones, each a pitch in Hz and a length in seconds.

    They differ in rhythm as well as in pitch: one low tone, or three rising ones.
    """

    PLAIN = ((392.0, 0.16),)
    HANDS = ((659.3, 0.09), (784.0, 0.09), (1046.5, 0.16))


def samples(tones: Sequence[tuple[float, float]]) -> bytes:
    """Tones one after the other: 16 bits, one channel, so many :data:`SAMPLES_A_SECOND`."""
    parts = []
    for pitch_hz, length_s in tones:
        time = np.arange(round(length_s * SAMPLES_A_SECOND)) / SAMPLES_A_SECOND
        swell = np.clip(np.minimum(time, length_s - time) / _FADE_S, 0.0, 1.0)
        parts.append(np.sin(2 * np.pi * pitch_hz * time) * swell)
    return (np.concatenate(parts) * _LOUDNESS * 32767).astype("<i2").tobytes()


class Player(Protocol):
    """What can play."""

    def play(self, cue: Cue) -> None:
        """Begin to play a sound."""


class Sounds(Switched[Player]):
    """Plays cues, once they are switched on.

    Args:
        find: finds a player; None if there is none.
        parent: as ever.
    """

    def __init__(
        self, find: Callable[[QObject], Player | None] | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(find or _system_player, parent)

    def play(self, cue: Cue) -> None:
        """Play a cue, if they are on."""
        player = self.found() if self.is_on else None
        if player is not None:
            player.play(cue)


def stay_quiet_about_libraries() -> None:
    """Keep Qt from listing on the terminal what sound it cannot find: that is no fault here."""
    QLoggingCategory.setFilterRules("qt.multimedia.*=false")


def _system_player(parent: QObject) -> Player | None:
    stay_quiet_about_libraries()
    try:
        from PySide6.QtMultimedia import QAudioFormat, QAudioSink, QMediaDevices
    except ImportError as error:  # Its library wants parts of the system that need not be there.
        _LOG.info("no sound: %s", error)
        return None
    device = QMediaDevices.defaultAudioOutput()
    form = QAudioFormat()
    form.setSampleRate(SAMPLES_A_SECOND)
    form.setChannelCount(1)
    form.setSampleFormat(QAudioFormat.SampleFormat.Int16)
    if device.isNull() or not device.isFormatSupported(form):
        return None

    class _Sink:
        """Plays through the system's usual device."""

        def __init__(self) -> None:
            self._sink = QAudioSink(device, form, parent)
            self._buffers = {cue: QBuffer(QByteArray(samples(cue.value)), parent) for cue in Cue}

        def play(self, cue: Cue) -> None:
            self._sink.stop()
            buffer = self._buffers[cue]
            buffer.close()
            buffer.open(QIODevice.OpenModeFlag.ReadOnly)
            self._sink.start(buffer)

    return _Sink()
