"""The same piece by another gauge: for another yarn or bed, and in the middle of knitting."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.bed.needles import NeedleError
from bedview.plan.gauge import EVEN, ODD
from bedview.plan.piece import Gauge
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.regauge import Regauge
from bedview.plan.replan import ReplanError, replanned, rows_ahead
from tests.plan.knitting import GAUGE, MAIN, cast_on, knitted, plain

OLD = Gauge(yarn="main", tension=6, stitches=16, rows=22, over_mm=100)
FINER = Gauge(yarn="fine", tension=4, stitches=20, rows=28, over_mm=100)
LONGER = Gauge(yarn="main", tension=6, stitches=16, rows=20, over_mm=100)


# -- another yarn, another bed --------------------------------------------------------------------------


def test_counts_keep_their_size() -> None:
    finer = Regauge(OLD, FINER)
    assert finer.stitches(48).count == 60
    assert finer.rows(22).count == 28
    assert finer.stitches(48).says() == "30.0 cm = 60 stitches; 60 stitches are 30.0 cm"
    assert finer.stitches(50, EVEN).count == 62
    assert finer.rows(23, ODD).count == 29


@given(some.integers(0, 400))
def test_the_same_gauge_changes_nothing(count: int) -> None:
    same = Regauge(OLD, OLD)
    assert same.stitches(count).count == same.rows(count).count == same.keep_parity(count).count == count


@given(some.integers(1, 300), some.floats(5, 60))
def test_a_middle_stitch_stays_and_sizes_hold(count: int, stitches: float) -> None:
    other = Regauge(OLD, Gauge(yarn="b", tension=1, stitches=stitches, rows=30, over_mm=100))
    figure = other.keep_parity(count)
    assert figure.count % 2 == count % 2
    assert abs(figure.gives_mm - count * 100 / 16) <= 100 / stitches + 1e-6 or figure.count == 1


@pytest.mark.parametrize(
    ("needles", "there"),
    [("L24-R24", "L30-R30"), ("L8-R4", "L10-R5"), ("R5-R12", "R6-R15"), ("L8-L5", "L10-L6")],
)
def test_stretches_stay_where_they_were(needles: str, there: str) -> None:
    # 16 to 20 stitches: each edge a quarter farther out. R5 begins 4 stitches right of the middle, then 5.
    assert Regauge(OLD, FINER).needles(needles, 120, 200) == there


@given(some.integers(0, 40), some.integers(1, 40))
def test_stretches_that_touched_touch_again(first: int, wide: int) -> None:
    finer = Regauge(OLD, FINER)
    left, right = f"R{first + 1}-R{first + wide}", f"R{first + wide + 1}-R{first + wide + 4}"
    last = finer.needles(left, 200, 400).split("-")[-1]
    begin = finer.needles(right, 200, 400).split("-")[0]
    assert int(begin[1:]) == int(last[1:]) + 1


@pytest.mark.parametrize(
    ("needles", "bed", "reason"),
    [("L24-R24", 50, "need a bed of 60 needles; this one has 50"), ("L4,R4", 200, "not one stretch")],
)
def test_what_has_no_place(needles: str, bed: int, reason: str) -> None:
    with pytest.raises(NeedleError, match=reason):
        Regauge(OLD, FINER).needles(needles, 120, bed)


def test_a_stretch_too_narrow_for_the_other_gauge() -> None:
    coarse = Gauge(yarn="b", tension=1, stitches=4, rows=6, over_mm=100)
    with pytest.raises(NeedleError, match="narrower than half a stitch"):
        Regauge(OLD, coarse).needles("R1", 120, 120)


# -- in the middle of knitting -----------------------------------------------------------------------------


@given(some.floats(10, 2000), some.integers(0, 400), some.floats(5, 60))
def test_rows_ahead_reach_the_length(length_mm: float, done: int, rows: float) -> None:
    gauge = Gauge(yarn="main", tension=6, stitches=16, rows=rows, over_mm=100)
    for rounding in (EVEN, ODD):
        ahead = rows_ahead(length_mm, done, gauge, rounding)
        assert ahead.rows == ahead.done + ahead.ahead
        assert ahead.rows % 2 == rounding.plus
        if ahead.over_mm:
            assert 0 <= ahead.ahead <= 1
        elif ahead.rows > 1:
            assert abs(ahead.gives_mm - length_mm) <= 200 / rows + 1e-6


def lengths(*cm: float) -> list[dict[str, object]]:
    return [cast_on(), *({"kind": "plain", "length_cm": each} for each in cm)]


def rows_of(procedure: Procedure) -> list[int]:
    timeline = procedure.timeline
    ends = [timeline.pass_of_line(timeline.line_of_action(span.stop) - 1) for span in procedure.top_spans()]
    return np.diff(ends).tolist()


def test_only_the_rows_ahead_change() -> None:
    before = knitted(lengths(10, 10, 10))
    assert rows_of(before) == [22, 22, 22]
    # 32 rows are knitted, 10 of them of the second length. They measure 5 cm now; 10 more are the rest.
    anew = replanned(before, 32, LONGER)
    assert anew.under_way is not None
    assert (anew.under_way.done_mm, anew.under_way.ahead) == (50, 10)
    assert rows_of(compile_piece(anew.piece)) == [22, 20, 20]
    assert anew.piece.gauges == (LONGER,)
    assert anew.cautions == ()


def test_a_length_that_is_already_too_long() -> None:
    much_longer = Gauge(yarn="main", tension=6, stitches=16, rows=15, over_mm=100)
    anew = replanned(knitted(lengths(10, 10)), 20, much_longer)
    assert rows_of(compile_piece(anew.piece)) == [20, 15]
    (caution,) = anew.cautions
    # 20 rows of 15 to 10 cm.
    assert caution.says() == "20 rows measure 13.3 cm already, 3.3 cm more than was asked"


@given(some.integers(0, 66), some.floats(5, 60))
def test_what_is_knitted_stays(done: int, rows: float) -> None:
    repeat = {"kind": "repeat", "times": 3, "segments": [{"kind": "plain", "length_cm": 3}, plain(2)]}
    before = knitted([*lengths(5, 4), plain(6), repeat, {"kind": "plain", "length_cm": 6}])
    new = Gauge(yarn="main", tension=6, stitches=16, rows=rows, over_mm=100)
    after = compile_piece(replanned(before, done, new).piece)
    loops = 20 + 20 * done
    assert len(after.timeline.fabric) >= loops
    for array in ("needle", "kind", "level"):
        there, here = (getattr(each.timeline.fabric, array)[:loops] for each in (before, after))
        assert np.array_equal(there, here)


def test_a_repeat_under_way_keeps_its_rows() -> None:
    repeat = {"kind": "repeat", "times": 3, "segments": [{"kind": "plain", "length_cm": 5}]}
    anew = replanned(knitted([cast_on(), repeat, {"kind": "plain", "length_cm": 5}]), 15, LONGER)
    assert rows_of(compile_piece(anew.piece)) == [33, 10]
    assert [caution.rule for caution in anew.cautions] == ["repeat-goes-on"]
    # Behind it, or before its first row, there is nothing to say.
    assert replanned(knitted([cast_on(), repeat]), 33, LONGER).cautions == ()
    assert replanned(knitted([cast_on(), repeat]), 0, LONGER).cautions == ()


def test_a_repeat_whose_lengths_differ_from_time_to_time_is_refused() -> None:
    gauges = [GAUGE, GAUGE | {"tension": 8, "rows": 18}]
    inside = [{"kind": "plain", "length_cm": 5}, {"kind": "plain", "rows": 2, "tension": 8}]
    before = knitted([cast_on(), {"kind": "repeat", "times": 2, "segments": inside}], gauges=gauges)
    with pytest.raises(ReplanError, match="segment 2 is 9 rows one time and 11 another"):
        replanned(before, 5, LONGER)


def test_a_gauge_that_was_missing_is_added() -> None:
    before = knitted([cast_on(), plain(10)], yarns=[MAIN], gauges=[])
    assert replanned(before, 5, LONGER).piece.gauges == (LONGER,)
    other = GAUGE | {"tension": 7}
    before = knitted([cast_on(), plain(10)], gauges=[other])
    assert [gauge.tension for gauge in replanned(before, 5, LONGER).piece.gauges] == [7, 6]
