"""Light, dark or high contrast, and how large text is: one model that all widgets are made with.

The look follows the system's until one is chosen; text grows with the system's font, and further if wanted.
Imports little, because the first window waits for it.
"""

from __future__ import annotations

from enum import Enum, StrEnum
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontInfo, QGuiApplication, QPalette
from PySide6.QtWidgets import QWidget

from bedview.painting.fonts import family
from bedview.picture.look import CONTRAST, DARK, LIGHT, Palette
from bedview.ui.parts.style_sheet import Sizes, style_sheet

BASE_PX: Final = 16.0
"""Body text where the system's own is of its usual size (12 points at 96 dots an inch)."""
USUAL_SYSTEM_PX: Final = 13.5
"""What desktops set their own text in, more or less; larger means that the user wants it larger."""
TEXT_SCALES: Final = (0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0)
"""Text sizes to choose from."""


class LookChoice(StrEnum):
    """What the user wants to look at."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST = "contrast"


class TextSize(Enum):
    """Sizes of text, as shares of body text."""

    SMALL = 0.875
    BODY = 1.0
    LEAD = 1.125
    TITLE = 1.375
    HEADLINE = 2.0


_CHOSEN: Final = {LookChoice.LIGHT: LIGHT, LookChoice.DARK: DARK, LookChoice.CONTRAST: CONTRAST}


class Theme(QObject):
    """How everything looks.

    Args:
        choice: the look wanted.
        text_scale: how much larger than usual text shall be, one of :data:`TEXT_SCALES`.
        parent: as ever.
    """

    look_changed = Signal()
    """Colours or sizes are others now."""

    def __init__(
        self,
        choice: LookChoice = LookChoice.SYSTEM,
        text_scale: float = 1.0,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choice = choice
        self._text_scale = text_scale
        self._dressed: list[QWidget] = []
        self._look = self._wanted_look()
        QGuiApplication.styleHints().colorSchemeChanged.connect(self.follow_system)

    # -- what it is ---------------------------------------------------------------------------------------

    @property
    def look(self) -> Palette:
        """The colours."""
        return self._look

    @property
    def choice(self) -> LookChoice:
        """What the user chose."""
        return self._choice

    @property
    def text_scale(self) -> float:
        """How much larger than usual the user wants text."""
        return self._text_scale

    def px(self, at_usual_size: float) -> int:
        """A length in pixels that grows with the text, given what it is where text has its usual size."""
        return round(at_usual_size * self._text_scale * system_scale())

    def font(self, size: TextSize = TextSize.BODY, *, bold: bool = False) -> QFont:
        """The font of a size, for painting; widgets take theirs from the style sheet."""
        made = QFont(family())
        made.setPixelSize(self.px(BASE_PX * size.value))
        made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
        return made

    # -- choosing -----------------------------------------------------------------------------------------

    def choose_look(self, choice: LookChoice) -> None:
        """Take another look."""
        if choice is not self._choice:
            self._choice = choice
            self._change()

    def choose_text_scale(self, scale: float) -> None:
        """Take another text size."""
        if scale != self._text_scale:
            self._text_scale = scale
            self._change()

    def follow_system(self) -> None:
        """The system's look may be another."""
        if self._wanted_look() is not self._look:
            self._change()

    # -- putting it on ------------------------------------------------------------------------------------

    def dress(self, window: QWidget) -> None:
        """Put it on a window and keep it on; everything inside follows."""
        self._dressed.append(window)
        window.destroyed.connect(lambda: self._dressed.remove(window))
        self._put_on(window)

    def _put_on(self, window: QWidget) -> None:
        window.setPalette(_qt_palette(self._look))
        window.setStyleSheet(style_sheet(self._look, self._sizes()))

    def _sizes(self) -> Sizes:
        texts = {size.name.lower(): self.px(BASE_PX * size.value) for size in TextSize}
        return Sizes(family(), texts, self.px)

    def _change(self) -> None:
        self._look = self._wanted_look()
        for window in self._dressed:
            self._put_on(window)
        self.look_changed.emit()

    def _wanted_look(self) -> Palette:
        if self._choice is not LookChoice.SYSTEM:
            return _CHOSEN[self._choice]
        hints = QGuiApplication.styleHints()
        # Qt tells of high contrast from 6.10 on.
        accessibility = getattr(hints, "accessibility", None)
        if accessibility is not None and accessibility().contrastPreference() == _high_contrast():
            return CONTRAST
        return DARK if hints.colorScheme() == Qt.ColorScheme.Dark else LIGHT


def _high_contrast() -> object:
    preference = getattr(Qt, "ContrastPreference", None)
    return preference.HighContrast if preference is not None else None


def system_scale() -> float:
    """How much larger than usual the system sets its text; never smaller than usual."""
    system = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    return max(1.0, QFontInfo(system).pixelSize() / USUAL_SYSTEM_PX)


def _qt_palette(look: Palette) -> QPalette:
    """Qt's palette, for what no style sheet reaches (dialogs, selections, placeholders)."""
    made = QPalette()
    role = QPalette.ColorRole
    for place, colour in (
        (role.Window, look.paper),
        (role.WindowText, look.ink),
        (role.Base, look.card),
        (role.AlternateBase, look.paper),
        (role.Text, look.ink),
        (role.Button, look.card),
        (role.ButtonText, look.ink),
        (role.ToolTipBase, look.body),
        (role.ToolTipText, look.on_body),
        (role.PlaceholderText, look.quiet_ink),
        (role.Highlight, look.carriage),
        (role.HighlightedText, look.on_carriage),
        (role.Link, look.carriage),
    ):
        made.setColor(place, QColor(colour))
    return made
