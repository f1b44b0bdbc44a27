"""Lengths into rows, widths into stitches, by a knitted swatch.

A knitter sees both figures, what was asked and what comes out: :class:`Figure`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor
from typing import Final, Literal, Protocol, TypeVar

from bedview.language import gettext, marked
from bedview.language import gettext as _
from bedview.plan.cautions import Caution
from bedview.plan.units import LengthUnit, say_length, say_number


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


@dataclass(frozen=True, slots=True)
class Rounding:
    """What a count must be: some number of times ``multiple_of``, and ``plus`` more.

    Attributes:
        multiple_of: 1 or more; 2 where the shaping takes one from each end.
        plus: 0 to ``multiple_of`` - 1.
    """

    multiple_of: int = 1
    plus: int = 0

    def __post_init__(self) -> None:
        """Refuse what no count could be.

        Raises:
            ValueError: if a number is out of its limits.
        """
        if not 0 <= self.plus < self.multiple_of:
            raise ValueError(
                _("no count is a multiple of {multiple_of} plus {plus}").format(
                    multiple_of=self.multiple_of, plus=self.plus
                )
            )

    def nearest(self, value: float) -> int:
        """The count nearest to a value; of two equally near ones the greater. Never less than ``plus``."""
        return self.plus + self.multiple_of * max(0, _nearest((value - self.plus) / self.multiple_of))

    def at_least(self, count: int) -> int:
        """The least count allowed that is not below ``count``."""
        return self.plus + self.multiple_of * max(0, -((self.plus - count) // self.multiple_of))

    def says(self) -> str:
        """What is asked of the count: "an even number"; empty if any will do."""
        if self == ANY:
            return ""
        if self == EVEN:
            return gettext("an even number")
        if self == ODD:
            return gettext("an odd number")
        if not self.plus:
            return gettext("a multiple of {number}").format(number=self.multiple_of)
        return gettext("a multiple of {number} plus {plus}").format(number=self.multiple_of, plus=self.plus)


ANY: Final = Rounding()
EVEN: Final = Rounding(2)
ODD: Final = Rounding(2, 1)


@dataclass(frozen=True, slots=True)
class Figure:
    """A length in rows or a width in stitches, with both figures.

    Attributes:
        of: what is counted.
        asked_mm: what was asked for.
        exact: rows or stitches that would be, unrounded.
        count: how many there are.
        gives_mm: what so many measure.
        rounding: what the count had to be.
    """

    of: Literal["rows", "stitches"]
    asked_mm: float
    exact: float
    count: int
    gives_mm: float
    rounding: Rounding = ANY

    def says(self, unit: LengthUnit = LengthUnit.CM, *, comma: bool | None = None) -> str:
        """Both figures, and the rounding: "14.0 cm = 31 rows; 31 rows are 14.1 cm"."""
        if self.of == "rows":
            sentence = gettext("{asked} = {count} rows; {count} rows are {gives}")
            rounded = gettext("{asked} = {exact} rows, rounded to {what}: {count}; {count} rows are {gives}")
        else:
            sentence = gettext("{asked} = {count} stitches; {count} stitches are {gives}")
            rounded = gettext(
                "{asked} = {exact} stitches, rounded to {what}: {count}; {count} stitches are {gives}"
            )
        return (sentence if self.rounding == ANY else rounded).format(
            asked=say_length(self.asked_mm, unit, comma=comma),
            gives=say_length(self.gives_mm, unit, comma=comma),
            exact=say_number(self.exact, comma=comma),
            count=self.count,
            what=self.rounding.says(),
        )


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
    return length_in_rows(length_mm, gauge).count


def stitches_in(width_mm: float, gauge: Swatch, multiple_of: int = 1) -> int:
    """Stitches that come nearest to a width, as a multiple of some number (2: an even number)."""
    return width_in_stitches(width_mm, gauge, Rounding(multiple_of)).count


def length_mm_of(rows: int, gauge: Swatch) -> float:
    """Length of so many rows."""
    return rows * gauge.over_mm / gauge.rows


def width_mm_of(stitches: int, gauge: Swatch) -> float:
    """Width of so many stitches."""
    return stitches * gauge.over_mm / gauge.stitches


def length_in_rows(length_mm: float, gauge: Swatch, rounding: Rounding = ANY) -> Figure:
    """A length turned into rows."""
    exact = length_mm * gauge.rows / gauge.over_mm
    count = rounding.nearest(exact)
    return Figure("rows", length_mm, exact, count, length_mm_of(count, gauge), rounding)


def width_in_stitches(width_mm: float, gauge: Swatch, rounding: Rounding = ANY) -> Figure:
    """A width turned into stitches, or needles."""
    exact = width_mm * gauge.stitches / gauge.over_mm
    count = rounding.nearest(exact)
    return Figure("stitches", width_mm, exact, count, width_mm_of(count, gauge), rounding)


def beyond_bed(stitches: int, bed_needles: int) -> Caution | None:
    """What to say if a width needs more needles than the bed has."""
    if stitches <= bed_needles:
        return None
    return Caution(
        "beyond-bed",
        "warning",
        marked(
            "{stitches} stitches are more than the bed's {needles} needles: "
            "knit it in panels, or the other way"
        ),
        {"stitches": stitches, "needles": bed_needles},
    )


SWAPPED: Final = 1.0
"""Below so many rows to a stitch (over the same length) a plain fabric's two counts are likely swapped."""
SLACK: Final = 0.15
"""How far rows to a stitch may be from :data:`SETTLED` before we ask for a second look (common practice)."""
SETTLED: Final = 1.3
"""Rows to a stitch of plain fabric at rest, 1.29 to 1.32 by Munden's constants."""


def doubtful_gauge(gauge: Swatch) -> Caution | None:
    """What to say of a gauge that plain fabric hardly has."""
    ratio = gauge.rows / gauge.stitches
    values = {"rows": gauge.rows, "stitches": gauge.stitches, "ratio": ratio}
    if ratio < SWAPPED:
        return Caution(
            "gauge-swapped",
            "warning",
            marked(
                "{rows:g} rows beside {stitches:g} stitches: plain fabric has more rows; are they swapped?"
            ),
            values,
        )
    if abs(ratio / SETTLED - 1) > SLACK:
        return Caution(
            "gauge-unsettled",
            "note",
            marked(
                "{ratio:.2f} rows to a stitch: plain fabric settles near 1.3; "
                "wash it, let it rest, count again"
            ),
            values,
        )
    return None


def _nearest(value: float) -> int:
    """The nearest whole number, half up; what floating point adds far behind the point is cut off."""
    return floor(round(value, 9) + 0.5)
