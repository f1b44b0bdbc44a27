"""A ball of gores, knitted from pole to pole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import floor, pi, sin
from typing import ClassVar, Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.gauge import EVEN, ODD
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.parameter import CM, EVEN_COUNT, Parameter, StarterError
from bedview.plan.starters.starter import Starter, Values
from bedview.plan.starters.wedges import ACROSS, GRAFT_ROWS

WISHED_GORES: Final = 6
"""Few, because each has two rows at the poles at least, and these are drawn together there."""
MOST_GORES: Final = 40
BACK_ROWS: Final = 1
"""Row in which the needles on the carriage's side wait before they come back."""
FEWEST_LEVELS: Final = 2
ENOUGH_LEVELS: Final = 5
"""With fewer pairs of rows a gore has corners; rather fewer gores than that."""
COARSE: Final = 10
FIRST: Final = "Gore, first rows"
NARROWS: Final = "Gore"
BACK: Final = "Gore, all back"


@dataclass(frozen=True, slots=True)
class BallPlan:
    """Counts of a ball.

    Attributes:
        needles: from pole to pole, even.
        levels: pairs of rows of a gore at its middle, the first pair over all needles.
        gores: how many, even.
        longer: how many of these begin with two rows more, to meet the round that was asked.
    """

    needles: int
    levels: int
    gores: int
    longer: int

    @property
    def left(self) -> int:
        """Offset of the leftmost needle."""
        return -(self.needles // 2)

    @property
    def whole(self) -> str:
        """All needles."""
        return draft.span(self.left, self.needles)

    def widths(self) -> list[int]:
        """Needles that knit in each pair of rows of a gore.

        A needle's rows grow with the sine of its angle from the pole, as the round of a ball does.
        """
        half = self.needles // 2
        most = 2 * self.levels + BACK_ROWS
        # A needle that was held gets the row of the way back at one end only, in every second gore.
        wanted = [
            (most * sin(pi * (place + 0.5) / self.needles) - BACK_ROWS / 2) / 2 for place in range(half)
        ]
        levels = [min(max(1, floor(each + 0.5)), self.levels) for each in wanted]
        return [2 * sum(level >= each for level in levels) for each in range(1, self.levels + 1)]

    def gore(self, across: int) -> list[Segment]:
        """The parts of one gore, which begins with ``across`` rows over all needles."""
        parts: list[Segment] = []
        before = self.needles
        for width, pairs in groupby(self.widths()):
            rows = 2 * len(list(pairs))
            if width == self.needles:
                parts.append(draft.plain(FIRST, across + rows - 2))
            else:
                parts.append(_two_rows_narrower(width, (before - width) // 2))
                if rows > 2:
                    parts.append(draft.plain(NARROWS, rows - 2))
            before = width
        return [*parts, {"kind": "bring_back", "title": BACK, "ends": "all_at_once"}]


def _two_rows_narrower(width: int, step: int) -> Segment:
    return {
        "kind": "short_rows",
        "title": NARROWS,
        "down_to": width,
        "ends": "in_turn",
        "needles_a_step": step,
        "wraps": "hand",
    }


class Ball(Starter):
    """A ball: one pole at each end of the bed."""

    name: ClassVar[str] = "ball"
    title: ClassVar[str] = "Ball of gores"
    says: ClassVar[str] = (
        "Knitted sideways, a pole at each end. In every gore both ends wait in hold, as many needles as the "
        "sine of "
        "their angle asks. The last course is grafted to the first, and both poles are drawn together."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "Courses run from pole to pole, and the fabric does not stretch when it is filled.",
        "Each gore rounds to whole turns, so that rounds nearer to a pole are out by a row a gore at most.",
    )
    yarns: ClassVar[tuple[str, ...]] = ("main", "waste", "cord")
    asked: ClassVar[tuple[Parameter, ...]] = (
        Parameter("across", CM, 15, 4, 100, "diameter"),
        Parameter("gores", EVEN_COUNT, WISHED_GORES, 4, MOST_GORES, "how many gores, or near so many"),
    )

    def plan(self, values: Values) -> BallPlan:
        """Its counts.

        Raises:
            StarterError: if there can be none.
        """
        round_mm = pi * values.mm("across")
        needles = values.stitches(round_mm / 2, EVEN)
        rows = values.rows(round_mm, ODD)
        wished = values.count("gores")
        best: tuple[float, BallPlan] | None = None
        for gores in range(4, MOST_GORES + 1, 2):
            levels = ((rows - GRAFT_ROWS) // gores - BACK_ROWS) // 2
            longer = (rows - GRAFT_ROWS - gores * (2 * levels + BACK_ROWS)) // ACROSS
            if levels < FEWEST_LEVELS or longer > gores:
                continue
            cost = longer + 2 * abs(gores - wished) + COARSE * max(0, ENOUGH_LEVELS - levels)
            if best is None or cost < best[0]:
                best = cost, BallPlan(needles, levels, gores, longer)
        if best is None or needles < 6:
            raise StarterError(
                _("so small a ball has too few rows; take a finer yarn or a larger ball"), "across"
            )
        return best[1]

    def width(self, values: Values) -> int:
        """Needles from pole to pole."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Waste, gores, waste."""
        plan = self.plan(values)
        middle = draft.span(-(plan.widths()[-1] // 2), plan.widths()[-1])
        weights = draft.reminder(0, "Hang the weights on the middle, and move them up often", middle)
        made: list[Segment] = [
            draft.waste_start("Waste start", plan.whole, tension=values.gauge.tension),
        ]
        for title, times, across in (
            ("Gores with two rows more", plan.longer, 2 * ACROSS),
            ("Gores", plan.gores - plan.longer, ACROSS),
        ):
            if times:
                inside = plan.gore(across)
                repeat = {"kind": "repeat", "title": title, "times": times, "segments": inside}
                made.append(repeat | {"reminders": [weights]})
        tail = draft.tail_cm(plan.needles, values.stitch_mm)
        return [
            *made,
            draft.scrap_off("Scrap off", plan.whole, "last course", tail=tail),
            draft.notes(
                "Making up",
                "Draw one pole together, graft the last course to the first, and leave a gap to fill the "
                "ball through",
                "Fill it, graft the gap, and draw the other pole together",
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The last course to the first."""
        whole = self.plan(values).whole
        first = cloth.fabric_passes(FIRST)[0]
        yield draft.graft({"open": whole}, {"made_in_pass": first, "needles": whole})

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round the middle, and from pole to pole."""
        stitch, row = cloth.stitch_mm(FIRST), cloth.row_mm(FIRST)
        asked = pi * values.mm("across")
        whole = cloth.widest(FIRST)
        middle = whole.needles[len(whole.needles) // 2]
        around = cloth.wale_mm(middle, FIRST, NARROWS, BACK) + GRAFT_ROWS * row
        yield FitLine("round", marked("Round the middle"), "mm", asked, around, row)
        yield FitLine("pole_to_pole", marked("From pole to pole"), "mm", asked / 2, whole.mm, stitch)
