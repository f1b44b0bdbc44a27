"""Needles named one by one, at the same places of their stretches by another gauge."""

from typing import Any

import pytest

from bedview.bed.fabric import LoopKind
from bedview.bed.needles import needle_name
from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.gauge_carried import Carried, NewGround, carried
from bedview.plan.gauge_places import follow_needles
from bedview.plan.piece import BedPlan, Gauge
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import find_starter
from tests.plan.knitting import GAUGE, actions, cast_on, knitted, plain

BED = BedPlan(needles=200, pitch_mm=4.5, carriage="right")
OLD = Gauge.model_validate(GAUGE)
FINER = Gauge(yarn="main", tension=4, stitches=20, rows=28, over_mm=100)


def segments(found: Carried) -> list[dict[str, Any]]:
    return list(found.piece.to_document()["segments"])


def test_an_edge_stays_an_edge_and_the_middle_the_middle() -> None:
    # 16 to 20 stitches: L24-R24 becomes L30-R30, the held R1-R24 becomes R1-R30.
    aside = {"kind": "set_aside", "groups": ["R1-R24"]}
    wraps = actions(
        {"do": "wrap", "needle": "R1"}, {"do": "wrap", "needle": "R12"}, {"do": "wrap", "needle": "R24"}
    )
    found = carried(knitted([cast_on("L24-R24"), plain(2), aside, wraps]), OLD, NewGround(FINER, BED, {}))
    assert (found.trouble, found.left) == ("", ())
    # R12 is the 12th of 24, 11/24 in: 13.75 of 30 in, on the 15th.
    assert [item["needle"] for item in segments(found)[3]["actions"]] == ["R1", "R15", "R30"]


def test_what_is_held_comes_back_whatever_it_has_become() -> None:
    """Which end holds one needle more is decided by the carriage, not by the width."""
    narrow = {"kind": "short_rows", "down_to": 15, "wraps": "automatic"}
    start = [cast_on("L24-R24"), plain(2), narrow]
    held = knitted(start).timeline.state.held.tolist()
    left = [needle_name(needle, 120) for needle in held if needle < 60]
    back = {"kind": "bring_back", "needles": f"{left[0]}-{left[-1]}", "ends": "left", "wraps": "hand"}
    found = carried(knitted([*start, back]), OLD, NewGround(FINER, BED, {}))
    assert found.trouble == ""
    # All that was held on the left came back; on the right nothing did.
    assert found.procedure.timeline.state.held.min() >= 100


def test_a_bed_that_is_parted_otherwise_has_no_same_places() -> None:
    """Two groups side by side that wait and work by the old gauge: by the new one nothing waits any more."""
    wrap = {"kind": "actions", "title": "Corner", "actions": [{"do": "wrap", "needle": "R24"}]}
    old = knitted([cast_on("L24-R24"), plain(2), {"kind": "set_aside", "groups": ["R24"]}, wrap])
    other = knitted([cast_on("L24-R24"), plain(2), plain(1), plain(1)])
    document = old.piece.to_document()
    found = follow_needles(document, old, other)
    assert found.lost == {3}
    assert found.document["segments"][3] == document["segments"][3]


@pytest.mark.parametrize("name", ["sock", "bootee", "lined-bootee", "mitt"])
@pytest.mark.parametrize(("stitches", "rows"), [(20, 28), (24, 36), (32, 44), (36, 52)])
def test_starters_that_name_corners_are_carried_over_whole(name: str, stitches: float, rows: float) -> None:
    before = compile_piece(find_starter(name).make({"size": 38} if name != "mitt" else {}))
    old = before.piece.gauges[0]
    gauge = Gauge(yarn=old.yarn, tension=old.tension, stitches=stitches, rows=rows, over_mm=100)
    found = carried(before, old, NewGround(gauge, BED, {}))
    assert found.trouble == ""
    assert not [said for said in found.left if "action by action" in said]

    def warnings(timeline: Any) -> int:  # noqa: ANN401 - any timeline
        return sum(each.severity is not Severity.NOTE for each in judge(timeline))

    assert warnings(found.procedure.timeline) <= warnings(before.timeline)
    wraps = [
        int((each.timeline.fabric.kind == LoopKind.HAND_WRAP).sum()) for each in (before, found.procedure)
    ]
    assert wraps[1] == pytest.approx(wraps[0] * stitches / 28, rel=0.25)
