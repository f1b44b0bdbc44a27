"""The translations that travel with the program, and the language a person reads.

A language has one file for those who translate, ``resources/translations/de.po``, and beside it the same
made ready to be looked up, ``de.mo``; ``scripts/words.py`` makes both. English needs neither, and reads none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from gettext import GNUTranslations, NullTranslations
from types import MappingProxyType
from typing import Final

from bedview import language
from bedview.resources import resource_path

_LANGUAGES: Final = MappingProxyType({language.ENGLISH: "English", "de": "Deutsch", "fr": "Français"})
_DECIMAL_SIGNS: Final = MappingProxyType({language.ENGLISH: ".", "de": ",", "fr": ","})


def languages() -> Mapping[str, str]:
    """The languages bedview speaks: code, and what those who speak it call it; English first."""
    return _LANGUAGES


def first_spoken(wanted: Iterable[str]) -> str:
    """The first of some languages that bedview speaks; English if it speaks none of them.

    Args:
        wanted: names of languages or locales, the dearest first: ``de-AT``, ``fr_FR.UTF-8``.
    """
    for name in wanted:
        code = name.replace("_", "-").partition("-")[0].partition(".")[0].lower()
        if code in _LANGUAGES:
            return code
    return language.ENGLISH


def speak(code: str, decimal_sign: str | None = None) -> None:
    """Speak a language from now on.

    Args:
        code: one of :func:`languages`.
        decimal_sign: what stands before decimals; the language's usual one if left out.

    Raises:
        KeyError: if bedview does not speak it; nothing has changed then.
    """
    sign = _DECIMAL_SIGNS[code] if decimal_sign is None else decimal_sign
    language.use(_translations(code), code, sign)


def _translations(code: str) -> NullTranslations:
    if code == language.ENGLISH:
        return NullTranslations()
    with resource_path("translations", f"{code}.mo").open("rb") as file:
        return GNUTranslations(file)
