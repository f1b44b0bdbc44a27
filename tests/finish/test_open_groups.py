import numpy as np
import pytest

from bedview.bed.actions import OpenEdge
from bedview.finish.finish_plan import FinishPlan, finish_plan
from bedview.finish.open_groups import Where, open_groups
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from tests.finish.pieces import cast_on, document, flat, planned, scrap_off


def demo(name: str) -> FinishPlan:
    piece = read_piece(demo_paths()[name])
    return finish_plan(piece, compile_piece(piece))


def said(plan: FinishPlan) -> list[tuple[str, str, int, str]]:
    words = plan.procedure.words
    return [(g.name, g.where.value, len(g.loops), words.needles(g.needles)) for g in plan.groups]


def test_the_bootee_leaves_three_groups_in_waste() -> None:
    # 34 needles: 9 + 16 + 9; scrapped off as toe, one flap, other flap.
    assert said(demo("harbour-bootee")) == [
        ("toe", "waste", 16, "L8 to R8"),
        ("one flap", "waste", 9, "L17 to L9"),
        ("other flap", "waste", 9, "R9 to R17"),
    ]


def test_the_hat_begins_and_ends_on_waste() -> None:
    plan = demo("mountain-hut-hat")
    assert said(plan) == [
        ("", "waste_start", 36, "L18 to R18"),
        ("last course", "waste", 36, "L18 to R18"),
    ]
    start, end = plan.groups
    # Eight rows and the cord; the first fabric row is pass 8 + 1 + 1.
    assert (start.waste_rows, start.cord, start.passes) == (9, True, 10)
    assert (end.waste_rows, end.cord) == (8, False)


@pytest.mark.parametrize("name", ["harbour-bootee", "allotment-vest-shoulders", "mountain-hut-hat"])
def test_groups_are_what_the_edges_of_the_bed_find(name: str) -> None:
    plan = demo(name)
    for group in plan.groups:
        if group.where is Where.WASTE:
            edge = OpenEdge(group.needles, group.passes)
            assert plan.procedure.timeline.edge_loops(edge) == list(group.loops)


def test_what_is_bound_off_is_closed() -> None:
    assert planned(flat(6)).groups == ()


def test_loops_on_the_bed_are_a_group() -> None:
    plan = planned([cast_on("L3-R3"), {"kind": "plain", "rows": 4}])
    assert said(plan) == [("", "bed", 6, "L3 to R3")]
    # Six cast on, then rows of six; the fourth runs to the right.
    assert plan.groups[0].loops == (24, 25, 26, 27, 28, 29)


def test_a_group_hung_back_is_open_no_more() -> None:
    plan = planned(
        [
            cast_on("L3-R3"),
            {"kind": "plain", "rows": 4},
            scrap_off("collar"),
            {"kind": "hang", "group": "collar", "needles": "L3-R3", "yarn": "main", "rows": 2},
            {"kind": "bind_off", "tail_cm": 10},
        ]
    )
    assert plan.groups == ()


def test_a_first_row_hung_for_a_hem_is_open_no_more() -> None:
    plan = planned(
        [
            {"kind": "cast_on", "needles": "L3-R3", "how": "waste", "yarn": "main", "group": "start"},
            {"kind": "plain", "rows": 6},
            {"kind": "hang", "group": "start", "needles": "L3-R3", "turned": False, "rows": 2},
            {"kind": "bind_off", "tail_cm": 10},
        ]
    )
    assert plan.groups == ()


def test_two_pieces_parted_by_waste_are_open_on_both_sides_of_it() -> None:
    actions = [
        {"do": "thread", "yarn": "main"},
        {"do": "cast_on", "needles": "L2-R2"},
        {"do": "knit", "rows": 3},
        {"do": "cut", "tail_cm": 30},
        {"do": "thread", "yarn": "waste"},
        {"do": "knit", "rows": 5},
        {"do": "thread", "yarn": "main"},
        {"do": "knit", "rows": 3},
        {"do": "bind_off", "needles": "L2-R2"},
    ]
    plan = planned([{"kind": "actions", "actions": actions}])
    assert [(g.where, g.passes, g.waste_rows) for g in plan.groups] == [
        # Row 9 is the first of the upper piece; the lower one's waste never dropped.
        (Where.WASTE_START, 9, 5),
        (Where.WASTE, 11, 0),
    ]
    fabric = plan.procedure.timeline.fabric
    assert set(fabric.pass_of(np.array(plan.groups[1].loops)).tolist()) == {3}


def test_a_cord_next_to_the_loops_is_told() -> None:
    plan = planned([cast_on("L2-R2"), {"kind": "plain", "rows": 3}, scrap_off("end", ravel="cord")])
    (group,) = plan.groups
    assert (group.cord, group.waste_rows) == (True, 9)


def test_a_piece_without_a_row_has_no_groups() -> None:
    assert open_groups(compile_piece(Piece.read(document([])))) == []
