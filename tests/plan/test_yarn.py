from dataclasses import replace
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.loop_choice import LOOP_IN_PITCHES, MARGIN, Basis
from bedview.plan.loop_length import Relaxation
from bedview.plan.swatch import KnittedSwatch, Measured
from bedview.plan.yarn import YarnNeed, graft_tail_cm, yarn_needs
from tests.plan.knitting import BED, GAUGE, MAIN, actions, cast_on, knitted, plain

STITCH_MM = 100 / 16
LOOP_MM = sqrt(21.6 / (0.16 * 0.22))
"""Munden's wet constant over 16 × 22 to 10 cm."""
BIND_OFF = {"kind": "bind_off", "tail_cm": 40}
WEIGHED = KnittedSwatch(
    yarn="main",
    tension=6,
    needles=42,
    rows=60,
    marked_stitches=30,
    marked_rows=40,
    after=Measured(width_mm=187.5, height_mm=180),
    grams=30,
    closed_edges=0,
)


def need(segments: list[dict[str, object]], **changes: object) -> YarnNeed:
    procedure = knitted(segments, **changes)
    return yarn_needs(procedure.piece, procedure)[0]


@given(some.integers(1, 60), some.integers(1, 40))
def test_a_rectangle_counted_by_hand(half: int, rows: int) -> None:
    found = need([cast_on(f"L{half}-R{half}"), plain(rows), BIND_OFF])
    wide = 2 * half
    assert (found.stitches, found.cast_on, found.bound, found.wraps) == (wide * rows, wide, wide, 0)
    yarn_mm = wide * rows * LOOP_MM + 2 * wide * 4.6 * STITCH_MM
    assert found.metres == pytest.approx(yarn_mm / 1000)
    assert found.grams == pytest.approx(yarn_mm / 1000 * 0.4)
    assert found.tails_cm == 40
    advised_mm = (wide * rows * LOOP_MM + 2 * wide * 5 * STITCH_MM) * 1.1 + 400
    assert found.advised_metres == pytest.approx(advised_mm / 1000)


def test_tails_are_no_part_of_the_metres() -> None:
    with_tail, without = need([cast_on(), plain(4), BIND_OFF]), need([cast_on(), plain(4)])
    edge = 20 * 4.6 * STITCH_MM / 1000
    assert with_tail.metres == pytest.approx(without.metres + edge)
    assert without.tails_cm == 0


def test_a_hand_wrap_takes_two_widths_of_a_stitch() -> None:
    hold = {"do": "place", "needles": "R10", "position": "hold"}
    held = [actions({"do": "hold_cams", "on": True}, hold, {"do": "wrap", "needle": "R10"})]
    plainly = need([cast_on(), *held])
    assert plainly.wraps == 1
    assert plainly.metres == pytest.approx((20 * 4.6 + 2) * STITCH_MM / 1000)


def test_a_heel_has_the_stitches_and_wraps_it_takes() -> None:
    # One needle a row from 30 to 8 and back: 44 rows of 29 to 8 and of 9 to 30 stitches.
    short = {"kind": "short_rows", "down_to": 8, "wraps": "automatic", "back": {"wraps": "hand"}}
    found = need([cast_on("L15-R15"), plain(4), short, plain(4)])
    assert found.stitches == 8 * 30 + sum(range(8, 30)) + sum(range(9, 31))
    assert found.wraps > 0


def test_a_float_takes_the_pitch_of_each_column_it_jumps() -> None:
    # L3 and R3 have four columns between them: one jump in the cast-on, one in each row.
    found = need([cast_on("L3,R3"), plain(5)])
    knit_mm = 10 * LOOP_MM + 2 * 4.6 * STITCH_MM
    assert found.metres * 1000 == pytest.approx(knit_mm + 6 * 4 * 9.0)


def test_a_laid_in_loop_counts_as_a_stitch() -> None:
    widened = actions({"do": "place", "needles": "R11", "position": "work"})
    found = need([cast_on(), plain(2), widened, plain(2)])
    assert found.stitches == 2 * 20 + 2 * 21


def test_every_dial_has_its_own_gauge() -> None:
    gauges = [GAUGE, GAUGE | {"tension": 8, "stitches": 14, "rows": 19}]
    looser = plain(10) | {"tension": 8}
    found = need([cast_on(), plain(10), looser], gauges=gauges)
    loose_mm = sqrt(21.6 / (0.14 * 0.19))
    assert [(loop.dial, loop.basis) for loop in found.loops] == [(6, Basis.GAUGE), (8, Basis.GAUGE)]
    assert found.metres * 1000 == pytest.approx(200 * (LOOP_MM + loose_mm) + 20 * 4.6 * STITCH_MM)


def test_the_state_of_rest_is_named_and_changes_the_figure() -> None:
    procedure = knitted([cast_on(), plain(10)])
    by_state = {
        state: yarn_needs(procedure.piece, procedure, state=state)[0].loops[0] for state in Relaxation
    }
    assert by_state[Relaxation.DRY].mm == pytest.approx(sqrt(19 / (0.16 * 0.22)))
    assert "washed and rested" in by_state[Relaxation.WET].says()
    # The margin of a gauge covers whatever state it was in.
    lengths = [loop.mm for loop in by_state.values()]
    assert max(lengths) <= by_state[Relaxation.WET].mm * (1 + MARGIN[Basis.GAUGE])


def test_where_a_gauge_is_missing_the_default_is_named() -> None:
    no_gauge = need([cast_on(), plain(10)], gauges=[]).loops[0]
    assert no_gauge.basis is Basis.PITCH
    assert no_gauge.mm == pytest.approx(9 * LOOP_IN_PITCHES)
    assert "for want of a gauge" in no_gauge.says()
    other_dial = need([cast_on(tension=7), plain(10)]).loops[0]
    assert other_dial.basis is Basis.OTHER_TENSION
    assert "at tension 6" in other_dial.says()
    other_yarn = need(
        [cast_on(), plain(10)],
        yarns=[MAIN, MAIN | {"id": "second"}],
        gauges=[GAUGE | {"yarn": "second", "tension": 9}, GAUGE | {"yarn": "second"}],
    ).loops[0]
    assert other_yarn.basis is Basis.OTHER_YARN
    assert other_yarn.mm == pytest.approx(LOOP_MM)
    assert "'second' at tension 6" in other_yarn.says()
    assert MARGIN[Basis.GAUGE] < other_dial.margin < other_yarn.margin < no_gauge.margin


def test_the_default_lies_between_the_gauges_it_was_derived_from() -> None:
    # D: 8 × 11 to the inch on 4.5 mm and 16 × 22 to 10 cm on 9 mm, dry, by area and by width.
    assert 23.23 / 9 < LOOP_IN_PITCHES < 12.06 / 4.5


def test_what_the_scale_says_replaces_the_theory() -> None:
    procedure = knitted([cast_on(), plain(100)])
    found = yarn_needs(procedure.piece, procedure, [WEIGHED])[0]
    assert found.loops[0].basis is Basis.SCALE
    # 30 g in 42 × 60 stitches; 2,000 stitches then weigh as much each, and the cast-on a little more.
    stitch_g = 30 / (42 * 60)
    edge_g = 20 * 4.6 * STITCH_MM / 1_000_000 * 400
    assert found.grams == pytest.approx(2000 * stitch_g + edge_g)
    assert found.loops[0].margin < MARGIN[Basis.GAUGE]


def test_a_weighed_swatch_gives_grams_where_tex_is_unknown() -> None:
    nameless = {"id": "main", "role": "fabric"}
    procedure = knitted([cast_on(), plain(100)], yarns=[nameless])
    assert yarn_needs(procedure.piece, procedure)[0].grams is None
    found = yarn_needs(procedure.piece, procedure, [WEIGHED])[0]
    assert found.loops[0].mm == pytest.approx(LOOP_MM)
    edge_in_loops = 20 * 4.6 * STITCH_MM / LOOP_MM
    assert found.grams == pytest.approx((2000 + edge_in_loops) * 30 / (42 * 60))


def test_a_swatch_stands_in_for_a_missing_gauge() -> None:
    procedure = knitted([cast_on(), plain(10)], gauges=[])
    unweighed = WEIGHED.model_copy(update={"grams": None})
    loop = yarn_needs(procedure.piece, procedure, [unweighed])[0].loops[0]
    # 30 stitches over 187.5 mm and 40 rows over 180 mm.
    assert loop.basis is Basis.GAUGE
    assert loop.mm == pytest.approx(sqrt(21.6 / (0.16 * 40 / 180)), rel=1e-5)
    unwashed = unweighed.model_copy(update={"before": unweighed.after, "after": None})
    loop = yarn_needs(procedure.piece, procedure, [unwashed])[0].loops[0]
    assert loop.state is Relaxation.DRY
    assert loop.mm == pytest.approx(sqrt(19 / (0.16 * 40 / 180)), rel=1e-5)


def test_waste_and_unused_yarns_stand_apart() -> None:
    yarns = [MAIN, {"id": "scrap", "role": "waste"}, MAIN | {"id": "spare"}]
    scrap = {"kind": "scrap_off", "rows": 8, "tail_cm": 30}
    procedure = knitted([cast_on(), plain(10), scrap], yarns=yarns)
    main, waste, spare = yarn_needs(procedure.piece, procedure)
    assert (main.stitches, main.tails_cm) == (200, 30)
    assert (waste.role, waste.stitches, waste.tails_cm, waste.grams) == ("waste", 160, 0, None)
    assert (spare.stitches, spare.metres, spare.grams, spare.advised_metres) == (0, 0, 0, 0)


@pytest.mark.parametrize(("tail_cm", "missing_cm"), [(100, 0), (70, 0), (40, 27.5)])
def test_a_graft_takes_a_tail(tail_cm: float, missing_cm: float) -> None:
    # 20 stitches at 16 to 10 cm are 12.5 cm; 4.2 × 12.5 + 15 = 67.5.
    yarns = [MAIN, {"id": "scrap", "role": "waste"}]
    segments = [
        cast_on(),
        plain(10),
        {"kind": "scrap_off", "rows": 8, "tail_cm": tail_cm},
    ]
    start, end = {"made_in_pass": 0, "needles": "L10-R10"}, {"open": "L10-R10"}
    found = need(segments, yarns=yarns, seams=[{"kind": "graft", "a": start, "b": end}])
    (graft,) = found.grafts
    assert (graft.seam, graft.stitches) == (0, 20)
    assert graft.cm == pytest.approx(67.5)
    assert found.tails_cm == tail_cm
    short = [caution for caution in found.cautions if caution.rule == "tail-short"]
    assert [caution.values["missing"] for caution in short] == ([missing_cm] if missing_cm else [])
    expected = 20 * 10 * LOOP_MM + 20 * 5 * STITCH_MM
    assert found.advised_metres * 100 == pytest.approx(expected / 10 * 1.1 + tail_cm + missing_cm)


def test_a_graft_of_an_edge_that_is_not_there_takes_nothing() -> None:
    edge = {"made_in_pass": 3, "needles": "L60"}
    found = need([cast_on(), plain(4)], seams=[{"kind": "graft", "a": edge, "b": edge}])
    assert found.grafts == ()


def test_a_graft_takes_more_than_three_times_its_width() -> None:
    assert graft_tail_cm(300) == pytest.approx(4.2 * 30 + 15)
    assert graft_tail_cm(300) > 3 * 30 + 6 * 2.54


def test_a_yarn_too_thick_for_its_gauge_is_said() -> None:
    # 16 × 22 to 10 cm, wet, is a loop of 24.8 mm; a yarn of 2,000 tex is 1.7 mm thick.
    thick = need([cast_on(), plain(4)], yarns=[MAIN | {"tex": 2000}])
    assert [caution.rule for caution in thick.cautions] == ["yarn-jams", "tightness-high"]
    thin = need([cast_on(), plain(4)], yarns=[MAIN | {"tex": 400}])
    assert [(caution.rule, caution.severity) for caution in thin.cautions] == [("tightness-low", "note")]
    usual = need([cast_on(), plain(4)], yarns=[MAIN | {"tex": 1200}])
    assert usual.cautions == ()


def test_a_pair_of_socks_as_derived_from_published_counts() -> None:
    # T counts of a class handout of 1979, D: 14,966 stitches a sock; at 8 × 11 to the inch, dry, and 238 tex
    # 353 m and 84 g a pair. Here as many stitches in a plain piece: 14,966 = 14 × 1,069.
    gauge = {"yarn": "main", "tension": 6, "stitches": 8, "rows": 11, "over_mm": 25.4}
    procedure = knitted(
        [cast_on("L7-R7"), plain(1069)],
        yarns=[MAIN | {"tex": 238}],
        gauges=[gauge],
        bed=BED | {"pitch_mm": 4.5},
    )
    (found,) = yarn_needs(procedure.piece, procedure, state=Relaxation.DRY)
    edge_m = 14 * 4.6 * 25.4 / 8 / 1000
    pair = replace(found, metres=2 * (found.metres - edge_m))
    assert found.stitches == 14_966
    assert pair.metres == pytest.approx(353, abs=0.5)
    assert pair.metres * 238 / 1000 == pytest.approx(84, abs=0.5)
