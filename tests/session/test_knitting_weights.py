from pathlib import Path

import pytest

from bedview.bed.needles import Position, needle_index
from bedview.plan.procedure import Procedure, compile_piece
from bedview.session.weights import ROWS_FIRST, weight_words, weights_in
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, a_scrapped_square, plain


def row(procedure: Procedure, number: int) -> int:
    return procedure.step_of_pass(number).number


def at(name: str) -> int:
    return needle_index(name, 20)


def test_none_while_the_fabric_is_too_short_for_a_claw() -> None:
    procedure = compile_piece(a_piece(CAST_ON, plain(10)))
    hung = [weights_in(procedure, row(procedure, number)) is not None for number in range(1, 11)]
    assert hung == [number >= ROWS_FIRST for number in range(1, 11)]


def test_plain_rows_hang_at_the_edges_and_go_higher_after_twenty() -> None:
    procedure = compile_piece(a_piece(CAST_ON, plain(60)))
    hung = [weights_in(procedure, row(procedure, number)) for number in range(4, 45)]
    assert {(each.left, each.right) for each in hung if each} == {(at("L5"), at("R5"))}
    assert sorted({each.since for each in hung if each}) == [4, 24, 44]
    assert hung[0] is not None
    assert (hung[0].until, hung[0].moved) == (24, False)


def test_narrowing_hangs_inside_what_will_be_held() -> None:
    # Row 5 holds R5, row 10 L3: of rows 4 to 11 only L2 to R2 knit in all.
    procedure = compile_piece(a_heel())
    hung = weights_in(procedure, row(procedure, 4))
    assert hung is not None
    assert (hung.left, hung.right) == (at("L2"), at("R2"))


def test_not_moved_for_the_last_few_rows() -> None:
    procedure = compile_piece(a_piece(CAST_ON, plain(28)))
    hung = weights_in(procedure, row(procedure, 27))
    assert hung is not None
    assert hung.since == 4


@pytest.mark.parametrize("path", demo_paths().values(), ids=lambda path: path.stem)
def test_never_below_a_needle_that_does_not_knit(path: Path) -> None:
    procedure = compile_piece(read_piece(path))
    for step in procedure.steps:
        hung = weights_in(procedure, step.number)
        if hung is None:
            continue
        knit = procedure.timeline.event_of(step.last_line).knit
        before = procedure.timeline.state_at(step.last_line - 1)
        assert {hung.left, hung.right} <= set(knit.tolist())
        held = Position.HOLD in (before.position[hung.left], before.position[hung.right])
        assert not (held and before.hold_cams)
        assert hung.left < hung.right
        assert hung.until is None or hung.until > step.passes


def test_hands_are_asked_once_and_told_how_long() -> None:
    procedure = compile_piece(a_piece(CAST_ON, plain(60)))
    asked = [weight_words(procedure, row(procedure, number)) for number in (4, 5, 20, 24)]
    assert asked == [
        ("Hang claw weights below L5 and R5", True),
        ("Weights below L5 and R5", False),
        ("Weights below L5 and R5; they move in 4 rows", False),
        ("Move the claw weights below L5 and R5", True),
    ]


def test_nothing_is_said_where_the_piece_says_it_itself() -> None:
    note = {"kind": "actions", "actions": [{"do": "note", "text": "Weights on the middle"}]}
    procedure = compile_piece(a_piece(CAST_ON, note, plain(20)))
    assert all(weights_in(procedure, step.number) is None for step in procedure.steps)


def test_nothing_is_said_of_a_pass_that_drops() -> None:
    procedure = compile_piece(a_scrapped_square())
    assert weights_in(procedure, row(procedure, 13)) is None
