"""A foot whose seam runs down the front: its counts, and its parts from heel to toe or from toe to heel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from bedview.language import gettext as _
from bedview.plan.gauge import EVEN, Swatch, length_in_rows, width_in_stitches
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.drafting import Segment
from bedview.plan.starters.feet import Turn, turn_of_depth, turn_of_girth
from bedview.plan.starters.foot_fit import FootParts
from bedview.plan.starters.parameter import StarterError

FLAP_ROWS: Final = 2
"""Rows in which the flaps go to hold, one after the other."""
BACK_ROWS: Final = 1
"""Row in which the flap on the carriage's side waits before it comes back."""
NARROWEST: Final = 4
CORNER: Final = "Corner"
MARKERS: Final = "Hang a marker at both edges"


@dataclass(frozen=True, slots=True)
class FootPlan:
    """Counts of such a foot.

    Attributes:
        centre: stitches of the sole, and of the toe; the two flaps of the instep join as many.
        heel: over all needles.
        foot: rows between heel and toe, those in which the flaps go to hold or come back not counted.
        toe: over the centre.
    """

    centre: int
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

    @property
    def left_flap(self) -> str:
        """Needles of the left flap."""
        return draft.span(self.first, self.left)

    @property
    def right_flap(self) -> str:
        """Needles of the right flap."""
        return draft.span(-self.first - self.right, self.right)

    @property
    def middle(self) -> str:
        """Needles of the centre."""
        return draft.span(self.first + self.left, self.centre)

    def joined(self) -> Iterator[tuple[str, str]]:
        """What joins what where the toe is closed: loops of a flap, and those of the centre the other way."""
        left, right = self.left - 1, self.right - 1
        yield draft.span(self.first + 1, left), draft.span(self.first + self.left, left)
        yield draft.span(-self.first - self.right, right), draft.span(-self.first - self.right - right, right)

    def heel_turn(self, titles: tuple[str, str]) -> list[Segment]:
        """The heel, over all needles."""
        return draft.turn(titles, self.first, self.needles, self.heel.held, MARKERS)

    def toe_turn(self, titles: tuple[str, str]) -> list[Segment]:
        """The toe, over the centre."""
        return draft.turn(titles, self.first + self.left, self.centre, self.toe.held)


class FootMeasures(NamedTuple):
    """What a foot covering is to measure, in millimetres.

    Attributes:
        round_mm: round the foot.
        heel_mm: round heel and instep.
        toe_mm: depth of the toe.
        sole_mm: along the sole, from turn to turn.
    """

    round_mm: float
    heel_mm: float
    toe_mm: float
    sole_mm: float


def plan_foot(measures: FootMeasures, gauge: Swatch, rows_between: int) -> FootPlan:
    """The counts that come nearest to some measures.

    Args:
        measures: what it is to measure.
        gauge: of the yarn.
        rows_between: rows under the sole that belong neither to heel, foot nor toe.

    Raises:
        StarterError: if heel and toe leave nothing between them.
    """
    stitch_mm, row_mm = gauge.over_mm / gauge.stitches, gauge.over_mm / gauge.rows
    centre = max(NARROWEST, width_in_stitches(measures.round_mm, gauge, EVEN).count // 2)
    heel = turn_of_girth(measures.heel_mm, 2 * centre, 2 * centre + 2, stitch_mm, row_mm)
    toe = turn_of_depth(measures.toe_mm, centre, row_mm)
    foot = length_in_rows(measures.sole_mm, gauge).count - heel.rows - toe.rows - rows_between
    if foot < 2:
        raise StarterError(
            _(
                "a foot of this length leaves no room between heel and toe; make foot_length larger, or "
                "heel_girth "
                "or toe_depth smaller"
            ),
            "foot_length",
        )
    return FootPlan(centre, heel, foot, toe)


DOWN: Final = (
    "Heel, narrowing",
    "Heel, widening",
    "Foot",
    "Flaps to hold",
    "Toe, narrowing",
    "Toe, widening",
)
"""Titles of the parts from heel to toe, in order."""
UP: Final = (
    "Flaps to hold",
    "Toe, narrowing",
    "Toe, widening",
    "Flaps back",
    "Foot",
    "Heel, narrowing",
    "Heel, widening",
)
"""Titles of the parts from toe to heel, in order."""


def down(plan: FootPlan, prefix: str = "") -> list[Segment]:
    """Heel, foot and toe, knitted downwards; all needles work before it, and only those of the toe after it.

    Args:
        plan: the counts.
        prefix: put before every title.
    """
    heel, heel_back, foot, flaps, toe, toe_back = titles(prefix, DOWN)
    return [
        *plan.heel_turn((heel, heel_back)),
        draft.plain(foot, plan.foot),
        {"kind": "set_aside", "title": flaps, "groups": [plan.left_flap, plan.right_flap]},
        *plan.toe_turn((toe, toe_back)),
    ]


def parts_down(leg: tuple[str, ...], prefix: str = "", hem: tuple[str, ...] = ()) -> FootParts:
    """Where such a foot is measured; ``leg`` are the parts of the leg, the last of them next to the heel."""
    heel, heel_back, foot, flaps, toe, _ = titles(prefix, DOWN)
    return FootParts(
        leg=leg,
        hem=hem,
        before_heel=leg[-1],
        heel=heel,
        heel_under=heel_back,
        foot=foot,
        toe_under=toe,
        sole=(heel_back, foot, flaps, toe),
    )


def up(plan: FootPlan, prefix: str = "") -> list[Segment]:
    """Toe, foot and heel, knitted upwards from a first row over all needles; all work after it.

    Args:
        plan: the counts.
        prefix: put before every title.
    """
    flaps, toe, toe_back, back, foot, heel, heel_back = titles(prefix, UP)
    (corner,) = titles(prefix, (CORNER,))
    return [
        {
            "kind": "set_aside",
            "title": flaps,
            "groups": [plan.left_flap, plan.right_flap],
            "wraps": "hand",
        },
        *_toe_with_corners(plan, (toe, toe_back), corner),
        {"kind": "bring_back", "title": back, "ends": "all_at_once"},
        draft.plain(foot, plan.foot),
        *plan.heel_turn((heel, heel_back)),
    ]


def _toe_with_corners(plan: FootPlan, toe: tuple[str, str], corner: str) -> Iterator[Segment]:
    """The toe, and a wrap by hand round the needle of each flap that lies next to it.

    Both wraps close the corners between toe and flaps. The left one is made when the yarn comes there for the
    last time, two needles before the toe has all its stitches again; it ends on the right.
    """
    narrowing, widening = plan.toe_turn(toe)
    first, last = plan.first + plan.left, plan.first + plan.left + plan.centre - 1
    yield narrowing
    if plan.toe.held > 1:
        inner = (
            draft.span(first + 1, plan.toe.held - 1),
            draft.span(last - plan.toe.held + 1, plan.toe.held - 1),
        )
        yield widening | {"needles": ",".join(inner)}
    outermost = {"kind": "bring_back", "title": toe[1], "ends": "in_turn", "wraps": "hand"}
    yield draft.hands(corner, {"do": "wrap", "needle": draft.span(last, 1)})
    yield outermost | {"needles": draft.span(first, 1)}
    yield draft.hands(corner, {"do": "wrap", "needle": draft.span(first - 1, 1)})
    yield outermost | {"needles": draft.span(last, 1)}
    yield draft.hands(corner, {"do": "wrap", "needle": draft.span(last + 1, 1)})


def parts_up(leg: tuple[str, ...], prefix: str = "") -> FootParts:
    """Where such a foot is measured; the first of the parts of the leg is next to the heel."""
    _, _, toe_back, back, foot, heel, _ = titles(prefix, UP)
    return FootParts(
        leg=leg,
        hem=(),
        before_heel=foot,
        heel=heel,
        heel_under=heel,
        foot=foot,
        toe_under=toe_back,
        sole=(toe_back, back, foot, heel),
    )


def titles(prefix: str, plain: tuple[str, ...]) -> tuple[str, ...]:
    """Titles with a prefix: ``Lining: foot``."""
    if not prefix:
        return plain
    return tuple(f"{prefix}: {title[0].lower()}{title[1:]}" for title in plain)
