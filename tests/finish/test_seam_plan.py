import pytest

from bedview.finish.finish_plan import FinishPlan
from bedview.finish.seam_plan import SeamPlan
from tests.finish.pieces import ROW_MM, STITCH_MM, cast_on, flat, graft, planned, scrap_off, toe_and_flaps

SIDES = {"a": {"side": "left", "passes": [1, 20]}, "b": {"side": "right", "passes": [1, 20]}}


def only(plan: FinishPlan) -> SeamPlan:
    (seam,) = plan.seams
    return seam


def test_a_graft_takes_a_course_of_yarn() -> None:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1")])
    seam = plan.seams[1]
    # Two stitches of 5 mm. Munden's Kw, fully relaxed: the yarn of a course is 4.2 times its width; and
    # 15 cm, as an encyclopedia's article on grafting adds 6 inches.
    assert seam.a.length_mm == pytest.approx(2 * STITCH_MM)
    assert seam.sewing_cm == pytest.approx(4.2 * 1.0)
    assert seam.yarn_cm == pytest.approx(4.2 * 1.0 + 15)
    assert (seam.easing, seam.lengths) == (0, 1)


def test_a_long_graft_is_done_with_one_thread() -> None:
    plan = planned(
        [
            {"kind": "cast_on", "needles": "L20-R20", "how": "waste", "yarn": "main", "tension": 6},
            {"kind": "plain", "rows": 6},
            scrap_off("end"),
        ],
        [{"kind": "graft", "a": {"made_in_pass": 9, "needles": "L20-R20"}, "b": {"open": "L20-R20"}}],
    )
    seam = only(plan)
    assert seam.sewing_cm == pytest.approx(4.2 * 20)
    assert seam.yarn_cm == pytest.approx(4.2 * 20 + 15)
    assert (seam.a.group, seam.b.group) == (0, 1)


def test_a_mattress_seam_goes_up_both_sides_and_crosses_twice_a_row() -> None:
    plan = planned(flat(20), [{"kind": "mattress", **SIDES}])
    seam = only(plan)
    assert len(seam.a.loops) == len(seam.b.loops) == 20
    assert seam.length_mm == pytest.approx(20 * ROW_MM)
    # A row: its height on either side, and two crossings of half of it each.
    assert seam.sewing_cm == pytest.approx(20 * (2 * ROW_MM + 2 * ROW_MM / 2) / 10)
    assert (seam.stitches_in, seam.easing) == (1, 0)


def test_an_overcast_seam_goes_round_two_edge_stitches_a_row() -> None:
    plan = planned(flat(20), [{"kind": "overcast", **SIDES}])
    assert only(plan).sewing_cm == pytest.approx(20 * (2 * STITCH_MM + ROW_MM) / 10)


def test_a_long_seam_is_sewn_in_lengths_of_half_a_metre() -> None:
    plan = planned(
        flat(100),
        [
            {
                "kind": "mattress",
                "a": {"side": "left", "passes": [1, 100]},
                "b": {"side": "right", "passes": [1, 100]},
            }
        ],
    )
    seam = only(plan)
    # 40 cm long: 120 cm in the seam, of each length 50 − 15 = 35 cm of it.
    assert seam.sewing_cm == pytest.approx(120)
    assert seam.lengths == 4
    assert seam.yarn_cm == pytest.approx(120 + 4 * 15)


@pytest.mark.parametrize(("a", "b", "easing"), [(20, 20, 0.0), (22, 20, 0.10), (20, 25, 0.25)])
def test_easing_is_what_the_longer_edge_has_over_the_shorter(a: int, b: int, easing: float) -> None:
    plan = planned(
        flat(30),
        [
            {
                "kind": "mattress",
                "a": {"side": "left", "passes": [1, a]},
                "b": {"side": "right", "passes": [1, b]},
            }
        ],
    )
    assert only(plan).easing == pytest.approx(easing)


def test_rows_and_stitches_are_compared_by_their_length() -> None:
    # Ten stitches of 5 mm cast on, and 12 rows of 4 mm: 50 to 48 mm.
    plan = planned(
        flat(20),
        [
            {
                "kind": "mattress",
                "a": {"made_in_pass": 0, "needles": "L5-R5"},
                "b": {"side": "right", "passes": [1, 12]},
            }
        ],
    )
    assert only(plan).easing == pytest.approx(50 / 48 - 1)


def test_loops_come_in_the_order_in_which_they_are_joined() -> None:
    plan = toe_and_flaps(3, 4, [graft("L4-L3", "L2-L1")])
    seam = plan.seams[1]
    words = plan.procedure.words
    assert [words.needles([needle]) for needle in seam.a.needles] == ["L4", "L3"]
    assert [words.needles([needle]) for needle in seam.b.needles] == ["L1", "L2"]


def test_an_edge_that_is_not_there_is_a_problem() -> None:
    plan = planned(
        [cast_on("L2-R2"), {"kind": "plain", "rows": 4}, {"kind": "bind_off", "tail_cm": 10}],
        [{"kind": "graft", "a": {"open": "L2-L1"}, "b": {"open": "R1-R2"}}],
    )
    assert plan.seams == ()
    assert [(problem.place, problem.edge) for problem in plan.problems] == [(0, "a"), (0, "b")]
    assert "L2" in plan.problems[0].message
