"""Groups and edges hung back on the needles, by name or by edge; and the starts that give them names."""

from __future__ import annotations

import json
from typing import Any

import pytest
from pydantic import ValidationError

from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.session.really_knitted import Change, with_change
from tests.plan.making import PLAIN_4, cast_on, compiled, document, reference_piece, rows_of
from tests.reference.judge import findings as reference_findings
from tests.reference.simulator import run as reference_run

OFF = {"kind": "scrap_off", "group": "left flap", "needles": "L6-L3", "tail_cm": 20}
BACK = {"kind": "bring_back", "ends": "all_at_once"}
BODY = [cast_on(12), PLAIN_4, {"kind": "set_aside", "groups": ["L6-L3"]}]


def rules(procedure: Procedure) -> list[str]:
    """Findings that are no notes."""
    return [finding.rule for finding in judge(procedure.timeline) if finding.severity is not Severity.NOTE]


def refused(*segments: dict[str, Any], needles: int = 12) -> PlanError:
    with pytest.raises(PlanError) as caught:
        compiled(needles, *segments)
    return caught.value


@pytest.mark.parametrize("carriage", ["left", "right"])
def test_a_group_comes_back_by_its_name(carriage: str) -> None:
    hang = {"kind": "hang", "group": "left flap", "yarn": "main", "rows": 4}
    first_off = {"kind": "scrap_off", "needles": "L2-R6", "tail_cm": 30}
    made = compiled(12, *BODY, OFF, first_off, hang, {"kind": "bind_off", "tail_cm": 20}, carriage=carriage)
    assert rules(made) == []
    state = made.timeline.state_at(made.timeline.lines - 3)
    assert state.height.tolist() == [1] * 4 + [0] * 8
    # Four rows before the flap was set aside, one more if the carriage had to cross for it, and four now.
    assert state.level.tolist()[:4] == [4 + (carriage == "left") + 4] * 4
    told = reference_run(reference_piece(made))
    assert told.fabric["unsecured"] == 0


def test_hanging_takes_the_loops_out_of_the_waste() -> None:
    made = compiled(12, *BODY, OFF, {"kind": "hang", "group": "left flap"})
    last = made.steps[-1]
    # Set aside after one row: the waste dropped in pass 4 + 1 + 8 + 1.
    assert last.hands == ("Hang the loops of L6 to L3 that dropped in row 14 on L6 to L3",)
    assert last.why == "When all loops are on the needles, take the waste out."


def test_two_groups_are_joined_face_to_face() -> None:
    """A shoulder: one group hung on the other, turned, one row knitted and both bound off together."""
    front = {"kind": "scrap_off", "group": "front", "needles": "L6-L1"}
    back: list[dict[str, Any]] = [{"kind": "cast_on", "needles": "L6-L1", "yarn": "second"}, PLAIN_4]
    made = compiled(
        12,
        {"kind": "cast_on", "needles": "L6-L1"},
        PLAIN_4,
        front,
        *back,
        {"kind": "hang", "group": "front", "turned": True, "rows": 1, "tension": 9},
        {"kind": "bind_off"},
    )
    assert rules(made) == []
    joins = [step for step in made.steps if step.segment == 5]
    assert (
        joins[-1].hands[0].startswith("Turn the fabric and hang the loops of L6 to L1 that dropped in row 13")
    )
    assert joins[-1].hands[1:] == ("Set the tension dial to 9",)
    assert joins[-1].why == "The stitches on each of L6 to L1 knit together."


def test_the_last_of_several_groups_with_one_name_is_meant() -> None:
    round_ = {"kind": "repeat", "times": 2, "segments": [
        {"kind": "cast_on", "needles": "L6-L1", "yarn": "main"}, PLAIN_4,
        {"kind": "scrap_off", "group": "flap"}]}  # fmt: skip
    made = compiled(12, round_, {"kind": "hang", "group": "flap"})
    assert made.timeline.state.passes == 2 * (4 + 8 + 1)
    assert "dropped in row 26" in made.steps[-1].hands[0]


def test_groups_find_other_needles() -> None:
    made = compiled(
        12,
        *BODY,
        OFF,
        BACK,
        {"kind": "scrap_off"},
        {"kind": "hang", "group": "left flap", "needles": "R1-R4"},
    )
    assert made.timeline.state.height.tolist() == [0] * 6 + [1] * 4 + [0] * 2


def test_rows_more_before_it_move_the_drop_along() -> None:
    """A name stays right where a pass number would not."""
    segments = [*BODY, OFF, BACK, {"kind": "scrap_off"}, {"kind": "hang", "group": "left flap"}]
    before = compile_piece(Piece.read(document(12, segments)))
    segments[1] = {"kind": "plain", "rows": 6}
    after = compile_piece(Piece.read(document(12, segments)), before)
    assert list(after.actions) == list(compiled(12, *segments).actions)
    assert "dropped in row 16" in after.steps[-1].hands[0]


def test_an_edge_moves_with_rows_as_they_were_really_knitted() -> None:
    hang = {"kind": "hang", "edge": {"made_in_pass": 3, "needles": "L6-R6"}}
    made = compiled(12, cast_on(12), PLAIN_4, {"kind": "plain", "rows": 3}, hang)
    step = next(step.number for step in made.steps if step.passes == 2)
    piece = with_change(made, Change(step, rows=2))
    assert piece.to_document()["segments"][3]["edge"] == {"made_in_pass": 5, "needles": "L6-R6"}


def test_a_side_edge_goes_on_needles_that_are_named() -> None:
    edge = {"side": "left", "passes": [1, 8]}
    off = {"kind": "scrap_off", "group": "all"}
    hang = {"kind": "hang", "edge": edge, "needles": "L4-R4", "yarn": "main", "rows": 2}
    made = compiled(12, cast_on(12), PLAIN_4, PLAIN_4, off, hang, {"kind": "bind_off"})
    assert rules(made) == []
    with pytest.raises(ValidationError, match="name the needles that this side edge goes on"):
        Piece.read(document(12, [cast_on(12), {"kind": "hang", "edge": edge}]))


@pytest.mark.parametrize("how", ["e_wrap", "waste"])
def test_a_cast_on_edge_has_a_name_too(how: str) -> None:
    start = cast_on(12) | {"how": how, "group": "start"}
    made = compiled(12, start, PLAIN_4, {"kind": "plain", "rows": 3}, {"kind": "hang", "group": "start"},
                    {"kind": "plain", "rows": 1}, {"kind": "bind_off"})  # fmt: skip
    assert rules(made) == []
    sentence = next(step.hands[0] for step in made.steps if step.segment == 3)
    assert (
        sentence
        == {
            "e_wrap": "Hang the cast-on edge of L6 to R6 on L6 to R6",
            "waste": "Hang the loops of row 9 of L6 to R6 on L6 to R6",
        }[how]
    )


def test_slow_reference_agrees() -> None:
    hang = {"kind": "hang", "group": "left flap", "needles": "R3-R6", "turned": True, "rows": 3}
    made = compiled(12, *BODY, OFF, BACK, {"kind": "plain", "rows": 2, "yarn": "main"}, hang)
    told = reference_run(reference_piece(made))
    assert {
        int(size): many for size, many in told.fabric["openings"].items()
    } == made.timeline.openings.sizes()
    assert [finding["rule"] for finding in reference_findings(told)] == [
        finding.rule for finding in judge(made.timeline)
    ]


# -- refusals ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hang", "where", "says"), [
    ({"group": "heel"}, "group", "no group is called 'heel' here; known: left flap"),
    ({"group": "left flap", "needles": "R1-R5"}, "needles", "the edge has 4 loops, but 5 needles are named"),
    ({"edge": {"open": "R5-R8"}, "needles": "L4-L1"},
     "needles", "no open loop stands on R7 or dropped from it"),
    ({"edge": {"open": "L2-L1"}}, "edge", "a loop of the edge stands on L2"),
])  # fmt: skip
def test_what_cannot_be_hung_is_told_at_its_field(hang: dict[str, Any], where: str, says: str) -> None:
    segments = [{"kind": "cast_on", "needles": "L6-R6"}, *BODY[1:], OFF, {"kind": "hang", **hang}]
    error = refused(*segments, needles=16)
    assert (error.where, error.message) == (f"segments[4].{where}", says)


def test_where_no_group_has_a_name() -> None:
    error = refused(cast_on(12), {"kind": "hang", "group": "heel"})
    assert error.message == "no group is called 'heel' here; no group has a name before this"


@pytest.mark.parametrize("fields", [{}, {"group": "a", "edge": {"open": "L2-L1"}}])
def test_one_origin_is_wanted(fields: dict[str, Any]) -> None:
    with pytest.raises(ValidationError, match="either the name of a group or an edge"):
        Piece.read(document(12, [cast_on(12), {"kind": "hang", **fields}]))


# -- mirrors ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hang", "image"), [
    ({"group": "flap", "needles": "L6-L3"}, {"group": "flap", "needles": "R3-R6"}),
    ({"edge": {"open": "L6-L3"}, "turned": True}, {"edge": {"open": "R3-R6"}, "turned": True}),
    ({"edge": {"side": "left", "passes": [1, 4]}, "needles": "L6-L3"},
     {"edge": {"side": "right", "passes": [1, 4]}, "needles": "R3-R6", "turned": True}),
    ({"edge": {"side": "left", "passes": [1, 4]}, "needles": "L6-L3", "turned": True},
     {"edge": {"side": "right", "passes": [1, 4]}, "needles": "R3-R6"}),
])  # fmt: skip
def test_what_hangs_in_a_mirror(hang: dict[str, Any], image: dict[str, Any]) -> None:
    piece = Piece.read(document(12, [{"kind": "hang", **hang}]))
    once = mirror_piece(piece)
    assert list(once.to_document()["segments"]) == [{"kind": "hang", **image}]
    assert json.dumps(mirror_piece(once).to_document()) == json.dumps(piece.to_document())


# -- more stitches, and fewer, where the yarn is ----------------------------------------------------------

MIDDLE = {"kind": "cast_on", "needles": "L3-R3", "yarn": "main"}


@pytest.mark.parametrize("carriage", ["left", "right"])
def test_stitches_beyond_the_far_edge_are_cast_on_after_one_row(carriage: str) -> None:
    more = {"kind": "cast_on", "needles": "L6-L4,R4-R6"}
    made = compiled(12, MIDDLE, PLAIN_4, more, PLAIN_4, {"kind": "bind_off"}, carriage=carriage)
    assert rows_of(made, 2) == 1
    assert rules(made) == []  # the other way there would be a long float
    near = "R4 to R6" if carriage == "right" else "L6 to L4"
    hands = [step.hands for step in made.steps if step.segment == 2]
    assert hands[0] == (f"Cast on {near} with e-wraps, ending at the {carriage}",)
    made = compiled(12, MIDDLE, PLAIN_4, {"kind": "cast_on", "needles": "R4-R6"}, PLAIN_4, carriage=carriage)
    assert rows_of(made, 2) == (carriage == "left")


@pytest.mark.parametrize("carriage", ["left", "right"])
def test_stitches_at_the_far_end_are_bound_off_after_one_row(carriage: str) -> None:
    off = [{"kind": "bind_off", "needles": "L6-L4"}, {"kind": "bind_off", "needles": "R4-R6"}]
    made = compiled(12, cast_on(12), PLAIN_4, *off, PLAIN_4, {"kind": "bind_off"}, carriage=carriage)
    assert [rows_of(made, 2), rows_of(made, 3)] == ([1, 1] if carriage == "right" else [0, 1])
    assert rules(made) == []


def test_an_edge_cast_on_in_two_parts_has_no_one_name() -> None:
    more = {"kind": "cast_on", "needles": "L6-L4,R4-R6", "group": "sleeves"}
    error = refused(MIDDLE, PLAIN_4, more, PLAIN_4, {"kind": "hang", "group": "sleeves"})
    assert error.message.startswith("'sleeves' was cast on in two parts")


def test_waste_meets_only_its_own_needles() -> None:
    """Needles left standing empty go out of work, and none may wait in hold between."""
    idle = {"kind": "actions", "actions": [{"do": "place", "needles": "L6-L4", "position": "work"}]}
    made = compiled(12, idle, MIDDLE | {"how": "waste", "ravel": "cord"}, PLAIN_4, {"kind": "bind_off"})
    assert [finding.rule for finding in judge(made.timeline)] == []
    held = {"kind": "actions", "actions": [{"do": "hold_cams", "on": True},
                                           {"do": "place", "needles": "R1", "position": "hold"}]}  # fmt: skip
    one = {"kind": "cast_on", "needles": "R1"}
    error = refused(one, held, {"kind": "cast_on", "needles": "L3-L1,R2-R3", "how": "waste"})
    assert error.message == "the waste would be laid round R1, which stand between"


def test_a_start_on_waste_takes_its_own_dial_and_leaves_a_tail() -> None:
    off = {"kind": "scrap_off", "old_yarn": "park"}
    again = MIDDLE | {"how": "waste", "waste_tension": 8, "tension": 6, "yarn": "second"}
    made = compiled(12, MIDDLE, PLAIN_4, off, again, PLAIN_4, {"kind": "bind_off", "tail_cm": 20})
    assert rules(made) == []
    hands = [sentence for step in made.steps if step.segment == 3 for sentence in step.hands]
    assert [sentence for sentence in hands if "dial" in sentence] == [
        "Set the tension dial to 8",
        "Set the tension dial to 6",
    ]
