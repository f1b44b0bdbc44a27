"""Groups that wait, come back, leave in waste or are bound off; starts, plain rows and repeats."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from bedview.bed.actions import OpenEdge
from bedview.bed.needles import Side
from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from tests.plan.making import PLAIN_4, Segments, cast_on, compiled, document, reference_piece, rows_of
from tests.reference.simulator import run as reference_run


def rules(procedure: Procedure) -> list[str]:
    """Findings that are no notes."""
    return [finding.rule for finding in judge(procedure.timeline) if finding.severity is not Severity.NOTE]


def letters(procedure: Procedure) -> str:
    """Positions at the end, from left to right."""
    return "".join("owuh"[position] for position in procedure.timeline.state.position.tolist())


def refused(*segments: dict[str, Any], needles: int = 12) -> PlanError:
    with pytest.raises(PlanError) as caught:
        compiled(needles, *segments)
    return caught.value


# -- cast on ----------------------------------------------------------------------------------------------


def test_e_wrap_start() -> None:
    made = compiled(8, {"kind": "cast_on", "needles": "L3-R3", "tension": 6})
    state = made.timeline.state
    assert letters(made) == "owwwwwwo"
    assert (state.dial, state.passes, made.piece.yarns[state.yarn].id) == (6, 0, "main")
    assert state.height.tolist() == [0, 1, 1, 1, 1, 1, 1, 0]


def test_waste_start_leaves_open_loops_and_the_yarn_in_the_feeder() -> None:
    start = {"kind": "cast_on", "needles": "L4-R4", "how": "waste", "waste_rows": 8, "ravel": "cord"}
    made = compiled(8, start, PLAIN_4)
    assert rows_of(made, 0) == 8 + 1
    assert made.piece.yarns[made.timeline.state.yarn].id == "main"
    roles = [made.timeline.event_of(made.timeline.line_of_pass(row)).yarn for row in range(1, 14)]
    assert roles == [2] * 8 + [3] + [0] * 4
    assert rules(made) == ["stitches-left"]


def test_more_needles_are_cast_on_with_the_yarn_in_the_feeder() -> None:
    made = compiled(
        8,
        {"kind": "cast_on", "needles": "L3-R3", "yarn": "second"},
        PLAIN_4,
        {"kind": "cast_on", "needles": "R4"},
        PLAIN_4,
    )
    assert letters(made) == "owwwwwww"
    assert made.timeline.state.strands == 1


def test_casting_on_where_loops_are_is_refused() -> None:
    error = refused(cast_on(12), {"kind": "cast_on", "needles": "L6-L4"})
    assert (error.where, error.message) == ("segments[1].needles", "loops stand on L6-L4 already")


def test_waste_is_not_knitted_onto_what_works() -> None:
    first = {"kind": "cast_on", "needles": "L6-L4"}
    error = refused(first, {"kind": "cast_on", "needles": "R1-R3", "how": "waste"})
    assert error.message == "waste would be knitted onto L6-L4 too; hold them first"


# -- plain ------------------------------------------------------------------------------------------------


def test_length_is_turned_into_rows_by_the_gauge() -> None:
    made = compiled(8, cast_on(8), {"kind": "plain", "length_cm": 4.9, "tension": 6})
    assert made.timeline.passes == 20  # 49 mm × 40 / 100 mm = 19.6


def test_length_without_a_gauge_is_refused() -> None:
    error = refused(cast_on(12), {"kind": "plain", "length_cm": 5, "tension": 9})
    assert error.where == "segments[1].length_cm"
    assert error.message == "no gauge for the yarn 'main' at tension 9; add its swatch or give rows"


@pytest.mark.parametrize("fields", [{}, {"rows": 4, "length_cm": 2}])
def test_plain_wants_one_measure(fields: dict[str, Any]) -> None:
    with pytest.raises(ValidationError, match="either rows or length_cm"):
        Piece.read(document(8, [cast_on(8), {"kind": "plain", **fields}]))


def test_a_parked_yarn_is_picked_up_again() -> None:
    made = compiled(
        8,
        cast_on(8),
        PLAIN_4,
        {"kind": "plain", "rows": 2, "yarn": "second", "old_yarn": "park"},
        {"kind": "plain", "rows": 2, "yarn": "main", "tail_cm": 12},
    )
    assert made.timeline.state.strands == 2
    assert [step.hands for step in made.steps if step.hands][1:] == [
        ("Take the blue wool out of the feeder and let it wait, uncut", "Thread the yarn “second”"),
        (
            "Cut the yarn “second”, leaving a tail of 12 cm",
            "Put the blue wool, which waits, back into the feeder",
        ),
    ]


def test_plain_rows_on_nothing_are_refused() -> None:
    assert refused(PLAIN_4).message.startswith("no needle works here")


# -- set aside and bring back -----------------------------------------------------------------------------


@pytest.mark.parametrize("carriage", ["left", "right"])
def test_groups_go_to_hold_on_the_far_side_one_row_each(carriage: str) -> None:
    aside = {"kind": "set_aside", "groups": ["L6-L4", "R4-R6"]}
    made = compiled(12, cast_on(12), PLAIN_4, aside, carriage=carriage)
    assert rows_of(made, 2) == 2
    assert letters(made) == "hhhwwwwwwhhh"
    events = [made.timeline.event_of(made.timeline.line_of_pass(row)) for row in (5, 6)]
    assert [len(event.knit) for event in events] == [9, 6]
    assert not any(len(event.wrapped) for event in events)


def test_a_group_on_the_side_of_the_carriage_waits_for_one_row() -> None:
    made = compiled(12, cast_on(12), PLAIN_4, {"kind": "set_aside", "groups": ["R4-R6"], "wraps": "hand"})
    assert made.timeline.state.carriage is Side.RIGHT
    assert rows_of(made, 2) == 2
    assert made.steps[-1].hands == ("Wrap R4 by hand",)


@pytest.mark.parametrize(("group", "says"), [
    ("L2-R2", "the group L2-R2 reaches no end of the needles that work, L6-R6"),
    ("L6-R6", "setting L6-R6 aside would leave no needle to knit"),
    ("R8", "nothing works on R8 here"),
])  # fmt: skip
def test_groups_that_cannot_be_set_aside(group: str, says: str) -> None:
    start = {"kind": "cast_on", "needles": "L6-R6"}
    assert refused(start, PLAIN_4, {"kind": "set_aside", "groups": [group]}, needles=16).message == says


def test_hand_wrapped_groups_come_back_without_a_gap() -> None:
    made = compiled(
        12,
        cast_on(12),
        PLAIN_4,
        {"kind": "set_aside", "groups": ["L6-L4"], "wraps": "hand"},
        {"kind": "bring_back", "ends": "all_at_once"},
        PLAIN_4,
    )
    assert rules(made) == ["stitches-left"]
    assert letters(made) == "w" * 12


def test_what_is_not_held_does_not_come_back() -> None:
    error = refused(
        cast_on(12),
        PLAIN_4,
        {"kind": "set_aside", "groups": ["R4-R6"]},
        {"kind": "bring_back", "needles": "R3-R6"},
    )
    assert (error.where, error.message) == ("segments[3].needles", "no loops are in hold on R3")
    assert refused(cast_on(12), {"kind": "bring_back"}).message == "no needle is in hold here"


# -- scrap off and bind off -------------------------------------------------------------------------------

BODY = [cast_on(12), PLAIN_4]
GROUPS = ["L2-R2", "L6-L3", "R3-R6"]


@pytest.mark.parametrize("carriage", ["left", "right"])
@pytest.mark.parametrize("old_yarn", ["cut", "park"])
def test_groups_leave_one_by_one_with_their_loops_open(carriage: str, old_yarn: str) -> None:
    off = [{"kind": "scrap_off", "needles": group, "rows": 8, "old_yarn": old_yarn} for group in GROUPS]
    made = compiled(12, *BODY, {"kind": "set_aside", "groups": ["L6-L3", "R3-R6"]}, *off, carriage=carriage)
    assert rules(made) == []
    assert letters(made) == "o" * 12
    assert [
        len(made.timeline.edge_loops(OpenEdge(tuple(range(first, last))))) for first, last in ((0, 4), (4, 8))
    ] == [
        4,
        4,
    ]
    assert reference_run(reference_piece(made)).fabric["unsecured"] == 0


def test_scrapping_off_takes_rows_of_waste_and_one_empty_pass() -> None:
    made = compiled(12, *BODY, {"kind": "scrap_off", "rows": 7, "ravel": "cord", "tail_cm": 30})
    assert rows_of(made, 2) == 1 + 7 + 1
    assert made.steps[1 + 4].hands == (
        "Cut the blue wool, leaving a tail of 30 cm",
        "Thread the yarn “cord”",
    )


def test_three_rows_of_waste_are_too_few() -> None:
    made = compiled(12, *BODY, {"kind": "scrap_off", "rows": 3})
    assert rules(made) == ["waste-too-short"]


def test_waste_must_not_be_laid_round_what_stands_between() -> None:
    error = refused(*BODY, {"kind": "scrap_off", "needles": "L6-L3,R3-R6"})
    assert error.message == "the waste would be laid round L2-R2, which stand between"


def test_bind_off_closes_all_and_cuts() -> None:
    made = compiled(12, *BODY, {"kind": "bind_off", "tail_cm": 20})
    assert rules(made) == []
    assert not made.timeline.state.threaded
    assert made.steps[-1].hands == (
        "Bind off L6 to R6, beginning at the right",
        "Cut the blue wool, leaving a tail of 20 cm",
    )


def test_empty_needles_cannot_be_bound_off() -> None:
    start = {"kind": "cast_on", "needles": "L3-R3"}
    error = refused(start, PLAIN_4, {"kind": "bind_off", "needles": "L4-L2"})
    assert error.message == "there are no loops to bind off on L4"


# -- repeat -----------------------------------------------------------------------------------------------

WEDGE = [
    {"kind": "short_rows", "down_to": 4, "ends": "right", "needles_a_step": 2, "wraps": "hand",
     "back": {"all_at_once": True}},
    {"kind": "plain", "rows": 2},
]  # fmt: skip


def test_repeats_build_from_the_state_of_each_time() -> None:
    made = compiled(
        12, cast_on(12), {"kind": "plain", "rows": 1}, {"kind": "repeat", "times": 3, "segments": WEDGE}
    )
    assert rows_of(made, 2) == 3 * (4 * 2 + 2)
    inner = [(span.path, span.turns) for span in made.spans if span.path[0] == 2]
    assert inner == [
        ((2,), (0,)),
        *(((2, place), (0, turn)) for turn in range(3) for place in range(2)),
    ]
    assert rules(made) == ["stitches-left"]


def test_an_error_inside_a_repeat_tells_the_way_there() -> None:
    inner = {"kind": "repeat", "times": 2, "segments": [PLAIN_4, {"kind": "short_rows", "down_to": 40}]}
    error = refused(cast_on(12), {"kind": "repeat", "times": 2, "segments": [inner]})
    assert error.where == "segments[1].segments[0].segments[1].down_to"


def test_repeats_lie_in_each_other_eight_deep_at_most() -> None:
    nest: dict[str, Any] = PLAIN_4
    for _ in range(8):
        nest = {"kind": "repeat", "times": 1, "segments": [nest]}
    assert compiled(8, cast_on(8), nest).timeline.passes == 4
    with pytest.raises(ValidationError, match="more than 8 deep"):
        Piece.read(document(8, [{"kind": "repeat", "times": 1, "segments": [nest]}]))


def test_all_kinds_build_from_either_side() -> None:
    """The same plan from left and right: every kind finds its own way."""
    segments: Segments = [
        {"kind": "cast_on", "needles": "L6-R6", "how": "waste"},
        PLAIN_4,
        {"kind": "short_rows", "down_to": 5, "back": {"wraps": "hand"}},
        {"kind": "repeat", "times": 2, "segments": [{"kind": "plain", "rows": 1}]},
        {"kind": "set_aside", "groups": ["R4-R6"], "wraps": "hand"},
        {"kind": "bring_back", "ends": "right", "needles_a_step": 2},
        {"kind": "plain", "rows": 3},
        {"kind": "set_aside", "groups": ["L6-L3"]},
        {"kind": "scrap_off", "needles": "L2-R6", "old_yarn": "park"},
        {"kind": "bring_back", "ends": "all_at_once"},
        {"kind": "plain", "rows": 2, "yarn": "main"},
        {"kind": "bind_off", "tail_cm": 10},
    ]
    for carriage in ("left", "right"):
        made = compile_piece(Piece.read(document(12, segments, carriage=carriage)))
        assert [rule for rule in rules(made) if rule != "long-float"] == []
        assert letters(made) == "o" * 12
