import pytest

from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.session.really_knitted import (
    Change,
    as_knitted,
    rows_can_be_added,
    rows_that_can_go,
    second_piece,
    with_change,
)
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, a_scrapped_square, acts, plain


def step_of(piece: Piece, row: int) -> int:
    return compile_piece(piece).step_of_pass(row).number


def bed_at_end(piece: Piece) -> tuple[list[int], list[int], str, int]:
    state = compile_piece(piece).timeline.state
    return state.position.tolist(), state.height.tolist(), state.carriage.value, state.passes


def knits(procedure: Procedure) -> list[list[int]]:
    timeline = procedure.timeline
    passes = range(1, timeline.passes + 1)
    return [timeline.event_of(timeline.line_of_pass(number)).knit.tolist() for number in passes]


def test_rows_more_in_plain_rows_are_a_plain_segment_of_more_rows() -> None:
    piece = a_heel()
    changed = with_change(compile_piece(piece), Change(step_of(piece, 3), rows=2))
    longer = piece.to_document()
    longer["segments"][1]["rows"] = 6
    assert changed == Piece.read(longer)


def test_rows_left_out_make_it_shorter() -> None:
    piece = a_heel()
    changed = with_change(compile_piece(piece), Change(step_of(piece, 3), rows=-2))
    assert changed.to_document()["segments"][1]["rows"] == 2


def test_the_rest_follows_from_where_the_carriage_then_stands() -> None:
    piece = a_heel()
    procedure = compile_piece(with_change(compile_piece(piece), Change(step_of(piece, 5), rows=1)))
    # The carriage stands on the left after five rows, so the heel begins by holding L5.
    assert procedure.step_of_pass(6).hands[-1] == "Bring L5 to hold"
    assert procedure.timeline.passes == 21


def test_a_length_becomes_the_rows_it_was() -> None:
    gauges = [{"yarn": "main", "tension": 6, "stitches": 16, "rows": 20, "over_mm": 100}]
    piece = a_piece(CAST_ON, {"kind": "plain", "length_cm": 4}, gauges=gauges)
    changed = with_change(compile_piece(piece), Change(step_of(piece, 5), rows=3))
    assert changed.to_document()["segments"][1] == {"kind": "plain", "rows": 8 + 3}


def test_rows_more_inside_a_heel_keep_what_came_before_and_after() -> None:
    piece = a_heel()
    before = knits(compile_piece(piece))
    after = knits(compile_piece(with_change(compile_piece(piece), Change(step_of(piece, 9), rows=2))))
    # Rows 9 and 10 now knit once more what row 8 left in work, then all goes on as planned.
    assert after[:8] == before[:8]
    assert after[8] == after[9]
    assert after[10:] == before[8:]


def test_another_dial_from_the_first_row_stays_a_plain_segment() -> None:
    piece = a_heel()
    changed = with_change(compile_piece(piece), Change(step_of(piece, 1), dial=7.5))
    assert changed.to_document()["segments"][1]["tension"] == 7.5
    assert changed.to_document()["segments"][1]["kind"] == "plain"


def test_another_dial_later_holds_from_that_row_on() -> None:
    piece = a_heel()
    procedure = compile_piece(with_change(compile_piece(piece), Change(step_of(piece, 3), dial=7.5)))
    dials = [procedure.timeline.state_after_pass(number).dial for number in (2, 3, 4)]
    assert dials == [6, 7.5, 7.5]
    assert procedure.timeline.passes == 20


def test_a_remark_changes_nothing_on_the_bed_and_becomes_a_note() -> None:
    piece = a_heel()
    step = step_of(piece, 9)
    assert with_change(compile_piece(piece), Change(step, remark="new cone")) == piece
    noted = compile_piece(as_knitted(piece, [Change(step, remark="new cone")], remarks=True))
    assert "new cone" in noted.step_of_pass(9).hands
    assert knits(noted) == knits(compile_piece(piece))


def test_several_changes_are_made_from_the_first_to_the_last() -> None:
    piece = a_heel()
    # Two rows more before row 3; row 18 of the plan is row 20 then, before it two go; and a remark between.
    changes = [
        Change(step_of(piece, 18) + 2, rows=-2),
        Change(step_of(piece, 3), rows=2),
        Change(step_of(piece, 9) + 2, remark="tight here"),
    ]
    procedure = compile_piece(as_knitted(piece, changes, remarks=True))
    assert procedure.timeline.passes == 20
    assert "tight here" in procedure.step_of_pass(11).hands
    assert bed_at_end(as_knitted(piece, changes)) == bed_at_end(piece)


def test_seams_follow_the_rows_they_name() -> None:
    sides = {
        "kind": "mattress",
        "a": {"side": "left", "passes": [1, 4]},
        "b": {"side": "right", "passes": [17, 20]},
    }
    made = {
        "kind": "graft",
        "a": {"made_in_pass": 2, "needles": "L5-R5"},
        "b": {"open": "L5-R5", "reverse": True},
    }
    piece = Piece.read({**a_heel().to_document(), "seams": [sides, made]})
    changed = with_change(compile_piece(piece), Change(step_of(piece, 3), rows=2)).to_document()
    assert changed["seams"][0]["a"]["passes"] == [1, 6]
    assert changed["seams"][0]["b"]["passes"] == [19, 22]
    assert changed["seams"][1]["a"]["made_in_pass"] == 2
    shorter = with_change(compile_piece(piece), Change(step_of(piece, 2), rows=-2)).to_document()
    assert shorter["seams"][0]["a"]["passes"] == [1, 2]
    assert shorter["seams"][0]["b"]["passes"] == [15, 18]
    assert shorter["seams"][1]["a"]["made_in_pass"] == 1


def test_what_is_hung_later_is_still_found() -> None:
    hang = {
        "do": "hang",
        "needles": "L5-R5",
        "edge": {"made_in_pass": 3, "needles": "L5-R5"},
    }
    piece = a_piece(CAST_ON, plain(8), acts(hang, {"do": "knit", "rows": 2}))
    changed = with_change(compile_piece(piece), Change(step_of(piece, 2), rows=2))
    assert changed.to_document()["segments"][2]["actions"][0]["edge"]["made_in_pass"] == 5
    assert compile_piece(changed).timeline.passes == 12


def test_only_rows_without_hands_can_be_left_out() -> None:
    piece = a_heel()
    procedure = compile_piece(piece)
    assert [rows_that_can_go(procedure, step_of(piece, row)) for row in (1, 3, 5, 17, 20)] == [4, 2, 0, 4, 1]
    with pytest.raises(ValueError, match="hands"):
        with_change(procedure, Change(step_of(piece, 7), rows=-1))


def test_rows_can_be_added_only_behind_a_row() -> None:
    procedure = compile_piece(a_scrapped_square())
    possible = [rows_can_be_added(procedure, step) for step in range(len(procedure.steps) + 1)]
    # Not before anything, not behind the cast-on, not behind the pass that drops, nor behind the end.
    assert possible == [False, False, *([True] * 12), False, False]


def test_a_step_that_is_not_there_is_refused() -> None:
    procedure = compile_piece(a_heel())
    with pytest.raises(ValueError, match="no step"):
        with_change(procedure, Change(len(procedure.steps) + 1, rows=1))


@pytest.mark.parametrize("really", [False, True])
@pytest.mark.parametrize("mirrored", [False, True])
def test_the_second_one_of_a_pair(really: bool, mirrored: bool) -> None:
    piece = a_heel()
    changes = [Change(step_of(piece, 3), rows=2, remark="longer")]
    second = second_piece(piece, changes, really=really, mirrored=mirrored)
    wanted = as_knitted(piece, changes, remarks=True) if really else piece
    wanted = wanted.revised(title="Quay cosy, the second")
    assert second == (mirror_piece(wanted) if mirrored else wanted)
    assert compile_piece(second).timeline.passes == (22 if really else 20)
    assert second.bed.carriage == ("left" if mirrored else "right")
