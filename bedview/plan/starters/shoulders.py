"""A back and a front with sloped shoulders and a neck."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar, Final

from bedview.language import gettext as _
from bedview.language import marked
from bedview.plan.gauge import EVEN, ODD, Rounding
from bedview.plan.starters import drafting as draft
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.drafting import Seam, Segment
from bedview.plan.starters.feet import HEM, ease
from bedview.plan.starters.fit_line import FitLine
from bedview.plan.starters.panels import (
    ACROSS_ROWS,
    ASIDE_ROWS,
    NO_FLOAT_ROWS,
    NeckPlan,
    PanelPlan,
    slope_of,
)
from bedview.plan.starters.parameter import Parameter, StarterError, lengths
from bedview.plan.starters.starter import Starter, Values

NECK_OF_WIDTH: Final = 1 / 3
"""Width of a neck over that of the panel (zanotowane.pl 713/7882: about a third of a sweater)."""
SLOPE_OF_WIDTH: Final = 0.05
"""Height of a shoulder's slope over the width of the panel: 1 in for an adult (knittingrobin.blogspot.com,
2014/03: standardized at 1 inch)."""
ARMHOLE_OF_CHEST: Final = 0.22
"""Depth of an armhole over the chest: 4 1/4 in at 21 in to 7 1/2 in at 32 1/2 in (crochetkitten.com)."""
NECK_DEPTH_OF_NECK: Final = 0.45
"""Depth of a front's neck over its width (common practice)."""
HEM_CM: Final = 2.0
SHALLOW: Final = marked("The turns of the neck and of the shoulder take so many rows")
FEW_STEPS: Final = marked("A shoulder of {stitches} stitches slopes in no fewer steps, and in no more")
SIDES: Final = ("left", "right")
PLAIN: Final = {"Back": "Back piece", "Front": "Front piece"}
"""Titles of the plain rows of the panels; alone, *Back* is the way back to translators."""


class Shoulders(Starter):
    """A back and a front, joined at the shoulders."""

    name: ClassVar[str] = "shoulders"
    title: ClassVar[str] = "Back and front with sloped shoulders"
    says: ClassVar[str] = (
        "Two straight panels. The shoulders slope by short rows in groups; the neck of the front is shaped "
        "the same "
        "way, one side after the other. Shoulders are grafted, the necks wait on waste for a band of your "
        "choice, and "
        "the sides are sewn up to the armholes."
    )
    assumes: ClassVar[tuple[str, ...]] = (
        "The neck is a third of the width, and the shoulders slope over a twentieth of it.",
        "There is no shaping at the armholes: the shoulders drop.",
        "The back of the neck is straight.",
        "A small gap stays in the back where the last step comes back: draw it together with an end.",
        "Children's chests are the common standard's from memory; babies' one maker's; adults' measured.",
    )
    body: ClassVar[str] = "trunk"
    size: ClassVar[str] = "women"
    asked: ClassVar[tuple[Parameter, ...]] = (
        lengths("chest_girth", 25, 160, "round the chest"),
        ease(8, "how much wider than the chest"),
        lengths("body_length", 12, 110, "from the lower edge to the shoulder beside the neck"),
        HEM,
        lengths("neck_width", 4, 45, "across the neck"),
        lengths("neck_depth", 1, 40, "from the shoulder down to the front of the neck"),
        lengths("slope", 0.3, 12, "how much lower a shoulder is at the arm than at the neck"),
        lengths("armhole", 5, 50, "from the shoulder down to where the side seam ends"),
    )

    def _derived(self, values: Mapping[str, Any]) -> Mapping[str, float]:
        chest = values["chest_girth"]
        width = chest / 2 * (1 + values["ease"] / 100)
        neck = values["neck_width"] or NECK_OF_WIDTH * width
        return {
            "hem": HEM_CM,
            "neck_width": neck,
            "neck_depth": NECK_DEPTH_OF_NECK * neck,
            "slope": SLOPE_OF_WIDTH * width,
            "armhole": ARMHOLE_OF_CHEST * chest,
        }

    def plan(self, values: Values) -> PanelPlan:
        """Its counts.

        Raises:
            StarterError: if the measures leave no room for one of its parts.
        """
        # Both panels have one width, and each gives a stitch to either side seam.
        needles = values.stitches(values.eased_mm("chest_girth", "ease"), EVEN) // 2 + 2
        neck = max(2, values.stitches(values.mm("neck_width"), Rounding(2, needles % 2)))
        shoulder = (needles - neck) // 2
        if shoulder < 4:
            raise StarterError(_("so wide a neck leaves no shoulders; make neck_width smaller"), "neck_width")
        asked = values.mm("slope") / values.row_mm
        back_slope, front_slope = slope_of(asked - NO_FLOAT_ROWS, shoulder), slope_of(asked, shoulder)
        total = values.rows(values.mm("body_length"))
        hem = values.rows(values.mm("hem"))
        double = hem + 1 if hem else 0
        back = total - double - back_slope.back_rows - NO_FLOAT_ROWS - ACROSS_ROWS
        front_neck, rows = _front_neck(values, neck, front_slope.front_rows)
        front = total - double - rows
        if min(back, front) < 2:
            raise StarterError(
                _(
                    "so short a body leaves no rows below the neck; make body_length larger, or neck_depth "
                    "or hem smaller"
                ),
                "body_length",
            )
        return PanelPlan(neck, back_slope, front_slope, hem, back, front, front_neck)

    def width(self, values: Values) -> int:
        """Needles of a panel."""
        return self.plan(values).needles

    def segments(self, values: Values) -> Sequence[Segment]:
        """The back, then the front."""
        plan = self.plan(values)
        tail = draft.tail_cm(plan.shoulder, values.stitch_mm)
        return [
            *_lower(plan, "Back", plan.back, values.gauge.tension),
            *_back_shoulders(plan),
            *_other_side(plan),
            *_lower(plan, "Front", plan.front, values.gauge.tension),
            *_front_side(plan, "left", tail),
            *_front_side(plan, "right", tail),
            draft.scrap_off("Front: neck off", plan.neck_needles, "front of the neck"),
            draft.notes(
                "Making up",
                "Graft the shoulders, sew the sides up to the armholes, and finish the neck with a band of "
                "your choice",
            ),
        ]

    def seams(self, values: Values, cloth: Cloth) -> Iterator[Seam]:
        """Shoulders, then sides: the back's left to the front's right, both seen from the purl side."""
        plan = self.plan(values)
        for side, other in (SIDES, SIDES[::-1]):
            yield draft.graft(
                _dropped(cloth, f"Back: {side} shoulder off", plan.shoulder_needles(side)),
                _dropped(cloth, f"Front: {other} shoulder off", plan.shoulder_needles(other))
                | {"reverse": True},
            )
        open_rows = values.rows(values.mm("armhole"))
        spans = {}
        for panel, rows in (("Back", plan.back), ("Front", plan.front)):
            passes = cloth.passes(*_lower_titles(plan, panel))
            above = values.rows(values.mm("body_length")) - rows - (plan.hem + 1 if plan.hem else 0)
            # The slope and the neck lie above the plain rows, and belong to the armhole already.
            spans[panel] = [passes[0], max(passes[0], passes[-1] - max(0, open_rows - above))]
        for side, other in (SIDES, SIDES[::-1]):
            yield {
                "kind": "mattress",
                "a": {"side": side, "passes": spans["Back"]},
                "b": {"side": other, "passes": spans["Front"]},
                "stitches_in": 1,
            }

    def fitting(self, values: Values, cloth: Cloth) -> Iterator[FitLine]:
        """Chest, length, neck and the slope of the shoulders."""
        plan = self.plan(values)
        stitch, row = cloth.stitch_mm(PLAIN["Back"]), cloth.row_mm(PLAIN["Back"])
        asked = values.eased_mm("chest_girth", "ease")
        got = cloth.seamed_mm(*_lower_titles(plan, "Back")) + cloth.seamed_mm(*_lower_titles(plan, "Front"))
        yield FitLine(
            "chest_girth", marked("Round the chest"), "mm", asked, got, stitch, body=values.mm("chest_girth")
        )
        shoulders = {panel: _beside_neck(cloth, panel) for panel in ("Back", "Front")}
        for panel, titles in _heights(plan).items():
            hem = sum(cloth.wale_mm(shoulders[panel], each) / 2 for each in _hem_titles(plan, panel))
            length = hem + cloth.wale_mm(shoulders[panel], *titles)
            yield FitLine(
                f"{panel.lower()}_length",
                marked("Length of the back") if panel == "Back" else marked("Length of the front"),
                "mm",
                values.mm("body_length"),
                length,
                row,
            )
        whole, narrow = cloth.widest(PLAIN["Back"]), cloth.widest("Front: left shoulder across")
        neck = whole.mm - 2 * narrow.mm
        yield FitLine("neck_width", marked("Across the neck"), "mm", values.mm("neck_width"), neck, stitch)
        yield _neck_depth(values, cloth, plan, shoulders["Front"], row)
        yield from _slopes(values, cloth, plan, row)


def _front_neck(values: Values, neck: int, slope: int) -> tuple[NeckPlan, int]:
    """The front's neck, and the rows from its beginning to the end of the shoulder of that slope."""
    fixed = ASIDE_ROWS + slope + ACROSS_ROWS
    free = values.mm("neck_depth") / values.row_mm - fixed
    pairs = int((free - 2) // 2)
    side = neck // 4 if pairs >= 1 else 0
    if side:
        shaped = NeckPlan(neck - 2 * side, side, -(-side // pairs), 0)
        # The carriage stands at the arm then, and the slope begins from the neck: an odd number of rows.
        straight = max(1, ODD.nearest(free - shaped.narrowing_rows))
        plan = NeckPlan(shaped.middle, side, shaped.step, straight)
    else:
        plan = NeckPlan(neck, 0, 1, EVEN.nearest(max(0.0, free)))
    return plan, fixed + plan.narrowing_rows + plan.straight


def _hem_titles(plan: PanelPlan, panel: str) -> tuple[str, ...]:
    return (f"{panel}: hem",) if plan.hem else ()


def _lower_titles(plan: PanelPlan, panel: str) -> tuple[str, ...]:
    return (*_hem_titles(plan, panel), PLAIN[panel])


def _lower(plan: PanelPlan, panel: str, rows: int, tension: float) -> Iterator[Segment]:
    yield draft.cast_on(f"{panel}: cast on", plan.whole, tension=tension)
    yield from (draft.hem(title, plan.hem) for title in _hem_titles(plan, panel))
    yield draft.plain(PLAIN[panel], rows)


def _back_shoulders(plan: PanelPlan) -> Iterator[Segment]:
    """Both shoulders of the back at once, and three groups on waste.

    The shoulders are grafted with the tails of the front, so the back's is only darned in.
    """
    yield {
        "kind": "short_rows",
        "title": "Back: shoulders",
        "down_to": plan.neck + 2 * plan.back_slope.left,
        "ends": "in_turn",
        "needles_a_step": plan.back_slope.step,
        "wraps": "automatic",
        "back": {"all_at_once": True},
        "reminders": [
            draft.reminder(
                0, "Hang the weights under the neck: the shoulders are held from here", plan.neck_needles
            )
        ],
    }
    yield draft.plain("Back: across all", ACROSS_ROWS)
    yield draft.scrap_off(
        "Back: left shoulder off", plan.shoulder_needles("left"), "back, left shoulder", tail=draft.END_CM
    )
    yield draft.scrap_off("Back: neck off", plan.neck_needles, "back of the neck")
    yield draft.scrap_off("Back: right shoulder off", plan.shoulder_needles("right"), "back, right shoulder")


def _other_side(plan: PanelPlan) -> Iterator[Segment]:
    """The carriage to where the front must begin, if it stands elsewhere."""
    stands_left = plan.passes_before_front % 2 == 1
    if stands_left != plan.front_starts_left:
        yield draft.hands("Carriage to the other side", {"do": "free_move"})


def _front_side(plan: PanelPlan, side: str, tail: float) -> Iterator[Segment]:
    """One side of the front's neck, and its shoulder."""
    other = "right" if side == "left" else "left"
    neck = plan.front_neck
    if side == "left":
        yield {"kind": "set_aside", "title": "Front: right side to hold", "groups": [plan.not_left]}
    else:
        needles = plan.half_needles("right")
        yield {
            "kind": "bring_back",
            "title": "Front: right side back",
            "needles": needles,
            "ends": "all_at_once",
        }
        yield draft.plain("Front: right side, first row", ASIDE_ROWS, yarn="main")
    if neck.side:
        yield {
            "kind": "short_rows",
            "title": f"Front: {side} of the neck",
            "down_to": plan.shoulder,
            "ends": other,
            "needles_a_step": neck.step,
            "wraps": "automatic",
        }
    if neck.straight:
        yield draft.plain(f"Front: {side} side", neck.straight)
    yield {
        "kind": "short_rows",
        "title": f"Front: {side} shoulder",
        "down_to": plan.front_slope.left,
        "ends": side,
        "needles_a_step": plan.front_slope.step,
        "wraps": "automatic",
        "back": {"all_at_once": True},
    }
    yield draft.plain(f"Front: {side} shoulder across", ACROSS_ROWS)
    yield draft.scrap_off(
        f"Front: {side} shoulder off", plan.shoulder_needles(side), f"front, {side} shoulder", tail=tail
    )


def _dropped(cloth: Cloth, title: str, needles: str) -> dict[str, Any]:
    return {"open": needles, "pass": cloth.passes(title)[-1]}


def _heights(plan: PanelPlan) -> dict[str, tuple[str, ...]]:
    """Parts along the wale beside the neck, hems aside."""
    return {
        "Back": (PLAIN["Back"], "Back: shoulders", "Back: across all"),
        "Front": (PLAIN["Front"], *_above_neck(plan)),
    }


def _above_neck(plan: PanelPlan) -> tuple[str, ...]:
    neck = plan.front_neck
    return (
        "Front: right side to hold",
        *(("Front: left of the neck",) if neck.side else ()),
        *(("Front: left side",) if neck.straight else ()),
        "Front: left shoulder",
        "Front: left shoulder across",
    )


def _beside_neck(cloth: Cloth, panel: str) -> int:
    """The needle of a shoulder next to the neck."""
    if panel == "Front":
        return _from_neck_to_arm(cloth)[0]
    return cloth.narrowest("Back: shoulders").needles[0]


def _from_neck_to_arm(cloth: Cloth) -> tuple[int, int]:
    """The two ends of the front's first shoulder, which in a mirror change places."""
    whole, shoulder = (
        cloth.widest(PLAIN["Front"]).needles,
        cloth.widest("Front: left shoulder across").needles,
    )
    ends = shoulder[0], shoulder[-1]
    return ends if ends[-1] == whole[-1] else ends[::-1]


def _neck_depth(values: Values, cloth: Cloth, plan: PanelPlan, needle: int, row: float) -> FitLine:
    return FitLine(
        "neck_depth",
        marked("Depth of the front's neck"),
        "mm",
        values.mm("neck_depth"),
        cloth.wale_mm(needle, *_above_neck(plan)),
        row,
        reason=SHALLOW if not plan.front_neck.side or plan.front_neck.straight <= 1 else "",
    )


def _slopes(values: Values, cloth: Cloth, plan: PanelPlan, row: float) -> Iterator[FitLine]:
    """How much higher a shoulder is beside the neck than at the arm: of the back's two the mean."""
    whole = cloth.widest(PLAIN["Back"]).needles
    inner = cloth.narrowest("Back: shoulders").needles
    back = sum(
        _rise(cloth, "Back: shoulders", near, far)
        for near, far in ((inner[0], whole[0]), (inner[-1], whole[-1]))
    )
    front = _rise(cloth, "Front: left shoulder", *_from_neck_to_arm(cloth))
    for key, measure, got in (
        ("back_slope", marked("Slope of the back's shoulders"), back / 2),
        ("front_slope", marked("Slope of the front's shoulders"), front),
    ):
        limited = not 1 < plan.back_slope.times < plan.shoulder - 1
        reason = FEW_STEPS if limited else ""
        yield FitLine(
            key,
            measure,
            "mm",
            values.mm("slope"),
            got,
            row,
            reason=reason,
            values={"stitches": plan.shoulder},
        )


def _rise(cloth: Cloth, title: str, near: int, far: int) -> float:
    """How much more a part grows at one needle than at another."""
    return cloth.wale_mm(near, title) - cloth.wale_mm(far, title)
