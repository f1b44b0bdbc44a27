"""How thick a yarn is: the counts of the trade, and what follows from one.

*Tex* is grams of 1,000 m and stands in the piece. The others are turned into it when a label is typed in.
"""

from __future__ import annotations

from enum import StrEnum
from math import pi, sqrt
from typing import Final

from bedview.language import gettext as _
from bedview.plan.units import G_PER_LB, MM_PER, LengthUnit

M_PER_YD: Final = MM_PER[LengthUnit.YD] / 1000

WOOL_G_PER_CM3: Final = 1.31
"""Density of the wool fibre itself (common practice, no source)."""
PACKING: Final = 0.646
"""Part of a yarn's cross-section that is fibre: what a handbook's 4.44e-3 × √(tex/density) cm for the
diameter says beside the 3.57e-3 of a solid cylinder (Texcoms textile handbook, p. 150; derived)."""


class YarnCount(StrEnum):
    """A way to state how thick a yarn is."""

    TEX = "tex"
    DTEX = "dtex"
    DENIER = "denier"
    METRIC = "Nm"
    COTTON = "Ne"
    WORSTED = "NeK"
    M_PER_100_G = "m/100 g"


_TEX_TIMES: Final = {
    YarnCount.METRIC: 1000.0,
    YarnCount.COTTON: G_PER_LB / (840 * M_PER_YD) * 1000,
    YarnCount.WORSTED: G_PER_LB / (560 * M_PER_YD) * 1000,
    YarnCount.M_PER_100_G: 100_000.0,
}
"""tex × count, for counts that grow as the yarn gets finer: km of a kg, hanks of 840 or 560 yd of a pound
(ASTM D2260), metres of a ball of 100 g."""
_TEX_PART: Final = {YarnCount.TEX: 1.0, YarnCount.DTEX: 10.0, YarnCount.DENIER: 9.0}
"""count / tex, for counts that grow with the weight: grams of 1,000, 10,000 and 9,000 m."""


def to_tex(value: float, count: YarnCount, plies: int = 1) -> float:
    """Tex of a yarn.

    Args:
        value: the count of one ply.
        count: which.
        plies: how many such yarns are twisted together, or run side by side.

    Raises:
        ValueError: if a number is not above 0.
    """
    if value <= 0 or plies < 1:
        raise ValueError(_("a count and its plies are above 0"))
    one = _TEX_TIMES[count] / value if count in _TEX_TIMES else value / _TEX_PART[count]
    return one * plies


def from_tex(tex: float, count: YarnCount) -> float:
    """The count of a yarn of so many tex.

    Raises:
        ValueError: if tex is not above 0.
    """
    if tex <= 0:
        raise ValueError(_("tex is above 0"))
    return _TEX_TIMES[count] / tex if count in _TEX_TIMES else tex * _TEX_PART[count]


def grams_of(metres: float, tex: float) -> float:
    """Weight of a length of yarn."""
    return metres * tex / 1000


def metres_of(grams: float, tex: float) -> float:
    """Length of yarn in a weight of it."""
    return grams * 1000 / tex


def diameter_mm(tex: float, fibre_g_per_cm3: float = WOOL_G_PER_CM3, packing: float = PACKING) -> float:
    """Diameter of a yarn, taken as a cylinder of fibre and air."""
    area_mm2 = tex / (1000 * fibre_g_per_cm3 * packing)
    return sqrt(4 * area_mm2 / pi)


def tightness(tex: float, loop_mm: float) -> float:
    """Tightness factor √tex / l, with l in mm: how much of the fabric's area yarn covers."""
    return sqrt(tex) / loop_mm


def grams_a_square_metre(loops_per_cm2: float, loop_mm: float, tex: float) -> float:
    """Weight of a square metre of fabric (Texcoms textile handbook, p. 150)."""
    return loops_per_cm2 * loop_mm * tex / 100
