"""Which yarn a gauge is usual for: the bands of the Craft Yarn Council."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from bedview.plan.gauge import Swatch
from bedview.plan.tables import table
from bedview.plan.units import MM_PER_IN


@dataclass(frozen=True, slots=True)
class Band:
    """A band of the Standard Yarn Weight System; stitches to 4 in, both ends included."""

    number: int
    name: str
    least: int
    most: int
    source: str


def bands() -> tuple[Band, ...]:
    """All bands, from lace to jumbo."""
    return tuple(
        Band(int(row["band"]), row["name"], int(row["least"]), int(row["most"]), row["source"])
        for row in table("yarn_bands")
    )


def bands_for(stitches_to_4_in: float) -> tuple[Band, ...]:
    """The bands a gauge lies in: one, two where they overlap, none beyond lace.

    A gauge between two bands is rounded to a whole stitch first, half up.
    """
    stitches = floor(round(stitches_to_4_in, 9) + 0.5)
    return tuple(band for band in bands() if band.least <= stitches <= band.most)


def bands_of(gauge: Swatch) -> tuple[Band, ...]:
    """The bands the gauge of a swatch lies in."""
    return bands_for(gauge.stitches * 4 * MM_PER_IN / gauge.over_mm)
