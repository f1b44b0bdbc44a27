"""From piece to procedure: steps, edits that keep what stands, limits, and errors that tell where."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.bed.events import Event
from bedview.bed.rules import Machine
from bedview.plan.instructions import instructions, plan_text
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.progress import progress, then
from bedview.plan.words import Words
from tests.plan.making import PLAIN_4, Segments, cast_on, compiled, document

HEEL = {"kind": "short_rows", "title": "Heel", "down_to": 4, "back": {"wraps": "hand"}}


def read(*segments: dict[str, Any], needles: int = 12, **options: Any) -> Piece:  # noqa: ANN401 - keywords of document
    return Piece.read(document(needles, list(segments), **options))


# -- steps ------------------------------------------------------------------------------------------------


def test_a_step_is_hands_and_then_at_most_one_pass() -> None:
    made = compiled(12, cast_on(12), {"kind": "plain", "rows": 3}, {"kind": "bind_off", "tail_cm": 9})
    assert [(step.hands, step.carriage) for step in made.steps] == [
        (("Thread the blue wool", "Cast on L6 to R6 with e-wraps, ending at the right"), None),
        ((), "Knit to the left"),
        ((), "Knit to the right"),
        ((), "Knit to the left"),
        (("Bind off L6 to R6, beginning at the left", "Cut the blue wool, leaving a tail of 9 cm"), None),
    ]
    assert [(step.in_group, step.of_group) for step in made.steps] == [(1, 1), (1, 3), (2, 3), (3, 3), (1, 1)]
    assert [step.segment for step in made.steps] == [0, 1, 1, 1, 2]


def test_steps_cover_every_line_and_action_once() -> None:
    made = compiled(
        12, cast_on(12), PLAIN_4, HEEL, {"kind": "repeat", "times": 2, "segments": [PLAIN_4, HEEL]}
    )
    lines = [line for step in made.steps for line in range(step.first_line, step.last_line + 1)]
    assert lines == list(range(made.timeline.lines))
    assert sorted({action for step in made.steps for action in step.actions}) == list(
        range(len(made.actions))
    )
    for step in made.steps:
        assert made.timeline.pass_of_line(step.last_line) == step.passes
        assert made.timeline.event_of(step.last_line).is_pass == step.makes_pass
    assert [made.step_of_pass(row).passes for row in range(1, made.timeline.passes + 1)] == list(
        range(1, made.timeline.passes + 1)
    )
    with pytest.raises(IndexError):
        made.step_of_pass(0)


def test_a_step_keeps_to_its_segment() -> None:
    made = compiled(
        12, cast_on(12), {"kind": "actions", "actions": [{"do": "note", "text": "hang the weights"}]}, PLAIN_4
    )
    assert [step.hands for step in made.steps[1:3]] == [("hang the weights",), ()]


def test_why_is_told_from_what_the_pass_did() -> None:
    made = compiled(12, cast_on(12), PLAIN_4, HEEL)
    heel = [step for step in made.steps if step.segment == 2]
    assert heel[0].hands == ("Set the hold cams to on", "Bring R6 to hold")
    assert heel[0].why == "The yarn leaves from R6, so this pass wraps it: no gap here."
    assert heel[8].hands == ("Wrap R3 by hand", "Push L3 back to upper working")
    assert heel[8].why == "R3 is wrapped by hand, so this pass lays no second wrap on it."
    assert heel[-1].why == "R6 knits again, its wrap together with its stitch."


def test_why_does_not_claim_a_wrap_that_was_not_made() -> None:
    """The same gesture after a new strand: there is no tip, so nothing is wrapped."""
    made = compiled(
        12,
        cast_on(12),
        PLAIN_4,
        {"kind": "actions", "actions": [
            {"do": "thread", "yarn": "second"},
            {"do": "hold_cams", "on": True},
            {"do": "place", "needles": "R6", "position": "hold"},
            {"do": "knit", "rows": 1},
            {"do": "hold_cams", "on": False},
            {"do": "knit", "rows": 1},
            {"do": "park"},
            {"do": "knit", "rows": 1},
        ]},
    )  # fmt: skip
    assert [step.why for step in made.steps[-3:]] == [
        "This strand is new and wraps nothing: R6 only waits.",
        "The hold cams are off, so R6 knits too.",
        "There is no yarn in the feeder, so L6 to R6 drop off with nothing to hold them.",
    ]
    assert made.steps[-1].carriage == "Run the empty carriage to the left"


def test_what_comes_next_and_how_far_it_is() -> None:
    made = compiled(12, cast_on(12), PLAIN_4, HEEL)
    first = next(step.number for step in made.steps if step.segment == 2)
    assert then(made, first - 1) == "hold cams on, R6 to hold, knit to the left"
    assert then(made, first) == "L6 to hold, knit to the right"
    assert progress(made, first) == "7 more rows until 4 needles knit (L2 to R2)"
    assert progress(made, first + 7) == "8 more rows until 12 needles knit (L6 to R6)"
    assert progress(made, 1) == "3 more rows here"
    assert progress(made, len(made.steps) - 1) == ""
    assert then(made, len(made.steps) - 1) == ""


# -- instructions -----------------------------------------------------------------------------------------


def test_instructions_fold_like_rows_and_number_every_other() -> None:
    made = compiled(12, cast_on(12), {"kind": "plain", "title": "Cuff", "rows": 20}, HEEL)
    text = plan_text(made).splitlines()
    assert "Cuff" in text
    assert "  rows 1-20: Knit 20 rows. COR" in text
    assert "  row 21: Set the hold cams to on. Bring R6 to hold. Knit to the left. COL" in text
    assert any(line.startswith("Key: COR, COL") for line in text)
    rows = [line for part in instructions(made) for line in part.lines if line.rows]
    assert sum(line.rows for line in rows) == made.timeline.passes
    assert all(a.first_row + a.rows == b.first_row for a, b in pairwise(rows))


def test_short_forms_come_with_a_key() -> None:
    made = compiled(12, cast_on(12), PLAIN_4, HEEL)
    text = plan_text(made.spoken(Words(12, made.piece.yarns, short_forms=True)))
    assert "Bring R6 to HP. Knit to the left." in text
    assert "Push L3 back to UWP." in text
    assert "HP: hold" in text


def test_the_counter_is_named_where_it_is_not_the_row() -> None:
    reset = {"kind": "actions", "actions": [{"do": "counter", "value": 0}]}
    text = plan_text(compiled(12, cast_on(12), PLAIN_4, reset, PLAIN_4))
    assert "  rows 1-4: Knit 4 rows. COR" in text
    assert "  rows 5-8: Knit 4 rows. COR, RC 4" in text


def test_repeats_are_headed_with_the_time_round() -> None:
    wedge = {"kind": "plain", "title": "Wedge", "rows": 2}
    made = compiled(12, cast_on(12), {"kind": "repeat", "title": "Wedges", "times": 3, "segments": [wedge]})
    assert [part.heading for part in instructions(made)][1:] == [
        f"Wedges, {time} of 3: Wedge" for time in (1, 2, 3)
    ]


# -- edits ------------------------------------------------------------------------------------------------


def same(a: Procedure, b: Procedure) -> None:
    """Two procedures are the same to whoever reads them."""
    assert list(a.actions) == list(b.actions)
    assert a.spans == b.spans
    assert a.reasons == b.reasons
    assert a.steps == b.steps
    assert a.timeline.openings.sizes() == b.timeline.openings.sizes()
    for line in range(a.timeline.lines):
        assert np.array_equal(a.timeline.state_at(line).position, b.timeline.state_at(line).position)


blocks = st.sampled_from([
    PLAIN_4,
    {"kind": "plain", "rows": 1},
    HEEL,
    {"kind": "short_rows", "down_to": 6, "ends": "left", "wraps": "hand", "back": {"all_at_once": True}},
    {"kind": "set_aside", "groups": ["R5-R6"], "wraps": "hand"},
    {"kind": "bring_back", "ends": "all_at_once"},
    {"kind": "repeat", "times": 2, "segments": [PLAIN_4, HEEL]},
    {"kind": "actions", "actions": [{"do": "note", "text": "look"}, {"do": "knit", "rows": 2}]},
])  # fmt: skip


@given(st.lists(st.lists(blocks, min_size=1, max_size=5), min_size=2, max_size=4))
@settings(deadline=None, max_examples=40)
def test_an_edited_piece_compiles_to_what_a_new_one_would(states: list[Segments]) -> None:
    previous: Procedure | None = None
    for segments in states:
        piece = read(cast_on(12), *segments)
        try:
            fresh = compile_piece(piece)
        except PlanError as error:
            with pytest.raises(PlanError, match=error.message.split("(")[0]) as again:
                compile_piece(piece, previous)
            previous = again.value.procedure
            same(previous, error.procedure)
            continue
        previous = compile_piece(piece, previous)
        same(previous, fresh)


def test_an_edit_at_the_end_does_not_knit_the_beginning_again(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = [
        item for k in range(500) for item in ({"do": "tension", "dial": k % 20}, {"do": "knit", "rows": 1})
    ]
    before = compile_piece(read(cast_on(12), {"kind": "actions", "actions": rows}))
    applied: list[int] = []
    real = Machine.apply

    def counting(self: Machine, state: Any, number: int, *rest: Any) -> Iterable[Event]:  # noqa: ANN401 - passed on
        if self.recording:
            applied.append(number)
        return real(self, state, number, *rest)

    monkeypatch.setattr(Machine, "apply", counting)
    rows = [*rows[:-1], {"do": "knit", "rows": 3}]
    after = compile_piece(read(cast_on(12), {"kind": "actions", "actions": rows}), before)
    assert applied == [len(after.actions) - 1]
    assert after.timeline.passes == 502


def test_a_new_title_keeps_everything(monkeypatch: pytest.MonkeyPatch) -> None:
    before = compile_piece(read(cast_on(12), PLAIN_4, HEEL))

    def nothing(*_: Any) -> list[Event]:  # noqa: ANN401 - whatever it is called with
        raise AssertionError("simulated again")

    monkeypatch.setattr(Machine, "apply", nothing)
    after = compile_piece(read(cast_on(12), {**PLAIN_4, "title": "Leg", "meant": ["opening"]}, HEEL), before)
    assert [span.segment.title for span in after.top_spans()] == ["", "Leg", "Heel"]
    assert after.timeline.passes == 4 + 16


# -- limits -----------------------------------------------------------------------------------------------


def endless(*inner: dict[str, Any], deep: int) -> dict[str, Any]:
    segment: dict[str, Any] = {"kind": "repeat", "times": 9999, "segments": list(inner)}
    for _ in range(deep - 1):
        segment = {"kind": "repeat", "times": 9999, "segments": [segment]}
    return segment


NOTES = [{"do": "note", "text": "x"}] * 50


@pytest.mark.parametrize(("segment", "says", "where"), [
    (endless({"kind": "plain", "rows": 9999}, deep=3), "200,000 passes", "segments[1].segments[0]"),
    (endless({"kind": "actions", "actions": NOTES}, deep=2), "200,000 actions", ""),
    (endless(deep=4), "200,000 times", ""),
])  # fmt: skip
def test_what_would_never_end_is_refused(segment: dict[str, Any], says: str, where: str) -> None:
    with pytest.raises(PlanError) as caught:
        compile_piece(read(cast_on(12), segment))
    assert says in caught.value.message
    assert caught.value.where.startswith(where or "segments[1]")
    assert caught.value.procedure.timeline.passes <= 200_000
    assert len(caught.value.procedure.actions) <= 200_000


# -- errors -----------------------------------------------------------------------------------------------


def test_a_refused_action_is_told_by_its_number_and_keeps_what_was_done() -> None:
    wrong = {"kind": "actions", "actions": [{"do": "knit", "rows": 2}, {"do": "wrap", "needle": "R6"}]}
    with pytest.raises(PlanError) as caught:
        compile_piece(read(cast_on(12), wrong, PLAIN_4))
    error = caught.value
    assert error.where == "action 3"  # thread, cast on, knit, wrap
    assert "R6 is not in hold" in error.message
    assert error.segment == 1
    assert error.procedure.finished == 1
    assert error.procedure.timeline.passes == 2
    assert len(error.procedure.steps) == 3


def test_spans_tell_which_segments_an_action_lies_in() -> None:
    made = compiled(
        12, cast_on(12), {"kind": "repeat", "times": 2, "meant": ["opening"], "segments": [PLAIN_4]}
    )
    assert [span.path for span in made.spans_of_action(3)] == [(1,), (1, 0)]
    assert made.spans_of_action(3)[1].turns == (0, 1)
