"""How two edges of unequal counts are sewn together evenly, as a rule hands can follow.

Of the longer edge so many are taken to so many of the shorter, over and over: small numbers that the fingers
remember. What is left over is taken here and there, spread evenly.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from bedview.plan.spacing import gaps, spread

MOST_REMEMBERED: Final = 4
"""Nobody keeps a rule over more stitches than these in mind while sewing."""


@dataclass(frozen=True, slots=True)
class EasingRule:
    """A rule for sewing.

    Attributes:
        longer: how many of the longer edge ...
        shorter: ... go to so many of the shorter.
        by_turns: how many to each one of the shorter, in turn; they add up to ``longer``.
        more: how many of the longer edge are left over.
        every: about how many of the shorter edge lie from one of them to the next; 0 for fewer than two.
    """

    longer: int
    shorter: int
    by_turns: tuple[int, ...]
    more: int
    every: int


def easing_rule(longer: int, shorter: int) -> EasingRule:
    """The rule that leaves fewest over.

    Args:
        longer: loops or rows of the longer edge.
        shorter: of the shorter, at least one.

    Raises:
        ValueError: if the counts are the other way round, or one is nothing.
    """
    if not 0 < shorter <= longer:
        raise ValueError("easing goes from a longer edge to a shorter one")
    ratio = Fraction(longer, shorter)
    rules = (Fraction(longer * of // shorter, of) for of in range(1, min(MOST_REMEMBERED, shorter) + 1))
    # Of equally near ones the first, which has the smallest numbers.
    rule = min(rules, key=lambda each: ratio - each)
    more = longer - shorter * rule.numerator // rule.denominator
    return EasingRule(
        rule.numerator,
        rule.denominator,
        gaps(spread(rule.numerator, rule.denominator)),
        more,
        shorter // more if more > 1 else 0,
    )
