"""Feet, hands and heads: measured people, and shoe sizes.

The tables in ``resources/tables`` hold bodies, not garments; ease is the business of whoever plans a piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import floor, inf
from typing import Final, Literal, NamedTuple

from bedview.language import marked
from bedview.plan.cautions import Caution
from bedview.plan.tables import number, table
from bedview.plan.units import MM_PER_IN

People = Literal["men", "women", "boys", "girls", "children"]
Adults = Literal["men", "women"]

CHILD_LAST: Final = 1.08
"""A child's last is so many times the foot, to leave room to grow (npm shoe-size-converter 1.0.1, after
ISO/TS 19407:2015)."""
SLACK_MM: Final = 0.5
"""Sizes are rounded; a foot this close to a limit lies within it."""


class Measure(StrEnum):
    """What is measured on a body."""

    FOOT_LENGTH = "foot_length"
    BALL_OF_FOOT = "ball_of_foot_circumference"
    HEEL_ANKLE = "heel_ankle_circumference"
    ANKLE = "ankle_circumference"
    CALF = "calf_circumference"
    HAND = "hand_circumference"
    HAND_LENGTH = "hand_length"
    WRIST = "wrist_circumference"
    HEAD = "head_circumference"


@dataclass(frozen=True, slots=True)
class Body:
    """One row of the table of bodies.

    Attributes:
        measure: what was measured.
        who: of whom.
        from_years: the youngest.
        to_years: the oldest; infinite for adults.
        middle_mm: mean or median, as the source says; None where it gives only a range.
        low_mm: the lower limit; None if there is none.
        high_mm: the upper limit.
        limits_are: what the limits are: ``5 and 95 %``, or ``range``.
        read: how the row was read: ``text``, ``package``, ``derived`` or ``memory``.
        source: where from.
    """

    measure: Measure
    who: str
    from_years: float
    to_years: float
    middle_mm: float | None
    low_mm: float | None
    high_mm: float | None
    limits_are: str
    read: str
    source: str


@cache
def bodies() -> tuple[Body, ...]:
    """All rows of the table of bodies."""
    return tuple(
        Body(
            Measure(row["measure"]),
            row["who"],
            float(row["from_years"]),
            float(row["to_years"] or inf),
            number(row["middle_mm"]),
            number(row["low_mm"]),
            number(row["high_mm"]),
            row["low_high_are"],
            row["read"],
            row["source"],
        )
        for row in table("bodies")
    )


def bodies_of(measure: Measure, who: People | None = None, years: float | None = None) -> tuple[Body, ...]:
    """The rows of one measure; if asked, of some people, or of an age."""
    return tuple(
        body
        for body in bodies()
        if body.measure is measure
        and (who is None or body.who == who)
        and (years is None or body.from_years <= years <= body.to_years)
    )


# -- from a foot's length -----------------------------------------------------------------------------------


class Fit(NamedTuple):
    """A measure guessed from another; two people in three lie within ``residual_mm`` of it."""

    measure: Measure
    mm: float
    residual_mm: float
    source: str


def fits_from_foot(foot_mm: float, who: Adults) -> tuple[Fit, ...]:
    """Girths of an adult's foot and ankle from its length, as a line fitted to measured people."""
    return tuple(
        Fit(
            Measure(row["measure"]),
            float(row["slope"]) * foot_mm + float(row["intercept_mm"]),
            float(row["residual_mm"]),
            row["source"],
        )
        for row in table("foot_fits")
        if row["who"] == who
    )


def unmeasured_foot(foot_mm: float, who: Adults) -> Caution | None:
    """What to say of a foot outside those the fits rest on."""
    (body,) = bodies_of(Measure.FOOT_LENGTH, who)
    low, high = body.low_mm or 0.0, body.high_mm or 0.0
    if low - SLACK_MM <= foot_mm <= high + SLACK_MM:
        return None
    return Caution(
        "foot-unmeasured",
        "note",
        marked(
            "Nine in ten of those measured have a foot of {low:.0f} to {high:.0f} mm; "
            "for {foot:.0f} mm, measure the girths too"
        ),
        {"low": low, "high": high, "foot": foot_mm},
    )


# -- shoe sizes ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ShoeSize:
    """Shoe sizes of one foot, in halves.

    Attributes:
        eu: European size, from the Paris point of 2/3 cm.
        uk: English size, from the barleycorn of 1/3 in.
        us_men: US men's size; None for a child.
        us_women: US women's size; None for a child.
        mondopoint: the foot in whole mm.
    """

    eu: float
    uk: float
    us_men: float | None
    us_women: float | None
    mondopoint: int


def shoe_size(foot_mm: float) -> ShoeSize:
    """An adult's shoe sizes from the foot's length.

    Source: npm shoe-size-converter 1.0.1, after ISO/TS 19407:2015.
    """
    eu = _half(1.5 * foot_mm / 10 + 2)
    uk = _half(3 * foot_mm / MM_PER_IN - 23)
    return ShoeSize(eu, uk, uk + 1, uk + 2, _whole(foot_mm))


def child_shoe_size(foot_mm: float) -> ShoeSize:
    """A child's shoe sizes from the foot's length; no US ones, for want of a source.

    Source: npm shoe-size-converter 1.0.1, after ISO/TS 19407:2015.
    """
    eu = _half(1.5 * CHILD_LAST * foot_mm / 10)
    uk = _half(3 * CHILD_LAST * foot_mm / MM_PER_IN - 12)
    return ShoeSize(eu, uk, None, None, _whole(foot_mm))


def foot_mm_of_eu(size: float) -> float:
    """Length of the foot an adult's European size is made for."""
    return (size - 2) / 1.5 * 10


def foot_mm_of_uk(size: float) -> float:
    """Length of the foot an adult's English size is made for."""
    return (size + 23) / 3 * MM_PER_IN


def foot_mm_of_us(size: float, who: Adults) -> float:
    """Length of the foot an adult's US size is made for."""
    return foot_mm_of_uk(size - (1 if who == "men" else 2))


def foot_mm_of_child_eu(size: float) -> float:
    """Length of the foot a child's European size is made for."""
    return size / (1.5 * CHILD_LAST) * 10


def foot_mm_of_child_uk(size: float) -> float:
    """Length of the foot a child's English size is made for."""
    return (size + 12) / (3 * CHILD_LAST) * MM_PER_IN


def _half(value: float) -> float:
    """The nearest half, half up: Python's own rounding would make 37.25 a 37."""
    return _whole(value * 2) / 2


def _whole(value: float) -> int:
    # What floating point adds far behind the point must not decide.
    return floor(round(value, 9) + 0.5)
