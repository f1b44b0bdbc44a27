import pytest

from bedview.finish.finish_plan import FinishPlan
from bedview.finish.fitting import does_not_fit
from bedview.finish.told import Misfit
from tests.finish.pieces import cast_on, flat, graft, planned, scrap_off, toe_and_flaps


def needles(side: str, first: int, last: int) -> str:
    """``L4-L2`` or ``R2-R4``."""
    low, high = sorted((first, last))
    return f"{side}{high}-{side}{low}" if side == "L" else f"{side}{low}-{side}{high}"


def bag(flap: int, centre: int, *, edge_stitch: bool) -> FinishPlan:
    """A bag whose flaps are grafted to its centre, with their edge stitch or without."""
    half = centre // 2
    last = half + flap if edge_stitch else half + flap - 1
    pairs = [(needles(side, half + 1, last), needles(side, 1, half)) for side in "LR"]
    return toe_and_flaps(flap, centre, [graft(a, b) for a, b in pairs])


def rules(found: list[Misfit]) -> list[str]:
    return [each.rule for each in found]


@pytest.mark.parametrize("flap", [3, 5, 9])
def test_two_flaps_of_f_fit_a_centre_of_two_times_f_less_one(flap: int) -> None:
    assert does_not_fit(bag(flap, 2 * (flap - 1), edge_stitch=False)) == []


@pytest.mark.parametrize("flap", [3, 5, 9])
def test_with_the_edge_stitch_a_flap_is_one_too_many(flap: int) -> None:
    found = does_not_fit(bag(flap, 2 * (flap - 1), edge_stitch=True))
    assert rules(found) == ["graft-counts", "graft-counts"]
    first = found[0]
    assert first.severity == "error"
    assert f"{flap} loops meet {flap - 1} loops; 1 loop" in first.says
    edge = f"L{2 * flap - 1}"
    assert (
        first.way_out == f"Name the longer edge without {edge}: the edge stitch there lies in the side seam."
    )


def test_a_centre_of_two_f_is_two_too_many() -> None:
    found = does_not_fit(bag(4, 8, edge_stitch=False))
    assert rules(found) == ["graft-counts", "graft-counts"]
    assert "3 loops meet 4 loops" in found[0].says


def test_a_group_with_loops_to_spare_is_the_way_out() -> None:
    plan = toe_and_flaps(4, 6, [graft("L6-L5", "L3-L1"), graft("R4-R6", "R1-R3")])
    counts = next(each for each in does_not_fit(plan) if each.rule == "graft-counts")
    assert counts.way_out == "“one flap” has 1 loop that no graft takes: name 1 more of them."


def test_otherwise_loops_are_moved_onto_their_neighbours() -> None:
    plan = planned(
        [cast_on("L4-R4"), {"kind": "plain", "rows": 6}, scrap_off("end")],
        [{"kind": "graft", "a": {"made_in_pass": 0, "needles": "L3-R3"}, "b": {"open": "L4-R4"}}],
    )
    (found,) = does_not_fit(plan)
    assert found.rule == "graft-counts"
    assert "6 loops meet 8 loops; 2 loops without a partner" in found.says
    assert found.way_out.startswith("Move 2 loops of “end” onto their neighbours before the group comes off")


def test_loops_that_no_graft_takes_would_run() -> None:
    plan = toe_and_flaps(4, 6, [graft("L5-L4", "L3-L2"), graft("R4-R6", "R1-R3")])
    left = [each for each in does_not_fit(plan) if each.rule == "loops-left-over"]
    assert [each.says for each in left] == [
        "“toe”: 1 loop of L1 in no seam; they run when the waste comes out.",
        "“one flap”: 1 loop of L6 in no seam; they run when the waste comes out.",
    ]


def test_a_loop_is_grafted_once() -> None:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "L1-R1")])
    twice = next(each for each in does_not_fit(plan) if each.rule == "joined-twice")
    assert (twice.severity, twice.seam) == ("error", 2)
    assert "L1" in twice.says


@pytest.mark.parametrize(("rows", "warned"), [(22, False), (23, True)])
def test_more_than_a_tenth_of_easing_is_a_warning(rows: int, warned: bool) -> None:
    plan = planned(
        flat(30),
        [
            {
                "kind": "mattress",
                "a": {"side": "left", "passes": [1, rows]},
                "b": {"side": "right", "passes": [1, 20]},
            }
        ],
    )
    found = does_not_fit(plan)
    assert rules(found) == (["too-much-easing"] if warned else [])
    if warned:
        assert found[0].severity == "warning"
        assert "9.2 cm meet 8.0 cm, 15 % more" in found[0].says


@pytest.mark.parametrize(("rows", "warned"), [(16, True), (26, False)])
def test_a_turn_takes_a_few_rows_in_at_its_corners(rows: int, warned: bool) -> None:
    # One row crosses over; then two rows for each of two steps are knitted on the left alone.
    turn = {"kind": "short_rows", "down_to": 6, "ends": "right", "needles_a_step": 2, "wraps": "automatic"}
    span = {"passes": [1, rows + 5]}
    plan = planned(
        [cast_on("L5-R5"), {"kind": "plain", "rows": rows}, turn, scrap_off("all")],
        [{"kind": "mattress", "a": {"side": "left", **span}, "b": {"side": "right", **span}}],
    )
    (seam,) = plan.seams
    assert (len(seam.a.loops), len(seam.b.loops)) == (rows + 5, rows + 1)
    assert ("too-much-easing" in rules(does_not_fit(plan))) is warned


def test_a_tail_too_short_for_its_graft_is_told() -> None:
    # Two grafts of one stitch width each take 4.2 cm and 15 cm more; 18 cm are too short for the first.
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")], tail_cm=18)
    (short,) = [each for each in does_not_fit(plan) if each.rule == "tail-short"]
    assert short.severity == "warning"
    assert "takes 19 cm" in short.says
    assert "(18 cm) is short" in short.says


def test_a_tail_of_just_the_length_will_do() -> None:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")], tail_cm=19.2)
    assert "tail-short" not in rules(does_not_fit(plan))


def test_a_seam_that_stays_open_all_along_is_an_error() -> None:
    sides = {"a": {"side": "left", "passes": [1, 6]}, "b": {"side": "right", "passes": [1, 6]}}
    plan = planned(flat(6), [{"kind": "mattress", **sides, "open_cm": 10.0}])
    assert rules(does_not_fit(plan)) == ["opening-too-long"]
    assert plan.sewing == ()


def test_an_edge_that_is_not_there_is_an_error() -> None:
    plan = planned(
        flat(6), [{"kind": "graft", "a": {"open": "L2-L1"}, "b": {"made_in_pass": 6, "needles": "L2-L1"}}]
    )
    found = does_not_fit(plan)
    assert [(each.rule, each.severity) for each in found] == [("edge-missing", "error")]
    assert found[0].says.startswith("Seam 1 has no edge a:")


def test_loops_on_the_bed_are_a_warning_and_open_groups_a_note() -> None:
    plan = planned(
        [cast_on("L4-R4"), {"kind": "plain", "rows": 4}, scrap_off("neck", "L2-R2")],
    )
    assert [(each.rule, each.severity) for each in does_not_fit(plan)] == [
        ("stays-open", "note"),
        ("on-the-bed", "warning"),
    ]
