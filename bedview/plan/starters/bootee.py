"""A bootee in one piece, with its seam down the front."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, Final

from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import CARE, FOOT, TOE, TOE_DEPTH, Leg, ease, hem_cm, leg, room
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.foot_fit import FootFit
from bedview.plan.starters.front_seam import (
    DOWN,
    FLAP_ROWS,
    NARROWEST,
    FootMeasures,
    FootPlan,
    down,
    parts_down,
    plan_foot,
)
from bedview.plan.starters.legs import hem_titles, leg_rows, leg_segments, leg_titles
from bedview.plan.starters.parameter import Parameter
from bedview.plan.starters.starter import Starter, Values

LEG_OF_FOOT: Final = 0.35
"""Height of a bootee's leg over the foot's length (common practice)."""
HEM_CM: Final = 2.0


@dataclass(frozen=True, slots=True)
class BooteePlan:
    """Counts of a bootee."""

    leg: Leg
    foot: FootPlan


def measures(values: Values) -> FootMeasures:
    """What the bootee is to measure, ease included."""
    return FootMeasures(
        round_mm=values.eased_mm("foot_girth", "ease"),
        heel_mm=values.eased_mm("heel_girth", "ease"),
        toe_mm=values.mm("toe_depth"),
        sole_mm=values.mm("foot_length") + values.mm("room"),
    )


class Bootee(Starter):
    """A bootee knitted from leg to toe."""

    name: ClassVar[str] = "bootee"
    title: ClassVar[str] = "Bootee"
    says: ClassVar[str] = (
        "Knitted flat from leg to toe, the heel by short rows over all needles, the toe by short rows over "
        "the "
        "middle half. One seam runs down the front, and the toe is grafted to two flaps."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "Length is measured along the sole, from the turn of the heel to the turn of the toe.",
        "The heel holds enough needles for the way round heel and instep, without stretching.",
        "A mattress seam one stitch inside takes the edge stitch of each side.",
        "Girths of feet come from their length where none is given; children's from adults' proportions.",
    )
    body: ClassVar[str] = "foot"
    size: ClassVar[str] = "38"
    asked: ClassVar[tuple[Parameter, ...]] = (
        *FOOT,
        ease(0, "how much wider than the foot"),
        room(0, "how much longer than the foot"),
        *leg("from the top to the heel"),
        TOE,
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        length = values["leg_length"] or LEG_OF_FOOT * values["foot_length"]
        return {
            "leg_length": length,
            "hem": hem_cm(length, HEM_CM),
            "toe_depth": TOE_DEPTH * values["foot_girth"] * (1 + values["ease"] / 100),
        }

    def plan(self, values: Values) -> BooteePlan:
        """Its counts.

        Raises:
            StarterError: if there can be none.
        """
        return BooteePlan(leg_rows(values), plan_foot(measures(values), values.gauge, FLAP_ROWS))

    def width(self, values: Values) -> int:
        """Needles of the round and of the seam."""
        return self.plan(values).foot.needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Leg, heel, foot, toe, and three groups on waste."""
        plan = self.plan(values)
        foot = plan.foot
        tail = draft.tail_cm(foot.centre, values.stitch_mm)
        return [
            draft.cast_on("Cast on", draft.centred(foot.needles), tension=values.gauge.tension),
            *leg_segments(plan.leg),
            *down(foot),
            draft.scrap_off("Scrap off: toe", foot.middle, "toe", tail=tail),
            draft.scrap_off("Scrap off: one flap", foot.left_flap, "one flap"),
            draft.scrap_off("Scrap off: other flap", foot.right_flap, "other flap"),
            draft.notes(
                "Making up",
                "Graft the toe to the flaps first, then sew down the front one stitch inside the edge",
                CARE,
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The front, and the toe to both flaps."""
        plan = self.plan(values)
        yield draft.side_seam(cloth.passes(*leg_titles(plan.leg), *DOWN[:4]))
        for flap, centre in plan.foot.joined():
            yield draft.graft({"open": flap}, {"open": centre, "reverse": True})

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round, length, heel, toe and leg."""
        plan = self.plan(values)
        fit = FootFit(values, cloth, parts_down(("Leg",), hem=hem_titles(plan.leg)))
        yield fit.girth(smallest=plan.foot.centre == NARROWEST)
        yield fit.length()
        yield fit.heel_girth(plan.foot.heel)
        yield fit.toe(plan.foot.toe)
        yield fit.leg()
