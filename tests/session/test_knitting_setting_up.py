import pytest

from bedview.plan.procedure import compile_piece
from bedview.session.setting_up import set_up_before
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, acts, plain


def test_before_anything_is_done() -> None:
    found = {fact.what: fact.how for fact in set_up_before(compile_piece(a_heel()), 0)}
    assert found == {
        "Out of work": "all needles",
        "Carriage": "on the right",
        "Hold cams": "off",
        "Tension dial": "not set yet",
        "Yarn": "none in the feeder",
        "Row counter": "0",
    }


def test_in_the_middle_of_a_heel() -> None:
    procedure = compile_piece(a_heel())
    found = {fact.what: fact.how for fact in set_up_before(procedure, procedure.step_of_pass(9).number)}
    working = next(what for what in found if what.startswith("Working"))
    assert found == {
        "Hold": "L5, L4, R4 and R5",
        working: "L3 to R3",
        "Out of work": "all others",
        "1 wrap": "L5, L4, R4 and R5",
        "Carriage": "on the right",
        "Hold cams": "on",
        "Tension dial": "6",
        "Yarn": "the grey wool, leaving from R3",
        "Row counter": "8",
        # Row 5 holds R5, row 10 L3: of rows 4 to 11 only L2 to R2 knit in all.
        "Claw weights": "below L2 and R2",
    }


def test_stacks_empty_needles_and_waiting_yarn_are_named() -> None:
    piece = a_piece(
        CAST_ON,
        plain(1),
        acts(
            {"do": "transfer", "from": "L5", "to": "L4"},
            {"do": "park"},
            {"do": "place", "needles": "R5", "position": "out"},
            {"do": "counter", "value": 7},
        ),
    )
    procedure = compile_piece(piece)
    found = {fact.what: fact.how for fact in set_up_before(procedure, len(procedure.steps))}
    assert found["2 loops"] == "L4"
    assert found["Empty"] == "L5"
    assert found["Out of work"] == "all others; R5 keep their loops"
    assert found["Waiting, uncut"] == "the grey wool"
    assert found["Yarn"] == "none in the feeder"
    assert found["Row counter"] == "7"


def test_a_step_that_is_not_there_is_refused() -> None:
    procedure = compile_piece(a_heel())
    with pytest.raises(IndexError):
        set_up_before(procedure, -len(procedure.steps) - 1)
