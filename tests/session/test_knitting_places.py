import pytest

from bedview.bed.needles import Side, parse_needles
from bedview.bed.unpick import UnpickError
from bedview.plan.procedure import compile_piece
from bedview.session.place_finding import find_place, step_after_line
from bedview.session.unpicking import way_back
from tests.session.knitting_pieces import a_heel, a_scrapped_square

HEEL = compile_piece(a_heel())


def held(names: str) -> tuple[int, ...]:
    return parse_needles(names, 20, empty=True)


def test_two_rows_of_a_heel_look_alike() -> None:
    # After row 6 R5 and L5 are held, the carriage right; on the way back L4 and R4 return for rows 13, 14.
    found = find_place(HEEL, held("L5,R5"), Side.RIGHT)
    assert found.exact
    assert [place.row for place in found.places] == [7, 15]
    assert [HEEL.steps[place.step].passes for place in found.places] == [7, 15]
    assert [place.part for place in found.places] == ["Heel", "Heel"]
    assert [place.counter for place in found.places] == [6, 14]


def test_the_likeliest_is_the_nearest_to_where_one_was() -> None:
    found = find_place(HEEL, held("L5,R5"), Side.RIGHT)
    assert [place.row for place in found.nearest_to(14, 1)] == [15]
    assert [place.row for place in found.nearest_to(8, 2)] == [7, 15]


def test_without_a_match_the_nearest_say_what_differs() -> None:
    found = find_place(HEEL, held("L5,R5,R1"), Side.RIGHT)
    assert not found.exact
    nearest = found.places[0]
    assert nearest.row in (7, 15)
    assert nearest.differ == held("R1")
    assert not nearest.other_side


def test_a_step_that_was_begun_comes_again_from_its_start() -> None:
    step = HEEL.step_of_pass(5)
    assert step_after_line(HEEL, step.first_line - 1) == step.number
    assert step_after_line(HEEL, step.first_line) == step.number
    assert step_after_line(HEEL, step.last_line) == step.number + 1
    assert step_after_line(HEEL, HEEL.timeline.lines - 1) == len(HEEL.steps)


def test_unpicking_goes_back_row_by_row_with_hands_between() -> None:
    way = way_back(HEEL, HEEL.step_of_pass(7).last_line, 5)
    assert [back.row for back in way.rows] == [7, 6]
    assert HEEL.steps[way.step].passes == 6
    seventh, sixth = way.rows
    # Row 7 went left from R3 to L4 and wrapped R4; so its yarn comes out to the right.
    assert seventh.loops == (
        "Hang the loops below back on L4 to R3, drawing the yarn out to the right. Take the wrap off R4."
    )
    assert seventh.hands == ("Push R4 back to upper working",)
    assert sixth.hands == ("Push L5 back to upper working",)


def test_unpicking_a_return_brings_needles_to_hold_again() -> None:
    way = way_back(HEEL, HEEL.step_of_pass(11).last_line, 10)
    assert way.rows[0].hands == ("Bring L3 to hold",)


def test_hands_that_came_after_the_last_row_are_undone_first() -> None:
    begun = HEEL.step_of_pass(7).first_line
    way = way_back(HEEL, begun, 6)
    assert way.rows == ()
    assert way.first == ("Push R4 back to upper working",)


def test_unpicking_all_names_what_was_set() -> None:
    way = way_back(HEEL, HEEL.step_of_pass(1).last_line, 0)
    assert way.step == 0
    assert [text.lower() for text in way.rows[0].hands] == [
        "undo: cast on l5 to r5 with e-wraps, ending at the right",
        "undo: thread the grey wool",
        "undo: set the tension dial to 6",
    ]


def test_what_was_dropped_cannot_be_unpicked() -> None:
    procedure = compile_piece(a_scrapped_square())
    with pytest.raises(UnpickError, match="dropped"):
        way_back(procedure, procedure.timeline.lines - 1, 12)
