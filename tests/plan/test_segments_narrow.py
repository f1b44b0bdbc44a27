"""Narrowing: the sequence of the trade, its words, its refusals, and nothing to warn of."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from bedview.checks.judge import judge
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Gauge, Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.replan import replanned
from tests.plan.making import (
    PLAIN_4,
    cast_on,
    compiled,
    document,
    reference_piece,
    rows_of,
    widths_of,
    working,
)
from tests.reference.judge import findings as reference_findings
from tests.reference.simulator import run as reference_run

NARROW = 2  # the index of the narrowing in the pieces below


def narrowed(needles: int, *, carriage: str = "right", **fields: Any) -> Procedure:  # noqa: ANN401 - as a file
    """Plain rows, narrowing, plain rows."""
    segments = [cast_on(needles), PLAIN_4, {"kind": "narrow", **fields}, PLAIN_4]
    return compiled(needles, *segments, carriage=carriage)


def told(procedure: Procedure, segment: int = NARROW) -> list[str]:
    steps = [step for step in procedure.steps if step.segment == segment]
    return [". ".join((*step.hands, step.carriage or "stop")) for step in steps]


def heights(procedure: Procedure) -> list[int]:
    found: list[int] = procedure.timeline.state.height.tolist()
    return found


def test_three_edge_stitches_move_in_together() -> None:
    made = narrowed(28, stitches=1, ends="right", tool=3, rows=2)
    assert told(made) == [
        "Knit to the left",
        (
            "Move the stitches of R12 to R14 one needle in, with the 3-needle transfer tool. "
            "Push R14 back out of work. Knit to the right"
        ),
    ]
    last = [step for step in made.steps if step.segment == NARROW][-1]
    assert last.why == "The stitches on R11 knit together."
    assert last.brief == "R12 to R14 one in, R14 out of work, knit to the right"


def test_both_ends_in_one_row_the_carriage_side_first() -> None:
    made = narrowed(8, stitches=1, tool=2, every=1)
    assert told(made) == [
        (
            "Move the stitches of R3 and R4 one needle in, with the 2-needle transfer tool. "
            "Move the stitches of L4 and L3 one needle in, with the 2-needle transfer tool. "
            "Push L4 and R4 back out of work. Knit to the left"
        )
    ]


def test_with_one_needle_the_edge_stitch_goes_onto_its_neighbour() -> None:
    made = narrowed(8, stitches=1, tool=1, ends="left", every=1)
    assert told(made) == ["Move the loop of L4 onto L3. Push L4 back out of work. Knit to the left"]


@pytest.mark.parametrize(("fields", "widths"), [
    ({"every": 1}, [18, 16, 14]),
    ({}, [20, 18, 18, 16, 16, 14]),
    ({"at_once": True}, [18, 18, 16, 16, 14, 14]),
    ({"every": 3}, [20, 20, 18, 18, 18, 16, 16, 16, 14]),
    ({"rows": 3}, [18, 16, 14]),
    ({"rows": 4}, [18, 16, 16, 14]),
    ({"rows": 4, "at_once": True}, [18, 18, 16, 14]),
    ({"ends": "right", "rows": 3}, [19, 18, 17]),
    # 28 rows to 7 cm at 40 rows to 10 cm; 28 = 9 + 9 + 10.
    ({"length_cm": 7}, [20] * 8 + [18] * 9 + [16] * 10 + [14]),
])  # fmt: skip
def test_rows_and_widths(fields: dict[str, Any], widths: list[int]) -> None:
    segments = [
        cast_on(20) | {"tension": 6},
        PLAIN_4,
        {"kind": "narrow", "stitches": 3, **fields},
        {"kind": "bind_off"},
    ]
    made = compiled(20, *segments)
    assert widths_of(made, NARROW) == widths
    assert [finding.rule for finding in judge(made.timeline)] == []


def test_down_to_a_point_with_ever_smaller_tools() -> None:
    """Nine stitches: at both ends of 9 and 7 three move, of 5 two, of 3 one, onto the same needle."""
    start = {"kind": "cast_on", "needles": "L4-R5"}
    made = compiled(10, start, PLAIN_4, {"kind": "narrow", "stitches": 4, "tool": 3, "every": 1})
    hands = [step.hands for step in made.steps if step.segment == NARROW]
    assert [sentences[0].partition("with the ")[2][:1] for sentences in hands[:3]] == ["3", "3", "2"]
    # Seven rows are knitted, so the carriage stands on the left.
    assert hands[3][:2] == ("Move the loop of L1 onto R1", "Move the loop of R2 onto R1")
    assert heights(made) == [0] * 5 + [1] + [0] * 4
    assert [finding.rule for finding in judge(made.timeline)] == ["stitches-left"]


def test_slow_reference_agrees() -> None:
    made = narrowed(14, stitches=4, tool=3, rows=9)
    told = reference_run(reference_piece(made))
    assert {
        int(size): many for size, many in told.fabric["openings"].items()
    } == made.timeline.openings.sizes()
    assert [finding["rule"] for finding in reference_findings(told)] == ["stitches-left"]


def test_stitches_beside_a_held_group_move_towards_their_own_side() -> None:
    """A neck edge: one half waits in hold, the other is narrowed beside it."""
    aside = {"kind": "set_aside", "groups": ["L8-L1"]}
    made = compiled(
        16, cast_on(16), PLAIN_4, aside, {"kind": "narrow", "stitches": 2, "ends": "left"}, PLAIN_4
    )
    assert widths_of(made, 3) == [8, 7, 7, 6]
    hands = [step.hands for step in made.steps if step.segment == 3 and step.hands]
    assert hands[0] == (
        "Move the stitches of R1 and R2 one needle to the right, with the 2-needle transfer tool",
        "Push R1 back out of work",
    )
    assert {finding.rule for finding in judge(made.timeline)} == {"stitches-left"}


def test_needles_that_wait_between_are_in_the_way() -> None:
    held = {"kind": "actions", "actions": [{"do": "hold_cams", "on": True},
                                           {"do": "place", "needles": "R3", "position": "hold"}]}  # fmt: skip
    with pytest.raises(PlanError) as caught:
        compiled(8, cast_on(8), PLAIN_4, held, {"kind": "narrow", "stitches": 1, "ends": "right", "every": 1})
    assert caught.value.message == (
        "loops on R3 do not work and stand between the edge needles R1-R2,R4; bring them back first"
    )


@pytest.mark.parametrize(("needles", "fields", "says"), [
    (12, {"stitches": 6}, "only 12 needles work here; you asked to take 12 stitches away"),
    (12, {"stitches": 12, "ends": "left"}, "only 12 needles work here; you asked to take 12 stitches away"),
    (2, {"stitches": 1}, "only 2 needles work here; you asked to take 2 stitches away"),
])  # fmt: skip
def test_too_few_needles_are_told_with_the_numbers(needles: int, fields: dict[str, Any], says: str) -> None:
    with pytest.raises(PlanError) as caught:
        narrowed(needles, **fields)
    assert (caught.value.where, caught.value.message) == ("segments[2].stitches", says)


def test_a_length_of_too_few_rows_is_told_with_the_numbers() -> None:
    segments = [cast_on(30) | {"tension": 6}, PLAIN_4, {"kind": "narrow", "stitches": 9, "length_cm": 2}]
    with pytest.raises(PlanError) as caught:
        compiled(30, *segments)
    assert (caught.value.where, caught.value.message) == (
        "segments[2].length_cm",
        "2 cm are 8 rows; 9 stitches at an end need as many",
    )


@pytest.mark.parametrize(("fields", "says"), [
    ({"stitches": 11, "rows": 8}, "11 stitches at an end, one at a time, do not fit into 8 rows"),
    ({"stitches": 1, "rows": 8, "every": 2}, "give only one of rows, length_cm and every"),
    ({"stitches": 1, "tool": 4}, "less than or equal to 3"),
    ({"stitches": 1, "tool": True}, "valid integer"),
    ({"stitches": 0}, "greater than or equal to 1"),
    ({"stitches": 1, "ends": "in_turn"}, "'both', 'left' or 'right'"),
    ({}, "Field required"),
])  # fmt: skip
def test_what_is_no_narrowing_is_not_a_piece(fields: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        Piece.read(document(12, [cast_on(12), {"kind": "narrow", **fields}]))


def test_without_yarn_nothing_is_narrowed() -> None:
    cut = {"kind": "actions", "actions": [{"do": "cut"}]}
    with pytest.raises(PlanError, match="no yarn is in the feeder"):
        compiled(8, cast_on(8), PLAIN_4, cut, {"kind": "narrow", "stitches": 1})


def test_the_other_end_in_a_mirror() -> None:
    written = document(12, [cast_on(12), {"kind": "narrow", "stitches": 1, "ends": "left"}])
    image = mirror_piece(Piece.read(written)).to_document()
    assert image["segments"][1] == {"kind": "narrow", "stitches": 1, "ends": "right"}


def test_a_new_gauge_leaves_a_shaping_under_way_as_it_is() -> None:
    segments = [cast_on(30) | {"tension": 6}, PLAIN_4, {"kind": "narrow", "stitches": 5, "length_cm": 5}]
    before = compiled(30, *segments)
    assert rows_of(before, NARROW) == 20  # at 40 rows to 10 cm
    new = Gauge(yarn="main", tension=6, stitches=28, rows=50, over_mm=100)
    under_way, still_ahead = replanned(before, 10, new), replanned(before, 4, new)
    assert [caution.rule for caution in under_way.cautions] == ["shaping-goes-on"]
    assert widths_of(compile_piece(under_way.piece), NARROW) == widths_of(before, NARROW)
    assert rows_of(compile_piece(still_ahead.piece), NARROW) == 25


def test_with_nothing_said_it_is_every_second_row() -> None:
    made = narrowed(12, stitches=2)
    assert rows_of(made, NARROW) == 4
    assert working(made) == 8
