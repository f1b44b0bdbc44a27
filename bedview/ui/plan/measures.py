"""Numbers and lengths as this user writes them: point or comma, centimetres or inches."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QCoreApplication, QLocale

from bedview.plan.units import LengthUnit, UnitError, parse_length_mm, parse_number, say_number


@dataclass(slots=True)
class Measures:
    """How numbers are read and said.

    Attributes:
        unit: centimetres or inches, for lengths without a unit.
        comma: whether decimals stand behind a comma.
    """

    unit: LengthUnit = LengthUnit.CM
    comma: bool = False

    def write_in(self, unit: LengthUnit) -> None:
        """Write lengths in another unit from now on."""
        self.unit = unit

    def number(self, value: float) -> str:
        """A number as short as it goes."""
        said = f"{round(value, 4):g}"
        return said.replace(".", ",") if self.comma else said

    def length(self, mm: float) -> str:
        """A length with its unit, to a tenth or a quarter of one."""
        decimals = 1 if self.unit is LengthUnit.CM else 2
        return f"{say_number(mm / _MM[self.unit], decimals, comma=self.comma)} {self.unit}"

    def size(self, width_mm: float, height_mm: float) -> str:
        """A width and a height, the unit once: ``14.0 × 10.5 cm``."""
        decimals = 1 if self.unit is LengthUnit.CM else 2
        across = say_number(width_mm / _MM[self.unit], decimals, comma=self.comma)
        return f"{across} × {self.length(height_mm)}"

    def bare_length(self, mm: float) -> str:
        """A length in the unit, without it."""
        return self.number(round(mm / _MM[self.unit], 2))

    def gauge_words(self, stitches: float, rows: float, over_mm: float) -> str:
        """A gauge as people write it: to 10 cm, or to 4 inches where they measure in those."""
        over = 101.6 if self.unit is LengthUnit.IN else 100.0
        sentence = (
            QCoreApplication.translate("Measures", "{stitches} stitches and {rows} rows to 4 in.")
            if self.unit is LengthUnit.IN
            else QCoreApplication.translate("Measures", "{stitches} stitches and {rows} rows to 10 cm.")
        )
        counts = (self.number(round(count * over / over_mm, 1)) for count in (stitches, rows))
        return sentence.format(**dict(zip(("stitches", "rows"), counts, strict=True)))

    def read_number(self, text: str) -> float:
        """A number, with a point or a comma.

        Raises:
            ValueError: with the reason.
        """
        if not text.strip():
            raise UnitError(QCoreApplication.translate("Measures", "a number is missing here"))
        if _BELOW_ZERO.fullmatch(text):
            raise UnitError(QCoreApplication.translate("Measures", "nothing below 0 fits here"))
        return parse_number(text)

    def read_whole(self, text: str) -> int:
        """A whole number.

        Raises:
            ValueError: with the reason.
        """
        number = self.read_number(text)
        if number != int(number):
            raise UnitError(QCoreApplication.translate("Measures", "only whole numbers fit here"))
        return int(number)

    def read_length_mm(self, text: str) -> float:
        """A length; without a unit it is in the user's own.

        Raises:
            ValueError: with the reason.
        """
        return parse_length_mm(text, self.unit)


_BELOW_ZERO: Final = re.compile(r"\s*[-−–]\s*[0-9].*")
_MM = {LengthUnit.CM: 10.0, LengthUnit.IN: 25.4, LengthUnit.MM: 1.0}


def of_locale(unit: LengthUnit | None) -> Measures:
    """As the system writes numbers, in a unit, or in the system's own."""
    locale = QLocale()
    metric = locale.measurementSystem() == QLocale.MeasurementSystem.MetricSystem
    return Measures(unit or (LengthUnit.CM if metric else LengthUnit.IN), locale.decimalPoint() == ",")
