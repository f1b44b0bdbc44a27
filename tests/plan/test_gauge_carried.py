"""The same piece for another yarn or another bed, part by part."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.gauge_carried import Carried, CarryError, NewGround, carried, rows_between
from bedview.plan.piece import BedPlan, Gauge
from bedview.plan.procedure import Procedure
from tests.plan.knitting import GAUGE, MAIN, actions, cast_on, knitted, plain

OLD = Gauge.model_validate(GAUGE)
FINER = Gauge(yarn="main", tension=4, stitches=20, rows=28, over_mm=100)
BED = BedPlan(needles=200, pitch_mm=4.5, carriage="right")
END = {"kind": "bind_off", "tail_cm": 30}


def over(procedure: Procedure, gauge: Gauge = FINER, bed: BedPlan = BED) -> Carried:
    return carried(procedure, OLD, NewGround(gauge, bed, {}))


def written(found: Carried) -> list[dict[str, Any]]:
    return list(found.piece.to_document()["segments"])


def json_of(segment: dict[str, Any]) -> Any:  # noqa: ANN401 - JSON is anything
    return json.loads(json.dumps(segment))


def rows_of(procedure: Procedure) -> list[int]:
    return [rows_between(procedure, span.start, span.stop) for span in procedure.top_spans()]


def test_needles_rows_and_dials_keep_their_measure() -> None:
    # 16 × 22 to 20 × 28: 48 needles were 30 cm and are 60; 22 rows were 10 cm and are 28.
    found = over(knitted([cast_on("L24-R24"), plain(22), {"kind": "plain", "length_cm": 10}, END]))
    assert written(found) == [
        cast_on("L30-R30", tension=4),
        plain(28),
        {"kind": "plain", "length_cm": 10},
        END,
    ]
    assert rows_of(found.procedure) == [0, 28, 28, 0]
    assert (found.trouble, found.left) == ("", ())
    assert found.piece.gauges == (FINER,)
    assert found.piece.bed == BED


def test_the_carriage_stands_where_it_stood() -> None:
    # 23 rows would be 29.3; an odd number stays odd.
    assert written(over(knitted([cast_on(), plain(23), plain(1), plain(2)])))[1:] == [
        plain(29),
        plain(1),
        plain(2),
    ]


def test_slopes_stay_as_steep_and_halves_alike() -> None:
    heel = {"kind": "short_rows", "down_to": 16, "wraps": "automatic", "back": {}}
    found = over(knitted([cast_on("L24-R24"), plain(2), heel, plain(2), END]))
    # 48 needles down to 16 hold 16 at each end; 60 down to 20 hold 20.
    assert written(found)[2] == heel | {"down_to": 20}
    assert rows_of(found.procedure)[2] == 2 * (60 - 20)
    narrow = {"kind": "narrow", "stitches": 8, "every": 4}
    found = over(knitted([cast_on("L24-R24"), plain(4), narrow, END]))
    # 8 stitches are 10; 32 rows are 40.7, an even number: 40, which is every 4.
    assert written(found)[2] == {"kind": "narrow", "stitches": 10, "every": 4}


def test_wedges_go_round_as_far_as_before() -> None:
    wedge = {
        "kind": "short_rows",
        "down_to": 4,
        "ends": "right",
        "needles_a_step": 4,
        "back": {"all_at_once": True},
    }
    repeat = {"kind": "repeat", "times": 10, "segments": [wedge, plain(2)]}
    before = knitted([cast_on("L10-R10"), plain(2), repeat, END])
    found = over(before)
    rows, now = rows_of(before)[2], rows_of(found.procedure)[2]
    one = now / written(found)[2]["times"]
    assert abs(now - rows * 28 / 22) <= one / 2 + 1e-9


def test_what_names_single_needles_is_left_and_said() -> None:
    moved = actions({"do": "transfer", "from": "L10", "to": "L9"}, {"do": "knit", "rows": 2})
    marked = actions({"do": "note", "text": "hang a marker", "needles": "L8"}, {"do": "knit", "rows": 22})
    found = over(knitted([cast_on(), plain(2), moved | {"title": "Lace"}, marked]))
    assert json_of(written(found)[2]) == moved | {"title": "Lace"}
    assert found.left == ("Lace is written action by action, and stays as it is; look at it yourself",)
    # The middle of L8 lies 7.5 stitches left of the middle, now 9.4: on L10.
    assert json_of(written(found)[3])["actions"] == [
        {"do": "note", "text": "hang a marker", "needles": "L10"},
        {"do": "knit", "rows": 28},
    ]


def test_seams_and_hung_edges_stay_at_their_rows() -> None:
    hung = {"kind": "hang", "edge": {"made_in_pass": 12, "needles": "L8-R8"}, "needles": "L8-R8"}
    seam = {
        "kind": "mattress",
        "a": {"side": "left", "passes": [1, 22]},
        "b": {"side": "right", "passes": [1, 22]},
    }
    found = over(knitted([cast_on("L24-R24"), plain(22), plain(22), hung, plain(2)], seams=[seam]))
    # The 12th of 22 rows is the (1 + 11 × 27 / 21 = 15.1)th of 28.
    assert written(found)[3] == {
        "kind": "hang",
        "edge": {"made_in_pass": 15, "needles": "L10-R10"},
        "needles": "L10-R10",
    }
    (moved,) = found.piece.to_document()["seams"]
    assert (moved["a"]["passes"], moved["b"]["passes"]) == ([1, 28], [1, 28])
    assert found.trouble == ""


def test_other_dials_are_reckoned_and_said() -> None:
    looser = GAUGE | {"tension": 8, "stitches": 14, "rows": 20}
    found = over(knitted([cast_on(), plain(2)], gauges=[GAUGE, looser]))
    # 14 × 20/16 and 20 × 28/22, two numbers looser than 4.
    assert found.piece.gauges[1].model_dump() == looser | {"tension": 6, "stitches": 17.5, "rows": 25.455}
    assert found.left == ("The gauge at tension 6 is reckoned from the other one; knit a swatch at it",)


def test_a_piece_that_has_no_place_on_the_bed() -> None:
    small = BedPlan(needles=50, pitch_mm=9)
    with pytest.raises(CarryError, match="need a bed of 60 needles; this one has 50"):
        over(knitted([cast_on("L24-R24"), plain(2)]), bed=small)


@given(some.integers(1, 60), some.integers(1, 60), some.integers(1, 200))
def test_the_same_gauge_and_bed_change_nothing(left: int, right: int, rows: int) -> None:
    heel = {"kind": "short_rows", "down_to": 1, "needles_a_step": 2, "wraps": "hand"}
    narrow = {"kind": "narrow", "stitches": 1, "ends": "left"}
    more = [heel] if left + right > 1 else []
    shaped = [narrow] if left + right > 3 else []
    before = knitted([cast_on(f"L{left}-R{right}"), plain(rows), *shaped, *more])
    found = carried(before, OLD, NewGround(OLD, before.piece.bed, {}))
    assert rows_of(found.procedure) == rows_of(before)
    assert len(found.procedure.timeline.fabric) == len(before.timeline.fabric)


def test_the_yarn_s_new_name_is_written() -> None:
    ground = NewGround(FINER, BED, {"name": "harbour blue", "tex": 250})
    found = carried(knitted([cast_on(), plain(2)]), OLD, ground)
    assert found.piece.yarns[0].model_dump(exclude_unset=True) == MAIN | {"name": "harbour blue", "tex": 250}
