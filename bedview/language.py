"""The language people are spoken to in: one for the whole program, English unless it was given another.

Every sentence stands in the code in English, whole and with named gaps, and is looked up when it is said::

    from bedview.language import gettext as _, ngettext

    _("{needle} is in hold.").format(needle=name)
    ngettext("{count} row", "{count} rows", count).format(count=count)

This module knows no files, so that the bed may speak too; :mod:`bedview.catalogue` reads the translations.
What other programs read (JSON, trace, files) is never translated.
"""

from __future__ import annotations

from gettext import NullTranslations


class _Spoken:
    """The one language in use; like a process's locale it is set when the program starts."""

    translations: NullTranslations = NullTranslations()


def use(translations: NullTranslations) -> None:
    """Speak by these translations from now on; what was said before stays as it was said."""
    _Spoken.translations = translations


def gettext(sentence: str) -> str:
    """The sentence in the language in use, or as it stands if nobody has translated it."""
    return _Spoken.translations.gettext(sentence) if sentence else ""


def ngettext(one: str, many: str, count: int) -> str:
    """The sentence for so many things, its gap not yet filled."""
    return _Spoken.translations.ngettext(one, many, count)


def marked(sentence: str) -> str:
    """Mark a sentence for translators that is only looked up when it is said."""
    return sentence
