from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.units import UnitError
from bedview.plan.yarn import yarn_needs
from bedview.plan.yarn_on_hand import on_hand, parse_balls
from tests.plan.knitting import MAIN, cast_on, knitted, plain

LOOP_MM = sqrt(21.6 / (0.16 * 0.22))
ROW_M = 20 * LOOP_MM / 1000
CAST_ON_M = 20 * 4.6 * 6.25 / 1000
PLAIN = [cast_on(), plain(100)]


@given(some.integers(1, 90))
def test_runs_out_in_the_row_it_does_not_reach(rows: int) -> None:
    found = on_hand(knitted(PLAIN), "main", [CAST_ON_M + (rows - 0.5) * ROW_M])
    assert found.says() == f"runs out near row {rows}"
    assert found.runs_out is not None
    assert found.runs_out.likely_pass == found.runs_out.likely_row == rows
    # With a tenth more yarn to the stitch it ends a tenth of the way earlier.
    early = ((rows - 0.5) * ROW_M + CAST_ON_M - 1.1 * CAST_ON_M) / (1.1 * ROW_M)
    assert found.runs_out.early_pass == max(0, int(early) + 1)


def test_enough_and_barely_enough() -> None:
    procedure = knitted(PLAIN)
    (need,) = yarn_needs(procedure.piece, procedure)
    barely = on_hand(procedure, "main", [need.metres * 1.01])
    assert barely.says().startswith("may run out from row 9")
    assert barely.runs_out is not None
    assert barely.runs_out.likely_pass is None
    enough = on_hand(procedure, "main", [need.metres * 1.1001])
    assert (enough.says(), enough.joins, enough.runs_out) == ("lasts to the end", (), None)


def test_what_is_used_pass_by_pass_is_what_the_piece_needs() -> None:
    # A ball that holds just what the piece needs lasts, and one a hair shorter does not.
    short = {"kind": "short_rows", "down_to": 8, "wraps": "automatic", "back": {}}
    procedure = knitted([cast_on(), plain(7), short, plain(7), {"kind": "bind_off", "tail_cm": 30}])
    (need,) = yarn_needs(procedure.piece, procedure)
    needs_m = need.metres + 0.3
    assert on_hand(procedure, "main", [needs_m + 0.001]).says().startswith("may run out")
    assert on_hand(procedure, "main", [needs_m - 0.001]).says().startswith("runs out near row")


def test_the_counter_is_what_people_read() -> None:
    reset = {"kind": "actions", "actions": [{"do": "counter", "value": 0}]}
    procedure = knitted([cast_on(), plain(40), reset, plain(60)])
    found = on_hand(procedure, "main", [CAST_ON_M + 50.5 * ROW_M])
    assert found.runs_out is not None
    assert (found.runs_out.likely_pass, found.runs_out.likely_row) == (51, 11)


def test_joins_keep_out_of_short_rows() -> None:
    short = {"kind": "short_rows", "down_to": 6, "wraps": "automatic", "back": {}}
    procedure = knitted([cast_on(), plain(20), short, plain(20)])
    # Enough for 20 rows and a few short ones, even with the margin and an end to darn in.
    ball = (CAST_ON_M + 24 * ROW_M) * 1.1
    found = on_hand(procedure, "main", [ball, 1000])
    assert [(join.pass_number, join.in_short_rows) for join in found.joins] == [(20, False)]
    assert found.runs_out is None


def test_a_join_in_short_rows_is_said_where_there_is_no_better_place() -> None:
    wedge = {"kind": "short_rows", "down_to": 2, "ends": "right", "wraps": "automatic"}
    procedure = knitted([cast_on("L10-R10"), plain(1), wedge])
    found = on_hand(procedure, "main", [(CAST_ON_M + 2.5 * ROW_M) * 1.1, 3.0, 1000])
    assert found.joins[-1].in_short_rows
    assert found.joins[0].pass_number < found.joins[-1].pass_number


@given(some.lists(some.floats(0.5, 8), min_size=1, max_size=6))
def test_no_ball_is_asked_for_more_than_it_holds(balls: list[float]) -> None:
    found = on_hand(knitted(PLAIN), "main", balls)
    starts = [0, *(join.pass_number for join in found.joins)]
    assert starts == sorted(set(starts))
    for ball, (begun, end) in enumerate(pairwise(starts)):
        rows = end - begun - (1 if begun == 0 else 0)
        used = rows * ROW_M + (CAST_ON_M if begun == 0 else 0)
        # A ball that is too small for the next row is joined all the same.
        assert used <= balls[ball] or end == begun + 1
    assert found.runs_out is None or found.runs_out.early_pass >= starts[-1]


def test_no_ball_at_all() -> None:
    found = on_hand(knitted(PLAIN), "main", [])
    assert found.says() == "runs out near row 0"


def test_a_yarn_that_is_not_there() -> None:
    with pytest.raises(ValueError, match="'blue' is not in the piece"):
        on_hand(knitted(PLAIN), "blue", [1])


def test_only_its_own_yarn_counts() -> None:
    stripes = [cast_on(), plain(10), plain(10) | {"yarn": "blue"}, plain(10) | {"yarn": "main"}]
    procedure = knitted(stripes, yarns=[MAIN, MAIN | {"id": "blue"}])
    assert on_hand(procedure, "blue", [9.5 * ROW_M]).says() == "runs out near row 20"
    assert on_hand(procedure, "main", [CAST_ON_M + 10.5 * ROW_M]).says() == "runs out near row 21"


@pytest.mark.parametrize(
    ("text", "tex", "metres"),
    [
        # 400 tex are 400 g to 1,000 m: 50 g are 125 m, 20 g 50 m.
        ("3 x 50 g, 20 g", 400, (125, 125, 125, 50)),
        ("50g; 2 × 20 g", 400, (125, 50, 50)),
        ("2 x 120 m", None, (120, 120)),
        ("120, ", None, (120,)),
        ("12,5 g", 400, (31.25,)),
        # 1 oz is 28.349523125 g, 100 yd are 91.44 m.
        ("1 oz, 100 yd", 400, (70.8738078125, 91.44)),
    ],
)
def test_balls_as_they_are_written(text: str, tex: float | None, metres: tuple[float, ...]) -> None:
    assert parse_balls(text, tex) == pytest.approx(metres)


@pytest.mark.parametrize(
    "text", ["", "x", "3 x", "0 m", "0 x 50 m", "999 x 50 m", "3 x 50 q", "50 m 3 x 20 m"]
)
def test_balls_that_are_none(text: str) -> None:
    with pytest.raises(UnitError):
        parse_balls(text, 400)


def test_weights_are_lengths_only_by_tex() -> None:
    with pytest.raises(UnitError, match="tex"):
        parse_balls("50 g", None)


def test_the_margin_is_the_gauge_s() -> None:
    # By a gauge at this tension: 10 %; by none at all: 35 %.
    assert on_hand(knitted(PLAIN), "main", [1]).margin == 0.10
    assert on_hand(knitted(PLAIN, gauges=[]), "main", [1]).margin == 0.35
