"""What the desktop remembers from one start to the next: the window, the page, pieces, the look."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Final

from PySide6.QtCore import QByteArray, QSettings

from bedview.bed.needles import MAX_PITCH_MM, MIN_PITCH_MM
from bedview.plan.units import LengthUnit
from bedview.session.machine import LONGEST_NAME, Machine
from bedview.ui.theme import TEXT_SCALES, LookChoice

MOST_RECENT: Final = 8
"""Pieces listed as recent."""
MOST_MACHINES: Final = 12
"""Machines that are kept by their names."""
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
        return self._machine("machine")

    @machine.setter
    def machine(self, value: Machine) -> None:
        self._write_machine("machine", value)
        if value.title:
            others = [each for each in self.machines if each.title != value.title]
            self.machines = [value, *others][:MOST_MACHINES]

    @property
    def machines(self) -> list[Machine]:
        """All machines that were given names, the one used last first."""
        return [
            machine
            for place in range(min(self._count("machines/count", 0), MOST_MACHINES))
            if (machine := self._machine(f"machines/{place}")).title
        ]

    @machines.setter
    def machines(self, value: list[Machine]) -> None:
        self._settings.remove("machines")
        self._settings.setValue("machines/count", str(len(value)))
        for place, machine in enumerate(value):
            self._write_machine(f"machines/{place}", machine)

    def _machine(self, group: str) -> Machine:
        names = [self._text(f"{group}/name_{place}")[:LONGEST_NAME] for place in range(4)]
        return Machine(
            (names[0], names[1], names[2], names[3]),
            self._text(f"{group}/has_upper") != "no",
            self._count(f"{group}/dial_steps", 0),
            self._count(f"{group}/claws", 2),
            self._text(f"{group}/title")[:LONGEST_NAME],
            self._count(f"{group}/needles", 0),
            self._number(f"{group}/pitch_mm"),
        )

    def _write_machine(self, group: str, value: Machine) -> None:
        for place, name in enumerate(value.names):
            self._settings.setValue(f"{group}/name_{place}", name)
        for key, text in (
            ("has_upper", "yes" if value.has_upper else "no"),
            ("dial_steps", str(value.dial_steps)),
            ("claws", str(value.claws)),
            ("title", value.title),
            ("needles", str(value.needles)),
            ("pitch_mm", str(value.pitch_mm)),
        ):
            self._settings.setValue(f"{group}/{key}", text)

    def _number(self, key: str) -> float:
        """A number within what a pitch can be; 0 where it is none."""
        with contextlib.suppress(ValueError):
            value = float(self._text(key))
            return value if MIN_PITCH_MM <= value <= MAX_PITCH_MM else 0.0
        return 0.0

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
