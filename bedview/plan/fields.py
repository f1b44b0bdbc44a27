"""The values that documents are made of, each with its limits: needle lists, numbers, names and words.

JSON keeps ``6`` and ``6.0`` apart, and so do these: a number stays as it was written, so that a file written
again is the same file. Every limit of the contract that concerns one value alone stands here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Final, Literal, Self

from pydantic import AfterValidator, ConfigDict, Field, PlainValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from bedview.bed.needles import (
    MAX_NEEDLES,
    MAX_PITCH_MM,
    MIN_NEEDLES,
    MIN_PITCH_MM,
    needle_index,
    needle_name,
    parse_needles,
    shorten,
)
from bedview.language import gettext as _
from bedview.language import number

MAX_PASSES: Final = 200_000
"""Passes of a whole piece."""
MAX_ACTIONS: Final = 200_000
"""Actions of a whole piece, those of repeats counted each time."""

STRICT: Final = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False, frozen=True)
"""How every document is read: nothing is converted, nothing unknown is let through."""

_ONE: Final = "[LR][1-9][0-9]{0,2}"
_PART: Final = f"{_ONE}(-{_ONE})?"
_COLOUR: Final = "#[0-9a-fA-F]{6}"
_LONGEST_LIST: Final = 10 * MAX_NEEDLES
"""Characters of the longest sensible list: every needle of the widest bed, written as a range of its own."""


def at_place(place: tuple[int | str, ...], sentence: str) -> PydanticCustomError:
    """A fault that lies deeper than the validator that finds it: ``place`` says where, from there."""
    return PydanticCustomError("at_place", "{sentence}", {"place": place, "sentence": sentence})


class BedNeedles:
    """The needles of one bed, asked again and again while a document is read.

    Hand it to pydantic as the validation context; without it a list is held against the widest bed.
    """

    def __init__(self, needles: int) -> None:
        """Take the bed's number of needles."""
        self._needles = needles
        self._names = frozenset(needle_name(index, needles) for index in range(needles))
        self._good: set[str] = set()

    @classmethod
    def of(cls, document: Mapping[str, Any]) -> Self:
        """The needles of the bed that a document describes; the widest bed's where it describes none."""
        bed = document.get("bed")
        needles = bed.get("needles") if isinstance(bed, dict) else None
        if not isinstance(needles, int) or not MIN_NEEDLES <= needles <= MAX_NEEDLES:
            # It is refused in its own place, before anything that names needles.
            needles = MAX_NEEDLES
        return cls(needles)

    def require(self, text: str) -> None:
        """Make sure that a needle list can be read on this bed.

        Raises:
            NeedleError: with the reason in one sentence.
        """
        if text in self._good:
            return
        names = text.split(",")
        once = set(names)
        # Single names make the longest lists, and are quickly seen to be of the bed and all different.
        if len(once) < len(names) or not once <= self._names:
            parse_needles(text, self._needles)
        self._good.add(text)

    def require_one(self, text: str) -> None:
        """Make sure that a needle's name names one of this bed.

        Raises:
            NeedleError: with the reason in one sentence.
        """
        if text not in self._names:
            needle_index(text, self._needles)


def _readable_list(text: str, info: ValidationInfo) -> str:
    if info.context is None:
        parse_needles(text, MAX_NEEDLES)
    else:
        info.context.require(text)
    return text


def _readable_name(text: str, info: ValidationInfo) -> str:
    if info.context is None:
        needle_index(text, MAX_NEEDLES)
    else:
        info.context.require_one(text)
    return text


def _six_digits(text: str) -> str:
    if re.fullmatch(_COLOUR, text) is None:
        raise ValueError(
            _("must be # and six hexadecimal digits, like #3b6ea5, not {text}").format(text=shown(text))
        )
    return text


def shown(value: object) -> str:
    """A value as a message shows it: short, on one line, as JSON writes it."""
    if isinstance(value, str):
        return f"'{shorten(value)}'"
    if isinstance(value, dict):
        return _("an object")
    if isinstance(value, list | tuple):
        return _("a list")
    return shorten(json.dumps(value, default=str))


def within(least: float, most: float) -> Callable[[object], float]:
    """A check for a number, whole or not, that leaves it as it was written.

    Args:
        least: the smallest number allowed.
        most: the largest.

    Returns:
        A function that gives its argument back, and raises ValueError with a sentence for anything but a
        finite number in these limits.
    """

    def check(value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and least <= value <= most:
            return value
        raise ValueError(
            _("must be a number from {least} to {most}, not {value}").format(
                least=number(least), most=number(most), value=shown(value)
            )
        )

    return check


def _schema(least: float, most: float) -> WithJsonSchema:
    return WithJsonSchema({"type": "number", "minimum": least, "maximum": most})


NeedleList = Annotated[
    str,
    Field(max_length=_LONGEST_LIST),
    AfterValidator(_readable_list),
    WithJsonSchema({"type": "string", "pattern": f"^{_PART}(,{_PART})*$", "maxLength": _LONGEST_LIST}),
]
"""Needles as a file names them: ``L10-R4,R7``, left end of a range first, none twice, none beyond the bed."""
NeedleName = Annotated[
    str,
    Field(max_length=_LONGEST_LIST),
    AfterValidator(_readable_name),
    WithJsonSchema({"type": "string", "pattern": f"^{_ONE}$"}),
]
"""One needle: ``R7``."""

Title = Annotated[str, Field(max_length=2_000)]
Words = Annotated[str, Field(max_length=100_000)]
YarnId = Annotated[str, Field(min_length=1, max_length=200)]
Colour = Annotated[
    str, AfterValidator(_six_digits), WithJsonSchema({"type": "string", "pattern": f"^{_COLOUR}$"})
]
"""``#rrggbb``."""
SideWord = Literal["left", "right"]
PositionWord = Literal["out", "work", "upper", "hold"]
RoleWord = Literal["fabric", "waste", "ravel"]

Rows = Annotated[int, Field(ge=1, le=9999)]
CounterValue = Annotated[int, Field(ge=0, le=9999)]
PassesMade = Annotated[int, Field(ge=0, le=MAX_PASSES)]
"""Passes made by then; 0 before the first."""
PassOfPiece = Annotated[int, Field(ge=1, le=MAX_PASSES)]
"""A pass by its number; the first is 1."""

Dial = Annotated[int | float, PlainValidator(within(0, 20)), _schema(0, 20)]
PitchMm = Annotated[
    int | float, PlainValidator(within(MIN_PITCH_MM, MAX_PITCH_MM)), _schema(MIN_PITCH_MM, MAX_PITCH_MM)
]
TailCm = Annotated[int | float, PlainValidator(within(0, 10_000)), _schema(0, 10_000)]
LengthCm = Annotated[int | float, PlainValidator(within(0.1, 10_000)), _schema(0.1, 10_000)]
Tex = Annotated[int | float, PlainValidator(within(1, 100_000)), _schema(1, 100_000)]
LoopsOverSwatch = Annotated[int | float, PlainValidator(within(0.1, 10_000)), _schema(0.1, 10_000)]
"""Stitches or rows counted over the width or height of a swatch."""
SwatchMm = Annotated[int | float, PlainValidator(within(1, 10_000)), _schema(1, 10_000)]


def even_needles(value: int) -> int:
    """Check that a bed has as many needles left of its centre as right of it.

    Raises:
        ValueError: if the number is odd.
    """
    if value % 2:
        raise ValueError(_("must be an even number, not {value}").format(value=shorten(str(value))))
    return value


NeedleCount = Annotated[int, Field(ge=2, le=MAX_NEEDLES), AfterValidator(even_needles)]
"""How many needles a bed has: even, 2 to 400."""
