"""The translations are in step with the texts, and the texts go through them."""

import gettext
import io
import re
from pathlib import Path

import pytest
import words
from babel.messages.pofile import read_po
from words_in_code import texts_in_code, texts_in_template

GAPS = re.compile(r"\{([a-z_]*)[^}]*\}")


def test_template_and_translations_are_in_step_with_the_texts(capsys: pytest.CaptureFixture[str]) -> None:
    """If this fails, a text was changed: run ``python3 scripts/words.py``."""
    assert words.main(["--check"]) == 0, capsys.readouterr().out


def test_texts_are_found_wherever_they_are_marked() -> None:
    code = """
_("plain")
self.tr("of a widget" if one else "of another")
QCoreApplication.translate("Context", "with context")
ngettext("{count} row", "{count} rows", count)
marked(
    "put together "
    "of two"
)
says: ClassVar[str] = "of a class"
print("not for people")
"""
    found = [each.text for each in texts_in_code(code, "a.py")]
    assert sorted(found, key=str) == sorted(
        [
            "plain",
            "of a widget",
            "of another",
            "with context",
            ("{count} row", "{count} rows"),
            "put together of two",
            "of a class",
        ],
        key=str,
    )
    assert [each.text for each in texts_in_template('<p>{{ _("Rows") }}</p>', "a.jinja")] == ["Rows"]


@pytest.mark.parametrize("language", words.LANGUAGES)
def test_translations_fill_the_same_gaps(language: str) -> None:
    path = words.FOLDER / f"{language}.po"
    wrong = []
    for message in read_po(io.BytesIO(path.read_bytes()), locale=language):
        forms = _forms(message.string)
        known = {gap for form in _forms(message.id) for gap in GAPS.findall(form)}
        if message.id:
            wrong += [form for form in forms if form and not set(GAPS.findall(form)) <= known]
            wrong += [form for form in forms if form and not _is_whole(message.id, form)]
    assert not wrong


def _forms(text: str | list[str] | tuple[str, ...] | None) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text or ())


def _is_whole(text: str | list[str] | tuple[str, ...], translated: str) -> bool:
    """Whether no gap of a sentence got lost; that for one thing may leave out how many."""
    least = min((set(GAPS.findall(form)) - {"count"} for form in _forms(text)), key=len)
    return least <= set(GAPS.findall(translated))


@pytest.mark.parametrize("language", words.LANGUAGES)
def test_what_is_made_of_the_translations_can_be_read(language: str) -> None:
    with Path(words.FOLDER / f"{language}.mo").open("rb") as file:
        read = gettext.GNUTranslations(file)
    assert read.gettext("no such text anywhere") == "no such text anywhere"
