"""Short rows: the worked values of the trade, closed forms of rows and stitches, and nothing to warn of."""

from __future__ import annotations

from math import ceil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure
from tests.plan.making import (
    PLAIN_4,
    cast_on,
    compiled,
    document,
    reference_piece,
    rows_of,
    stitches_of,
    widths_of,
    working,
)
from tests.reference.judge import findings as reference_findings
from tests.reference.simulator import run as reference_run

SHORT = 2  # the index of the short rows in the pieces below

HEELS = [
    # wraps down and back, faces by size, notes, warnings
    ("automatic", "none", {1: 22, 2: 1003, 4: 1, 5: 20}, 21, 0),
    ("automatic", "hand", {1: 44, 2: 1044}, 0, 0),
    ("none", "none", {2: 1002, 4: 2, 6: 20}, 0, 22),
]
SLOPES = [
    ("none", {2: 312, 4: 5}, 5),
    ("hand", {1: 10, 2: 317}, 0),
    ("automatic", {1: 5, 2: 317, 3: 5}, 0),
]


def short_rows(needles: int, *, carriage: str = "right", before: int = 4, **fields: object) -> Procedure:
    """Plain rows, short rows, plain rows."""
    segments = [
        cast_on(needles),
        {"kind": "plain", "rows": before},
        {"kind": "short_rows", **fields},
        PLAIN_4,
    ]
    return compiled(needles, *segments, carriage=carriage)


def count(procedure: Procedure, severity: Severity) -> int:
    return sum(
        finding.severity is severity and finding.action is not None for finding in judge(procedure.timeline)
    )


@pytest.mark.parametrize("carriage", ["left", "right"])
@pytest.mark.parametrize(("down", "back", "faces", "notes", "warnings"), HEELS)
def test_heel_of_30_needles(
    carriage: str, down: str, back: str, faces: dict[int, int], notes: int, warnings: int
) -> None:
    made = short_rows(30, carriage=carriage, down_to=8, wraps=down, back={"wraps": back})
    assert rows_of(made, SHORT) == 44
    assert made.timeline.openings.sizes() == faces
    assert count(made, Severity.NOTE) == notes
    assert count(made, Severity.WARNING) == warnings


@pytest.mark.parametrize(("wraps", "faces", "warnings"), SLOPES)
def test_shoulder_slope_of_24_needles(wraps: str, faces: dict[int, int], warnings: int) -> None:
    made = short_rows(24, down_to=4, ends="right", needles_a_step=4, wraps=wraps, back={"all_at_once": True})
    # One row to bring the carriage to the left, and two for each of five groups.
    assert rows_of(made, SHORT) == 1 + 5 * 2
    assert made.timeline.openings.sizes() == faces
    assert count(made, Severity.WARNING) == warnings


def test_slow_reference_agrees_on_a_heel() -> None:
    made = short_rows(12, down_to=4, wraps="hand", back={"wraps": "automatic"})
    told = reference_run(reference_piece(made))
    assert {
        int(size): many for size, many in told.fabric["openings"].items()
    } == made.timeline.openings.sizes()
    assert [finding for finding in reference_findings(told) if finding["severity"] != "note"] == [
        {
            "rule": "stitches-left",
            "severity": "warning",
            "action": None,
            "pass": 4 + 16 + 4,
            "needles": [f"L{n}" for n in range(6, 0, -1)] + [f"R{n}" for n in range(1, 7)],
        }
    ]


# -- sequences written out --------------------------------------------------------------------------------


def hands_and_carriage(procedure: Procedure, segment: int) -> list[str]:
    steps = [step for step in procedure.steps if step.segment == segment]
    return [". ".join((*step.hands, step.carriage or "stop")) for step in steps]


def test_three_at_a_time_with_automatic_wraps_is_the_sequence_of_the_trade() -> None:
    made = short_rows(
        12, carriage="left", down_to=6, ends="right", needles_a_step=3, wraps="automatic", before=2
    )
    assert hands_and_carriage(made, SHORT) == [
        "Set the hold cams to on. Bring R5 and R6 to hold. Knit to the right",
        "Bring R4 to hold. Knit to the left",
        "Bring R2 and R3 to hold. Knit to the right",
        "Bring R1 to hold. Knit to the left",
    ]


def test_both_ends_in_each_row_wrap_the_far_side_by_hand() -> None:
    made = short_rows(8, down_to=4, ends="both_each_row", back={"wraps": "hand"}, before=2)
    assert hands_and_carriage(made, SHORT) == [
        "Set the hold cams to on. Bring L4 and R4 to hold. Knit to the left",
        "Wrap L4 by hand. Bring L3 and R3 to hold. Knit to the right",
        "Wrap R3 by hand. Push L3 and R3 back to upper working. Knit to the left",
        "Wrap L4 by hand. Push L4 and R4 back to upper working. Knit to the right",
    ]


def test_automatic_wraps_on_the_way_back_bring_one_more_and_hold_it_again() -> None:
    made = short_rows(8, down_to=4, back={"wraps": "automatic"}, before=2)
    assert hands_and_carriage(made, SHORT)[4:] == [
        "Push L4 and L3 back to upper working. Knit to the left",
        "Bring L4 to hold. Push R3 and R4 back to upper working. Knit to the right",
        "Bring R4 to hold. Push L4 back to upper working. Knit to the left",
        "Push R4 back to upper working. Knit to the right",
    ]


def test_needles_on_the_side_of_the_yarn_come_back_after_one_row() -> None:
    made = short_rows(8, down_to=4, ends="in_turn", back={"all_at_once": True}, before=2)
    assert hands_and_carriage(made, SHORT)[4:] == [
        "Push L4 and L3 back to upper working. Knit to the left",
        "Push R3 and R4 back to upper working. stop",
    ]


# -- closed forms -----------------------------------------------------------------------------------------

sides = st.sampled_from(["left", "right"])
hand_or_none = st.sampled_from(["hand", "none"])


@st.composite
def narrowings(draw: st.DrawFn) -> tuple[int, int, int, str]:
    """Needles (even), down to how many, step, where the carriage begins."""
    needles = 2 * draw(st.integers(2, 20))
    return needles, draw(st.integers(1, needles - 1)), draw(st.integers(1, 9)), draw(sides)


@given(narrowings(), st.sampled_from(["automatic", "hand", "none"]), hand_or_none)
@settings(deadline=None, max_examples=300)
def test_one_needle_a_row_takes_as_many_rows_as_needles(
    shape: tuple[int, int, int, str], wraps: str, back: str
) -> None:
    needles, fewest, _, carriage = shape
    held = needles - fewest
    down = short_rows(needles, carriage=carriage, down_to=fewest, wraps=wraps)
    assert widths_of(down, SHORT) == [needles - row for row in range(1, held + 1)]
    both = short_rows(needles, carriage=carriage, down_to=fewest, wraps=wraps, back={"wraps": back})
    assert rows_of(both, SHORT) == 2 * held
    # Down: m-1, m-2 … k. Back: k+1 … m.
    assert stitches_of(both, SHORT) == sum(range(fewest, needles)) + sum(range(fewest + 1, needles + 1))
    assert working(both) == needles


@given(narrowings(), hand_or_none)
@settings(deadline=None, max_examples=300)
def test_groups_in_turn(shape: tuple[int, int, int, str], wraps: str) -> None:
    needles, fewest, step, carriage = shape
    held = needles - fewest
    steps = ceil(held / step)
    made = short_rows(needles, carriage=carriage, down_to=fewest, needles_a_step=step, wraps=wraps)
    assert widths_of(made, SHORT) == [max(fewest, needles - step * row) for row in range(1, steps + 1)]
    wrapping = short_rows(needles, carriage=carriage, down_to=fewest, needles_a_step=step, wraps="automatic")
    assert rows_of(wrapping, SHORT) == steps + (step > 1)
    assert working(made) == fewest == widths_of(wrapping, SHORT)[-1]


@given(narrowings(), sides, st.sampled_from(["automatic", "hand", "none"]))
@settings(deadline=None, max_examples=300)
def test_one_side_takes_two_rows_a_step(shape: tuple[int, int, int, str], side: str, wraps: str) -> None:
    needles, fewest, step, carriage = shape
    steps = ceil((needles - fewest) / step)
    made = short_rows(needles, carriage=carriage, down_to=fewest, ends=side, needles_a_step=step, wraps=wraps)
    # Needles go to hold away from the carriage; a single one that the pass wraps goes to hold beside it.
    crossing = carriage == side and not (wraps == "automatic" and step == 1)
    assert rows_of(made, SHORT) == 2 * steps + crossing
    assert working(made) == fewest
    bears, stands = made.timeline.state.height > 0, made.timeline.state.position
    held_side = stands[: needles // 2] if side == "left" else stands[needles // 2 :]
    assert (held_side == 3).sum() == min(needles - fewest, needles // 2)
    assert bears.all()


@given(narrowings(), st.sampled_from(["automatic", "hand", "none"]), hand_or_none)
@settings(deadline=None, max_examples=300)
def test_both_ends_take_half_as_many_rows(shape: tuple[int, int, int, str], wraps: str, back: str) -> None:
    needles, fewest, _, carriage = shape
    made = short_rows(
        needles, carriage=carriage, down_to=fewest, ends="both_each_row", wraps=wraps, back={"wraps": back}
    )
    rows = ceil((needles - fewest) / 2)
    assert rows_of(made, SHORT) == 2 * rows
    widths = widths_of(made, SHORT)
    assert widths[:rows] == [max(fewest, needles - 2 * row) for row in range(1, rows + 1)]
    assert widths[-1] == needles


@st.composite
def sound_short_rows(draw: st.DrawFn) -> dict[str, Any]:
    """Any short rows in which something wraps every turn."""
    needles = 2 * draw(st.integers(2, 16))
    fields: dict[str, Any] = {
        "down_to": draw(st.integers(1, needles - 1)),
        "ends": draw(st.sampled_from(["in_turn", "both_each_row", "left", "right"])),
        "wraps": draw(st.sampled_from(["automatic", "hand"])),
    }
    alone = fields["ends"] == "both_each_row"
    fields["needles_a_step"] = 1 if alone else draw(st.integers(1, 8))
    choices: list[dict[str, Any]] = [{"all_at_once": True}]
    if alone:
        choices.append({"wraps": "hand"})
    else:
        choices.append({"wraps": "hand", "needles_a_step": draw(st.integers(1, 8))})
        if fields["needles_a_step"] == 1 or fields["wraps"] == "hand":
            choices.append({"wraps": "automatic", "needles_a_step": 1})
    fields["back"] = draw(st.sampled_from(choices))
    return {"needles": needles, "carriage": draw(sides), "before": draw(st.integers(1, 6)), **fields}


@given(sound_short_rows())
@settings(deadline=None, max_examples=400)
def test_whatever_is_wrapped_gives_nothing_to_warn_of(fields: dict[str, Any]) -> None:
    made = short_rows(**fields)
    assert [finding.rule for finding in judge(made.timeline) if finding.severity is not Severity.NOTE] == [
        "stitches-left"
    ]
    assert working(made) == fields["needles"]


# -- refusals ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("needles", "fewest", "says"), [
    (12, 14, "only 12 needles work here; you asked to go down to 14"),
    (12, 12, "only 12 needles work here; you asked to go down to 12"),
])  # fmt: skip
def test_too_few_needles_are_told_with_the_numbers(needles: int, fewest: int, says: str) -> None:
    with pytest.raises(PlanError) as caught:
        short_rows(needles, down_to=fewest)
    assert caught.value.message == says
    assert caught.value.where == "segments[2].down_to"
    assert caught.value.procedure.timeline.passes == 4


def test_without_yarn_short_rows_are_refused_rather_than_dropped() -> None:
    cut = {"kind": "actions", "actions": [{"do": "cut"}]}
    with pytest.raises(PlanError, match="no yarn is in the feeder"):
        compiled(8, cast_on(8), PLAIN_4, cut, {"kind": "short_rows", "down_to": 4})


@pytest.mark.parametrize(("fields", "says"), [
    ({"ends": "both_each_row", "needles_a_step": 3}, "only 1 needle can be held at an end, not 3"),
    ({"ends": "both_each_row", "back": {"wraps": "automatic"}}, "no pass can wrap both ends"),
    ({"ends": "both_each_row", "back": {"needles_a_step": 2}}, "only 1 needle can come back at an end"),
    ({"needles_a_step": 3, "back": {"wraps": "automatic", "needles_a_step": 1}}, "not in groups of 3"),
    ({"back": {"wraps": "automatic", "needles_a_step": 2}}, "not in groups of 2"),
])  # fmt: skip
def test_what_no_carriage_can_do_is_not_a_piece(fields: dict[str, Any], says: str) -> None:
    segments = [cast_on(12), PLAIN_4, {"kind": "short_rows", "down_to": 4, **fields}]
    with pytest.raises(ValidationError, match=says):
        Piece.read(document(12, segments))
