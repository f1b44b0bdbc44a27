"""Needles, their names, their positions, and the two sides of the bed.

A needle is an index from 0 at the left end to n - 1 at the right end. On screen, on paper and in files it
has a name counted outward from the centre: ``L{n/2} … L2 L1 | R1 R2 … R{n/2}``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import Final, NewType

from bedview.language import gettext as _

MIN_NEEDLES: Final = 2
MAX_NEEDLES: Final = 400
MIN_PITCH_MM: Final = 2.0
MAX_PITCH_MM: Final = 20.0
LONG_FLOAT_MM: Final = 25
"""Common practice; about five stitches of a standard bed."""

NeedleIndex = NewType("NeedleIndex", int)
"""Index of a needle, 0 at the left end of the bed."""
PassNumber = NewType("PassNumber", int)
"""Passes made; the first pass of a procedure is number 1."""

_NAME = re.compile(r"([LR])([1-9][0-9]{0,2})")


class NeedleError(ValueError):
    """A needle list that cannot be read, with the reason in one sentence."""


class Side(StrEnum):
    """A side of the bed, as the knitter sees it from the front."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Side:
        """The side across the bed."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


class Position(IntEnum):
    """How far a needle stands forward, from the back of the bed to the front."""

    OUT = 0
    WORK = 1
    UPPER = 2
    HOLD = 3

    @property
    def letter(self) -> str:
        """The one-letter form of a trace and of the text notation: o, w, u or h."""
        return "owuh"[self]

    @classmethod
    def from_word(cls, word: str) -> Position:
        """The position of a file's word: ``out``, ``work``, ``upper`` or ``hold``.

        Raises:
            KeyError: for any other word.
        """
        return {position.word: position for position in cls}[word]

    @property
    def word(self) -> str:
        """The word a file uses."""
        return self.name.lower()


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed as the piece describes it.

    Attributes:
        needles: how many needles, even, 2 to 400.
        pitch_mm: distance between neighbouring needles.
        carriage: where the carriage stands at the start.
    """

    needles: int
    pitch_mm: float = 9.0
    carriage: Side = Side.RIGHT

    @property
    def float_columns(self) -> int:
        """From how many columns apart on a strand of yarn is a long float."""
        columns = math.ceil(LONG_FLOAT_MM / self.pitch_mm)
        return columns if columns * self.pitch_mm >= LONG_FLOAT_MM else columns + 1


def needle_name(index: int, needles: int) -> str:
    """Name of the needle at ``index`` on a bed of ``needles``: ``L1`` is just left of the centre."""
    half = needles // 2
    return f"L{half - index}" if index < half else f"R{index - half + 1}"


def needle_index(name: str, needles: int) -> NeedleIndex:
    """Index of a needle from its name.

    Raises:
        NeedleError: if the name is not ``L`` or ``R`` and a number, or lies beyond the bed.
    """
    match = _NAME.fullmatch(name)
    if match is None:
        raise NeedleError(
            _("'{name}' is not a needle name; write L or R and a number, like R7").format(name=shorten(name))
        )
    number, half = int(match[2]), needles // 2
    if number > half:
        raise NeedleError(
            _("{name} is beyond the bed, which ends at {end}").format(name=name, end=f"{match[1]}{half}")
        )
    return NeedleIndex(half - number if match[1] == "L" else half + number - 1)


def parse_needles(text: str, needles: int, *, empty: bool = False) -> tuple[NeedleIndex, ...]:
    """Needles of a list such as ``L10-R4,R7``, in the order written.

    Args:
        text: names and ranges joined by commas without spaces, a range's left end first.
        needles: how many needles the bed has.
        empty: whether the empty list is allowed.

    Returns:
        Indices from 0 at the left end, each once.

    Raises:
        NeedleError: if the list is empty (unless allowed), a name is wrong, a range runs backwards, a
            needle is beyond the bed, or one is named twice.
    """
    if text == "":
        if empty:
            return ()
        raise NeedleError(_("the needle list is empty"))
    found: list[int] = []
    for part in text.split(","):
        first, dash, last = part.partition("-")
        start = needle_index(first, needles)
        stop = needle_index(last, needles) if dash else start
        if stop < start:
            raise NeedleError(_("'{part}' runs backwards; write the left end first").format(part=part))
        found.extend(range(start, stop + 1))
        if len(found) > needles:
            break
    if len(set(found)) < len(found):
        twice = next(index for place, index in enumerate(found) if index in found[:place])
        raise NeedleError(_("{needle} is named twice").format(needle=needle_name(twice, needles)))
    return tuple(NeedleIndex(index) for index in found)


def runs(indices: Iterable[int]) -> list[tuple[int, int]]:
    """Stretches of neighbouring needles, ``(first, last)`` both included, from the left."""
    stretches: list[tuple[int, int]] = []
    for index in sorted(indices):
        if stretches and index == stretches[-1][1] + 1:
            stretches[-1] = (stretches[-1][0], index)
        else:
            stretches.append((index, index))
    return stretches


def format_needles(indices: Iterable[int], needles: int) -> str:
    """The needle list of some indices, from left to right: the reverse of :func:`parse_needles`."""
    parts = []
    for first, last in runs(indices):
        name = needle_name(first, needles)
        parts.append(name if first == last else f"{name}-{needle_name(last, needles)}")
    return ",".join(parts)


def shorten(text: str, longest: int = 40) -> str:
    """A text cut to fit into a one-line message, without line breaks."""
    flat = " ".join(text.split())
    return flat if len(flat) <= longest else flat[: longest - 1] + "…"
