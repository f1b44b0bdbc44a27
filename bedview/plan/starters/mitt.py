"""A mitt whose thumb is set aside on waste and knitted last."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.gauge import EVEN, Rounding
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import HEM, TOE_DEPTH, Leg, Turn, ease, hem_cm, room, turn_of_depth
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.foot_fit import SMALLEST, STAYS_BROAD
from bedview.plan.starters.legs import hem_titles, leg_rows, leg_segments, leg_titles
from bedview.plan.starters.parameter import Parameter, StarterError, lengths
from bedview.plan.starters.starter import Starter, Values

SHORT_THUMB: Final = marked("Its turn at the tip takes so many rows")
WRIST: Final = "Wrist"
BELOW: Final = "Hand below the thumb"
ABOVE: Final = "Hand above the thumb"
BACK_ASIDE: Final = "Back of the hand to hold"
TIP: Final = ("Tip, narrowing", "Tip, widening")
THUMB_UP: Final = "Thumb, front"
THUMB_TIP: Final = ("Thumb tip, narrowing", "Thumb tip, widening")
THUMB_DOWN: Final = "Thumb, back"

CUFF_OF_HAND: Final = 0.4
"""Length of the cuff over the hand's (common practice)."""
HEM_CM: Final = 2.5
THUMB_OF_HAND: Final = 1 / 3
"""Both from wrist to thumb and along the thumb, over the whole hand (forum.knittinghelp.com 75358: 1 1/2 of
4 1/2 in for a small child to 2 3/4 of 8 in for a large hand)."""
THUMB_GIRTH: Final = 0.38
"""Round the thumb over round the hand (common practice)."""
WASTE_ROWS: Final = 7
"""With the unthreaded pass after them an even number, so that the yarn is found where it waits."""
ASIDE_ROWS: Final = 1
"""Row in which the back of the hand goes to hold."""
FEWEST_THUMB: Final = 5
FEWEST_HALF: Final = 6


@dataclass(frozen=True, slots=True)
class MittPlan:
    """Counts of a mitt.

    Attributes:
        half: stitches of the palm, and of the back, without the one of each that lies in the seam.
        cuff: rows of the cuff.
        below: rows from the wrist to the thumb.
        above: rows from the thumb to the tip, so that the carriage ends beside the palm.
        tip: over the palm and its seam stitch.
        thumb: needles of the thumb, the one at each edge of its strip that lies in a seam among them.
        thumb_rows: plain rows of each side of the thumb.
        thumb_tip: over the thumb.
    """

    half: int
    cuff: Leg
    below: int
    above: int
    tip: Turn
    thumb: int
    thumb_rows: int
    thumb_tip: Turn

    @property
    def needles(self) -> int:
        """Needles in all: the round, and a stitch at each edge that lies in the seam."""
        return 2 * self.half + 2

    @property
    def first(self) -> int:
        """Offset of the leftmost needle, the palm's; the back begins right of the middle."""
        return -(self.half + 1)

    @property
    def palm(self) -> str:
        """Needles of the palm."""
        return draft.span(self.first, self.half + 1)

    @property
    def back(self) -> str:
        """Needles of the back."""
        return draft.span(0, self.half + 1)

    @property
    def thumb_needles(self) -> str:
        """Needles of the thumb, on the palm beside the fold."""
        return draft.span(-self.thumb, self.thumb)

    @property
    def passes_to_cast_on(self) -> int:
        """Passes made when the thumb's needles are cast on anew."""
        return self.cuff.passes + self.below + WASTE_ROWS + 1


class Mitt(Starter):
    """A mitt knitted from cuff to tip, then its thumb."""

    name: ClassVar[str] = "mitt"
    title: ClassVar[str] = "Mitt"
    says: ClassVar[str] = (
        "Knitted flat with one seam on the side of the little finger. The thumb's stitches are set aside on "
        "waste and "
        "cast on anew; the tip is a short-row turn over the palm, grafted to the back. The thumb is a strip "
        "that "
        "goes up, turns and comes down again. Its mirror image is the other one of a pair."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "The thumb begins a third of the way from wrist to tip and is as long (one knitter's table).",
        "Its round is 0.38 of the hand's if none is given.",
        "There is no gusset: the palm gives way for the ball of the thumb.",
        "Hands: children by a maker's chart, adults by measured means and their 5 and 95 %.",
    )
    body: ClassVar[str] = "hand"
    size: ClassVar[str] = "women"
    asked: ClassVar[tuple[Parameter, ...]] = (
        lengths("hand_girth", 6, 32, "round the palm without the thumb"),
        lengths("hand_length", 5, 28, "from the wrist to the tip of the longest finger"),
        ease(5, "how much wider than the hand and the thumb"),
        room(0.8, "how much longer than the hand"),
        lengths("cuff_length", 1, 40, "from the top edge to the wrist"),
        HEM,
        lengths("thumb_height", 1, 14, "from the wrist to where the thumb begins"),
        lengths("thumb_length", 1, 14, "from there to the tip of the thumb"),
        lengths("thumb_girth", 3, 16, "round the thumb"),
        lengths("tip_depth", 1, 12, "from the tip to where it begins to narrow"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        thumb = THUMB_OF_HAND * values["hand_length"]
        cuff = values["cuff_length"] or CUFF_OF_HAND * values["hand_length"]
        return {
            "cuff_length": cuff,
            "hem": hem_cm(cuff, HEM_CM),
            "thumb_height": thumb,
            "thumb_length": thumb,
            "thumb_girth": THUMB_GIRTH * values["hand_girth"],
            "tip_depth": TOE_DEPTH * values["hand_girth"] * (1 + values["ease"] / 100),
        }

    def plan(self, values: Values) -> MittPlan:
        """Its counts.

        Raises:
            StarterError: if the measures leave no room for one of its parts.
        """
        half = max(FEWEST_HALF, values.stitches(values.eased_mm("hand_girth", "ease"), EVEN) // 2)
        tip = turn_of_depth(values.mm("tip_depth"), half + 1, values.row_mm)
        cuff, below = leg_rows(values, "cuff_length"), max(1, values.rows(values.mm("thumb_height")))
        length = values.mm("hand_length") + values.mm("room")
        # Rows in all are odd: the back goes to hold on the side away from the carriage, the right.
        odd = Rounding(2, (cuff.passes + below + 1) % 2)
        rest = length / values.row_mm - below - ASIDE_ROWS - tip.rows
        if rest < 1:
            raise StarterError(
                _(
                    "a hand of this length leaves no room between thumb and tip; "
                    "make hand_length larger, or thumb_height or tip_depth smaller"
                ),
                "hand_length",
            )
        thumb = max(FEWEST_THUMB, values.stitches(values.eased_mm("thumb_girth", "ease"), EVEN) // 2 + 2)
        if thumb > half:
            raise StarterError(_("the thumb is wider than the palm; make thumb_girth smaller"), "thumb_girth")
        thumb_tip = turn_of_depth(TOE_DEPTH * values.eased_mm("thumb_girth", "ease"), thumb, values.row_mm)
        thumb_rows = max(1, values.rows(values.mm("thumb_length")) - thumb_tip.rows)
        return MittPlan(half, cuff, below, max(1, odd.nearest(rest)), tip, thumb, thumb_rows, thumb_tip)

    def width(self, values: Values) -> int:
        """Needles of the round and of the seam."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """Cuff, hand, tip, and then the thumb."""
        plan = self.plan(values)
        return [
            draft.cast_on("Cast on", draft.centred(plan.needles), tension=values.gauge.tension),
            *leg_segments(plan.cuff, WRIST),
            draft.plain(BELOW, plan.below),
            *_thumb_aside(plan),
            draft.plain(ABOVE, plan.above),
            {"kind": "set_aside", "title": BACK_ASIDE, "groups": [plan.back]},
            *draft.turn(TIP, plan.first, plan.half + 1, plan.tip.held),
            draft.scrap_off(
                "Scrap off: palm", plan.palm, "palm", tail=draft.tail_cm(plan.half, values.stitch_mm)
            ),
            draft.scrap_off("Scrap off: back of the hand", plan.back, "back of the hand"),
            *_thumb(plan, draft.tail_cm(plan.thumb, values.stitch_mm)),
            draft.notes(
                "Making up",
                "Graft the tip, then sew the side. Graft the end of the thumb to the edge that was cast on, "
                "and sew "
                "both its sides; close the corners at its root with the tails",
                "For a baby no loose ties, and every end darned in",
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """The side, the tip, the thumb's root and its two sides."""
        plan = self.plan(values)
        first = cloth.passes(*leg_titles(plan.cuff, WRIST))[0]
        yield draft.side_seam(range(first, cloth.passes(ABOVE)[-1] + 1))
        # The thumb drops from some of the palm's needles later: the passes tell the groups apart.
        yield draft.graft(
            {"open": draft.span(-plan.half, plan.half), "pass": cloth.passes("Scrap off: palm")[-1]},
            {"open": draft.span(0, plan.half), "reverse": True},
        )
        up, down = cloth.passes(THUMB_UP, THUMB_TIP[0]), cloth.passes(THUMB_TIP[1], THUMB_DOWN)
        yield draft.graft(
            {"open": plan.thumb_needles, "pass": cloth.passes("Scrap off: thumb")[-1]},
            {"made_in_pass": plan.passes_to_cast_on, "needles": plan.thumb_needles, "by": "cast_on"},
        )
        for side in ("left", "right"):
            yield {
                "kind": "mattress",
                "a": {"side": side, "passes": [up[0], up[-1]]},
                "b": {"side": side, "passes": [down[0], down[-1]], "reverse": True},
                "stitches_in": 1,
            }

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Round, length, tip, cuff and thumb."""
        plan = self.plan(values)
        stitch, row = cloth.stitch_mm(ABOVE), cloth.row_mm(ABOVE)
        narrow = cloth.narrowest(TIP[0]).needles
        middle = narrow[len(narrow) // 2]
        # The palm's middle may lie on the thumb's needles, which are cast on anew half way; not so the edge.
        edge = cloth.widest(ABOVE).needles[0]
        length = cloth.wale_mm(edge, BELOW, ABOVE) + cloth.wale_mm(middle, BACK_ASIDE, TIP[0])
        hand = values.mm("hand_length")
        asked = values.eased_mm("hand_girth", "ease")
        yield FitLine(
            "hand_girth",
            marked("Round the hand"),
            "mm",
            asked,
            cloth.seamed_mm(ABOVE),
            stitch,
            body=values.mm("hand_girth"),
            reason=SMALLEST if plan.half == FEWEST_HALF else "",
        )
        yield FitLine(
            "hand_length", marked("From wrist to tip"), "mm", hand + values.mm("room"), length, row, body=hand
        )
        tip = cloth.wale_mm(middle, TIP[0])
        yield FitLine(
            "tip_depth",
            marked("Depth of the tip"),
            "mm",
            values.mm("tip_depth"),
            tip,
            row,
            reason=STAYS_BROAD if plan.tip.limited else "",
            values={"down_to": plan.tip.down_to, "across": plan.tip.across},
        )
        below = cloth.wale_mm(edge, BELOW)
        yield FitLine(
            "thumb_height", marked("From wrist to thumb"), "mm", values.mm("thumb_height"), below, row
        )
        yield from _thumb_lines(values, cloth, plan)
        cuff = cloth.wale_mm(edge, WRIST) + sum(
            cloth.wale_mm(edge, each) / 2 for each in hem_titles(plan.cuff)
        )
        yield FitLine("cuff_length", marked("Length of the cuff"), "mm", values.mm("cuff_length"), cuff, row)


def _thumb_aside(plan: MittPlan) -> list[Segment]:
    """The thumb's loops on waste, and new ones cast on in their place with a length of their own."""
    return [
        draft.scrap_off("Thumb aside", plan.thumb_needles, "thumb", rows=WASTE_ROWS) | {"old_yarn": "park"},
        {"kind": "bring_back", "title": "Palm and back again", "ends": "all_at_once"},
        draft.hands(
            "Thumb needles anew",
            {
                "do": "note",
                "text": "Cast on with a length of its own: the yarn of the hand waits at the edge",
            },
            {"do": "thread", "yarn": "main"},
            {"do": "cast_on", "needles": plan.thumb_needles},
            {"do": "cut", "tail_cm": draft.END_CM},
            {"do": "resume", "yarn": "main"},
        ),
    ]


def _thumb(plan: MittPlan, tail: float) -> list[Segment]:
    """The thumb: up from the waste, a turn at its tip, and down again."""
    return [
        {"kind": "hang", "title": THUMB_UP, "group": "thumb", "yarn": "main", "rows": plan.thumb_rows},
        *draft.turn(THUMB_TIP, -plan.thumb, plan.thumb, plan.thumb_tip.held),
        draft.plain(THUMB_DOWN, plan.thumb_rows),
        draft.scrap_off("Scrap off: thumb", plan.thumb_needles, "end of the thumb", tail=tail),
    ]


def _thumb_lines(values: Values, cloth: Cloth, plan: MittPlan) -> Iterator[FitLine]:
    stitch, row = cloth.stitch_mm(THUMB_UP), cloth.row_mm(THUMB_UP)
    around = cloth.seamed_mm(THUMB_UP) + cloth.seamed_mm(THUMB_DOWN)
    yield FitLine(
        "thumb_girth",
        marked("Round the thumb"),
        "mm",
        values.eased_mm("thumb_girth", "ease"),
        around,
        stitch,
        body=values.mm("thumb_girth"),
        reason=SMALLEST if plan.thumb == FEWEST_THUMB else "",
    )
    narrow = cloth.narrowest(THUMB_TIP[0]).needles
    length = cloth.wale_mm(narrow[len(narrow) // 2], THUMB_UP, THUMB_TIP[0])
    asked = values.mm("thumb_length")
    yield FitLine(
        "thumb_length",
        marked("Length of the thumb"),
        "mm",
        asked,
        length,
        row,
        body=asked,
        reason=SHORT_THUMB if plan.thumb_rows == 1 else "",
    )
