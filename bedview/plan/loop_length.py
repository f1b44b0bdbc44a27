"""How much yarn one stitch takes.

In relaxed plain fabric everything hangs on the length ``l`` of yarn in one loop (Munden 1959): wales to a
unit are ``Kw / l``, courses ``Kc / l``, and loops to an area ``Ks / l²``. The three constants depend on how
far the fabric has come to rest, so whoever uses them names that state. They stand, with their sources, in
``resources/tables/relaxation.csv``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import sqrt
from typing import Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.cautions import Caution
from bedview.plan.gauge import Swatch
from bedview.plan.tables import table
from bedview.plan.yarn_counts import diameter_mm, tightness

USUAL_TIGHTNESS: Final = (1.3, 1.5)
"""√tex / l(mm) of most plain fabric (lecture notes on tightness factor; hand knitting is often looser)."""
JAMMED: Final = 16.67
"""Loop length in yarn diameters at which plain fabric jams (Chamberlain 1926, after Text. Res. J. 2016,
doi 10.1177/0040517516641358). Real yarn compresses, so this is no wall."""


class Relaxation(StrEnum):
    """How far a plain fabric has come to rest."""

    DRY = "dry"
    """Off the machine and laid flat."""
    WET = "wet"
    """Washed or soaked, and dried flat."""
    FULL = "full"
    """Washed and tumbled until it shrinks no more."""


@dataclass(frozen=True, slots=True)
class Constants:
    """Constants of plain fabric at rest: courses, wales and stitches, and where they were read."""

    courses: float
    wales: float
    stitches: float
    source: str


@cache
def constants(state: Relaxation) -> Constants:
    """Munden's constants for a state."""
    row = next(row for row in table("relaxation") if row["state"] == state)
    return Constants(float(row["courses_k"]), float(row["wales_k"]), float(row["stitches_k"]), row["source"])


def loop_mm(gauge: Swatch, state: Relaxation) -> float:
    """Yarn in one stitch from loops to an area, which both counts of a swatch share in."""
    to_mm2 = gauge.stitches * gauge.rows / gauge.over_mm**2
    return sqrt(constants(state).stitches / to_mm2)


def loop_mm_by_stitches(gauge: Swatch, state: Relaxation) -> float:
    """Yarn in one stitch from the stitches of a swatch alone."""
    return constants(state).wales * gauge.over_mm / gauge.stitches


def loop_mm_by_rows(gauge: Swatch, state: Relaxation) -> float:
    """Yarn in one stitch from the rows of a swatch alone."""
    return constants(state).courses * gauge.over_mm / gauge.rows


def loops_to_cm2(loop: float, state: Relaxation) -> float:
    """Loops to a square centimetre of a fabric whose loops have ``loop`` mm of yarn."""
    return constants(state).stitches * 100 / loop**2


def loop_mm_by_weight(grams: float, tex: float, loops: float) -> float:
    """Yarn in one stitch as the scale says: the length of so many grams, shared by so many loops.

    Raises:
        ValueError: if there is nothing to share.
    """
    if grams <= 0 or tex <= 0 or loops <= 0:
        raise ValueError(_("a weighed swatch has weight, yarn and loops"))
    return grams * 1_000_000 / (tex * loops)


def yarn_cautions(tex: float, loop: float) -> list[Caution]:
    """What to say of a yarn whose loops have ``loop`` mm: too thick for them, or unusually loose or tight."""
    found: list[Caution] = []
    diameters, factor = loop / diameter_mm(tex), tightness(tex, loop)
    if diameters < JAMMED:
        found.append(
            Caution(
                "yarn-jams",
                "warning",
                marked(
                    "A loop is only {diameters:.1f} yarn diameters long; plain fabric jams near {limit}: "
                    "take a thinner yarn or a looser tension"
                ),
                {"diameters": diameters, "limit": JAMMED},
            )
        )
    least, most = USUAL_TIGHTNESS
    values = {"tightness": factor, "least": least, "most": most}
    if factor > most:
        sentence = marked("Tightness {tightness:.2f}: above the usual {least} to {most}, a stiff fabric")
        found.append(Caution("tightness-high", "note", sentence, values))
    elif factor < least:
        sentence = marked("Tightness {tightness:.2f}: below the usual {least} to {most}, a loose fabric")
        found.append(Caution("tightness-low", "note", sentence, values))
    return found
