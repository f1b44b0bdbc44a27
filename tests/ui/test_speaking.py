"""The desktop in another language: its own texts, Qt's, and numbers."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QLocale, QObject, QTranslator
from PySide6.QtWidgets import QDialogButtonBox, QMenu
from pytestqt.qtbot import QtBot

from bedview import catalogue, language
from bedview.ui.app import open_window
from bedview.ui.piece_menu import PieceMenu
from bedview.ui.remembered import Remembered
from bedview.ui.speaking import speak_to


@pytest.fixture
def owner() -> Iterator[QObject]:
    usual = QLocale()
    holds = QObject()
    yield holds
    for translator in holds.findChildren(QTranslator):
        QCoreApplication.removeTranslator(translator)
    holds.deleteLater()
    QLocale.setDefault(usual)
    catalogue.speak("en")


@pytest.mark.parametrize(
    ("code", "knit", "cancel"), [("de", "Stricken", "Abbrechen"), ("fr", None, "Annuler")]
)
def test_widgets_and_qt_speak_the_chosen_language(
    qtbot: QtBot, owner: QObject, code: str, knit: str | None, cancel: str
) -> None:
    speak_to(owner, code)
    assert language.code() == code
    assert language.number(4.5) == "4,5"
    if knit is not None:
        assert QCoreApplication.translate("MainWindow", "Knit") == knit
        assert language.gettext("Knit") == knit
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
    qtbot.addWidget(buttons)
    assert buttons.button(QDialogButtonBox.StandardButton.Cancel).text() == cancel


@pytest.mark.usefixtures("qapp")
def test_a_text_nobody_translated_stays_as_it_is(owner: QObject) -> None:
    speak_to(owner, "de")
    assert QCoreApplication.translate("MainWindow", "no such text anywhere") == "no such text anywhere"


@pytest.mark.usefixtures("qapp")
def test_english_needs_no_translator(owner: QObject) -> None:
    speak_to(owner, "")
    assert language.code() == "en"
    assert owner.children() == []


def test_the_menu_remembers_a_language_for_the_next_start(qtbot: QtBot) -> None:
    remembered = Remembered()
    window = open_window(remembered=remembered)
    qtbot.addWidget(window)
    menu = window.findChild(PieceMenu)
    assert menu is not None
    languages = next(each for each in menu.findChildren(QMenu) if each.title() == "Language")
    names = [action.text() for action in languages.actions() if action.isEnabled() and action.text()]
    assert names == ["As the system", "English", "Deutsch", "Français"]
    next(action for action in languages.actions() if action.text() == "Deutsch").trigger()
    assert Remembered().language == "de"
    window.close()


def test_the_whole_window_opens_in_german(qtbot: QtBot, owner: QObject) -> None:
    speak_to(owner, "de")
    window = open_window("harbour-heel", "plan", Remembered())
    qtbot.addWidget(window)
    with qtbot.waitSignal(window.desk.piece_opened, timeout=20_000):
        pass
    assert window.menu.save.text() == "Speichern"
    window.close()
