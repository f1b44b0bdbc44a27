"""A bootee in one piece, with its seam in the middle of the instep."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from bedview.plan.gauge import EVEN
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import CARE, FOOT, TOE_DEPTH, Turn, ease, turn_of_depth, turn_of_girth
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.foot_fit import FootFit, FootParts
from bedview.plan.starters.parameter import CM, Parameter, StarterError, lengths
from bedview.plan.starters.starter import Starter, Values

LEG_OF_FOOT = 0.35
"""Height of a bootee's leg over the foot's length (common practice)."""
FLAP_ROWS = 2
"""Rows in which the flaps go to hold, one after the other."""


@dataclass(frozen=True, slots=True)
class FootPlan:
    """Counts of one foot whose seam runs along the instep.

    Attributes:
        centre: stitches of the sole, and of the toe; the two flaps of the instep join as many.
        leg: rows of the leg.
        heel: over all needles.
        foot: rows between heel and toe, those in which the flaps go to hold not counted.
        toe: over the centre.
    """

    centre: int
    leg: int
    heel: Turn
    foot: int
    toe: Turn

    @property
    def needles(self) -> int:
        """Needles in all: the round, and a stitch at each edge that lies in the seam."""
        return 2 * self.centre + 2

    @property
    def left(self) -> int:
        """Stitches of the left flap, the one in the seam among them."""
        return self.centre // 2 + 1

    @property
    def right(self) -> int:
        """Stitches of the right flap, the one in the seam among them."""
        return self.centre - self.centre // 2 + 1

    @property
    def first(self) -> int:
        """Offset of the leftmost needle."""
        return -(self.centre + 1)

    def flaps(self) -> tuple[str, str]:
        """Needles of the two flaps."""
        return draft.span(self.first, self.left), draft.span(-self.first - self.right, self.right)

    def middle(self) -> str:
        """Needles of the centre."""
        return draft.span(self.first + self.left, self.centre)

    def joined(self) -> Iterator[tuple[str, str]]:
        """What joins what when the toe is closed: loops of a flap, and those of the centre the other way."""
        left, right = self.left - 1, self.right - 1
        yield draft.span(self.first + 1, left), draft.span(self.first + self.left, left)
        yield draft.span(-self.first - self.right, right), draft.span(-self.first - self.right - right, right)


def foot_plan(values: Values, *, leg_mm: float) -> FootPlan:
    """The counts for a foot in the main yarn.

    Raises:
        StarterError: if heel and toe leave nothing between them.
    """
    round_mm = values.eased_mm("foot_girth", "ease")
    stitch_mm, row_mm = values.stitch_mm, values.row_mm
    centre = max(4, values.stitches(round_mm, EVEN) // 2)
    heel_mm = values.eased_mm("heel_girth", "ease")
    heel = turn_of_girth(heel_mm, 2 * centre, 2 * centre + 2, stitch_mm, row_mm)
    toe = turn_of_depth(values.mm("toe_depth"), centre, row_mm)
    sole = values.rows(values.mm("foot_length") + values.mm("room"))
    foot = sole - heel.rows - toe.rows - FLAP_ROWS
    if foot < 2:
        raise StarterError(
            "a foot of this length leaves no room between heel and toe; "
            "make foot_length larger, or heel_girth or toe_depth smaller",
            "foot_length",
        )
    return FootPlan(centre, values.rows(leg_mm), heel, foot, toe)


class Bootee(Starter):
    """A bootee knitted from leg to toe."""

    name: ClassVar[str] = "bootee"
    title: ClassVar[str] = "Bootee"
    says: ClassVar[str] = (
        "Knitted flat from leg to toe, the heel by short rows over all needles, the toe by short rows over the "
        "middle half. One seam runs down the front, and the toe is grafted to two flaps."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "Length is measured along the sole, from the turn of the heel to the turn of the toe.",
        "The heel holds as many needles as make the way round heel and instep long enough without stretching.",
        "A mattress seam one stitch inside takes the edge stitch of each side.",
        "Girths of feet come from their length where none is given; children's from adults' proportions.",
    )
    body: ClassVar[str] = "foot"
    size: ClassVar[str] = "38"
    asked: ClassVar[tuple[Parameter, ...]] = (
        *FOOT,
        ease(0, "how much wider than the foot"),
        Parameter("room", CM, 0, -3, 5, "how much longer than the foot"),
        lengths("leg_length", 1, 40, "from the top to the heel"),
        lengths("toe_depth", 1, 12, "from the tip to where the toe begins"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        return {
            "leg_length": LEG_OF_FOOT * values["foot_length"],
            "toe_depth": TOE_DEPTH * values["foot_girth"] * (1 + values["ease"] / 100),
        }

    def plan(self, values: Values) -> FootPlan:
        """Its counts.

        Raises:
            StarterError: if there can be none.
        """
        return foot_plan(values, leg_mm=values.mm("leg_length"))

    def width(self, values: Values) -> int:
        """Needles of the round and of the seam."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Leg, heel, foot, toe, and three groups on waste."""
        plan = self.plan(values)
        left, right = plan.flaps()
        tail = draft.tail_cm(plan.centre, values.stitch_mm)
        return [
            draft.cast_on("Cast on", draft.centred(plan.needles), tension=values.gauge.tension),
            draft.plain("Leg", plan.leg),
            *foot_down(plan, ""),
            draft.scrap_off("Scrap off: toe", plan.middle(), "toe", tail=tail),
            draft.scrap_off("Scrap off: one flap", left, "one flap"),
            draft.scrap_off("Scrap off: other flap", right, "other flap"),
            draft.notes(
                "Making up",
                "Graft the toe to the flaps first, then sew down the front one stitch inside the edge, and a third "
                "time over the corners of the toe",
                CARE,
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The front, and the toe to both flaps."""
        plan = self.plan(values)
        yield draft.side_seam(cloth.passes("Leg", *DOWN))
        for flap, centre in plan.joined():
            yield draft.graft({"open": flap}, {"open": centre, "reverse": True})

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round, length, heel, toe and leg."""
        plan = self.plan(values)
        fit = FootFit(values, cloth, DOWNWARDS)
        yield fit.girth()
        yield fit.length()
        yield fit.heel_girth(plan.heel)
        yield fit.toe(plan.toe)
        yield fit.leg()


DOWN = ("Heel, narrowing", "Heel, widening", "Foot", "Flaps to hold", "Toe, narrowing", "Toe, widening")
"""Titles of the parts from heel to toe."""
DOWNWARDS = FootParts(
    leg=("Leg",),
    before_heel="Leg",
    heel="Heel, narrowing",
    heel_under="Heel, widening",
    foot="Foot",
    toe_under="Toe, narrowing",
    sole=DOWN[1:5],
)


def foot_down(plan: FootPlan, prefix: str) -> list[Segment]:
    """Heel, foot and toe, knitted downwards; all needles work before it, and only those of the toe after it.

    Args:
        plan: the counts.
        prefix: put before every title.
    """
    left, right = plan.flaps()
    edges = f"{draft.span(plan.first, 1)},{draft.span(-plan.first - 1, 1)}"
    titles = [titled(prefix, title) for title in DOWN]
    return [
        draft.notes(
            titled(prefix, "Before the heel"),
            ("Hang a marker at both edges", edges),
            "Hang the weights on the middle: the edges are held from here",
        ),
        draft.narrowing(titles[0], plan.heel.down_to),
        draft.notes(
            titled(prefix, "At the turn of the heel"),
            "Move the weights up, close under the needles that knit",
        ),
        draft.widening(titles[1], plan.first, plan.needles, plan.heel.held),
        draft.plain(titles[2], plan.foot),
        {"kind": "set_aside", "title": titles[3], "groups": [left, right]},
        draft.narrowing(titles[4], plan.toe.down_to),
        draft.widening(titles[5], plan.first + plan.left, plan.centre, plan.toe.held),
    ]


def titled(prefix: str, title: str) -> str:
    """A title with a prefix: ``Lining: foot``."""
    return f"{prefix}: {title[0].lower()}{title[1:]}" if prefix else title
