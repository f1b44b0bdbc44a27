"""Short-row turns, as heels and toes have them: how many needles are held for a depth or a girth."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Final

from bedview.plan.gauge import ANY
from bedview.plan.starters.parameter import CM, PERCENT, Parameter, lengths

TOE_DEPTH: Final = 0.21
"""Depth of a toe over the round: a flat sock's toe goes from 36 needles to 16, 20 rows for 72 stitches at 1.3
rows to a stitch (a class handout of 1979, counts only)."""
HEEL_DEPTH: Final = 0.25
"""Depth of a heel over the round: down to a third of its stitches (Simply Knitting, October 2018) holds two
thirds of half a round, a needle a row, at 1.3 rows to a stitch."""
THIRD: Final = 3
"""A heel or toe is not narrowed below a third of its stitches, or it comes to a point."""

CARE: Final = (
    "Wool on a smooth floor slips: give the sole a grip. For a baby no loose ties, and every end darned in"
)
"""What to say with everything that is worn on the feet."""

FOOT: Final = (
    lengths("foot_length", 6, 36, "from the heel to the longest toe"),
    lengths("foot_girth", 6, 36, "round the ball of the foot"),
    lengths("heel_girth", 8, 50, "round heel and instep, the way into a sock"),
)
"""What is measured on a foot."""
TOE: Final = lengths("toe_depth", 1, 12, "from the tip to where the toe begins")


HEM: Final = lengths("hem", 0, 10, "height of the hem at the edge; 0 for a plain edge, which rolls")
HEM_OF_LEG: Final = 0.35
"""No hem is higher than this part of a leg or cuff if none is given (common practice)."""


def leg(says: str) -> tuple[Parameter, Parameter]:
    """The leg, and the hem at its top."""
    return lengths("leg_length", 1, 70, says), HEM


def hem_cm(leg_cm: float, most_cm: float) -> float:
    """Height of a hem if none is given."""
    return min(most_cm, HEM_OF_LEG * leg_cm)


def ease(default: float, says: str, key: str = "ease") -> Parameter:
    """An ease in per cent of the body's measure; less than nothing stretches."""
    return Parameter(key, PERCENT, default, -25, 25, says)


def room(default: float, says: str) -> Parameter:
    """An ease in length."""
    return Parameter("room", CM, default, -3, 5, says)


@dataclass(frozen=True, slots=True)
class Turn:
    """A turn that narrows and widens again, a needle a row, one end after the other.

    Attributes:
        across: stitches it begins over.
        held: needles held at each end at its narrowest.
        limited: whether another number would have been held for what was asked, if that left a good shape.
    """

    across: int
    held: int
    limited: bool = False

    @property
    def down_to(self) -> int:
        """Stitches left at its narrowest."""
        return self.across - 2 * self.held

    @property
    def rows(self) -> int:
        """Rows that narrow; as many widen."""
        return 2 * self.held


def turn_of_depth(depth_mm: float, across: int, row_mm: float) -> Turn:
    """The turn whose depth comes nearest: half its rows, measured along the middle."""
    return _limited(across, ANY.nearest(depth_mm / (2 * row_mm)))


def turn_of_girth(girth_mm: float, round_stitches: int, across: int, stitch_mm: float, row_mm: float) -> Turn:
    """The turn that makes the way round heel and instep nearest to a girth.

    That way runs round the stitches that are not held and along the two lines where the turn narrows: so many
    stitches in, twice as many rows up (plane geometry).

    Args:
        girth_mm: the way round heel and instep.
        round_stitches: stitches of the round, without those in seams.
        across: stitches the turn begins over.
        stitch_mm: width of a stitch.
        row_mm: height of a row.
    """
    gained_mm = 2 * (hypot(stitch_mm, 2 * row_mm) - stitch_mm)
    return _limited(across, ANY.nearest((girth_mm - round_stitches * stitch_mm) / gained_mm))


def _limited(across: int, held: int) -> Turn:
    most = max(1, (across - max(2, across // THIRD)) // 2)
    return Turn(across, max(1, min(held, most)), limited=not 1 <= held <= most)


@dataclass(frozen=True, slots=True)
class Leg:
    """Rows of a leg or cuff.

    Attributes:
        hem: rows of the hem's outside; 0 for none. Inside are as many, and a row to fold at and one to
            close come to them.
        plain: plain rows below it.
    """

    hem: int
    plain: int

    @property
    def passes(self) -> int:
        """All rows, those inside the hem too."""
        return self.plain + (2 * self.hem + 2 if self.hem else 0)
