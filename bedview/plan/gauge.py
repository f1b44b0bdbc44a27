"""Lengths into rows, widths into stitches, by a knitted swatch."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import Protocol, TypeVar


class Swatch(Protocol):
    """A gauge as the piece states it: ``stitches`` and ``rows`` counted over ``over_mm``."""

    @property
    def yarn(self) -> str:
        """Id of the yarn it was knitted with."""

    @property
    def tension(self) -> float | None:
        """The dial it was knitted at; None if that was not written down."""

    @property
    def stitches(self) -> float:
        """Stitches over ``over_mm`` across."""

    @property
    def rows(self) -> float:
        """Rows over ``over_mm`` up."""

    @property
    def over_mm(self) -> float:
        """The length both were counted over."""


AnySwatch = TypeVar("AnySwatch", bound=Swatch)


def find_gauge(gauges: Iterable[AnySwatch], yarn: str, dial: float | None) -> AnySwatch | None:
    """The gauge of a yarn at a dial number.

    Args:
        gauges: the gauges of a piece.
        yarn: id of the yarn.
        dial: tension dial, or None while none was set.

    Returns:
        The gauge knitted at that dial. While no dial was set, or if the gauge names none: the yarn's only
        gauge. None where that leaves nothing or a choice.
    """
    of_yarn = [gauge for gauge in gauges if gauge.yarn == yarn]
    if dial is not None:
        exact = [gauge for gauge in of_yarn if gauge.tension == dial]
        if exact:
            return exact[0]
        of_yarn = [gauge for gauge in of_yarn if gauge.tension is None]
    return of_yarn[0] if len(of_yarn) == 1 else None


def rows_in(length_mm: float, gauge: Swatch) -> int:
    """Rows that come nearest to a length, half a row counting as a whole one."""
    return _nearest(length_mm * gauge.rows / gauge.over_mm)


def stitches_in(width_mm: float, gauge: Swatch, multiple_of: int = 1) -> int:
    """Stitches that come nearest to a width, as a multiple of some number (2: an even number)."""
    return multiple_of * _nearest(width_mm * gauge.stitches / gauge.over_mm / multiple_of)


def length_mm_of(rows: int, gauge: Swatch) -> float:
    """Length of so many rows."""
    return rows * gauge.over_mm / gauge.rows


def width_mm_of(stitches: int, gauge: Swatch) -> float:
    """Width of so many stitches."""
    return stitches * gauge.over_mm / gauge.stitches


def _nearest(value: float) -> int:
    """The nearest whole number, half up; what floating point adds far behind the point is cut off."""
    return floor(round(value, 9) + 0.5)
