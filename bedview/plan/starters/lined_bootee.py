"""A lined bootee, knitted as one strip: the outer from the toe up, the lining from its top down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.bootee import LEG_OF_FOOT, measures
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import CARE, FOOT, TOE, TOE_DEPTH, ease, room
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.foot_fit import FootFit
from bedview.plan.starters.front_seam import (
    BACK_ROWS,
    FLAP_ROWS,
    NARROWEST,
    FootMeasures,
    FootPlan,
    down,
    parts_down,
    parts_up,
    plan_foot,
    titles,
    up,
)
from bedview.plan.starters.parameter import (
    DIAL,
    PERCENT,
    ROWS,
    STITCHES,
    TEX,
    Parameter,
    StarterError,
    lengths,
)
from bedview.plan.starters.starter import Starter, Values

TIGHTER: Final = 1.04
"""Stitches and rows of one number less on the dial, where the lining has no swatch yet (common practice)."""
FIRST_ROW: Final = "Outer: first row"
OUTER_LEG: Final = "Outer: leg"
AFTER_FOLD: Final = "Lining: first rows"
FITTED: Final = "Lining: stitches for its own tension"
LINING_LEG: Final = "Lining: leg"
WHOLE_STITCHES: Final = marked("A round has whole stitches: ask for more ease of the lining")
FOLD_ROWS: Final = 2
"""Rows of the lining before its stitches are changed."""


@dataclass(frozen=True, slots=True)
class LinedPlan:
    """Counts of a lined bootee.

    Attributes:
        outer: its foot.
        outer_leg: rows from its heel to the fold.
        lining: its foot.
        lining_leg: rows from the fold to its heel.
    """

    outer: FootPlan
    outer_leg: int
    lining: FootPlan
    lining_leg: int

    @property
    def fewer(self) -> int:
        """Stitches that go at each end behind the fold; below nothing, they come."""
        return (self.outer.needles - self.lining.needles) // 2

    @property
    def needles(self) -> int:
        """Needles of the wider of the two."""
        return max(self.outer.needles, self.lining.needles)


class LinedBootee(Starter):
    """A bootee with its lining in it."""

    name: ClassVar[str] = "lined-bootee"
    title: ClassVar[str] = "Lined bootee"
    says: ClassVar[str] = (
        "One strip: the outer from its toe up, then the lining from the fold at the top down to its own "
        "toe, in its "
        "own yarn at its own tension. Both toes are grafted, one seam closes both, and the lining is pushed "
        "inside."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "The lining is smaller than the outer by the ease asked for, in round and in length.",
        "A lining without a swatch of its own has 4 % more stitches and rows: one number less on the dial.",
        "Length is measured along the sole, from the turn of the heel to the turn of the toe.",
        "The heel holds enough needles for the way round heel and instep, without stretching.",
        "Girths of feet come from their length where none is given; children's from adults' proportions.",
        "A small gap stays at each corner of the outer where a flap comes back: close it with an end.",
    )
    body: ClassVar[str] = "foot"
    size: ClassVar[str] = "38"
    yarns: ClassVar[tuple[str, ...]] = ("main", "lining", "waste", "cord")
    asked: ClassVar[tuple[Parameter, ...]] = (
        *FOOT,
        ease(4, "how much wider than the foot the outer is"),
        room(0.5, "how much longer than the foot the outer is"),
        lengths("leg_length", 2, 70, "from the fold at the top to the heel"),
        TOE,
        Parameter("lining_ease", PERCENT, 4, 0, 20, "how much smaller than the outer the lining is"),
        Parameter("lining_stitches", STITCHES, None, 3, 60, "stitches of the lining's swatch"),
        Parameter("lining_rows", ROWS, None, 3, 90, "rows of the lining's swatch"),
        Parameter("lining_tension", DIAL, None, 0, 20, "dial of the lining"),
        Parameter("lining_tex", TEX, None, 10, 5000, "grams of 1,000 m of the lining yarn; may be left out"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        return {
            "leg_length": LEG_OF_FOOT * values["foot_length"],
            "toe_depth": TOE_DEPTH * values["foot_girth"] * (1 + values["ease"] / 100),
            "lining_stitches": TIGHTER * values["stitches"],
            "lining_rows": TIGHTER * values["rows"],
            "lining_tension": max(0.0, values["tension"] - 1),
        }

    def plan(self, values: Values) -> LinedPlan:
        """Its counts: the lining's from what the outer really measures.

        Raises:
            StarterError: if there can be none.
        """
        outer_gauge, gauge = values.gauge, values.gauge_of("lining")
        asked = measures(values)
        outer = plan_foot(asked, outer_gauge, BACK_ROWS)
        part = 1 - values.number("lining_ease") / 100
        inside = FootMeasures(
            round_mm=part * 2 * outer.centre * values.stitch_mm,
            heel_mm=part * asked.heel_mm,
            toe_mm=part * asked.toe_mm,
            sole_mm=part * (outer.toe.rows + BACK_ROWS + outer.foot + outer.heel.rows) * values.row_mm,
        )
        lining = plan_foot(inside, gauge, FLAP_ROWS)
        leg = values.mm("leg_length")
        plan = LinedPlan(outer, values.rows(leg), lining, values.rows(part * leg, yarn="lining"))
        if abs(plan.fewer) > plan.lining_leg - FOLD_ROWS - 1 or plan.outer_leg < 2:
            raise StarterError(
                _(
                    "the lining has {inner} stitches and the outer {outer}, and a leg so short has no "
                    "rows to come from one to the other; make leg_length larger"
                ).format(inner=lining.needles, outer=outer.needles),
                "leg_length",
            )
        return plan

    def width(self, values: Values) -> int:
        """Needles of the wider of the two."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Outer toe up, fold, lining down, and its groups on waste."""
        plan = self.plan(values)
        outer, lining = plan.outer, plan.lining
        outer_tail = draft.tail_cm(outer.centre, values.stitch_mm)
        lining_tail = draft.tail_cm(lining.centre, 100 / values.gauge_of("lining").stitches)
        return [
            draft.hands(
                "A length to graft the outer toe with",
                {
                    "do": "note",
                    "text": "A length by itself: measure it off and lay it aside for the outer toe",
                },
                {"do": "thread", "yarn": "main"},
                {"do": "cut", "tail_cm": outer_tail},
            ),
            draft.waste_start("Waste start", draft.centred(outer.needles), tension=values.gauge.tension),
            draft.plain(FIRST_ROW, 1),
            *up(outer, "Outer"),
            draft.plain(OUTER_LEG, plan.outer_leg),
            *_after_fold(plan, values),
            *down(lining, "Lining"),
            draft.scrap_off("Scrap off: lining toe", lining.middle, "lining toe", tail=lining_tail),
            draft.scrap_off("Scrap off: one lining flap", lining.left_flap, "one lining flap"),
            draft.scrap_off("Scrap off: other lining flap", lining.right_flap, "other lining flap"),
            draft.notes(
                "Making up",
                "Graft both toes, sew the whole length one stitch inside the edge, and push the lining into "
                "the outer",
                CARE,
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The front of both, and both toes."""
        plan = self.plan(values)
        first = cloth.passes(FIRST_ROW)[0]
        last = cloth.passes(titles("Lining", ("Flaps to hold",))[0])[-1]
        yield draft.side_seam(range(first, last + 1))
        for flap, centre in plan.outer.joined():
            yield draft.graft(
                {"made_in_pass": first, "needles": flap},
                {"made_in_pass": first, "needles": centre, "reverse": True},
            )
        for flap, centre in plan.lining.joined():
            yield draft.graft({"open": flap}, {"open": centre, "reverse": True})

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """The outer by the foot, the lining by the outer."""
        plan = self.plan(values)
        outer = FootFit(values, cloth, parts_up((OUTER_LEG,), "Outer"))
        yield outer.girth(smallest=plan.outer.centre == NARROWEST)
        yield outer.length()
        yield outer.heel_girth(plan.outer.heel)
        yield outer.toe(plan.outer.toe)
        yield outer.leg()
        lining = FootFit(values, cloth, parts_down(_lining_leg(plan), "Lining"))
        part = 1 - values.number("lining_ease") / 100
        yield _inside(
            "lining_girth",
            marked("Lining, round the foot"),
            outer.round_mm,
            lining.round_mm,
            part,
            lining.stitch_mm,
        )
        yield _inside(
            "lining_length",
            marked("Lining, length of the sole"),
            outer.sole_mm,
            lining.sole_mm,
            part,
            lining.row_mm,
        )
        yield _inside(
            "lining_heel",
            marked("Lining, round heel and instep"),
            outer.heel_mm(),
            lining.heel_mm(),
            part,
            lining.stitch_mm + outer.stitch_mm,
        )
        yield FitLine(
            "lining_inside",
            marked("Lining inside its outer"),
            "mm",
            outer.round_mm,
            lining.round_mm,
            0,
            bound="at_most",
            reason=WHOLE_STITCHES if lining.round_mm > outer.round_mm else "",
        )


def _after_fold(plan: LinedPlan, values: Values) -> Iterator[Segment]:
    """The lining's leg: its first rows in its own yarn, stitches for its own tension, and the rest."""
    yield draft.plain(
        AFTER_FOLD,
        FOLD_ROWS,
        yarn="lining",
        tension=values.gauge_of("lining").tension,
        old_yarn="cut",
        tail_cm=draft.END_CM,
    )
    rest = plan.lining_leg - FOLD_ROWS
    change = abs(plan.fewer)
    if change:
        rows = min(2 * change, rest - 1)
        rest -= rows
        kind = "narrow" if plan.fewer > 0 else "widen"
        yield {"kind": kind, "title": FITTED, "stitches": change, "rows": rows}
    yield draft.plain(LINING_LEG, rest)


def _lining_leg(plan: LinedPlan) -> tuple[str, ...]:
    return (AFTER_FOLD, *((FITTED,) if plan.fewer else ()), LINING_LEG)


def _inside(key: str, measure: str, outer_mm: float, got_mm: float, part: float, within: float) -> FitLine:
    return FitLine(
        key,
        measure,
        "mm",
        part * outer_mm,
        got_mm,
        within,
        reason=marked("The outer has {outer:.1f} cm there, so it is smaller by {percent:.1f} %"),
        values={"outer": outer_mm / 10, "percent": 100 * (1 - got_mm / outer_mm)},
    )
