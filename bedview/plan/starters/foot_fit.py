"""The measures of a foot covering, taken off its fabric."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from bedview.language import marked
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.feet import Turn
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.starter import Values

STAYS_BROAD: Final = marked(
    "Deeper it would come to a point, and shallower it would be no turn: {down_to} of {across} stitches stay"
)
SMALLEST: Final = marked("With fewer stitches there would be no shape")
STRETCHES: Final = marked("On the way in it stretches by {percent:.0f} %")
MOST_STRETCH: Final = 1.35
"""How far plain fabric stretches across without harm (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class FootParts:
    """Titles of the parts that are measured.

    Attributes:
        leg: the leg, without its hem.
        hem: the hem at its top, knitted double; none if empty.
        before_heel: where the stitches all work that the heel is knitted over.
        heel: the half of the heel that narrows.
        heel_under: the half of the heel that lies under the foot.
        foot: what is knitted over the whole round between heel and toe.
        toe_under: the half of the toe that lies under the foot.
        sole: all that lies under the foot, from turn to turn.
    """

    leg: tuple[str, ...]
    hem: tuple[str, ...]
    before_heel: str
    heel: str
    heel_under: str
    foot: str
    toe_under: str
    sole: tuple[str, ...]


class FootFit:
    """Measures one foot.

    Args:
        values: what was asked.
        cloth: the fabric.
        parts: where to measure.

    Raises:
        Missing: at a part that is not there; also by the methods.
    """

    def __init__(self, values: Values, cloth: Cloth, parts: FootParts) -> None:
        self._values, self._cloth, self._parts = values, cloth, parts
        self.stitch_mm, self.row_mm = cloth.stitch_mm(parts.foot), cloth.row_mm(parts.foot)
        narrow = cloth.narrowest(parts.heel).needles
        self._middle = narrow[len(narrow) // 2]
        self.round_mm = cloth.seamed_mm(parts.foot)
        self.sole_mm = cloth.wale_mm(self._middle, *parts.sole)

    def heel_mm(self) -> float:
        """The way round heel and instep: past the stitches not held, and along the heel's two lines."""
        before = self._cloth.widest(self._parts.before_heel)
        narrow = self._cloth.narrowest(self._parts.heel)
        return self.round_mm - before.mm + narrow.mm + self._cloth.slant_mm(before, self._parts.heel)

    def girth(self, *, smallest: bool) -> FitLine:
        """Round the foot; ``smallest`` says that fewer stitches were not possible."""
        asked, body = self._values.eased_mm("foot_girth", "ease"), self._values.mm("foot_girth")
        return FitLine(
            "foot_girth",
            marked("Round the foot"),
            "mm",
            asked,
            self.round_mm,
            self.stitch_mm,
            body=body,
            reason=SMALLEST if smallest else "",
        )

    def length(self) -> FitLine:
        """Along the sole, from turn to turn."""
        body = self._values.mm("foot_length")
        asked = body + self._values.mm("room")
        return FitLine(
            "foot_length", marked("Length of the sole"), "mm", asked, self.sole_mm, self.row_mm, body=body
        )

    def heel_girth(self, turn: Turn) -> FitLine:
        """Round heel and instep, as wide as asked."""
        asked, body = self._values.eased_mm("heel_girth", "ease"), self._values.mm("heel_girth")
        return FitLine(
            "heel_girth",
            marked("Round heel and instep"),
            "mm",
            asked,
            self.heel_mm(),
            self.stitch_mm,
            body=body,
            reason=STAYS_BROAD if turn.limited else "",
            values={"down_to": turn.down_to, "across": turn.across},
        )

    def way_in(self) -> FitLine:
        """Round heel and instep, wide enough to stretch over the heel."""
        body, got = self._values.mm("heel_girth"), self.heel_mm()
        return FitLine(
            "way_in",
            marked("Round heel and instep"),
            "mm",
            body / MOST_STRETCH,
            got,
            self.stitch_mm,
            bound="at_least",
            body=body,
            reason=STRETCHES if body > got else "",
            values={"percent": 100 * (body / got - 1)},
        )

    def depth(self, key: str, measure: str, title: str, turn: Turn) -> FitLine:
        """Depth of a turn, along the middle of the half under the foot."""
        return FitLine(
            key,
            measure,
            "mm",
            self._values.mm(key),
            self._cloth.wale_mm(self._middle, title),
            self.row_mm,
            reason=STAYS_BROAD if turn.limited else "",
            values={"down_to": turn.down_to, "across": turn.across},
        )

    def toe(self, turn: Turn) -> FitLine:
        """Depth of the toe."""
        return self.depth("toe_depth", marked("Depth of the toe"), self._parts.toe_under, turn)

    def heel(self, turn: Turn) -> FitLine:
        """Depth of the heel."""
        return self.depth("heel_depth", marked("Depth of the heel"), self._parts.heel_under, turn)

    def leg(self) -> FitLine:
        """Length of the leg."""
        got = self._cloth.wale_mm(self._middle, *self._parts.leg)
        if self._parts.hem:
            got += self._cloth.wale_mm(self._middle, *self._parts.hem) / 2
        return FitLine(
            "leg_length", marked("Length of the leg"), "mm", self._values.mm("leg_length"), got, self.row_mm
        )
