from bedview.plan.procedure import compile_piece
from bedview.session.glance import Act, Doer, glance_at, parts_done
from bedview.session.saying import spoken
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, a_scrapped_square, acts, plain

HEEL = compile_piece(a_heel())


def at_row(row: int) -> int:
    return HEEL.step_of_pass(row).number


def test_a_row_with_hands() -> None:
    glance = glance_at(HEEL, at_row(6))
    assert glance.acts == (Act("Bring L5 to hold", Doer.HANDS), Act("Knit to the right", Doer.CARRIAGE))
    assert glance.needs_hands
    place = glance.place
    assert (place.part, place.row, place.rows, place.row_in_part, place.rows_in_part, place.counter) == (
        ("Heel", 6, 20, 2, 12, 5)
    )
    assert glance.then == "R4 to hold, knit to the left"


def test_a_plain_row_needs_no_hands() -> None:
    glance = glance_at(HEEL, at_row(3))
    assert glance.acts == (Act("Knit to the left", Doer.CARRIAGE),)
    assert not glance.needs_hands


def test_hanging_weights_needs_hands_in_a_plain_row() -> None:
    glance = glance_at(HEEL, at_row(4))
    assert glance.weights_now
    assert glance.needs_hands


def test_a_step_without_a_row_comes_before_one() -> None:
    place = glance_at(HEEL, 0).place
    assert not place.makes_row
    assert place.row == 1


def test_parts_fill_one_after_the_other() -> None:
    assert [(part.title, part.steps, part.done) for part in parts_done(HEEL, at_row(6))] == [
        ("Edge", 1, 1),
        ("Leg", 4, 4),
        ("Heel", 12, 1),
        ("Foot", 4, 0),
    ]


def test_fingers_are_warned_once_a_part() -> None:
    first = {"do": "transfer", "from": "L5", "to": "L4"}
    second = {"do": "transfer", "from": "R5", "to": "R4"}
    knit = {"do": "knit", "rows": 1}
    procedure = compile_piece(a_piece(CAST_ON, plain(1), acts(first, knit, second, knit)))
    warned = [bool(glance_at(procedure, step.number).cautions) for step in procedure.steps]
    assert warned == [True, False, True, False]


def test_feet_are_warned_before_the_fabric_drops() -> None:
    procedure = compile_piece(a_scrapped_square())
    drops = glance_at(procedure, procedure.step_of_pass(13).number)
    assert any("feet" in text for text in drops.cautions)
    assert drops.acts[0].text == "Cut the string"
    assert drops.acts[1].text == "Run the empty carriage to the left"


def test_a_lifted_carriage_is_heavy() -> None:
    procedure = compile_piece(a_piece(CAST_ON, acts({"do": "free_move"})))
    assert glance_at(procedure, 1).cautions == ("Take the carriage in both hands: it is heavy.",)


def test_spoken_needles_are_a_letter_and_a_number() -> None:
    assert spoken(HEEL, at_row(6)) == "Bring L 5 to hold. Knit to the right."
    assert spoken(HEEL, at_row(3)) == "Row 3. Knit to the left."
    assert spoken(HEEL, len(HEEL.steps)) == "All rows are knitted."


def test_rows_of_waste_do_not_lead_up_to_no_needles() -> None:
    procedure = compile_piece(a_scrapped_square())
    told = [glance_at(procedure, procedure.step_of_pass(row).number).progress for row in (7, 11, 12, 13)]
    assert told == ["5 more rows here", "1 more row here", "", ""]
