from bedview.finish.finish_plan import FinishPlan
from tests.finish.pieces import cast_on, flat, graft, planned, scrap_off, toe_and_flaps

GRAFTS = [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")]


def order(plan: FinishPlan) -> list[int]:
    return [sewing.seam.place for sewing in plan.sewing]


def where(plan: FinishPlan, number: int) -> tuple[list[str], list[str]]:
    """Needles at which a seam begins and ends."""
    words, sewing = plan.procedure.words, plan.sewing[number]
    begin, end = (
        [words.needles([place.needle]) for place in places] for places in (sewing.begin, sewing.end)
    )
    return begin, end


def test_grafts_go_where_the_thread_leads_and_come_before_the_side() -> None:
    # The toe's last row, pass 14, ends at the right: its tail hangs at R2, where R2 meets R3.
    plan = toe_and_flaps(3, 4, GRAFTS)
    assert order(plan) == [2, 1, 0]
    assert where(plan, 0) == (["R3", "R2"], ["R4", "R1"])
    # R1 and L1 are neighbours: the thread goes on there.
    assert where(plan, 1) == (["L4", "L1"], ["L3", "L2"])
    assert [(sewing.tail, sewing.goes_on) for sewing in plan.sewing[:2]] == [(1, False), (1, True)]


def test_a_thread_too_short_for_both_grafts_is_not_gone_on_with() -> None:
    # 15 cm to hold and 4.2 cm for each graft: 21 cm are enough for one, not for two.
    plan = toe_and_flaps(3, 4, GRAFTS, tail_cm=21)
    assert [(sewing.tail, sewing.goes_on) for sewing in plan.sewing[:2]] == [(1, False), (None, False)]


def test_the_bootee_of_two_tails_in_one() -> None:
    # Two grafts of 4.2 cm, and 15 cm: 23.4 cm are just enough.
    plan = toe_and_flaps(3, 4, GRAFTS, tail_cm=23.4)
    assert [sewing.goes_on for sewing in plan.sewing] == [False, True, False]


def test_a_side_seam_begins_at_the_tail_from_casting_on() -> None:
    # The carriage stands at the right, so casting on begins at the left end: the tail hangs at L5.
    plan = toe_and_flaps(3, 4, GRAFTS)
    side = plan.sewing[-1]
    assert (side.seam.kind, side.backward) == ("mattress", False)
    tail = plan.ends[side.tail or 0]
    assert (tail.is_start, plan.procedure.words.needles([tail.needle])) == (True, "L5")


def test_where_no_tail_hangs_one_sews_from_the_closed_end() -> None:
    # The left edge meets the right one from row 4 up; the strand begins at row 1 and ends at the graft.
    plan = planned(
        [cast_on("L5-R5"), {"kind": "plain", "rows": 12}, scrap_off("end", tail_cm=60)],
        [
            {
                "kind": "mattress",
                "a": {"side": "left", "passes": [4, 12]},
                "b": {"side": "right", "passes": [4, 12]},
            },
            graft("L4-L1", "R1-R4"),
        ],
    )
    assert order(plan) == [1, 0]
    assert (plan.sewing[1].backward, plan.sewing[1].tail) == (True, None)


def test_a_seam_with_an_opening_comes_last() -> None:
    sides = {"a": {"side": "left", "passes": [1, 20]}, "b": {"side": "right", "passes": [1, 20]}}
    upper = {"a": {"side": "left", "passes": [21, 30]}, "b": {"side": "right", "passes": [21, 30]}}
    plan = planned(
        flat(30),
        [{"kind": "mattress", **sides, "open_rows": 4}, {"kind": "mattress", **upper}],
    )
    assert order(plan) == [1, 0]


def test_a_tail_of_another_yarn_sews_nothing_here() -> None:
    plan = planned(
        [
            cast_on("L4-R4"),
            {"kind": "plain", "rows": 6},
            {"kind": "plain", "rows": 2, "yarn": "other", "tail_cm": 20},
            scrap_off("end", tail_cm=60),
        ],
        [{"kind": "graft", "a": {"made_in_pass": 0, "needles": "L4-R4"}, "b": {"open": "L4-R4"}}],
    )
    # A graft is sewn with the yarn of its edge a: the 60 cm of the other yarn, at edge b, are not taken, but
    # the tail from casting on at L4.
    assert [plan.piece.yarns[end.yarn].id for end in plan.ends if end.cm == 60] == ["other"]
    assert plan.sewing[0].tail == 0
