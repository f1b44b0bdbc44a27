import pytest

from bedview import catalogue, language
from bedview.finish.cards import technique_card
from bedview.finish.finish_plan import FinishPlan
from bedview.finish.making_up import making_up
from bedview.finish.told import MakingStep, StepKind
from tests.finish.pieces import cast_on, flat, graft, planned, scrap_off, toe_and_flaps
from tests.finish.test_open_groups import demo

GRAFTS = [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")]


def kinds(steps: list[MakingStep]) -> list[str]:
    return [step.kind.value for step in steps]


def lines(plan: FinishPlan, kind: StepKind) -> list[str]:
    return [line for step in making_up(plan) if step.kind is kind for line in step.details]


def test_waste_comes_out_when_the_graft_has_caught_its_loops() -> None:
    steps = making_up(toe_and_flaps(3, 4, GRAFTS))
    assert kinds(steps) == ["graft", "take_out_waste", "graft", "take_out_waste", "sew", "darn_in"]
    # The toe is taken by both grafts: its waste stays until the second.
    assert [step.groups for step in steps if step.kind is StepKind.TAKE_OUT_WASTE] == [(2,), (1, 0)]
    assert steps[3].title == "Take the waste off “one flap” and “toe”"


def test_no_waste_comes_out_before_all_its_loops_are_caught() -> None:
    for plan in (demo("harbour-bootee"), demo("mountain-hut-hat"), toe_and_flaps(5, 8, [])):
        caught: set[int] = set()
        for step in making_up(plan):
            if step.seam is not None:
                seam = next(each for each in plan.seams if each.place == step.seam)
                caught.update(loop for side in seam.sides for loop in side.loops)
            if step.kind is StepKind.TAKE_OUT_WASTE:
                for place in step.groups:
                    waiting = set(plan.groups[place].loops) - caught - plan.inside_seams
                    assert waiting == set(plan.left_over(place)) == set()


def test_a_graft_says_where_it_begins_and_with_what() -> None:
    first, second = (step for step in making_up(toe_and_flaps(3, 4, GRAFTS)) if step.kind is StepKind.GRAFT)
    assert first.title == "Graft “other flap” to “toe”"
    assert "Begin at R3 and R2 with the tail of 60 cm that hangs there" in first.says
    assert first.says.endswith("as far as R4 and R1.")
    assert "with the same thread" in second.says
    assert "Let the thread hang where it ends: the next graft goes on with it." in first.details
    assert (
        "R5 of “other flap” lies in the side seam: run the thread through its loop, ungrafted."
        in first.details
    )


def test_a_ravel_cord_is_pulled_by_one_end() -> None:
    (out,) = (step for step in making_up(demo("mountain-hut-hat")) if step.kind is StepKind.TAKE_OUT_WASTE)
    assert "Pull the ravel cord of the first row (L18 to R18) out" in out.says
    assert "Of the other waste snip one stitch" in out.says


def test_a_side_seam_says_how_much_yarn_in_how_many_lengths() -> None:
    rows = {"a": {"side": "left", "passes": [1, 100]}, "b": {"side": "right", "passes": [1, 100]}}
    plan = planned(flat(100), [{"kind": "mattress", **rows}])
    # 3 × 40 cm, and 15 cm for each of the four lengths.
    assert "120 cm of yarn lie in it; take 180 cm, in 4 lengths: more than 50 cm at a time frays" in lines(
        plan, StepKind.SEW
    )


@pytest.mark.parametrize(
    ("rows", "how"),
    # Two in 20 with half a gap at either end: after 5 and after 15.
    [(21, "one time, near the middle"), (22, "2 times, spread evenly, about every 10 rows")],
)
def test_easing_is_spread_evenly(rows: int, how: str) -> None:
    sides = {"a": {"side": "left", "passes": [1, rows]}, "b": {"side": "right", "passes": [1, 20]}}
    plan = planned(flat(30), [{"kind": "mattress", **sides}])
    told = f"Ease: take up two bars of the left edge (rows 1 to {rows}) at once, {how}."
    assert told in lines(plan, StepKind.SEW)


def test_an_opening_is_left_in_centimetres_and_rows() -> None:
    sides = {"a": {"side": "left", "passes": [1, 20]}, "b": {"side": "right", "passes": [1, 20]}}
    plan = planned(flat(20), [{"kind": "mattress", **sides, "open_cm": 2.5}])
    told = "Stop 2.4 cm (6 rows) before the end: that part stays open. Secure the thread there."
    assert told in lines(plan, StepKind.SEW)


def test_tails_away_from_the_side_are_darned_in_before_it_is_sewn() -> None:
    # Buoy-red rows over the middle needles only: both its ends lie inside the piece.
    actions = [
        {"do": "hold_cams", "on": True},
        {"do": "place", "needles": "L5-L2,R2-R5", "position": "hold"},
        {"do": "park"},
        {"do": "thread", "yarn": "other"},
        {"do": "knit", "rows": 2},
        {"do": "cut", "tail_cm": 12},
        {"do": "resume", "yarn": "main"},
        {"do": "hold_cams", "on": False},
        {"do": "place", "needles": "L5-L2,R2-R5", "position": "upper"},
    ]
    sides = {"a": {"side": "left", "passes": [1, 6]}, "b": {"side": "right", "passes": [1, 6]}}
    plan = planned(
        [
            cast_on("L5-R5"),
            {"kind": "plain", "rows": 6},
            {"kind": "actions", "actions": actions},
            {"kind": "plain", "rows": 4},
            {"kind": "bind_off", "tail_cm": 10},
        ],
        [{"kind": "mattress", **sides}],
    )
    steps = making_up(plan)
    darning = [place for place, step in enumerate(steps) if step.kind is StepKind.DARN_IN]
    sewing = next(place for place, step in enumerate(steps) if step.kind is StepKind.SEW)
    assert darning[0] < sewing < darning[1]
    yarns = [plan.piece.yarns[plan.ends[number].yarn].id for number in steps[darning[0]].ends]
    assert yarns.count("other") == 2
    assert "now, while the piece lies flat" in steps[darning[0]].says


def test_every_end_is_darned_in_once_or_kept_for_a_group_that_stays_open() -> None:
    for name in ("harbour-bootee", "mountain-hut-hat", "allotment-heel"):
        plan = demo(name)
        darned = [number for step in making_up(plan) if step.kind is StepKind.DARN_IN for number in step.ends]
        assert sorted(darned) == list(range(len(plan.ends)))
    vest = demo("allotment-vest-shoulders")
    steps = making_up(vest)
    # 50 cm hang at the shoulder that came off first.
    assert [step.ends for step in steps if step.kind is StepKind.DARN_IN] == [(0,)]
    shoulder = next(step for step in steps if step.title == "“one shoulder” stays open")
    assert any(
        line.endswith("(50 cm) is long enough to join it with: leave it.") for line in shoulder.details
    )


def test_loops_on_the_bed_come_off_first() -> None:
    plan = planned([cast_on("L4-R4"), {"kind": "plain", "rows": 4}, scrap_off("neck", "L2-R2")])
    steps = making_up(plan)
    assert steps[0].title == "Take 4 loops off the bed"
    assert steps[0].details == ("They stand on L4, L3, R3 and R4.",)


def test_notes_after_the_last_row_are_read_before_anything_is_sewn() -> None:
    first, *others = making_up(demo("mountain-hut-hat"))
    assert (first.kind, first.title) == (StepKind.NOTE, "Before you begin")
    assert first.says.startswith("After grafting, run a thread")
    assert StepKind.NOTE not in {step.kind for step in others}


def test_notes_of_demos_are_read_in_the_language_in_use() -> None:
    plan = demo("mountain-hut-hat")
    english = making_up(plan)[0].says
    catalogue.speak("de")
    try:
        german = making_up(plan)[0].says
        assert german == language.gettext(english)
    finally:
        catalogue.speak("en")
    assert german != english


def test_every_card_that_a_step_names_is_there() -> None:
    for name in ("harbour-bootee", "mountain-hut-hat", "allotment-vest-shoulders", "harbour-heel"):
        for step in making_up(demo(name)):
            for card in step.cards:
                assert technique_card(card).title


def test_the_first_row_may_be_grafted_to_itself() -> None:
    # The closed end of a bag that is knitted upwards: eight stitches, folded in the middle.
    plan = planned(
        [
            {"kind": "cast_on", "needles": "L4-R4", "how": "waste", "yarn": "main", "tension": 6},
            *flat(6, "L4-R4")[1:],
        ],
        [
            {
                "kind": "graft",
                "a": {"made_in_pass": 9, "needles": "L4-L1"},
                "b": {"made_in_pass": 9, "needles": "R1-R4", "reverse": True},
            }
        ],
    )
    assert making_up(plan)[0].title == "Graft the first row to itself: L4 to L1 and R1 to R4"


@pytest.mark.parametrize(("rows", "in_seam"), [(3, True), (9, False)])
def test_a_corner_above_the_side_seam_closes_with_it(rows: int, in_seam: bool) -> None:
    # Twelve rows are sewn up the side; a few more follow before the loops come off.
    sides = {"a": {"side": "left", "passes": [1, 12]}, "b": {"side": "right", "passes": [1, 12]}}
    plan = planned(
        [cast_on("L5-R5"), {"kind": "plain", "rows": 12 + rows}, scrap_off("end", tail_cm=60)],
        [{"kind": "mattress", **sides}, graft("L4-L1", "R1-R4")],
    )
    assert plan.left_over(0) == (() if in_seam else (plan.groups[0].loops[0], plan.groups[0].loops[-1]))
