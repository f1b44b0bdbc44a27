import re
from collections.abc import Iterator

import pytest
import wcag_contrast_ratio
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from bedview.picture.look import DARK, LIGHT, PALETTES, Palette
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.style_sheet import Sizes, outline_of, style_sheet
from bedview.ui.theme import TEXT_SCALES, LookChoice, Theme

LOOKS = list(PALETTES.values())


def contrast(one: str, other: str) -> float:
    pairs = [[int(each[at : at + 2], 16) / 255 for at in (1, 3, 5)] for each in (one, other)]
    return float(wcag_contrast_ratio.rgb(*pairs))


def rules(look: Palette) -> Iterator[tuple[str, dict[str, str]]]:
    """Selector and settings of every rule of the style sheet."""
    sheet = style_sheet(
        look, Sizes("Inter", dict.fromkeys(("small", "body", "lead", "title", "headline"), 16), int)
    )
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", sheet):
        settings = dict(part.split(":", 1) for part in body.split(";") if ":" in part)
        yield selector.strip(), {key.strip(): value.strip() for key, value in settings.items()}


def grounds(selector: str, settings: dict[str, str], look: Palette) -> list[str]:
    """What the text of a rule may stand on."""
    if 'part="strip"' in selector and "QPushButton" not in selector:
        return [look.body]
    own = settings.get("background", "transparent")
    return [own] if own.startswith("#") else [look.paper, look.card]


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_every_text_stands_out_from_what_it_stands_on(look: Palette) -> None:
    checked = 0
    for selector, settings in rules(look):
        if "color" not in settings or ":disabled" in selector:
            continue
        for ground in grounds(selector, settings, look):
            assert contrast(settings["color"], ground) >= 4.5, f"{selector} on {ground}"
            checked += 1
    assert checked > 25


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_what_can_be_pressed_has_an_outline_one_sees(look: Palette) -> None:
    assert contrast(outline_of(look), look.paper) >= 3
    assert contrast(outline_of(look), look.card) >= 3


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_the_ring_round_the_focus_stands_out_from_every_button(look: Palette) -> None:
    for ring, ground in ((look.ink, look.card), (look.on_carriage, look.carriage), (look.on_body, look.body)):
        assert contrast(ring, ground) >= 3


class Hints(QObject):
    """What the system says of its looks; the platform that draws unseen says nothing."""

    colorSchemeChanged = Signal(Qt.ColorScheme)  # noqa: N815 - Qt's own name

    def __init__(self) -> None:
        super().__init__()
        self.scheme = Qt.ColorScheme.Light

    def colorScheme(self) -> Qt.ColorScheme:
        return self.scheme

    def become(self, scheme: Qt.ColorScheme) -> None:
        self.scheme = scheme
        self.colorSchemeChanged.emit(scheme)


@pytest.mark.usefixtures("qapp")
def test_the_look_follows_the_system_until_one_is_chosen(monkeypatch: pytest.MonkeyPatch) -> None:
    hints = Hints()
    monkeypatch.setattr(QGuiApplication, "styleHints", lambda: hints)
    theme = Theme()
    assert theme.look is LIGHT
    hints.become(Qt.ColorScheme.Dark)
    assert theme.look is DARK
    theme.choose_look(LookChoice.LIGHT)
    hints.become(Qt.ColorScheme.Dark)
    assert theme.look is LIGHT
    theme.choose_look(LookChoice.SYSTEM)
    assert theme.look is DARK


def test_a_chosen_look_reaches_what_is_dressed(qtbot: QtBot) -> None:
    theme = Theme(LookChoice.LIGHT)
    window = QWidget()
    qtbot.addWidget(window)
    theme.dress(window)
    assert LIGHT.paper in window.styleSheet()
    with qtbot.waitSignal(theme.look_changed):
        theme.choose_look(LookChoice.DARK)
    assert DARK.paper in window.styleSheet()
    assert window.palette().window().color().name() == DARK.paper


def test_text_grows_with_the_size_chosen(qtbot: QtBot) -> None:
    theme = Theme(LookChoice.LIGHT)
    window = QWidget()
    qtbot.addWidget(window)
    label = Label("Cuff", parent=window)
    theme.dress(window)
    label.ensurePolished()
    before = label.fontInfo().pixelSize()
    assert before >= 16
    theme.choose_text_scale(2.0)
    label.ensurePolished()
    assert label.fontInfo().pixelSize() == 2 * before


@pytest.mark.parametrize("scale", TEXT_SCALES)
@pytest.mark.parametrize("kind", [ButtonKind.CHIP, ButtonKind.PILL])
def test_round_ends_stay_round_in_every_text_size(qtbot: QtBot, kind: ButtonKind, scale: float) -> None:
    # Qt draws no round corners at all where two of them would not fit above one another.
    theme = Theme(LookChoice.LIGHT, scale)
    button = Button("Rehearse", theme, kind)
    qtbot.addWidget(button)
    theme.dress(button)
    found = re.search(rf'part="{kind}"\] \{{[^}}]*border-radius: (\d+)px', button.styleSheet())
    assert found
    assert button.sizeHint().height() >= 2 * int(found[1]) > 24 * scale


def test_titles_are_text_whatever_they_look_like(qtbot: QtBot) -> None:
    label = Label("<b>Cuff</b> & <script>")
    qtbot.addWidget(label)
    assert label.textFormat() is Qt.TextFormat.PlainText


def test_a_window_that_is_gone_is_no_longer_dressed(qtbot: QtBot) -> None:
    theme = Theme(LookChoice.LIGHT)
    window = QWidget()
    theme.dress(window)
    window.deleteLater()
    qtbot.waitUntil(lambda: theme._dressed == [])
    theme.choose_look(LookChoice.DARK)
    assert theme.look is DARK
