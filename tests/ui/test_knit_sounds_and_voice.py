import builtins
from collections.abc import Mapping, Sequence

import numpy as np
import pytest
from PySide6.QtCore import QObject, QSettings
from PySide6.QtWidgets import QApplication

from bedview.ui.knit.preferences import KnitPreferences
from bedview.ui.sounds import SAMPLES_A_SECOND, Cue, Sounds, samples, stay_quiet_about_libraries
from bedview.ui.voice import Voice

pytestmark = pytest.mark.usefixtures("qapp")


class FakeSpeaker:
    def __init__(self) -> None:
        self.heard: list[str] = []

    def say(self, text: str) -> None:
        self.heard.append(text)

    def stop(self) -> None:
        self.heard.append("-")


class FakePlayer:
    def __init__(self) -> None:
        self.played: list[Cue] = []

    def play(self, cue: Cue) -> None:
        self.played.append(cue)


# -- sounds -----------------------------------------------------------------------------------------------


def wave(cue: Cue) -> np.ndarray:
    return np.frombuffer(samples(cue.value), "<i2").astype(float)


def loudest_hz(part: np.ndarray) -> float:
    spectrum = np.abs(np.fft.rfft(part * np.hanning(len(part)), 1 << 16))
    return float(np.argmax(spectrum) * SAMPLES_A_SECOND / (1 << 16))


def test_the_two_sounds_differ_in_pitch_and_rhythm() -> None:
    plain, hands = wave(Cue.PLAIN), wave(Cue.HANDS)
    assert len(plain) == pytest.approx(0.16 * SAMPLES_A_SECOND, abs=2)
    assert len(hands) == pytest.approx((0.09 + 0.09 + 0.16) * SAMPLES_A_SECOND, abs=4)
    assert loudest_hz(plain) == pytest.approx(392, abs=3)
    first, second = np.split(hands[: 2 * round(0.09 * SAMPLES_A_SECOND)], 2)
    assert loudest_hz(first) == pytest.approx(659.3, abs=6)
    assert loudest_hz(second) == pytest.approx(784, abs=6)


@pytest.mark.parametrize("cue", list(Cue))
def test_sounds_begin_and_end_without_a_click_and_are_not_too_loud(cue: Cue) -> None:
    sound = wave(cue)
    assert abs(sound[0]) < 50
    assert abs(sound[-1]) < 500
    assert 5_000 < np.abs(sound).max() < 20_000


def test_sounds_are_off_at_first_and_looked_for_only_when_wanted() -> None:
    player, asked = FakePlayer(), []

    def find(_parent: QObject) -> FakePlayer:
        asked.append(True)
        return player

    sounds = Sounds(find)
    sounds.play(Cue.PLAIN)
    assert (sounds.is_on, asked, player.played) == (False, [], [])
    assert sounds.switch(True)
    sounds.play(Cue.HANDS)
    sounds.switch(False)
    sounds.play(Cue.PLAIN)
    assert player.played == [Cue.HANDS]


def test_where_nothing_can_sound_they_stay_off() -> None:
    sounds = Sounds(lambda _parent: None)
    assert not sounds.switch(True)
    sounds.play(Cue.PLAIN)
    assert not sounds.is_on


# -- voice ------------------------------------------------------------------------------------------------


def test_the_voice_is_off_at_first_but_speaks_when_asked() -> None:
    speaker = FakeSpeaker()
    voice = Voice(lambda _parent: speaker)
    voice.say("row one")
    assert speaker.heard == []
    assert voice.say_anyway("row two")
    assert speaker.heard == ["-", "row two"]


def test_a_new_line_takes_the_place_of_the_old_one() -> None:
    speaker = FakeSpeaker()
    voice = Voice(lambda _parent: speaker)
    assert voice.switch(True)
    voice.say("row one")
    voice.say("row two")
    voice.switch(False)
    voice.say("row three")
    assert speaker.heard == ["-", "row one", "-", "row two", "-"]


def test_where_there_is_no_voice_it_stays_off() -> None:
    voice = Voice(lambda _parent: None)
    assert not voice.switch(True)
    assert not voice.say_anyway("row")


@pytest.mark.parametrize(
    ("module", "make"), [("PySide6.QtTextToSpeech", Voice), ("PySide6.QtMultimedia", Sounds)]
)
def test_libraries_that_cannot_be_loaded_are_done_without(
    module: str, make: type[Voice] | type[Sounds], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = builtins.__import__

    def refuse(
        name: str,
        globals: Mapping[str, object] | None = None,  # noqa: A002 - named as Python names it
        locals: Mapping[str, object] | None = None,  # noqa: A002
        fromlist: Sequence[str] | None = (),
        level: int = 0,
    ) -> object:
        if name == module:
            raise ImportError("libpulse.so.0: cannot open shared object file")
        return real(name, globals, locals, fromlist or (), level)

    monkeypatch.setattr(builtins, "__import__", refuse)
    assert not make().switch(True)


def test_an_engine_that_says_nothing_is_no_voice(monkeypatch: pytest.MonkeyPatch) -> None:
    stay_quiet_about_libraries()
    from PySide6.QtTextToSpeech import QTextToSpeech

    monkeypatch.setattr(QTextToSpeech, "availableEngines", staticmethod(lambda: ["mock"]))
    assert not Voice().switch(True)


# -- preferences ------------------------------------------------------------------------------------------


def test_both_are_off_until_chosen_and_remembered_then(qapp: QApplication) -> None:
    assert qapp is not None
    first = KnitPreferences()
    assert (first.sounds, first.voice) == (False, False)
    first.sounds = True
    QSettings("bedview", "bedview").sync()
    again = KnitPreferences()
    assert (again.sounds, again.voice) == (True, False)
