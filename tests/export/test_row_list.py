import pytest

from bedview.export.row_list import like, row_list
from tests.export.pieces import CAST_ON, little_heel, many_wedges, small


def test_rows_and_sentences_of_a_little_heel() -> None:
    parts = list(row_list(little_heel()[1]))
    assert [(part.heading, part.rows) for part in parts] == [
        ("Edge", 0),
        ("Cuff", 3),
        ("Heel", 12),
        ("Foot", 25),
    ]
    assert [number for part in parts for line in part.lines for number in line.numbers] == list(range(1, 41))
    first = parts[2].lines[0]
    assert first.hands == ("Set the hold cams to on.", "Bring L5 to hold.")
    assert (first.carriage, first.at_end) == ("Knit to the right.", "COR")
    assert parts[3].lines[0].at_end == "COR"


def test_like_reasons_are_said_once_in_a_part() -> None:
    heel = list(row_list(little_heel()[1]))[2]
    assert [line.first_row for line in heel.lines if line.why] == [4, 10, 15]


def test_hands_are_warned_where_it_is_due_and_once_in_a_part() -> None:
    parts = list(row_list(little_heel()[1]))
    minded = [(part.heading, line.first_row) for part in parts for line in part.lines if line.minds]
    # Hooks at the cast-on, and where the first needle is wrapped by hand.
    assert minded == [("Edge", 1), ("Heel", 10)]


def test_a_repeat_says_its_reasons_in_the_first_round() -> None:
    parts = list(row_list(many_wedges(3)[1]))
    said = [sum(bool(line.why) for line in part.lines) for part in parts if part.rows > 100]
    assert said == [3, 0, 0]


def test_only_what_hands_do_anew_is_pictured() -> None:
    pictured = [line.first_row for part in row_list(little_heel()[1]) for line in part.lines if line.pictured]
    # The cast-on before row 1, the first needle held, the first wrap.
    assert pictured == [1, 4, 10]


def test_the_same_hands_in_other_rows_are_not_pictured_again() -> None:
    """Where a stitch is made, the hands are told which earlier row it is made from."""
    narrow, widen = (
        {"kind": kind, "stitches": 3, "every": 2, "ends": "right"} for kind in ("narrow", "widen")
    )
    parts = list(row_list(small(CAST_ON, narrow, widen, narrow, widen)[1]))
    from_rows = [sentence for line in parts[2].lines for sentence in line.hands if "from row" in sentence]
    assert len(set(from_rows)) == 3
    pictured = [line.first_row for part in parts for line in part.lines if line.pictured]
    # The cast-on, the first stitch moved in before row 2, the first made before row 8.
    assert pictured == [1, 2, 8]


def test_a_note_is_not_pictured() -> None:
    note = {"kind": "actions", "actions": [{"do": "note", "text": "Hang a marker", "needles": "L5"}]}
    parts = list(row_list(small(CAST_ON, note)[1]))
    assert [line.pictured for line in parts[1].lines] == [False]


def test_a_counter_that_differs_is_named() -> None:
    counter = {"kind": "actions", "actions": [{"do": "counter", "value": 0}, {"do": "knit", "rows": 2}]}
    parts = list(row_list(small(CAST_ON, {"kind": "plain", "rows": 3}, counter)[1]))
    assert [line.at_end for line in parts[2].lines] == ["COL, RC 2"]


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        ("R5 knits again.", "L12 knits again.", True),
        ("L4 and R4 knit again.", "L5, L7 to L9 and R5 knit again.", True),
        ("R5 knits again.", "R5 is on the far side.", False),
        ("This pass wraps R4; L4 is not wrapped.", "This pass wraps L3; R3 is not wrapped.", True),
    ],
)
def test_sentences_are_alike_whatever_their_needles(one: str, other: str, alike: bool) -> None:
    assert (like(one) == like(other)) is alike
