"""The language people are spoken to in: one for the whole program, English unless it was given another.

Every sentence stands in the code in English, whole and with named gaps, and is looked up when it is said::

    from bedview.language import gettext as _, ngettext, number

    _("{needle} is in hold.").format(needle=name)
    ngettext("{count} row", "{count} rows", count).format(count=count)
    _("{width} cm wide").format(width=number(width_cm, 1))

This module knows no files, so that the bed may speak too; :mod:`bedview.catalogue` reads the translations.
What other programs read (JSON, trace, tables) is never translated.
"""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from string import Formatter

ENGLISH = "en"
"""The language the sentences stand in."""


class _Spoken:
    """The one language in use; like a process's locale it is set when the program starts."""

    translations: NullTranslations = NullTranslations()
    code: str = ENGLISH
    decimal_sign: str = "."


def use(translations: NullTranslations, code: str = ENGLISH, decimal_sign: str = ".") -> None:
    """Speak by these translations from now on; what was said before stays as it was said.

    Args:
        translations: of every sentence; those that give a sentence back as it is for English.
        code: the language as it is written in the head of a page: ``de``.
        decimal_sign: what stands between whole numbers and decimals.
    """
    _Spoken.translations, _Spoken.code, _Spoken.decimal_sign = translations, code, decimal_sign


def code() -> str:
    """The language in use: ``en``, ``de``."""
    return _Spoken.code


def decimal_sign() -> str:
    """What stands between whole numbers and decimals."""
    return _Spoken.decimal_sign


def gettext(sentence: str) -> str:
    """The sentence in the language in use, or as it stands if nobody has translated it."""
    return _Spoken.translations.gettext(sentence) if sentence else ""


def ngettext(one: str, many: str, count: int) -> str:
    """The sentence for so many things, its gap not yet filled."""
    return _Spoken.translations.ngettext(one, many, count)


def is_one(count: int) -> bool:
    """Whether so many take the sentence for one thing; in French none does too."""
    form: Callable[[int], int] = getattr(_Spoken.translations, "plural", _english_form)
    return not form(count)


def _english_form(count: int) -> int:
    return int(count != 1)


def marked(sentence: str) -> str:
    """Mark a sentence for translators that is only looked up when it is said."""
    return sentence


# -- numbers ----------------------------------------------------------------------------------------------


def number(value: float, decimals: int | None = None) -> str:
    """A number as it stands in a sentence: ``14,5`` where people write a comma.

    Args:
        value: the number.
        decimals: how many; as few as it takes, of six figures, if left out.
    """
    return written(f"{value:g}" if decimals is None else f"{value:.{decimals}f}")


def written(figure: str) -> str:
    """A number that Python wrote, with the decimal sign in use."""
    return figure.replace(".", _Spoken.decimal_sign)


class _Filler(Formatter):
    """Fills gaps as ``str.format`` does, but writes numbers with the decimal sign in use."""

    def format_field(self, value: object, format_spec: str) -> str:
        said = str(super().format_field(value, format_spec))
        return written(said) if isinstance(value, float) else said


def filled(sentence: str, /, **values: float | str) -> str:
    """A sentence with its gaps filled, where the gaps say how many decimals: ``{ratio:.2f}``."""
    return _Filler().vformat(sentence, (), values)
