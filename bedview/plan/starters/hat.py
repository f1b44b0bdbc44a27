"""A hat of wedges, knitted sideways."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import pi
from typing import Any, ClassVar, Final

from bedview.language import marked
from bedview.plan.gauge import ODD
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import ease
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.parameter import Parameter, lengths
from bedview.plan.starters.starter import Starter, Values
from bedview.plan.starters.wedges import (
    TITLES,
    Layout,
    Wedges,
    choose,
    closing_graft,
    edge_mm,
    wedge_segments,
)

DEPTH_OF_HEAD: Final = 0.36
"""From the rim to the middle of the crown, over the head's round (common practice)."""
CROWN_OF_RADIUS: Final = 1.25
"""The sloping part of the crown over the radius: 1 would be a flat lid, half a ball is 1.57 (geometry)."""
WISHED_WEDGES: Final = 10


class Hat(Starter):
    """A hat: the rim at one end of the bed, the crown at the other."""

    name: ClassVar[str] = "hat"
    title: ClassVar[str] = "Hat of wedges"
    says: ClassVar[str] = (
        "Knitted sideways, from waste to waste. In every wedge the crown end waits in hold step by step, so "
        "the rim "
        "grows and the crown stays small. The last course is grafted to the first, and the crown drawn "
        "together."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "The crown slopes over 1.25 of the hat's radius: between a flat lid and half a ball.",
        "The hat is a little narrower than the head and stretches.",
        "From the rim to the middle of the crown it is 0.36 of the head's round, if no depth is given.",
        "Heads: infants and young children by the medians of boys and girls, adults by the mean.",
    )
    body: ClassVar[str] = "head"
    size: ClassVar[str] = "women"
    yarns: ClassVar[tuple[str, ...]] = ("main", "waste", "cord")
    asked: ClassVar[tuple[Parameter, ...]] = (
        lengths("head_girth", 20, 75, "round the head over the ears"),
        ease(-5, "how much wider than the head; a hat is narrower"),
        lengths("depth", 7, 40, "from the rim to the middle of the crown"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        return {"depth": DEPTH_OF_HEAD * values["head_girth"]}

    def plan(self, values: Values) -> Wedges:
        """Its counts.

        Raises:
            StarterError: if there can be none.
        """
        round_mm = values.eased_mm("head_girth", "ease")
        needles = values.stitches(values.mm("depth"))
        crown = min(needles - 1, values.stitches(CROWN_OF_RADIUS * round_mm / (2 * pi)))
        rows = values.rows(round_mm, ODD)
        layouts = [Layout(needles, crown, step) for step in range(2, crown // 2 + 1)]
        # Steps of the crown and wedges share the rows between them: so many rows to a wedge, so many steps.
        wished = crown / max(1.0, rows / (2 * WISHED_WEDGES) - 1)
        return choose(rows, layouts, round(wished))

    def width(self, values: Values) -> int:
        """Needles from rim to crown."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Waste, wedges, waste."""
        plan = self.plan(values)
        tail = draft.tail_cm(plan.needles, values.stitch_mm)
        return [
            *wedge_segments(plan, tension=values.gauge.tension, tail=tail, group="last course"),
            draft.notes(
                "Making up",
                "Graft the last course to the first, then run a thread through the crown edge and draw it "
                "together",
                "For a baby no loose ties, and every end darned in",
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The last course to the first."""
        yield closing_graft(self.plan(values), cloth)

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round, depth, and the slope of the crown."""
        stitch = cloth.stitch_mm(TITLES[0])
        asked = values.eased_mm("head_girth", "ease")
        yield FitLine(
            "head_girth",
            marked("Round the rim"),
            "mm",
            asked,
            edge_mm(cloth),
            cloth.row_mm(TITLES[0]),
            body=values.mm("head_girth"),
        )
        whole = cloth.widest(*TITLES)
        yield FitLine("depth", marked("From rim to crown"), "mm", values.mm("depth"), whole.mm, stitch)
        yield FitLine(
            "crown",
            marked("Slope of the crown"),
            "mm",
            min(CROWN_OF_RADIUS * asked / (2 * pi), values.mm("depth") - stitch),
            whole.mm - cloth.narrowest(TITLES[1]).mm,
            stitch,
        )
