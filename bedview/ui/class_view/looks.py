"""Two looks that a projector in a bright room does not wash out, and the theme that changes between them."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QObject
from typing_extensions import override

from bedview.picture.look import CONTRAST, DARK, LIGHT, Palette
from bedview.ui.theme import LookChoice, Theme

CLASS_LIGHT: Final = replace(
    LIGHT,
    name="class light",
    paper="#ffffff",
    card="#ffffff",
    line="#6b6457",
    ink="#000000",
    quiet_ink="#33383e",
    plate="#ded6c5",
    rail="#c9bea8",
    lip="#9f937b",
    groove="#b9ad96",
    needle="#14181c",
    idle="#6a6354",
    hands="#a83200",
    carriage="#00514b",
    body="#000000",
    on_body="#ffffff",
)
CLASS_DARK: Final = replace(
    DARK,
    name="class dark",
    paper="#000000",
    card="#000000",
    line="#8b9097",
    ink="#ffffff",
    quiet_ink="#d2d6da",
    plate="#22282f",
    rail="#343c45",
    lip="#59636e",
    groove="#3f4852",
    needle="#ffffff",
    idle="#9aa0a7",
    hands="#ffa365",
    carriage="#74e2d4",
    body="#ffffff",
    on_body="#000000",
)


class ClassTheme(Theme):
    """Light or dark for a projector; dark stays the user's high contrast where that was chosen.

    Args:
        usual: how the other windows look; it begins as dark or as light as they are.
        parent: as ever.
    """

    def __init__(self, usual: Theme, parent: QObject | None = None) -> None:
        self._dark = CONTRAST if usual.look is CONTRAST else CLASS_DARK
        is_dark = usual.look in (DARK, CONTRAST)
        super().__init__(LookChoice.DARK if is_dark else LookChoice.LIGHT, usual.text_scale, parent)

    @property
    @override
    def look(self) -> Palette:
        return self._dark if self.choice is LookChoice.DARK else CLASS_LIGHT

    def change(self) -> None:
        """From light to dark, or back."""
        other = LookChoice.LIGHT if self.choice is LookChoice.DARK else LookChoice.DARK
        self.choose_look(other)
