"""One language for the whole program: sentences, plurals, numbers."""

from collections.abc import Iterator
from gettext import NullTranslations

import pytest

from bedview import catalogue, language
from bedview.bed.needles import NeedleError, needle_index
from bedview.plan.starters import STARTERS
from bedview.plan.starters.starter import Starter
from bedview.plan.units import say_length


class Shouted(NullTranslations):
    """Everything with a mark before it."""

    def gettext(self, message: str) -> str:
        return f"¡{message}"


@pytest.fixture(autouse=True)
def english_afterwards() -> Iterator[None]:
    yield
    catalogue.speak("en")


def test_numbers_take_the_decimal_sign_of_the_language() -> None:
    assert (language.number(14.5), language.number(14.5, 2), say_length(145)) == ("14.5", "14.50", "14.5 cm")
    catalogue.speak("de")
    assert (language.number(14.5), language.number(14.5, 2), say_length(145)) == ("14,5", "14,50", "14,5 cm")
    assert language.filled("{a:.2f} of {b}, {c:g}", a=1.25, b="1.5 m", c=2) == "1,25 of 1.5 m, 2"


def test_a_country_that_writes_otherwise_keeps_its_sign() -> None:
    catalogue.speak("de", ".")
    assert (language.code(), language.number(0.5)) == ("de", "0.5")


@pytest.mark.parametrize(
    ("wanted", "spoken"),
    [
        (["de-AT", "en"], "de"),
        (["fr_FR.UTF-8"], "fr"),
        (["nl-BE", "fr-BE"], "fr"),
        (["nl"], "en"),
        (["C"], "en"),
        ([], "en"),
    ],
)
def test_the_first_language_that_bedview_speaks_is_taken(wanted: list[str], spoken: str) -> None:
    assert catalogue.first_spoken(wanted) == spoken


def test_a_language_nobody_translated_changes_nothing() -> None:
    with pytest.raises(KeyError):
        catalogue.speak("xx")
    assert language.code() == "en"


def test_every_language_can_be_spoken() -> None:
    for code in catalogue.languages():
        catalogue.speak(code)
        assert language.code() == code


@pytest.mark.parametrize("starter", STARTERS, ids=lambda starter: starter.name)
def test_a_starter_makes_the_same_in_every_language(starter: Starter) -> None:
    english = starter.make({}).to_document()
    catalogue.speak("de")
    anew = type(starter)()
    assert [each.default for each in anew.parameters] == [each.default for each in starter.parameters]
    german = anew.make({}).to_document()
    assert german["segments"] == english["segments"]
    assert german["title"] != english["title"]


def test_english_reads_no_file(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(catalogue, "resource_path", lambda *parts: pytest.fail(f"reads {parts}"))
    catalogue.speak("en")


def test_the_bed_speaks_by_the_translations_in_use() -> None:
    language.use(Shouted())
    with pytest.raises(NeedleError, match=r"^¡'up' is not a needle name"):
        needle_index("up", 12)


@pytest.mark.parametrize(
    ("code", "counts"),
    [("en", [False, True, False]), ("de", [False, True, False]), ("fr", [True, True, False])],
)
def test_what_counts_as_one_is_for_the_language_to_say(code: str, counts: list[bool]) -> None:
    catalogue.speak(code)
    assert [language.is_one(count) for count in range(3)] == counts


def test_nothing_to_say_stays_nothing() -> None:
    """An empty text is the head of a catalogue, which nobody wants to read."""
    catalogue.speak("fr")
    assert language.gettext("") == ""
