from bedview.finish.finish_plan import FinishPlan
from tests.finish.pieces import cast_on, planned, scrap_off


def said(plan: FinishPlan) -> list[tuple[str, bool, str, int, float | None, bool]]:
    words, yarns = plan.procedure.words, plan.piece.yarns
    return [
        (yarns[end.yarn].id, end.is_start, words.needles([end.needle]), end.passes, end.cm, end.cut)
        for end in plan.ends
    ]


def actions(*items: dict[str, object]) -> FinishPlan:
    return planned([{"kind": "actions", "actions": list(items)}])


def test_a_strand_has_two_ends_and_waste_has_none() -> None:
    plan = planned([cast_on("L3-R3"), {"kind": "plain", "rows": 3}, scrap_off("end", tail_cm=50)])
    # Three rows from the right: the last loop is at the left end.
    assert said(plan) == [
        ("main", True, "L3", 0, None, True),
        ("main", False, "L3", 3, 50, True),
    ]


def test_a_strand_that_waits_is_one_strand() -> None:
    plan = actions(
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L3-R3"},
        {"do": "knit", "rows": 2},
        {"do": "park"},
        {"do": "thread", "yarn": "other"},
        {"do": "knit", "rows": 2},
        {"do": "cut", "tail_cm": 12},
        {"do": "resume", "yarn": "main"},
        {"do": "knit", "rows": 2},
        {"do": "bind_off", "needles": "L3-R3"},
        {"do": "cut", "tail_cm": 20},
    )
    assert said(plan) == [
        ("main", True, "L3", 0, None, True),
        # Bound off from the carriage's side, the right, to the left end.
        ("main", False, "L3", 6, 20, True),
        ("other", True, "R3", 3, None, True),
        ("other", False, "R3", 4, 12, True),
    ]


def test_resuming_one_yarn_lets_the_other_wait() -> None:
    plan = actions(
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L3-R3"},
        {"do": "knit", "rows": 2},
        {"do": "park"},
        {"do": "thread", "yarn": "other"},
        {"do": "knit", "rows": 2},
        {"do": "resume", "yarn": "main"},
        {"do": "knit", "rows": 2},
        {"do": "cut", "tail_cm": 9},
        {"do": "resume", "yarn": "other"},
        {"do": "knit", "rows": 1},
    )
    assert [(yarn, end, cm, cut) for yarn, start, _, end, cm, cut in said(plan) if not start] == [
        ("main", 6, 9, True),
        ("other", 7, None, False),
    ]


def test_threading_cuts_the_strand_before_without_a_tail() -> None:
    plan = actions(
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L3-R3"},
        {"do": "knit", "rows": 2},
        {"do": "thread", "yarn": "other"},
        {"do": "knit", "rows": 2},
    )
    assert said(plan)[1] == ("main", False, "R3", 2, None, True)
    assert said(plan)[3] == ("other", False, "R3", 4, None, False)


def test_a_strand_that_knits_nothing_has_no_ends() -> None:
    plan = actions(
        {"do": "thread", "yarn": "main"},
        {"do": "cut"},
        {"do": "thread", "yarn": "other"},
        {"do": "cast_on", "needles": "L3-R3"},
    )
    assert [yarn for yarn, *_ in said(plan)] == ["other", "other"]
