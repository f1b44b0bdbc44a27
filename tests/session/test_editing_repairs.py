from typing import Any

import pytest

from bedview.bed.needles import Side
from bedview.plan.piece import Piece
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.session import editing
from bedview.session.editing import EditError
from bedview.session.new_parts import blank_piece, ground_at, new_part
from bedview.session.open_piece import OpenPiece
from bedview.session.repairs import mended, repairs_for
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece

YARNS = [{"id": "main", "role": "fabric"}, {"id": "waste", "role": "waste"}]
START: list[dict[str, Any]] = [{"do": "thread", "yarn": "main"}, {"do": "cast_on", "needles": "L8-R8"}]


def piece(*segments: dict[str, Any], yarns: list[dict[str, str]] = YARNS) -> Piece:
    bed = {"needles": 40, "pitch_mm": 4.5}
    return Piece.read({"format": 1, "bed": bed, "yarns": yarns, "segments": list(segments)})


def actions(*items: dict[str, Any]) -> dict[str, Any]:
    return {"kind": "actions", "actions": [*START, *items]}


def knit(rows: int, **more: object) -> dict[str, Any]:
    return {"do": "knit", "rows": rows} | more


HOLD_HALF: list[dict[str, Any]] = [
    {"do": "hold_cams", "on": True},
    {"do": "place", "needles": "R1-R8", "position": "hold"},
]
BOUND = {"kind": "bind_off", "tail_cm": 20}

CASES = {
    "opening": (
        piece(
            {"kind": "cast_on", "needles": "L8-R8"},
            {"kind": "plain", "rows": 2},
            {"kind": "short_rows", "down_to": 6, "wraps": "none", "back": {"wraps": "none"}},
            {"kind": "plain", "rows": 2},
            BOUND,
        ),
        "Wrap by hand",
    ),
    "latch-closes": (
        piece(actions(knit(2), *HOLD_HALF, {"do": "place", "needles": "R1-R8", "position": "work"}), BOUND),
        "Bring them to upper working",
    ),
    "held-knitted": (
        piece(actions(knit(2), {"do": "place", "needles": "R1-R8", "position": "hold"}, knit(2)), BOUND),
        "Set the hold cams on",
    ),
    "carriage-side": (
        piece(actions(knit(1), knit(1, **{"from": "right"})), BOUND),
        "Lift the carriage across",
    ),
    "cut-without-tail": (
        piece(actions(knit(2), {"do": "thread", "yarn": "main"}, knit(2)), BOUND),
        "Leave a tail of 40 cm",
    ),
    "unsecured-stitches": (
        piece(actions(knit(2), {"do": "cut", "tail_cm": 30}, knit(1))),
        "Knit waste on them first",
    ),
    "waste-too-short": (
        piece(
            {"kind": "cast_on", "needles": "L8-R8"},
            {"kind": "plain", "rows": 2},
            {"kind": "scrap_off", "rows": 2, "tail_cm": 30},
        ),
        "Knit 8 rows of waste",
    ),
    "stitches-left": (piece(actions(knit(2))), "Scrap them off at the end"),
}


@pytest.mark.parametrize("rule", CASES)
def test_a_finding_is_mended_by_its_first_repair(rule: str) -> None:
    made, title = CASES[rule]
    opened = OpenPiece(made)
    folded = next(each for each in opened.folded if each.rule == rule)
    repair = repairs_for(folded, opened.piece, opened.procedure)[0]
    assert repair.title == title
    opened.revise(mended(repair, folded, opened.piece, opened.procedure), repair.title)
    assert opened.trouble is None
    assert rule not in {each.rule for each in opened.findings}
    opened.undo()
    assert rule in {each.rule for each in opened.findings}


def test_a_gap_among_single_actions_gets_one_hand_wrap() -> None:
    # Eight needles held on the far side, two rows, back: nothing wraps R1.
    turn: list[dict[str, Any]] = [
        knit(3),
        *HOLD_HALF,
        knit(2),
        {"do": "place", "needles": "R1-R8", "position": "upper"},
        knit(2),
    ]
    opened = OpenPiece(piece(actions(*turn), BOUND))
    assert opened.procedure.timeline.state_at(4).carriage is Side.LEFT
    folded = next(each for each in opened.folded if each.rule == "opening")
    repair = next(
        each
        for each in repairs_for(folded, opened.piece, opened.procedure)
        if each.title == "Add a hand wrap"
    )
    opened.revise(mended(repair, folded, opened.piece, opened.procedure), repair.title)
    wraps = [item for item in opened.piece.segments[0].model_dump()["actions"] if item["do"] == "wrap"]
    assert wraps == [{"do": "wrap", "needle": "R1"}]
    assert not [each for each in opened.findings if each.rule == "opening"]


def test_a_repair_that_does_not_help_changes_nothing() -> None:
    opened = OpenPiece(CASES["opening"][0])
    folded = next(each for each in opened.folded if each.rule == "opening")
    helpless = repairs_for(folded, opened.piece, opened.procedure)[0]
    with pytest.raises(EditError, match="does not help here"):
        mended(type(helpless)("Nothing", (lambda same: same,)), folded, opened.piece, opened.procedure)


def test_a_warning_can_be_meant_and_is_a_note_then() -> None:
    opened = OpenPiece(CASES["opening"][0])
    folded = next(each for each in opened.folded if each.rule == "opening")
    repair = repairs_for(folded, opened.piece, opened.procedure)[-1]
    assert repair.title == "It is meant so"
    opened.revise(mended(repair, folded, opened.piece, opened.procedure), repair.title)
    assert {each.severity for each in opened.findings if each.rule == "opening"} == {"note"}


def test_waste_comes_in_with_a_group_scrapped_off() -> None:
    opened = OpenPiece(piece(actions(knit(2)), yarns=YARNS[:1]))
    folded = next(each for each in opened.folded if each.rule == "stitches-left")
    repair = repairs_for(folded, opened.piece, opened.procedure)[0]
    opened.revise(mended(repair, folded, opened.piece, opened.procedure), repair.title)
    assert [yarn.role for yarn in opened.piece.yarns] == ["fabric", "waste"]
    assert isinstance(opened.piece.segments[-1], ScrapOffSegment)


def test_the_small_gaps_of_the_demo_heel_are_closed_by_hand_wraps() -> None:
    opened = OpenPiece(read_piece(demo_paths()["harbour-heel"]))
    (folded,) = [each for each in opened.folded if each.rule == "opening"]
    repair = repairs_for(folded, opened.piece, opened.procedure)[0]
    opened.revise(mended(repair, folded, opened.piece, opened.procedure), repair.title)
    assert opened.findings == []


# -- new parts --------------------------------------------------------------------------------------------

KINDS = (
    "plain",
    "short_rows",
    "set_aside",
    "narrow",
    "widen",
    "hem",
    "scrap_off",
    "bind_off",
    "repeat",
    "actions",
)


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_part_can_be_knitted_where_it_is_put(kind: str) -> None:
    opened = OpenPiece(piece({"kind": "cast_on", "needles": "L8-R8"}, {"kind": "plain", "rows": 4}))
    part = new_part(kind, ground_at(opened.piece, opened.procedure, (2,)))
    opened.revise(editing.inserted(opened.piece, (2,), [part]), "Add")
    assert opened.trouble is None


def test_a_piece_grows_from_nothing() -> None:
    opened = OpenPiece(blank_piece())
    for kind in ("cast_on", "plain", "short_rows", "plain", "scrap_off", "hang", "plain", "bind_off"):
        end = (len(opened.piece.segments),)
        part = new_part(kind, ground_at(opened.piece, opened.procedure, end))
        if kind == "scrap_off":
            part = part.altered(group="toe")
        opened.revise(editing.inserted(opened.piece, end, [part]), "Add")
    assert opened.trouble
    assert opened.trouble.message == "no yarn is in the feeder here", "the hung toe waits for its yarn"
    mended_too = OpenPiece(editing.with_fields(opened.piece, (6,), {"yarn": "main"}))
    assert mended_too.trouble is None


def test_a_second_cast_on_goes_beside_the_first() -> None:
    opened = OpenPiece(piece({"kind": "cast_on", "needles": "L20-R8"}, {"kind": "plain", "rows": 4}))
    part = new_part("cast_on", ground_at(opened.piece, opened.procedure, (2,)))
    assert part.model_dump()["needles"] == "R9-R18"
