"""A flat sock with its seam at one side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, ClassVar, Final

from bedview.language import gettext as _
from bedview.plan.gauge import EVEN, ODD
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import (
    CARE,
    FOOT,
    HEEL_DEPTH,
    TOE,
    TOE_DEPTH,
    Leg,
    Turn,
    ease,
    hem_cm,
    leg,
    room,
    turn_of_depth,
)
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.foot_fit import FootFit, FootParts
from bedview.plan.starters.front_seam import MARKERS
from bedview.plan.starters.legs import hem_titles, leg_rows, leg_segments, leg_titles
from bedview.plan.starters.parameter import Parameter, StarterError, lengths
from bedview.plan.starters.starter import Starter, Values

LEG_OF_FOOT: Final = 0.7
"""Length of a sock's leg over the foot's length (common practice)."""
HEM_CM: Final = 3.0
FEWEST_HALF: Final = 4
CORNER_ROWS: Final = 2
"""Rows over the sole alone: one before the instep comes back, one as it goes to hold again."""
PARTS: Final = FootParts(
    leg=("Leg",),
    hem=(),
    before_heel="Instep to hold",
    heel="Heel, narrowing",
    heel_under="Heel, widening",
    foot="Foot",
    toe_under="Toe, narrowing",
    sole=("Heel, widening", "Instep back", "Foot", "Instep to hold again", "Toe, narrowing"),
)


@dataclass(frozen=True, slots=True)
class SockPlan:
    """Counts of a sock.

    Attributes:
        half: stitches of the sole, and of the instep, without the one of each that lies in the seam.
        leg: rows of the leg, odd in all, so that the carriage ends beside the sole.
        heel: over the sole and its seam stitch.
        foot: rows over the whole round, even.
        toe: as the heel.
    """

    half: int
    leg: Leg
    heel: Turn
    foot: int
    toe: Turn

    @property
    def needles(self) -> int:
        """Needles in all: the round, and a stitch at each edge that lies in the seam."""
        return 2 * self.half + 2

    @property
    def first(self) -> int:
        """Offset of the leftmost needle, the sole's seam stitch; the instep begins right of the middle."""
        return -(self.half + 1)

    @property
    def instep(self) -> str:
        """Needles of the instep, its seam stitch among them."""
        return draft.span(0, self.half + 1)

    @property
    def sole(self) -> str:
        """Needles of the sole, its seam stitch among them."""
        return draft.span(self.first, self.half + 1)


class Sock(Starter):
    """A sock knitted from leg to toe, heel and toe on the half that is the sole."""

    name: ClassVar[str] = "sock"
    title: ClassVar[str] = "Sock"
    says: ClassVar[str] = (
        "Knitted flat from leg to toe. Heel and toe are short rows over one half of the needles, the toe is "
        "grafted to the other half, and one seam runs down the side. Its mirror image is the other one of a "
        "pair."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "Length is measured along the sole, from the turn of the heel to the turn of the toe.",
        "A sock is narrower than the foot and stretches, by at most a third on its way over the heel.",
        "Heel and toe are narrowed to a third of their stitches at most.",
        "A mattress seam one stitch inside takes the edge stitch of each side.",
        "Girths of feet come from their length where none is given; children's from adults' proportions.",
    )
    body: ClassVar[str] = "foot"
    size: ClassVar[str] = "38"
    asked: ClassVar[tuple[Parameter, ...]] = (
        *FOOT,
        ease(-10, "how much wider than the foot; a sock is narrower"),
        room(-0.5, "how much longer than the foot; a sock is shorter"),
        *leg("from the top to the heel"),
        lengths("heel_depth", 1, 15, "from the back of the heel to where the instep begins"),
        TOE,
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        around = values["foot_girth"] * (1 + values["ease"] / 100)
        length = values["leg_length"] or LEG_OF_FOOT * values["foot_length"]
        return {
            "leg_length": length,
            "hem": hem_cm(length, HEM_CM),
            "heel_depth": HEEL_DEPTH * around,
            "toe_depth": TOE_DEPTH * around,
        }

    def plan(self, values: Values) -> SockPlan:
        """Its counts.

        Raises:
            StarterError: if heel and toe leave nothing between them.
        """
        half = max(FEWEST_HALF, values.stitches(values.eased_mm("foot_girth", "ease"), EVEN) // 2)
        heel = turn_of_depth(values.mm("heel_depth"), half + 1, values.row_mm)
        toe = turn_of_depth(values.mm("toe_depth"), half + 1, values.row_mm)
        sole = values.rows(values.mm("foot_length") + values.mm("room"), EVEN)
        foot = sole - heel.rows - toe.rows - CORNER_ROWS
        if foot < 2:
            raise StarterError(
                _(
                    "a foot of this length leaves no room between heel and toe; "
                    "make foot_length larger, or heel_depth or toe_depth smaller"
                ),
                "foot_length",
            )
        return SockPlan(half, leg_rows(values, rounding=ODD), heel, foot, toe)

    def width(self, values: Values) -> int:
        """Needles of the round and of the seam."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Leg, heel, foot, toe, and two groups on waste."""
        plan = self.plan(values)
        across = plan.half + 1
        instep = [plan.instep]
        return [
            draft.cast_on("Cast on", draft.centred(plan.needles), tension=values.gauge.tension),
            *leg_segments(plan.leg),
            {"kind": "set_aside", "title": "Instep to hold", "groups": instep, "wraps": "hand"},
            *draft.turn(("Heel, narrowing", "Heel, widening"), plan.first, across, plan.heel.held, MARKERS),
            draft.hands("Corner", {"do": "wrap", "needle": draft.span(0, 1)}),
            {
                "kind": "bring_back",
                "title": "Instep back",
                "needles": plan.instep,
                "ends": "all_at_once",
            },
            draft.plain("Foot", plan.foot),
            {"kind": "set_aside", "title": "Instep to hold again", "groups": instep},
            *draft.turn(("Toe, narrowing", "Toe, widening"), plan.first, across, plan.toe.held),
            draft.scrap_off(
                "Scrap off: sole", plan.sole, "sole", tail=draft.tail_cm(plan.half, values.stitch_mm)
            ),
            draft.scrap_off("Scrap off: instep", plan.instep, "instep"),
            draft.notes(
                "Making up",
                "Graft the toe from the fold to the seam, then sew the side one stitch inside the edge",
                CARE,
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The side, and the toe."""
        plan = self.plan(values)
        yield draft.side_seam(
            cloth.passes(
                *leg_titles(plan.leg),
                "Instep to hold",
                "Heel, narrowing",
                "Heel, widening",
                "Instep back",
                "Foot",
            )
        )
        yield draft.graft(
            {"open": draft.span(-plan.half, plan.half)},
            {"open": draft.span(0, plan.half), "reverse": True},
        )

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round, length, heel, toe and leg."""
        plan = self.plan(values)
        fit = FootFit(values, cloth, replace(PARTS, hem=hem_titles(plan.leg)))
        yield fit.girth(smallest=plan.half == FEWEST_HALF)
        yield fit.length()
        yield fit.way_in()
        yield fit.heel(plan.heel)
        yield fit.toe(plan.toe)
        yield fit.leg()
