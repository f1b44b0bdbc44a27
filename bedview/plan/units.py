"""Lengths and weights as people write them: ``14,5 cm``, ``5 3/4 in``, ``5¾"``, ``2 oz``.

Inside the program lengths are millimetres and weights are grams.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from itertools import pairwise
from math import floor
from typing import Final, TypeVar

from bedview.language import gettext as _
from bedview.language import marked, written


class LengthUnit(StrEnum):
    """A unit of length, by its short form."""

    MM = "mm"
    CM = "cm"
    M = "m"
    IN = "in"
    FT = "ft"
    YD = "yd"


class MassUnit(StrEnum):
    """A unit of weight, by its short form."""

    G = "g"
    KG = "kg"
    OZ = "oz"
    LB = "lb"


MM_PER_IN: Final = 25.4
"""Exact since 1959."""
G_PER_LB: Final = 453.59237
"""Exact since 1959."""

MM_PER: Final[Mapping[LengthUnit, float]] = {
    LengthUnit.MM: 1.0,
    LengthUnit.CM: 10.0,
    LengthUnit.M: 1000.0,
    LengthUnit.IN: MM_PER_IN,
    LengthUnit.FT: 12 * MM_PER_IN,
    LengthUnit.YD: 36 * MM_PER_IN,
}
G_PER: Final[Mapping[MassUnit, float]] = {
    MassUnit.G: 1.0,
    MassUnit.KG: 1000.0,
    MassUnit.OZ: G_PER_LB / 16,
    MassUnit.LB: G_PER_LB,
}

_LENGTH_WORDS: Final = {unit.value: unit for unit in LengthUnit} | {
    "inch": LengthUnit.IN,
    "inches": LengthUnit.IN,
    '"': LengthUnit.IN,
    "”": LengthUnit.IN,
    "″": LengthUnit.IN,
    "''": LengthUnit.IN,
    "foot": LengthUnit.FT,
    "feet": LengthUnit.FT,
    "'": LengthUnit.FT,
    "’": LengthUnit.FT,
    "′": LengthUnit.FT,
    "yard": LengthUnit.YD,
    "yards": LengthUnit.YD,
}
_MASS_WORDS: Final = {unit.value: unit for unit in MassUnit}
_LENGTH_LISTED: Final = marked("mm, cm, m, in, ft or yd")
_MASS_LISTED: Final = marked("g, kg, oz or lb")
_GLYPHS: Final = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_NUMBER: Final = r"(?:[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_PART: Final = re.compile(rf" *({_NUMBER}) *([^0-9 ]*)")
_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_LONGEST: Final = 40
"""Characters of the longest sensible measure."""

AnyUnit = TypeVar("AnyUnit", LengthUnit, MassUnit)


class UnitError(ValueError):
    """A measure that cannot be read, with the reason in one sentence."""


def parse_number(text: str) -> float:
    """Read a number with a point or a comma, or a fraction: ``14,5``, ``5 3/4``, ``¾``.

    Raises:
        UnitError: if it is none, or a comma before three digits could mean a thousand.
    """
    tidy = _tidy(text)
    if len(tidy) > _LONGEST or re.fullmatch(_NUMBER, tidy) is None:
        raise UnitError(_("'{text}' is not a number").format(text=text[:_LONGEST]))
    return _value(tidy)


def parse_length_mm(text: str, unit: LengthUnit = LengthUnit.CM) -> float:
    """Read a length.

    Args:
        text: one number with or without its unit, or several from large to small: ``2 ft 3 in``.
        unit: what a number without a unit is counted in.

    Returns:
        Millimetres, 0 or more.

    Raises:
        UnitError: if it cannot be read.
    """
    return _sum(text, unit, _LENGTH_WORDS, MM_PER, _LENGTH_LISTED)


def parse_mass_g(text: str, unit: MassUnit = MassUnit.G) -> float:
    """Read a weight, as :func:`parse_length_mm` reads a length.

    Returns:
        Grams, 0 or more.

    Raises:
        UnitError: if it cannot be read.
    """
    return _sum(text, unit, _MASS_WORDS, G_PER, _MASS_LISTED)


def say_number(value: float, decimals: int = 1, *, comma: bool | None = None) -> str:
    """A number with so many decimals, half up.

    Args:
        value: the number.
        decimals: how many.
        comma: write a comma for the decimal point, or a point; as the language in use has it if left out.
    """
    scale = 10**decimals
    # What floating point adds far behind the point must not decide: 0.45 says 0.5.
    said = f"{floor(round(value * scale, 6) + 0.5) / scale:.{decimals}f}"
    if comma is None:
        return written(said)
    return said.replace(".", ",") if comma else said


def say_length(
    mm: float, unit: LengthUnit = LengthUnit.CM, decimals: int = 1, *, comma: bool | None = None
) -> str:
    """A length in a unit: ``14.0 cm``."""
    return f"{say_number(mm / MM_PER[unit], decimals, comma=comma)} {unit}"


def say_inches(mm: float, parts: int = 8) -> str:
    """A length in inches and a fraction of an inch, to the nearest of ``parts``: ``5 3/4 in``."""
    from fractions import Fraction  # only inches need it, and the window opens sooner without

    eighths = Fraction(floor(round(mm / MM_PER_IN * parts, 6) + 0.5), parts)
    whole, rest = divmod(eighths, 1)
    if not rest:
        return f"{whole} in"
    return f"{whole} {rest} in" if whole else f"{rest} in"


def say_mass(g: float, unit: MassUnit = MassUnit.G, decimals: int = 0, *, comma: bool | None = None) -> str:
    """A weight in a unit: ``84 g``."""
    return f"{say_number(g / G_PER[unit], decimals, comma=comma)} {unit}"


def _tidy(text: str) -> str:
    for glyph, fraction in _GLYPHS.items():
        text = text.replace(glyph, f" {fraction}")
    return " ".join(text.replace("⁄", "/").replace("\N{NO-BREAK SPACE}", " ").split())  # noqa: RUF001


def _value(number: str) -> float:
    """The value of a text that matches ``_NUMBER``."""
    if "/" in number:
        whole, fraction = number.rpartition(" ")[::2]
        above, below = fraction.split("/")
        if not int(below):
            raise UnitError(_("'{number}' divides by nothing").format(number=number))
        return int(whole or 0) + int(above) / int(below)
    if _THOUSANDS.fullmatch(number):
        plain, short = number.replace(",", ""), number.rstrip("0").rstrip(",").replace(",", ".")
        raise UnitError(
            _("'{number}' could be {plain} or {short}; write one of them").format(
                number=number, plain=plain, short=short
            )
        )
    return float(number.replace(",", "."))


def _sum(
    text: str, unit: AnyUnit, words: Mapping[str, AnyUnit], size: Mapping[AnyUnit, float], listed: str
) -> float:
    """The sum of the parts of a measure, in the unit whose size is 1."""
    tidy = _tidy(text)
    shown = tidy[:_LONGEST]
    parts: list[tuple[float, AnyUnit]] = []
    place = 0
    while place < len(tidy):
        match = _PART.match(tidy, place)
        if match is None or len(tidy) > _LONGEST:
            raise UnitError(
                _("'{shown}' is not a measure; write a number and {listed}").format(
                    shown=shown, listed=_(listed)
                )
            )
        word = match[2].lower()
        if word and word not in words:
            raise UnitError(
                _("'{word}' is not a unit here; use {listed}").format(word=match[2], listed=_(listed))
            )
        parts.append((_value(match[1]), words[word] if word else unit))
        place = match.end()
    if not parts:
        raise UnitError(_("nothing was written; write a number and {listed}").format(listed=_(listed)))
    sizes = [size[each] for _, each in parts]
    if any(after >= before for before, after in pairwise(sizes)):
        raise UnitError(
            _("'{shown}' goes from a small unit to a large one, or names one twice").format(shown=shown)
        )
    return sum(value * size[each] for value, each in parts)
