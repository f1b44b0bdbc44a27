from bedview.bed.needles import needle_index
from bedview.plan.procedure import compile_piece
from bedview.session.trouble import Trouble, trouble_card
from tests.session.knitting_pieces import CAST_ON, a_heel, a_piece, acts

HEEL = compile_piece(a_heel())


def before(row: int) -> int:
    return HEEL.step_of_pass(row).number


def words(row: int, trouble: Trouble, needle: str = "") -> str:
    at = needle_index(needle, 20) if needle else None
    return " ".join(trouble_card(HEEL, before(row), trouble, at).acts)


def test_jammed_going_left_tells_the_needles_from_the_right() -> None:
    # Row 7 goes left over L4 to R3, R4 being brought to hold for it.
    said = words(7, Trouble.JAMMED, "L1")
    assert "L1 to R3 have knitted. L4 to L2 have not." in said
    assert "from L1 to R3" in said
    assert "Take its wrap off R4." in said
    assert "L5 and R4 to R5 in hold" in said or "L5, R4 and R5 in hold" in said
    assert "on the right, the counter to 6, and knit row 7 again" in said


def test_jammed_going_right_tells_the_needles_from_the_left() -> None:
    said = words(8, Trouble.JAMMED, "R1")
    assert (
        "L3 to R1 have knitted. R2 to R3 have not." in said
        or "L3 to R1 have knitted. R2 and R3 have not." in said
    )
    assert "from R1 to L3" in said
    assert "on the left, the counter to 7" in said


def test_jammed_before_the_first_needle_has_nothing_to_take_back() -> None:
    said = words(7, Trouble.JAMMED, "R9")
    assert "have knitted." not in said
    assert "Take back" not in said


def test_jammed_asks_for_the_needle() -> None:
    assert trouble_card(HEEL, before(7), Trouble.JAMMED).asks
    assert trouble_card(HEEL, 0, Trouble.JAMMED).asks == ""


def test_a_dropped_stitch_of_a_held_needle_stays_in_hold() -> None:
    said = words(7, Trouble.DROPPED, "R5")
    assert "R5 bears 1 loop and 1 wrap here: hang all of it back." in said
    assert "Hang it on R5 and leave the needle in hold." in said


def test_a_dropped_stitch_of_a_working_needle_is_hung_with_its_latch_open() -> None:
    said = words(7, Trouble.DROPPED, "L1")
    assert "bears" not in said
    assert "Hang it on L1, the latch open." in said


def test_an_empty_needle_has_no_stitch_to_lose() -> None:
    assert words(7, Trouble.DROPPED, "L9") == "L9 bears no stitch here."


def test_a_drifted_counter_is_told_by_rows_and_needles() -> None:
    said = words(20, Trouble.COUNTER)
    assert "must show 19 now" in said
    # Rows 16 to 19: before row 16 hands were last needed.
    assert "4 rows have been knitted since hands were last needed" in said
    assert "in hold" not in said
    said = words(8, Trouble.COUNTER)
    assert "must show 7" in said
    assert "must stand in hold" in said
    assert "The carriage must stand on the left." in said


def test_a_forgotten_needle_is_named_with_the_way_back() -> None:
    card = trouble_card(HEEL, before(7), Trouble.FORGOTTEN)
    said = " ".join(card.acts)
    assert "Now, before row 7: R4 to hold." in said
    assert "The last time, before row 6: L5 to hold." in said
    assert card.unpick_to == 5


def test_a_needle_forgotten_in_hold_has_another_remedy() -> None:
    said = words(13, Trouble.FORGOTTEN)
    assert "stayed in hold" in said
    assert "wrap it by hand" not in said


def test_nothing_forgotten_before_anything_was_touched() -> None:
    assert trouble_card(HEEL, before(2), Trouble.FORGOTTEN).acts == (
        "No needle has been moved by hand so far.",
    )


def test_cams_forgotten_tells_which_needles_knitted_and_how_to_take_them_back() -> None:
    # For row 7 R4 comes to hold; L5 and R5 wait there already.
    said = words(7, Trouble.CAMS)
    assert said.startswith("The hold cams must be on now. With them off, L5, R4 and R5 knitted too")
    assert "Bring L5, R4 and R5 back to hold." in said
    assert "the carriage down on the right, and the counter to 6." in said
    assert said.endswith("Knit row 7 again.")


def test_cams_do_no_harm_while_nothing_is_held() -> None:
    said = words(2, Trouble.CAMS)
    assert said.startswith("The hold cams must be off now. No needle with a stitch stands in hold")


def test_cams_left_on_make_held_needles_wait() -> None:
    held = {"do": "place", "needles": "L5-L4", "position": "hold"}
    piece = compile_piece(a_piece(CAST_ON, acts(held, {"do": "knit", "rows": 1})))
    said = " ".join(trouble_card(piece, len(piece.steps) - 1, Trouble.CAMS).acts)
    assert "The hold cams must be off now. Where they were on, L5 and L4 waited" in said
    assert "Set them off and go on" in said
