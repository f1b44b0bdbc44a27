"""Widening in four ways: the sequences, their words, their refusals, and nothing to warn of."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from tests.plan.making import PLAIN_4, compiled, document, reference_piece, rows_of, widths_of
from tests.reference.judge import findings as reference_findings
from tests.reference.simulator import run as reference_run

WIDEN = 2  # the index of the widening in the pieces below
START = {"kind": "cast_on", "needles": "L4-R4", "yarn": "main", "tension": 6}


def widened(*, carriage: str = "right", needles: int = 40, **fields: Any) -> Procedure:  # noqa: ANN401 - as a file
    """Eight stitches, plain rows, widening, plain rows."""
    return compiled(needles, START, PLAIN_4, {"kind": "widen", **fields}, PLAIN_4, carriage=carriage)


def told(procedure: Procedure, segment: int = WIDEN) -> list[str]:
    steps = [step for step in procedure.steps if step.segment == segment]
    return [". ".join((*step.hands, step.carriage or "stop")) for step in steps]


def findings(procedure: Procedure) -> list[tuple[str, Severity]]:
    """Findings but for the stitches that stay on the bed."""
    found = [(finding.rule, finding.severity) for finding in judge(procedure.timeline)]
    return [each for each in found if each[0] != "stitches-left"]


def test_two_stitches_move_out_and_the_gap_is_filled_with_a_heel() -> None:
    made = widened(stitches=1, ends="right", tool=2, every=1)
    assert told(made) == [
        (
            "Bring R5 to working position. "
            "Move the stitches of R3 and R4 one needle out, with the 2-needle transfer tool. "
            "Hang the heel of the stitch beside it, from row 3, on the empty R3. Knit to the left"
        )
    ]
    assert findings(made) == []


def test_the_heel_is_the_loop_below_the_stitch_that_moved() -> None:
    """R3 knitted loops in rows 1 to 4: what is hung is the one of row 3, and its fourth moved to R4."""
    made = widened(stitches=1, ends="right", tool=2, every=1)
    fabric, line = made.timeline.fabric, made.timeline.line_of_pass(5)
    before = made.timeline.state_at(line - 1)
    hung = fabric.loops_of(before.top[[22, 23]]).tolist()  # R3 and R4
    assert fabric.needle[hung].tolist() == [22, 22]
    assert fabric.pass_of(fabric.loops_of(before.top[[22, 23]])).tolist() == [3, 4]
    assert fabric.parents(hung[1]) == [hung[0]]


def test_eyelets_by_choice_are_laid_in() -> None:
    made = widened(stitches=2, ends="left", tool=3, how="eyelet", every=2)
    assert told(made) == [
        "Knit to the left",
        (
            "Bring L5 to working position. "
            "Move the stitches of L4 to L2 one needle out, with the 3-needle transfer tool. Knit to the right"
        ),
        "Knit to the left",
        (
            "Bring L6 to working position. "
            "Move the stitches of L5 to L3 one needle out, with the 3-needle transfer tool. Knit to the right"
        ),
    ]
    assert findings(made) == [("laid-in", Severity.NOTE)] * 2


@pytest.mark.parametrize("carriage", ["left", "right"])
def test_new_edge_needles_come_on_the_side_of_the_carriage(carriage: str) -> None:
    made = widened(stitches=2, how="laid_in", every=3, carriage=carriage)
    near, far = ("L", "R") if carriage == "left" else ("R", "L")
    hands = [step.hands for step in made.steps if step.segment == WIDEN]
    # Rows 1, 3 and 5 begin on the near side; the ends take rows 2 and 3, then 5 and 6.
    assert hands == [
        (),
        (f"Bring {far}5 to working position",),
        (f"Bring {near}5 to working position",),
        (),
        (f"Bring {near}6 to working position",),
        (f"Bring {far}6 to working position",),
    ]
    assert [rule for rule, _ in findings(made)] == ["laid-in"] * 4


@pytest.mark.parametrize(("side", "carriage", "hands"), [
    ("right", "right", [("Cast on R5 with e-wraps, ending at the right",), (),
                        ("Cast on R6 with e-wraps, ending at the right",), ()]),
    ("left", "right", [(), ("Cast on L5 with e-wraps, ending at the left",),
                       (), ("Cast on L6 with e-wraps, ending at the left",)]),
])  # fmt: skip
def test_one_end_by_e_wraps_takes_every_second_row(side: str, carriage: str, hands: list[Any]) -> None:
    made = widened(stitches=2, ends=side, how="e_wrap", carriage=carriage)
    assert [step.hands for step in made.steps if step.segment == WIDEN] == hands
    assert findings(made) == []


@pytest.mark.parametrize(("fields", "widths"), [
    ({"every": 1}, [10, 12, 14]),
    ({}, [8, 10, 10, 12, 12, 14]),
    ({"at_once": True}, [10, 10, 12, 12, 14, 14]),
    ({"rows": 5}, [10, 10, 12, 12, 14]),  # 5 = 1 + 2 + 2
    ({"how": "eyelet", "every": 1, "ends": "right"}, [9, 10, 11]),
    ({"how": "e_wrap"}, [9, 10, 11, 12, 13, 14]),
    ({"how": "laid_in", "rows": 8}, [9, 10, 10, 11, 12, 12, 13, 14]),  # ends with rows 2, 5 and 8
    ({"how": "laid_in", "rows": 8, "at_once": True}, [9, 10, 10, 11, 12, 12, 13, 14]),
    ({"how": "laid_in", "rows": 5, "ends": "right"}, [9, 9, 10, 10, 11]),
    ({"how": "laid_in", "rows": 6, "ends": "left"}, [8, 9, 9, 10, 10, 11]),
    ({"how": "laid_in", "every": 4, "ends": "right"}, [8, 8, 9, 9, 9, 9, 10, 10, 10, 10, 11, 11]),
])  # fmt: skip
def test_rows_and_widths(fields: dict[str, Any], widths: list[int]) -> None:
    assert widths_of(widened(stitches=3, **fields), WIDEN) == widths


@pytest.mark.parametrize("how", ["heel", "eyelet", "laid_in", "e_wrap"])
def test_slow_reference_agrees(how: str) -> None:
    made = widened(stitches=3, how=how, tool=3, rows=8)
    told = reference_run(reference_piece(made))
    assert {
        int(size): many for size, many in told.fabric["openings"].items()
    } == made.timeline.openings.sizes()
    ours = [finding.rule for finding in judge(made.timeline)]
    assert [finding["rule"] for finding in reference_findings(told)] == ours


def test_an_edited_piece_hangs_the_same_heels() -> None:
    """Behind an edit the fabric already holds what comes later; heels must be found as at their time."""
    wide = {"kind": "widen", "stitches": 3, "every": 2}
    once = Piece.read(document(40, [START, PLAIN_4, wide, PLAIN_4, wide]))
    longer = Piece.read(document(40, [START, PLAIN_4, wide, {"kind": "plain", "rows": 5}, wide]))
    again = compile_piece(once, compile_piece(longer, compile_piece(once)))
    assert list(again.actions) == list(compile_piece(once).actions)


# -- refusals ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("fields", "where", "says"), [
    ({"stitches": 17, "every": 1}, "stitches",
     "only 16 needles are free on the right; you asked for 17 more there"),
    ({"stitches": 17, "ends": "left", "how": "laid_in"}, "stitches",
     "only 16 needles are free on the left; you asked for 17 more there"),
])  # fmt: skip
def test_the_end_of_the_bed_is_told_with_the_numbers(fields: dict[str, Any], where: str, says: str) -> None:
    with pytest.raises(PlanError) as caught:
        widened(**fields)
    assert (caught.value.where, caught.value.message) == (f"segments[2].{where}", says)


def test_needles_with_loops_are_no_room() -> None:
    aside = {"kind": "set_aside", "groups": ["L4-L2"]}
    with pytest.raises(PlanError) as caught:
        compiled(40, START, PLAIN_4, aside, {"kind": "widen", "stitches": 2, "ends": "left"})
    assert caught.value.message == (
        "no needle is free on the left before L2, which bears loops; you asked for 2 more there"
    )


def test_one_stitch_cannot_move_out_both_ways() -> None:
    one = {"kind": "cast_on", "needles": "R1"}
    with pytest.raises(PlanError) as caught:
        compiled(40, one, PLAIN_4, {"kind": "widen", "stitches": 2})
    assert (caught.value.where, caught.value.message) == (
        "segments[2].how",
        "only 1 needle works here; moving stitches out at both ends takes 3",
    )
    made = compiled(40, one, PLAIN_4, {"kind": "widen", "stitches": 2, "how": "e_wrap"}, PLAIN_4)
    assert widths_of(made, WIDEN) == [2, 3, 4, 5]


@pytest.mark.parametrize("start", [START, START | {"how": "waste", "ravel": "cord"}])
def test_new_stitches_have_no_heel(start: dict[str, Any]) -> None:
    with pytest.raises(PlanError) as caught:
        compiled(40, start, {"kind": "widen", "stitches": 1, "tool": 2, "every": 1})
    assert caught.value.where == "segments[1].how"
    assert caught.value.message in {
        f"the stitch on {edge} is new and has no heel to hang yet; knit rows first, or choose another way"
        for edge in ("L3", "R3")
    }


def test_from_the_second_row_on_the_cast_on_edge_is_the_heel() -> None:
    made = compiled(40, START, {"kind": "widen", "stitches": 2}, PLAIN_4)
    assert findings(made) == []
    assert rows_of(made, 1) == 4


@pytest.mark.parametrize(("fields", "says"), [
    ({"how": "laid_in", "every": 1}, "must be at least 2, not 1"),
    ({"how": "e_wrap", "every": 3, "ends": "left"}, "must be an even number, not 3"),
    ({"how": "laid_in", "rows": 5}, ("3 new edge needles at both ends, each on the carriage's side, "
                                    "take at least 6 rows from here, not 5")),
    ({"how": "laid_in", "rows": 4, "ends": "right"}, "take at least 5 rows from here, not 4"),
    ({"how": "heel", "rows": 2}, "3 stitches at an end, one at a time, do not fit into 2 rows"),
])  # fmt: skip
def test_what_no_carriage_can_do_is_not_a_piece(fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        Piece.read(document(40, [START, {"kind": "widen", "stitches": 3, **fields}]))


def test_a_row_less_will_do_only_where_the_carriage_stands() -> None:
    assert rows_of(widened(stitches=3, how="laid_in", rows=5, ends="right"), WIDEN) == 5
    with pytest.raises(PlanError) as caught:
        widened(stitches=3, how="laid_in", rows=5, ends="left")
    assert (caught.value.where, caught.value.message) == (
        "segments[2].rows",
        "3 new edge needles on the left, each on the carriage's side, take at least 6 rows from here, not 5",
    )
