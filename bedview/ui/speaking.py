"""The language of the desktop: Qt asks the same catalogue that everything below it asks."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QObject, QTranslator
from typing_extensions import override

from bedview import catalogue, language

_QT_OF_ITS_OWN: Final = "qtbase"
"""The file with what Qt itself says, in file dialogs and the like."""


class CatalogueTranslator(QTranslator):
    """Looks up in the catalogue what widgets say with ``self.tr``."""

    @override
    def translate(
        self, context: str, sourceText: str, disambiguation: str | None = None, n: int = -1, /
    ) -> str:
        """The text in the language in use; the same text stands for one thing everywhere."""
        return language.gettext(sourceText)

    @override
    def isEmpty(self) -> bool:
        """Never: Qt passes over a translator that says it is empty."""
        return False


def speak_to(owner: QObject, chosen: str) -> None:
    """Speak a language from now on. Before the first widget is made, or it is spoken in part only.

    Args:
        owner: what the translators live as long as.
        chosen: a language, by its code; "" for the first of the system's that bedview speaks.
    """
    system = QLocale.system()
    spoken = catalogue.first_spoken([chosen] if chosen else system.uiLanguages())
    locale = system
    if catalogue.first_spoken([system.name()]) != spoken:
        # What the country is used to, such as inches, stays.
        locale = QLocale(QLocale(spoken).language(), system.territory())
        QLocale.setDefault(locale)
    catalogue.speak(spoken, locale.decimalPoint())
    if spoken != language.ENGLISH:
        _translate(owner, locale)


def _translate(owner: QObject, locale: QLocale) -> None:
    """Let Qt translate; it asks its own words first, for the catalogue has an answer to everything."""
    QCoreApplication.installTranslator(CatalogueTranslator(owner))
    own = QTranslator(owner)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if own.load(locale, _QT_OF_ITS_OWN, "_", folder):
        QCoreApplication.installTranslator(own)
