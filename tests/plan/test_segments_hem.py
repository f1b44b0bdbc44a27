"""Hems: two layers of rows, folded at a loose one and closed with the loops they began with."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from bedview.bed.fabric import LoopKind
from bedview.checks.judge import judge
from bedview.plan.procedure import PlanError, Procedure
from tests.plan.making import PLAIN_4, compiled, reference_piece, rows_of
from tests.reference.judge import findings as reference_findings
from tests.reference.simulator import run as reference_run

E_WRAP = {"kind": "cast_on", "needles": "L5-R5", "yarn": "main", "tension": 6}
ON_WASTE = E_WRAP | {"how": "waste", "ravel": "cord"}
HEM = 1  # the index of the hem in most pieces below


def told(procedure: Procedure, segment: int = HEM) -> list[str]:
    steps = [step for step in procedure.steps if step.segment == segment]
    return [". ".join((*step.hands, step.carriage or "stop")) for step in steps]


def joined(procedure: Procedure, closing_pass: int) -> list[list[tuple[int, int]]]:
    """Kind and pass of the loops that each loop of the closing row was drawn through, from left to right."""
    fabric = procedure.timeline.fabric
    start, end = fabric.loops_of_pass(closing_pass)
    knit = start + np.flatnonzero(fabric.kind[start:end] == LoopKind.KNIT)
    loops = knit[np.argsort(fabric.needle[knit])]
    return [
        [(int(fabric.kind[each]), int(fabric.pass_of(np.array([each]))[0])) for each in fabric.parents(loop)]
        for loop in loops.tolist()
    ]


def test_a_hem_from_an_e_wrapped_edge() -> None:
    made = compiled(20, E_WRAP, {"kind": "hem", "rows": 3, "inside_rows": 2}, PLAIN_4, {"kind": "bind_off"})
    assert told(made) == [
        "Knit to the left",
        "Knit to the right",
        "Set the tension dial to 8. Knit to the left",
        "Set the tension dial to 6. Knit to the right",
        "Knit to the left",
        "Knit to the right",
        "Hang the cast-on edge of L5 to R5 on L5 to R5. Knit to the left",
    ]
    whys = [step.why for step in made.steps if step.segment == HEM]
    assert whys[2] == "The row to fold at, looser than the others."
    assert whys[6] == "This row knits both layers of the hem together."
    assert joined(made, 7) == [[(LoopKind.CAST_ON, 0), (LoopKind.KNIT, 6)]] * 10
    assert [finding.rule for finding in judge(made.timeline)] == []


def test_a_hem_on_waste_picks_up_its_first_row() -> None:
    made = compiled(20, ON_WASTE, {"kind": "hem", "rows": 3}, PLAIN_4, {"kind": "bind_off"})
    # Nine rows of waste and cord, then 3 + 1 + 3 rows of the hem.
    assert joined(made, 9 + 8) == [[(LoopKind.KNIT, 10), (LoopKind.KNIT, 16)]] * 10
    assert rows_of(made, HEM) == 3 + 1 + 3 + 1
    assert [finding.rule for finding in judge(made.timeline)] == []


def test_a_hem_anywhere_picks_up_the_row_before_it() -> None:
    made = compiled(20, E_WRAP, PLAIN_4, {"kind": "hem", "rows": 2}, {"kind": "bind_off"})
    assert joined(made, 4 + 6) == [[(LoopKind.KNIT, 4), (LoopKind.KNIT, 9)]] * 10
    assert [finding.rule for finding in judge(made.timeline)] == []


def test_stitches_of_different_rows_are_closed_with_the_first_row_of_the_hem() -> None:
    """New stitches beside older ones: no one row to pick up lies below them all."""
    beside = {"kind": "cast_on", "needles": "R6-R7"}
    made = compiled(20, E_WRAP, PLAIN_4, beside, {"kind": "hem", "rows": 2}, {"kind": "bind_off"})
    assert joined(made, 4 + 6) == [[(LoopKind.KNIT, 5), (LoopKind.KNIT, 9)]] * 12
    assert [finding.rule for finding in judge(made.timeline)] == []


def test_each_dial_is_set_once_and_the_hem_keeps_its_own() -> None:
    hem = {"kind": "hem", "rows": 2, "tension": 5, "turning": 9, "closing": 7}
    made = compiled(20, E_WRAP, hem, PLAIN_4)
    dials = [sentence for step in made.steps for sentence in step.hands if "dial" in sentence]
    assert [sentence.rpartition(" ")[2] for sentence in dials] == ["6", "5", "9", "5", "7", "5"]
    assert made.timeline.state.dial == 5


def test_looser_than_nothing_cannot_be_set() -> None:
    start = {"kind": "cast_on", "needles": "L5-R5", "yarn": "main"}
    with pytest.raises(PlanError) as caught:
        compiled(20, start, {"kind": "hem", "rows": 2}, PLAIN_4)
    assert (caught.value.where, caught.value.message) == (
        "segments[1].tension",
        "no tension is set here, so the row to fold at cannot be 2 numbers looser; give one",
    )
    made = compiled(20, start, {"kind": "hem", "rows": 2, "turning": 9}, PLAIN_4)
    assert rows_of(made, HEM) == 2 + 1 + 2 + 1


def test_the_dial_ends_at_twenty() -> None:
    made = compiled(20, E_WRAP | {"tension": 19}, {"kind": "hem", "rows": 1}, PLAIN_4)
    assert any("Set the tension dial to 20" in step.hands for step in made.steps)


@pytest.mark.parametrize("carriage", ["left", "right"])
@pytest.mark.parametrize("start", [E_WRAP, ON_WASTE])
def test_slow_reference_agrees(start: dict[str, Any], carriage: str) -> None:
    made = compiled(20, start, {"kind": "hem", "rows": 3}, PLAIN_4, carriage=carriage)
    told = reference_run(reference_piece(made))
    assert {
        int(size): many for size, many in told.fabric["openings"].items()
    } == made.timeline.openings.sizes()
    assert [finding["rule"] for finding in reference_findings(told)] == ["stitches-left"]


def test_a_hem_wants_stitches_and_yarn() -> None:
    with pytest.raises(PlanError, match="no needle works here"):
        compiled(20, {"kind": "hem", "rows": 2})
    with pytest.raises(PlanError, match="no yarn is in the feeder"):
        compiled(20, E_WRAP, {"kind": "actions", "actions": [{"do": "cut"}]}, {"kind": "hem", "rows": 2})
