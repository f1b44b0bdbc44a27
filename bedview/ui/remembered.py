"""What the desktop remembers from one start to the next: the window, the page, pieces, the look."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Final

from PySide6.QtCore import QByteArray, QSettings

from bedview.plan.units import LengthUnit
from bedview.session.machine import Machine
from bedview.ui.theme import TEXT_SCALES, LookChoice

MOST_RECENT: Final = 8
"""Pieces listed as recent."""
SPEEDS: Final = (0.5, 1.0, 2.0, 4.0, 8.0)
"""Rows a second when a rehearsal plays."""


class Remembered:
    """The settings, each read and written through one property; what cannot be used reads as the usual.

    Args:
        settings: where they are kept; the user's own if left out.
    """

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings if settings is not None else QSettings("bedview", "bedview")

    # -- the window ---------------------------------------------------------------------------------------

    @property
    def geometry(self) -> QByteArray:
        """The window's place and size as Qt writes it; empty at first."""
        value = self._settings.value("window/geometry")
        return value if isinstance(value, QByteArray) else QByteArray()

    @geometry.setter
    def geometry(self, value: QByteArray) -> None:
        self._settings.setValue("window/geometry", value)

    @property
    def page(self) -> str:
        """The page that was shown; empty at first."""
        return self._text("window/page")

    @page.setter
    def page(self, value: str) -> None:
        self._settings.setValue("window/page", value)

    # -- pieces -------------------------------------------------------------------------------------------

    @property
    def piece(self) -> str:
        """Path of the piece that was open, or name of the demo; empty for none."""
        return self._text("pieces/open")

    @piece.setter
    def piece(self, value: str) -> None:
        self._settings.setValue("pieces/open", value)

    @property
    def recent(self) -> list[Path]:
        """Files opened or saved of late that are still there, the last one first."""
        value = self._settings.value("pieces/recent") or []
        names = [value] if isinstance(value, str) else value
        paths = [Path(name) for name in names if isinstance(name, str)]
        return [path for path in paths if path.is_file()][:MOST_RECENT]

    def remember_recent(self, path: Path) -> None:
        """Put a file first among the recent ones."""
        path = path.absolute()
        others = [each for each in self.recent if each != path]
        self._settings.setValue("pieces/recent", [str(each) for each in [path, *others][:MOST_RECENT]])

    def forget_recent(self) -> None:
        """List no recent files any more."""
        self._settings.remove("pieces/recent")

    # -- the look -----------------------------------------------------------------------------------------

    @property
    def look(self) -> LookChoice:
        """The look that was chosen."""
        with contextlib.suppress(ValueError):
            return LookChoice(self._text("look/choice"))
        return LookChoice.SYSTEM

    @look.setter
    def look(self, value: LookChoice) -> None:
        self._settings.setValue("look/choice", value.value)

    @property
    def language(self) -> str:
        """Code of the language that was chosen; empty for the system's."""
        return self._text("look/language")

    @language.setter
    def language(self, value: str) -> None:
        self._settings.setValue("look/language", value)

    @property
    def text_scale(self) -> float:
        """How much larger than usual text was wanted."""
        return self._one_of("look/text_scale", TEXT_SCALES)

    @text_scale.setter
    def text_scale(self, value: float) -> None:
        self._settings.setValue("look/text_scale", value)

    @property
    def rows_a_second(self) -> float:
        """How fast a rehearsal plays, one of :data:`SPEEDS`."""
        return self._one_of("rehearse/rows_a_second", SPEEDS)

    @rows_a_second.setter
    def rows_a_second(self, value: float) -> None:
        self._settings.setValue("rehearse/rows_a_second", value)

    @property
    def length_unit(self) -> LengthUnit | None:
        """Centimetres or inches, if one was chosen."""
        with contextlib.suppress(ValueError):
            return LengthUnit(self._text("plan/length_unit"))
        return None

    @length_unit.setter
    def length_unit(self, value: LengthUnit) -> None:
        self._settings.setValue("plan/length_unit", value.value)

    @property
    def learner(self) -> str:
        """Who learned last; empty for nobody whose progress is kept."""
        return self._text("learn/learner")

    @learner.setter
    def learner(self, value: str) -> None:
        self._settings.setValue("learn/learner", value)

    @property
    def machine(self) -> Machine:
        """The user's machine as it was described; the usual one at first."""
        names = [self._text(f"machine/name_{place}") for place in range(4)]
        return Machine(
            (names[0], names[1], names[2], names[3]),
            self._text("machine/has_upper") != "no",
            self._count("machine/dial_steps", 0),
            self._count("machine/claws", 2),
        )

    @machine.setter
    def machine(self, value: Machine) -> None:
        for place, name in enumerate(value.names):
            self._settings.setValue(f"machine/name_{place}", name)
        self._settings.setValue("machine/has_upper", "yes" if value.has_upper else "no")
        self._settings.setValue("machine/dial_steps", str(value.dial_steps))
        self._settings.setValue("machine/claws", str(value.claws))

    def _count(self, key: str, usual: int) -> int:
        text = self._text(key)
        return int(text) if text.isdecimal() and len(text) < 4 else usual

    def _text(self, key: str) -> str:
        value = self._settings.value(key)
        return value if isinstance(value, str) else ""

    def _one_of(self, key: str, allowed: tuple[float, ...]) -> float:
        """A number out of a few; 1 where it is none of them."""
        with contextlib.suppress(TypeError, ValueError):
            value = float(str(self._settings.value(key)))
            return value if value in allowed else 1.0
        return 1.0
