"""Reminders: notes at a row inside a segment of any kind."""

from __future__ import annotations

import json
from typing import Any

import pytest
from pydantic import ValidationError

from bedview.bed.actions import Note
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.session.really_knitted import Change, with_change
from tests.plan.making import PLAIN_4, cast_on, compiled, document

MARK = "hang a marker at both edges"


def notes(procedure: Procedure) -> list[tuple[int, str]]:
    """Passes made when each note is said, and its words."""
    timeline = procedure.timeline
    return [
        (timeline.pass_of_line(timeline.line_of_action(number)), action.text)
        for number, action in enumerate(timeline.actions)
        if isinstance(action, Note)
    ]


def at(*rows: int, text: str = MARK) -> list[dict[str, Any]]:
    return [{"row": row, "text": text} for row in rows]


def test_a_marker_at_a_row_inside_plain_rows() -> None:
    reminder = {"row": 3, "text": MARK, "needles": "L6,R6"}
    made = compiled(12, cast_on(12), {"kind": "plain", "rows": 8, "reminders": [reminder]})
    hands = [step.hands for step in made.steps if step.makes_pass]
    assert hands == [()] * 3 + [(f"{MARK} (L6 and R6)",)] + [()] * 4
    assert made.timeline.passes == 8


@pytest.mark.parametrize(("rows", "said"), [((0,), [4]), ((8,), [12]), ((5, 2, 2), [6, 6, 9])])
def test_before_the_first_row_and_behind_the_last(rows: tuple[int, ...], said: list[int]) -> None:
    eight = {"kind": "plain", "rows": 8, "reminders": at(*rows)}
    assert [row for row, _ in notes(compiled(12, cast_on(12), PLAIN_4, eight))] == said


@pytest.mark.parametrize("kind", [
    {"kind": "plain", "rows": 8},
    {"kind": "short_rows", "down_to": 4},
    {"kind": "short_rows", "down_to": 8, "back": {"wraps": "hand"}},
    {"kind": "narrow", "stitches": 4},
    {"kind": "widen", "stitches": 4},
    {"kind": "hem", "rows": 3},
    {"kind": "scrap_off", "rows": 7},
    {"kind": "repeat", "times": 4, "segments": [{"kind": "plain", "rows": 2}]},
    {"kind": "actions", "actions": [{"do": "knit", "rows": 8, "from": "right"}]},
])  # fmt: skip
def test_any_kind_may_carry_them_and_is_otherwise_the_same(kind: dict[str, Any]) -> None:
    start = {"kind": "cast_on", "needles": "L6-R6", "tension": 6}
    plainly = compiled(20, start, PLAIN_4, kind)
    made = compiled(20, start, PLAIN_4, kind | {"reminders": at(0, 3, 8)})
    assert [row for row, _ in notes(made)] == [4, 4 + 3, 4 + 8]
    for passes in range(4, 4 + 8 + 1):
        one, other = plainly.timeline.state_after_pass(passes), made.timeline.state_after_pass(passes)
        assert (one.position == other.position).all()
        assert (one.height == other.height).all()
        assert one.carriage is other.carriage


def test_in_a_repeat_rows_count_through_all_its_times_or_in_each() -> None:
    inner = {"kind": "plain", "rows": 3, "reminders": at(1, text="inner")}
    repeat = {"kind": "repeat", "times": 2, "segments": [inner], "reminders": at(1, 4, text="outer")}
    made = compiled(12, cast_on(12), repeat)
    assert notes(made) == [(1, "outer"), (1, "inner"), (4, "outer"), (4, "inner")]


def test_a_row_that_does_not_come_is_told_with_the_numbers() -> None:
    with pytest.raises(PlanError) as caught:
        compiled(12, cast_on(12), {"kind": "plain", "rows": 12, "reminders": at(4, 14)})
    assert caught.value.where == "segments[1].reminders[1].row"
    assert caught.value.message == "this part makes only 12 rows; a reminder waits for row 14"
    with pytest.raises(PlanError, match="this part makes no row; a reminder waits for row 1"):
        compiled(12, cast_on(12) | {"reminders": at(1)})


@pytest.mark.parametrize(("reminder", "says"), [
    ({"row": -1, "text": MARK}, "greater than or equal to 0"),
    ({"row": 1, "text": ""}, "at least 1 character"),
    ({"row": 1, "text": MARK, "needles": "R7"}, "R7"),
    ({"row": 1}, "Field required"),
    ({"row": 1, "text": MARK, "side": "left"}, "not permitted"),
])  # fmt: skip
def test_what_is_no_reminder_is_not_a_piece(reminder: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError, match=says):
        Piece.read(document(12, [cast_on(12), PLAIN_4 | {"reminders": [reminder]}]))


def test_in_a_mirror_they_are_about_the_needles_across() -> None:
    inner = PLAIN_4 | {"reminders": [{"row": 1, "text": MARK, "needles": "L6-L4,R6"}, *at(2)]}
    piece = Piece.read(document(12, [cast_on(12), {"kind": "repeat", "times": 2, "segments": [inner]}]))
    once = mirror_piece(piece)
    image = once.to_document()["segments"][1]["segments"][0]["reminders"]
    assert list(image) == [{"row": 1, "text": MARK, "needles": "L6,R4-R6"}, *at(2)]
    assert json.dumps(mirror_piece(once).to_document()) == json.dumps(piece.to_document())


def test_a_reminder_moved_builds_anew_from_there() -> None:
    def piece(row: int) -> Piece:
        return Piece.read(
            document(12, [cast_on(12), {"kind": "plain", "rows": 9, "reminders": at(row)}, PLAIN_4])
        )

    edited = compile_piece(piece(7), compile_piece(piece(2)))
    assert [row for row, _ in notes(edited)] == [7]
    assert list(edited.actions) == list(compile_piece(piece(7)).actions)


def test_a_row_more_as_really_knitted_keeps_the_note() -> None:
    made = compiled(12, cast_on(12), {"kind": "plain", "rows": 6, "reminders": at(4)})
    step = next(step.number for step in made.steps if step.passes == 3)
    knitted = compile_piece(with_change(made, Change(step, rows=1)))
    assert knitted.timeline.passes == 7
    assert notes(knitted) == [(5, MARK)]
