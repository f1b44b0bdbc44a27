"""Published counts and rules of partial knitting, shown by the bed.

Marks beside each check: T, the number was read in the text of the source; D, derived from cited numbers; C,
common practice without a source; M, from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from bedview.bed.fabric import LoopKind
from bedview.checks.judge import judge
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from tests.plan.making import PLAIN_4, cast_on, compiled, document, rows_of, stitches_of, widths_of


def rules(procedure: Procedure) -> set[str]:
    return {finding.rule for finding in judge(procedure.timeline)}


def held(needles: str, carriage: str, *, rows: int = 1) -> Procedure:
    """Some needles brought to hold at once after plain rows, and rows knitted."""
    actions = [
        {"do": "hold_cams", "on": True},
        {"do": "place", "needles": needles, "position": "hold"},
        {"do": "knit", "rows": rows},
    ]
    return compiled(20, cast_on(20), PLAIN_4, {"kind": "actions", "actions": actions}, carriage=carriage)


# T: University of Brighton, machine-knitting notes: any number of needles on the side away from the carriage,
# on the carriage's side one only.
@pytest.mark.parametrize("many", [1, 2, 5, 9])
def test_any_number_is_held_away_from_the_carriage_one_only_beside_it(many: int) -> None:
    right = f"R{11 - many}-R10"
    assert "group-wrapped" not in rules(held(right, "left"))
    assert ("group-wrapped" in rules(held(right, "right"))) == (many > 1)


# T: University of Brighton, machine-knitting notes: the steepest slope is one needle every two rows a side.
def test_the_steepest_slope_is_one_needle_every_two_rows_a_side() -> None:
    made = compiled(20, cast_on(20), PLAIN_4, {"kind": "short_rows", "down_to": 4})
    positions = [made.timeline.state_after_pass(4 + row).position for row in range(17)]
    for side in (slice(0, 10), slice(10, 20)):
        on_hold = [int((position[side] == 3).sum()) for position in positions]
        assert all(0 <= later - now <= 1 for now, later in zip(on_hold, on_hold[2:], strict=False))
        assert on_hold[-1] == 8
    assert "group-wrapped" not in rules(made)


# T: class notes on the hold position: to hold k with an automatic wrap hold k - 1, knit, hold one more.
@pytest.mark.parametrize("k", [2, 3, 4, 6])
def test_to_hold_k_with_an_automatic_wrap(k: int) -> None:
    short = {"kind": "short_rows", "down_to": 20 - k, "ends": "right", "needles_a_step": k}
    made = compiled(20, cast_on(20), PLAIN_4, short, carriage="left")
    first, second = (made.timeline.event_of(made.timeline.line_of_pass(row)) for row in (5, 6))
    assert len(first.knit) == 20 - (k - 1)
    assert len(first.wrapped) == 0
    assert len(second.knit) == 20 - k
    assert second.wrapped.tolist() == [20 - k]


# T: machine-knitting hints, page 11: floats up to 5 stitches. C: or 25 mm.
@pytest.mark.parametrize(("pitch_mm", "apart", "long"), [
    (4.5, 5, False),
    (4.5, 6, True),
    (9.0, 2, False),
    (9.0, 3, True),
])  # fmt: skip
def test_floats(pitch_mm: float, apart: int, long: bool) -> None:
    idle = f"L{apart // 2}-R{apart - 1 - apart // 2}" if apart > 2 else "R1"
    actions = [{"do": "place", "needles": idle, "position": "out"}, {"do": "knit", "rows": 1}]
    made = compiled(20, cast_on(20), PLAIN_4, {"kind": "actions", "actions": actions}, pitch_mm=pitch_mm)
    assert ("long-float" in rules(made)) == long


# T: class notes on waste yarn: seven or eight rows, and a row of ravel cord.
def test_rows_of_waste_if_nothing_is_said() -> None:
    assert ScrapOffSegment(kind="scrap_off").rows in (7, 8)
    assert CastOnSegment(kind="cast_on", needles="L4-R4", how="waste").waste_rows in (7, 8)
    start = {"kind": "cast_on", "needles": "L4-R4", "how": "waste", "ravel": "cord"}
    assert rows_of(compiled(8, start), 0) == 8 + 1


# T: a yarn shop's table of pitches 4.5, 6.5, 7 and 9 mm; C: 3.6 mm. M: about 250, 200, 150 and 110 needles.
@pytest.mark.parametrize(
    ("pitch_mm", "needles"), [(3.6, 250), (4.5, 200), (6.5, 150), (7.0, 150), (9.0, 110)]
)
def test_common_beds(pitch_mm: float, needles: int) -> None:
    whole = {"kind": "cast_on", "needles": f"L{needles // 2}-R{needles // 2}"}
    made = compile_piece(Piece.read(document(needles, [whole, PLAIN_4], pitch_mm=pitch_mm)))
    assert made.timeline.fabric.kind.tolist().count(LoopKind.KNIT) == 4 * needles


# D: a one-sided wedge on L20 to R20: R20 to R3 held three at a time, each followed by two rows, then two rows
# across all: 18/3 = 6 steps of 2 rows, and 2: 14 rows, 434 stitches; ten wedges 140 rows.
def test_a_one_sided_wedge() -> None:
    wedge = [
        {"kind": "short_rows", "down_to": 22, "ends": "right", "needles_a_step": 3, "wraps": "hand",
         "back": {"all_at_once": True}},
        {"kind": "plain", "rows": 2},
    ]  # fmt: skip
    repeat = {"kind": "repeat", "times": 10, "segments": wedge}
    made = compiled(40, cast_on(40), repeat, carriage="left")
    assert rows_of(made, 1) == 140
    widths = widths_of(made, 1)
    assert sum(widths[:14]) == 434
    assert widths == widths[:14] * 10


# T: sock notes of 2009/09: 32 needles to 14, one needle a row, in 18 rows, 9 at each end.
def test_a_two_sided_heel_of_32() -> None:
    made = compiled(32, cast_on(32), PLAIN_4, {"kind": "short_rows", "down_to": 14})
    assert rows_of(made, 2) == 18
    on_hold = made.timeline.state.position == 3
    assert (on_hold[:16].sum(), on_hold[16:].sum()) == (9, 9)


# T (the counts): notes of 2011: 27 needles to 11 and back to 27 in 32 rows; D: 608 stitches.
def test_a_two_sided_heel_of_27() -> None:
    start = {"kind": "cast_on", "needles": "L13-R14"}
    made = compiled(40, start, PLAIN_4, {"kind": "short_rows", "down_to": 11, "back": {"wraps": "none"}})
    assert rows_of(made, 2) == 32
    assert stitches_of(made, 2) == 608
    assert widths_of(made, 2)[-1] == 27


# T: Simply Knitting, October 2018: to a third of its stitches. T: socknitters archive: 24 until 8 remain.
def test_a_heel_of_24_down_to_a_third() -> None:
    made = compiled(24, cast_on(24), PLAIN_4, {"kind": "short_rows", "down_to": 24 // 3})
    assert widths_of(made, 2)[-1] == 8
    assert rows_of(made, 2) == 16


# -- a complete flat sock ---------------------------------------------------------------------------------
# T (counts only; its weights and lengths contradict its gauge): clearwaterknits, "men's socks", a class
# handout of 1979: 72 needles, leg 48 rows; heel on one half: 36 held one a row on the carriage's side to 20,
# and back to 36; foot ending at row 93, 97 or 103; toe to 16 and back. One stitch a turn is knitted by hand,
# not counted. D: heel 875 stitches in 31 rows, toe 1,023 in 39; in all 73 × 36 + 72 × 48 + 875 + 72 × 97 +
# 1,023 = 14,966 (14,678 and 15,398 the other sizes).


def half_turn(fewest: int) -> list[dict[str, Any]]:
    """The left half of 72 needles narrowed and widened, the stitch at the turn brought back by hand.

    The carriage begins on the right, so the left end of the half is held last.
    """
    each_end = (36 - fewest) // 2
    last = 36 - each_end + 1
    return [
        {"kind": "actions", "actions": [
            {"do": "hold_cams", "on": True}, {"do": "place", "needles": "R1-R36", "position": "hold"},
        ]},
        {"kind": "short_rows", "down_to": fewest},
        {"kind": "bring_back", "needles": f"L{last}", "ends": "all_at_once"},
        {"kind": "bring_back", "needles": f"L36-L{last + 1},L{each_end}-L1"},
        {"kind": "actions", "actions": [{"do": "place", "needles": "R1-R36", "position": "upper"}]},
    ]  # fmt: skip


@pytest.mark.parametrize(("fewest", "rows", "stitches"), [(20, 31, 875), (16, 39, 1_023)])
def test_turns_of_the_flat_sock(fewest: int, rows: int, stitches: int) -> None:
    made = compiled(72, cast_on(72), {"kind": "plain", "rows": 48}, *half_turn(fewest))
    turning = [place for place, segment in enumerate(made.piece.segments) if segment.kind != "plain"]
    assert sum(rows_of(made, place) for place in turning) == rows
    assert sum(stitches_of(made, place) for place in turning) == stitches


@pytest.mark.parametrize(("last_row", "stitches"), [(93, 14_678), (97, 14_966), (103, 15_398)])
def test_stitches_of_the_whole_flat_sock(last_row: int, stitches: int) -> None:
    over = {"kind": "actions", "actions": [{"do": "free_move"}]}
    made = compiled(
        72,
        {"kind": "cast_on", "needles": "L36-L1"},
        {"kind": "plain", "rows": 73},
        over,
        {"kind": "cast_on", "needles": "R1-R36"},
        {"kind": "plain", "rows": 48},
        *half_turn(20),
        over,
        {"kind": "plain", "rows": last_row},
        *([over] if last_row % 2 else []),
        *half_turn(16),
    )
    assert made.timeline.fabric.kind.tolist().count(LoopKind.KNIT) == stitches
