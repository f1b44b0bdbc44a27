"""A cone of wedges, or a flat disc."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import floor, hypot, pi, sqrt
from typing import Any, ClassVar, Final

from bedview.language import marked
from bedview.plan.gauge import ODD
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.parameter import CM, COUNT, Parameter
from bedview.plan.starters.starter import Starter, Values
from bedview.plan.starters.wedges import (
    GENTLE,
    TITLES,
    Layout,
    Wedges,
    choose,
    closing_graft,
    edge_mm,
    wedge_segments,
)

ODD_STEP: Final = 150
"""A step that is not full bends the cone: one needle more or less in each step is better than 1 % of that."""
FEWEST_STEPS: Final = 5
"""With fewer steps from tip to rim a cone has corners; smaller steps then, though they shear."""


class Cone(Starter):
    """A cone: its rim at one end of the bed, its tip at the other."""

    name: ClassVar[str] = "cone"
    title: ClassVar[str] = "Cone or disc of wedges"
    says: ClassVar[str] = (
        "Knitted sideways, from the tip to the rim along the needles. A height of 0 gives a flat disc. The "
        "last "
        "course is grafted to the first, and the tip drawn together."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "Wedges lie in the plane: every needle further out adds 2π stitch widths to a full circle.",
        "Steps of eight needles and more keep to that; steeper ones shear, and the shape is only near it.",
        "Steps are of eight needles, or of a fifth of the way from tip to rim if that is less.",
    )
    yarns: ClassVar[tuple[str, ...]] = ("main", "waste", "cord")
    asked: ClassVar[tuple[Parameter, ...]] = (
        Parameter("across", CM, 20, 3, 250, "diameter of the rim"),
        Parameter("height", CM, 15, 0, 150, "from the rim's plane to the tip; 0 for a flat disc"),
        Parameter("step", COUNT, None, 1, 40, "needles to hold each time, or near so many"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        slope = hypot(values["across"] / 2, values["height"]) * values["stitches"] / 10
        return {"step": max(1, min(GENTLE, round(slope / FEWEST_STEPS)))}

    def plan(self, values: Values) -> Wedges:
        """Its counts.

        Raises:
            StarterError: if there can be none.
        """
        radius_mm = values.mm("across") / 2
        slant = hypot(radius_mm, values.mm("height")) / values.stitch_mm
        rows = values.rows(2 * pi * radius_mm, ODD)
        # Either of the two numbers of stitches next to the exact one is within one stitch.
        layouts = [
            Layout(needles, needles - step, step, ODD_STEP * (-needles % step) / needles)
            for needles in (floor(slant), floor(slant) + 1)
            for step in range(1, needles // 2 + 1)
        ]
        return choose(rows, layouts, values.count("step"))

    def width(self, values: Values) -> int:
        """Needles from rim to tip."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Waste, wedges, waste."""
        plan = self.plan(values)
        tail = draft.tail_cm(plan.needles, values.stitch_mm)
        return [
            *wedge_segments(plan, tension=values.gauge.tension, tail=tail, group="last course"),
            draft.notes(
                "Making up",
                "Graft the last course to the first, then run a thread through the edge at the tip and draw "
                "it together",
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The last course to the first."""
        yield closing_graft(self.plan(values), cloth)

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round the rim, along the slope, and the height they come to."""
        stitch, row = cloth.stitch_mm(TITLES[0]), cloth.row_mm(TITLES[0])
        radius, height = values.mm("across") / 2, values.mm("height")
        rim, slope = edge_mm(cloth), cloth.widest(*TITLES).mm
        yield FitLine("round", marked("Round the rim"), "mm", 2 * pi * radius, rim, row)
        asked_slope = hypot(radius, height)
        yield FitLine("slope", marked("From rim to tip"), "mm", asked_slope, slope, stitch)
        if height:
            # A stitch more or less of slope, and a row of rim, change the height by so much.
            within = (asked_slope * stitch + radius * row / (2 * pi)) / height
            got = sqrt(max(0.0, slope**2 - (rim / (2 * pi)) ** 2))
            yield FitLine("height", marked("Height"), "mm", height, got, within)
