from typing import Any

import pytest

from bedview.plan.piece import Piece
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.session import editing
from bedview.session.editing import EditError
from bedview.session.open_piece import OpenPiece

YARNS = [{"id": "main", "role": "fabric"}, {"id": "waste", "role": "waste"}]
CAST_ON = {"kind": "cast_on", "needles": "L4-R4"}


def piece(*segments: dict[str, Any], **more: object) -> Piece:
    return Piece.read(
        {"format": 1, "bed": {"needles": 20, "pitch_mm": 9}, "yarns": YARNS, "segments": list(segments)}
        | more
    )


def plain(rows: int, title: str = "") -> dict[str, Any]:
    return {"kind": "plain", "title": title, "rows": rows}


def titles(piece: Piece, above: editing.Place = ()) -> str:
    return "".join(part.title for part in editing.parts_in(piece, above))


@pytest.fixture
def abcd() -> Piece:
    return piece(*(plain(2, title) for title in "ABCD"))


@pytest.fixture
def nested() -> Piece:
    return piece(plain(1, "A"), {"kind": "repeat", "times": 3, "segments": [plain(1, "x"), plain(2, "y")]})


@pytest.mark.parametrize(
    ("place", "to", "count", "expected"),
    [
        (0, 1, 1, "BACD"),
        (0, 3, 1, "BCDA"),
        (3, 0, 1, "DABC"),
        (1, 0, 2, "BCAD"),
        (1, 2, 2, "ADBC"),
        (2, 2, 1, "ABCD"),
    ],
)
def test_parts_move(abcd: Piece, place: int, to: int, count: int, expected: str) -> None:
    assert titles(editing.moved(abcd, (place,), to, count)) == expected
    assert titles(abcd) == "ABCD", "the piece itself never changes"


def test_parts_come_in_go_out_and_are_copied(abcd: Piece) -> None:
    new = PlainSegment(kind="plain", title="N", rows=1)
    assert titles(editing.inserted(abcd, (2,), [new])) == "ABNCD"
    assert titles(editing.inserted(abcd, (4,), [new])) == "ABCDN"
    assert titles(editing.taken_out(abcd, (1,), 2)) == "AD"
    assert titles(editing.copied(abcd, (1,), 2)) == "ABCBCD"


def test_parts_inside_a_repeat_are_edited_in_place(nested: Piece) -> None:
    assert titles(editing.moved(nested, (1, 0), 1), (1,)) == "yx"
    assert titles(editing.copied(nested, (1, 1)), (1,)) == "xyy"
    changed = editing.with_fields(nested, (1, 1), {"rows": 5})
    part = editing.part_at(changed, (1, 1))
    assert isinstance(part, PlainSegment)
    assert part.rows == 5
    with pytest.raises(EditError, match="take the repeat itself out"):
        editing.taken_out(nested, (1, 0), 2)


def test_a_repeat_taken_apart_knits_the_same(nested: Piece) -> None:
    started = editing.inserted(nested, (0,), [piece(CAST_ON).segments[0]])
    apart = editing.taken_apart(started, (2,))
    assert titles(apart) == "Axyxyxy"
    assert OpenPiece(apart).procedure.actions == OpenPiece(started).procedure.actions


def test_parts_are_repeated_and_repeats_only_so_deep(abcd: Piece) -> None:
    made = editing.repeated(abcd, (1,), 2, 5)
    assert titles(made) == "AD", "the repeat itself has no title"
    repeat = made.segments[1]
    assert isinstance(repeat, RepeatSegment)
    assert (repeat.times, titles(made, (1,))) == (5, "BC")
    deep = abcd
    for _ in range(8):
        deep = editing.repeated(deep, (0,))
    with pytest.raises(EditError, match="8 deep at most"):
        editing.repeated(deep, (0,))


def test_a_wrong_value_names_its_field_and_leaves_the_piece(abcd: Piece) -> None:
    with pytest.raises(EditError) as caught:
        editing.with_fields(abcd, (1,), {"rows": 0})
    assert (caught.value.field, caught.value.message) == (
        "rows",
        "must be a whole number from 1 to 9999, not 0",
    )
    with pytest.raises(EditError, match="give either rows or length_cm"):
        editing.with_fields(abcd, (1,), {"length_cm": 4})
    swapped = editing.with_fields(abcd, (1,), {"length_cm": 4, "rows": None})
    part = swapped.segments[1]
    assert isinstance(part, PlainSegment)
    assert (part.length_cm, part.rows) == (4, None)


def test_only_what_was_said_is_written(abcd: Piece) -> None:
    part = editing.with_fields(abcd, (1,), {"tension": 6}).segments[1]
    assert part.model_dump(exclude_unset=True) == plain(2, "B") | {"tension": 6}
    back = editing.with_fields(editing.with_fields(abcd, (1,), {"tension": 6}), (1,), {"tension": None})
    assert back == abcd


def test_a_bed_too_small_for_the_parts_is_refused() -> None:
    made = piece(CAST_ON, plain(2))
    with pytest.raises(EditError) as caught:
        editing.with_bed(made, {"needles": 6})
    assert caught.value.field == "segments[0].needles"
    assert editing.with_bed(made, {"needles": 8}).bed.needles == 8


def test_yarns_and_gauges_come_and_go_together() -> None:
    made = editing.with_yarn(piece(CAST_ON), 2, {"id": "stripe", "role": "fabric"})
    gauge = {"yarn": "stripe", "tension": 6, "stitches": 20, "rows": 30, "over_mm": 100}
    made = editing.with_gauge(made, gauge)
    made = editing.with_gauge(made, gauge | {"rows": 31})
    made = editing.with_gauge(made, gauge | {"tension": 7})
    assert [(each.tension, each.rows) for each in made.gauges] == [(6, 31), (7, 30)]
    assert editing.without_yarn(made, 2).gauges == ()


# -- versions ---------------------------------------------------------------------------------------------


def test_an_edit_that_cannot_be_knitted_is_kept_with_the_reason() -> None:
    short = {"kind": "short_rows", "down_to": 4}
    opened = OpenPiece(piece(CAST_ON, plain(2), short, plain(3)))
    whole = opened.procedure.timeline.passes
    opened.revise(editing.with_fields(opened.piece, (2,), {"down_to": 14}), "Needles left")
    assert trouble(opened) == "only 8 needles work here; you asked to go down to 14"
    assert opened.trouble
    assert opened.trouble.segment == 2
    assert opened.procedure.timeline.passes == 2, "what comes before it is there"
    assert all(each.rule != "stitches-left" for each in opened.findings)
    opened.undo()
    assert not trouble(opened)
    assert opened.procedure.timeline.passes == whole
    opened.redo()
    assert trouble(opened)
    opened.revise(editing.with_fields(opened.piece, (2,), {"down_to": 4}), "Needles left")
    assert not trouble(opened)
    assert opened.procedure.timeline.passes == whole


def test_edits_of_one_gesture_are_one_step_of_undo() -> None:
    opened = OpenPiece(piece(CAST_ON, plain(2)))
    for rows in (3, 30, 31):
        opened.revise(editing.with_fields(opened.piece, (1,), {"rows": rows}), "Rows", "typing")
    opened.end_gesture()
    opened.revise(editing.with_fields(opened.piece, (1,), {"rows": 40}), "Rows", "typing")
    assert opened.procedure.timeline.passes == 40
    opened.undo()
    assert opened.procedure.timeline.passes == 31
    opened.undo()
    assert opened.procedure.timeline.passes == 2
    assert opened.undo_words == ""


def test_undo_has_no_end() -> None:
    opened = OpenPiece(piece(CAST_ON, plain(1)))
    for rows in range(2, 502):
        opened.revise(editing.with_fields(opened.piece, (1,), {"rows": rows}), "Rows")
    for rows in range(500, 0, -1):
        opened.undo()
        assert opened.procedure.timeline.passes == rows


# -- seams follow -----------------------------------------------------------------------------------------


def side(first: int, last: int) -> dict[str, Any]:
    return {
        "kind": "mattress",
        "a": {"side": "left", "passes": [first, last]},
        "b": {"side": "right", "passes": [first, last]},
    }


def sides(opened: OpenPiece) -> list[list[int]]:
    return [seam.model_dump()["a"]["passes"] for seam in opened.piece.seams]


def trouble(opened: OpenPiece) -> str:
    return opened.trouble.message if opened.trouble else ""


@pytest.fixture
def sewn() -> OpenPiece:
    """Cast on, then A, B, C of 4, 6 and 8 rows; sewn along B, along B and C, and inside C."""
    parts = (CAST_ON, plain(4, "A"), plain(6, "B"), plain(8, "C"))
    return OpenPiece(piece(*parts, seams=[side(5, 10), side(5, 18), side(12, 14)]))


@pytest.mark.parametrize(
    ("place", "rows", "expected"),
    [
        (1, 6, [[7, 12], [7, 20], [14, 16]]),
        (2, 10, [[5, 14], [5, 22], [16, 18]]),
        (2, 3, [[5, 7], [5, 15], [9, 11]]),
        (3, 20, [[5, 10], [5, 30], [12, 14]]),
    ],
)
def test_seams_stay_at_their_rows(sewn: OpenPiece, place: int, rows: int, expected: list[list[int]]) -> None:
    before = sides(sewn)
    sewn.revise(editing.with_fields(sewn.piece, (place,), {"rows": rows}), "Rows")
    assert sides(sewn) == expected
    sewn.undo()
    assert sides(sewn) == before


def test_seams_go_with_a_part_that_moves_and_close_over_one_that_goes(sewn: OpenPiece) -> None:
    sewn.revise(editing.moved(sewn.piece, (1,), 3), "Move")
    # B is first now, C behind it, A last; the second seam still runs from B's first row to C's last.
    assert sides(sewn) == [[1, 6], [1, 14], [8, 10]]
    sewn.undo()
    sewn.revise(editing.taken_out(sewn.piece, (1,)), "Take out")
    assert sides(sewn) == [[1, 6], [1, 14], [8, 10]]
    sewn.revise(editing.taken_out(sewn.piece, (1,)), "Take out")
    # Nothing is left of the first seam, which stays as it was written; the second is C alone.
    assert sides(sewn)[1:] == [[1, 8], [2, 4]]


def test_a_drag_there_and_back_leaves_seams_as_they_were(sewn: OpenPiece) -> None:
    before = sides(sewn)
    for rows in (5, 1, 2, 9, 6):
        sewn.revise(editing.with_fields(sewn.piece, (2,), {"rows": rows}), "Rows", "drag")
    assert sides(sewn) == before


def test_seams_outlast_an_edit_that_cannot_be_knitted() -> None:
    opened = OpenPiece(piece(CAST_ON, plain(4), plain(6), seams=[side(5, 10)]))
    opened.revise(editing.with_fields(opened.piece, (0,), {"needles": "L4-R4", "yarn": "none"}), "Yarn")
    assert trouble(opened)
    assert sides(opened) == [[5, 10]]
    opened.revise(editing.with_fields(opened.piece, (1,), {"rows": 5}), "Rows")
    opened.revise(editing.with_fields(opened.piece, (0,), {"yarn": "main"}), "Yarn")
    assert not trouble(opened)
    assert sides(opened) == [[6, 11]]
