"""What a starter is asked: its parameters, how a value is read, and what is said of a wrong one."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Final

from bedview.bed.needles import shorten
from bedview.language import filled, marked
from bedview.language import gettext as _
from bedview.plan.units import MM_PER, LengthUnit, UnitError, parse_length_mm, parse_number, say_number

Given = str | float
"""A value as it is given: a number in the parameter's unit, or words such as ``14,5 cm`` or ``9 in``."""

CM: Final = "cm"
PERCENT: Final = "%"
STITCHES: Final = marked("stitches to 10 cm")
ROWS: Final = marked("rows to 10 cm")
COUNT: Final = marked("count")
"""A whole number."""
EVEN_COUNT: Final = marked("even count")
MM: Final = "mm"
TEX: Final = "tex"
DIAL: Final = marked("dial")
WORD: Final = ""
"""One of some words."""

_SIGN: Final = re.compile(r"\s*([+−-]?)\s*(.*)", re.DOTALL)


class StarterError(ValueError):
    """A piece that a starter cannot make, with the reason in one sentence.

    Attributes:
        key: the parameter at fault, or "".
    """

    def __init__(self, message: str, key: str = "") -> None:
        super().__init__(message)
        self.key = key


@dataclass(frozen=True, slots=True)
class Parameter:
    """One thing a starter is asked.

    Attributes:
        key: its name.
        unit: what a number is counted in; "" for one of the words in ``choices``.
        default: the value if none is given (of a measure, in the size that is taken then); None: left out.
        min: the least allowed; None for words.
        max: the greatest allowed; None for words.
        says: what it is.
        choices: the words allowed.
    """

    key: str
    unit: str
    default: Given | None
    min: float | None
    max: float | None
    says: str
    choices: tuple[str, ...] = ()

    def read(self, given: Given) -> Given:
        """The value as it is reckoned with: a number in the parameter's unit, or one of its words.

        Raises:
            StarterError: if it cannot be read or is out of range; the sentence names what is allowed.
        """
        if self.choices:
            word = f"{given:g}" if isinstance(given, int | float) else given.strip()
            if word not in self.choices:
                allowed = ", ".join(self.choices)
                raise StarterError(
                    _("{key} cannot be '{word}'; choose {allowed}").format(
                        key=self.key, word=shorten(word), allowed=allowed
                    ),
                    self.key,
                )
            return word
        return self._in_range(self._number(given), given)

    def allowed(self) -> str:
        """What may be given, in a few words: ``5 to 60 stitches to 10 cm``."""
        if self.choices:
            return ", ".join(self.choices)
        assert self.min is not None
        assert self.max is not None
        if self.unit == DIAL:
            return filled(_("{least:g} to {most:g} on the dial"), least=self.min, most=self.max)
        return filled(_("{least:g} to {most:g} {unit}"), least=self.min, most=self.max, unit=_(self.unit))

    def _number(self, given: Given) -> float:
        if isinstance(given, bool) or not isinstance(given, int | float | str):
            raise StarterError(
                _("{key} must be a number, {allowed}").format(key=self.key, allowed=self.allowed()), self.key
            )
        if not isinstance(given, str):
            return float(given)
        match = _SIGN.fullmatch(given)
        assert match is not None
        sign = -1.0 if match[1] in {"-", "−"} else 1.0
        try:
            return sign * _READ.get(self.unit, _plain)(match[2])
        except UnitError as error:
            raise StarterError(
                _("{key}: {error}; it may be {allowed}").format(
                    key=self.key, error=error, allowed=self.allowed()
                ),
                self.key,
            ) from None

    def _in_range(self, number: float, given: Given) -> float:
        assert self.min is not None
        assert self.max is not None
        # What a change of units adds far behind the point must not put a limit itself out of range.
        if not isfinite(number) or not self.min - 1e-9 <= number <= self.max + 1e-9:
            raise StarterError(
                _("{key} cannot be {given}; it may be {allowed}").format(
                    key=self.key, given=shorten(str(given)), allowed=self.allowed()
                ),
                self.key,
            )
        if self.unit in (COUNT, EVEN_COUNT):
            even = self.unit == EVEN_COUNT
            if number % (2 if even else 1):
                text = _("{key} must be a whole number, {allowed}")
                if even:
                    text = _("{key} must be an even number, {allowed}")
                raise StarterError(text.format(key=self.key, allowed=self.allowed()), self.key)
        return number


def _plain(text: str) -> float:
    return parse_number(text)


def _cm(text: str) -> float:
    return parse_length_mm(text) / MM_PER[LengthUnit.CM]


def _mm(text: str) -> float:
    return parse_length_mm(text, LengthUnit.MM)


def _percent(text: str) -> float:
    return parse_number(text.strip().removesuffix("%"))


def _to_10_cm(text: str) -> float:
    """Stitches or rows to 10 cm, written so or over a length of one's own: ``28``, ``20/4 in``, ``7/in``."""
    count, slash, over = text.partition("/")
    unit = over.strip()
    if not slash or unit.isdigit():
        return parse_number(text)
    over_mm = parse_length_mm(unit if unit[0].isdigit() else f"1 {unit}") if unit else 100.0
    if not over_mm:
        raise UnitError(_("'{text}' is counted over nothing").format(text=shorten(text)))
    return parse_number(count) * 100 / over_mm


_READ: Final[Mapping[str, Callable[[str], float]]] = {
    CM: _cm,
    MM: _mm,
    PERCENT: _percent,
    STITCHES: _to_10_cm,
    ROWS: _to_10_cm,
}


def lengths(key: str, least_cm: float, most_cm: float, says: str) -> Parameter:
    """A length that the size or another measure tells if it is not given."""
    return Parameter(key, CM, None, least_cm, most_cm, says)


def tidy(number: float) -> float:
    """A number as a list of defaults shows it: two decimals, and none it does not need."""
    short = float(say_number(abs(number), 2, comma=False)) * (-1 if number < 0 else 1)
    return int(short) if short.is_integer() else short
