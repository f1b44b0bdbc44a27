from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some
from pydantic import ValidationError

from bedview.checks.finding import Severity
from bedview.checks.judge import judge
from bedview.plan.loop_length import Relaxation
from bedview.plan.piece import BedPlan, Piece, Yarn
from bedview.plan.procedure import compile_piece
from bedview.plan.swatch import (
    KnittedSwatch,
    Measured,
    SwatchBook,
    gauge_of,
    gauge_of_counts,
    pooled_gauge,
    weigh,
    weighed,
)
from bedview.plan.swatch_plan import SwatchPlan, SwatchTooWide, plan_of, swatch_piece
from bedview.plan.units import parse_length_mm

BED = BedPlan(needles=120, pitch_mm=9.0)
MAIN = Yarn(id="main", role="fabric", tex=400, name="larch-brown wool")


def swatch(*, width_mm: float = 187.5, height_mm: float = 180, **more: Any) -> KnittedSwatch:  # noqa: ANN401 - a document's parts
    known = {
        "yarn": "main",
        "tension": 6,
        "needles": 42,
        "rows": 60,
        "marked_stitches": 30,
        "marked_rows": 40,
    }
    after = Measured(width_mm=width_mm, height_mm=height_mm)
    return KnittedSwatch.model_validate(known | {"after": after} | more)


def test_stitches_and_rows_over_a_width() -> None:
    four_inches = parse_length_mm("4 in")
    gauge = gauge_of_counts("main", 6, (32, 44), (four_inches, four_inches))
    # 8 × 11 to the inch.
    assert gauge.stitches == pytest.approx(8 * 100 / 25.4, abs=5e-4)
    assert gauge.rows == pytest.approx(11 * 100 / 25.4, abs=5e-4)


def test_needles_and_rows_with_the_size_of_the_swatch() -> None:
    gauge = gauge_of_counts("main", 6, (40, 60), (250, 272.7))
    assert (gauge.stitches, gauge.over_mm) == (16, 100)
    assert gauge.rows == pytest.approx(22.002)


@given(some.integers(1, 400), some.integers(1, 999), some.floats(10, 2000), some.floats(10, 2000))
def test_the_gauge_of_a_swatch_gives_its_size_again(
    stitches: int, rows: int, width_mm: float, height_mm: float
) -> None:
    gauge = gauge_of_counts("main", 6, (stitches + 1, rows + 1), (width_mm, height_mm))
    assert (stitches + 1) * gauge.over_mm / gauge.stitches == pytest.approx(width_mm, rel=0.02)
    assert (rows + 1) * gauge.over_mm / gauge.rows == pytest.approx(height_mm, rel=0.02)


def test_washed_and_rested_goes_before_what_came_off_the_machine() -> None:
    both = swatch(before=Measured(width_mm=200, height_mm=200))
    assert gauge_of(both) == gauge_of(swatch())
    assert both.state is Relaxation.WET
    across, up = both.change() or (0, 0)
    assert across == pytest.approx(-0.0625)
    assert up == pytest.approx(-0.1)
    unwashed = swatch(before=Measured(width_mm=200, height_mm=200), after=None)
    assert unwashed.state is Relaxation.DRY
    assert unwashed.change() is None
    gauge = gauge_of(unwashed)
    assert gauge is not None
    assert gauge.stitches == 15
    assert gauge_of(swatch(after=None)) is None


def test_several_of_a_yarn_and_dial_count_as_one_large_one() -> None:
    gauge = pooled_gauge([swatch(width_mm=180), swatch(width_mm=195)])
    assert gauge.stitches == pytest.approx(60 * 100 / 375)
    unwashed = swatch(after=None, before=Measured(width_mm=999, height_mm=999))
    assert pooled_gauge([swatch(), unwashed]) == pooled_gauge([swatch()])


@pytest.mark.parametrize("odd_one", [{"tension": 7}, {"yarn": "blue"}])
def test_other_yarns_and_dials_are_not_counted_together(odd_one: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="one yarn at one dial"):
        pooled_gauge([swatch(), swatch(**odd_one)])


def test_nothing_measured_has_no_gauge() -> None:
    with pytest.raises(ValueError, match="measured"):
        pooled_gauge([swatch(after=None)])


def test_a_book_gives_a_gauge_a_yarn_and_dial() -> None:
    book = SwatchBook(
        swatches=(swatch(), swatch(tension=7, width_mm=200), swatch(), swatch(yarn="blue", after=None))
    )
    assert [(gauge.yarn, gauge.tension, gauge.stitches) for gauge in book.gauges()] == [
        ("main", 6, 16),
        ("main", 7, 15),
    ]
    assert len(book.of("main")) == 3
    assert len(book.of("main", 6)) == 2
    assert book.cautions() == []


def test_a_swatch_apart_from_the_others_is_said() -> None:
    book = SwatchBook(swatches=(swatch(), swatch(), swatch(width_mm=205), swatch()))
    (caution,) = book.cautions()
    assert caution.values["place"] == 3
    assert caution.says().startswith("Swatch 3 of 'main' at tension 6 lies 6 %")


def test_a_book_is_the_same_written_and_read() -> None:
    book = SwatchBook(swatches=(swatch(grams=31.5, title="Second"), swatch(closed_edges=0)))
    assert SwatchBook.model_validate_json(book.model_dump_json(exclude_unset=True)) == book


@pytest.mark.parametrize(
    ("wrong", "reason"),
    [
        ({"marked_stitches": 43}, "43 stitches are marked of only 42"),
        ({"marked_rows": 61}, "61 rows are marked of only 60"),
        ({"grams": float("nan")}, "must be a number"),
        ({"grams": "31"}, "must be a number"),
        ({"colour": "red"}, "Extra inputs"),
    ],
)
def test_what_is_no_swatch(wrong: dict[str, Any], reason: str) -> None:
    with pytest.raises(ValidationError, match=reason):
        swatch(**wrong)


def test_the_scale() -> None:
    hung_in_waste, closed = swatch(grams=30, closed_edges=0), swatch(grams=30)
    assert hung_in_waste.loops() == 42 * 60
    # A closed edge takes 4.6 widths of a stitch, a stitch 4.1 (Munden's Kw, wet).
    assert closed.loops() == pytest.approx(42 * (60 + 2 * 4.6 / 4.1))
    assert hung_in_waste.loop_mm_by_scale(400) == pytest.approx(30 / 400 * 1e6 / 2520)
    assert swatch().loop_mm_by_scale(400) is None
    assert swatch().tex_by_scale(24) is None
    loop = hung_in_waste.loop_mm_by_scale(400)
    assert loop is not None
    assert hung_in_waste.tex_by_scale(loop) == pytest.approx(400)
    assert weighed([hung_in_waste, closed, swatch()]) is closed
    assert weighed([swatch()]) is None


@pytest.mark.parametrize(("grams", "said"), [(25, False), (30, True), (20, True)])
def test_the_scale_beside_the_theory(grams: float, said: bool) -> None:
    # 42 × 60 stitches of 16 × 22.2 to 10 cm, wet: 24.65 mm each of 400 tex are 24.8 g.
    weighing = weigh(swatch(grams=grams, closed_edges=0), 400)
    assert weighing is not None
    theory_g = 42 * 60 * (21.6 / (30 / 187.5 * 40 / 180)) ** 0.5 / 1e6 * 400
    assert weighing.ratio == pytest.approx(grams / theory_g, rel=1e-4)
    caution = weighing.caution()
    assert (caution is not None) == said
    assert caution is None or f"weighs {grams}.0 g" in caution.says()


def test_nothing_weighed_or_nothing_measured_is_not_compared() -> None:
    assert weigh(swatch(), 400) is None
    assert weigh(swatch(grams=30, after=None), 400) is None


def test_a_planned_swatch_can_be_knitted() -> None:
    plan = SwatchPlan()
    piece = swatch_piece(plan, BED, MAIN, 6)
    procedure = compile_piece(piece)
    fabric = procedure.timeline.fabric
    assert (plan.needles, plan.rows) == (42, 60)
    assert procedure.timeline.passes == plan.rows
    assert len(fabric) == plan.needles * (plan.rows + 2)
    left, right = plan.marker_needles(BED.needles)
    assert right - left - 1 == plan.marked_stitches
    assert procedure.timeline.state_at(-1).needles - 1 - right == left
    assert [finding for finding in judge(procedure.timeline) if finding.severity is not Severity.NOTE] == []


def test_markers_hang_on_the_named_stitches_after_the_named_rows() -> None:
    procedure = compile_piece(swatch_piece(SwatchPlan(), BED, MAIN, 6))
    said = [
        (step.passes, sentence) for step in procedure.steps for sentence in step.hands if "marker" in sentence
    ]
    # Hung before the next row is knitted: after 10 rows, and after 40 more.
    assert len(said) == 2
    assert all("L16" in sentence and "R16" in sentence and "30 stitches" in sentence for _, sentence in said)
    assert said[1][0] - said[0][0] == 40


@given(some.integers(1, 100), some.integers(1, 99), some.integers(0, 9), some.integers(1, 9))
def test_any_plan_fits_or_says_so(stitches: int, rows: int, outside: int, outside_rows: int) -> None:
    plan = SwatchPlan(stitches, rows, outside, outside_rows)
    if plan.needles > BED.needles:
        with pytest.raises(SwatchTooWide, match=f"needs {plan.needles} needles"):
            swatch_piece(plan, BED, MAIN, 6)
        return
    timeline = compile_piece(swatch_piece(plan, BED, MAIN, 6)).timeline
    assert len(timeline.fabric) == plan.needles * (plan.rows + 2)


@given(some.integers(1, 60), some.integers(1, 200), some.integers(1, 30))
def test_a_swatch_piece_is_known_again(stitches: int, rows: int, outside: int) -> None:
    plan = SwatchPlan(stitches, rows, outside_rows=outside)
    piece = swatch_piece(plan, BED, MAIN, 6)
    assert plan_of(piece) == plan
    longer = piece.to_document()
    longer["segments"][5]["rows"] += 1
    assert plan_of(Piece.read(longer)) is None
    assert plan_of(Piece.read(longer | {"segments": longer["segments"][:3]})) is None


def test_a_yarn_is_known_by_its_name_in_every_piece() -> None:
    book = SwatchBook(swatches=(swatch(yarn="Larch-brown  wool"), swatch(yarn="moss")))
    unnamed = MAIN.model_copy(update={"id": "b", "name": ""})
    (found,) = book.of_yarns([MAIN, unnamed])
    assert (found.yarn, found.needles) == ("main", 42)
    # Every new piece has a "main yarn", another one each time.
    usual = SwatchBook(swatches=(swatch(yarn="Main yarn"),))
    assert usual.of_yarns([MAIN.model_copy(update={"name": "main yarn"})]) == ()


def test_a_book_changes_one_swatch_at_a_time() -> None:
    book = SwatchBook().with_swatch(swatch()).with_swatch(swatch(tension=7))
    looser = swatch(tension=8)
    assert [each.tension for each in book.with_swatch(looser, swatch()).swatches] == [8, 7]
    assert [each.tension for each in book.without(swatch()).swatches] == [7]
    assert book.with_balls("Moss", "50 g").with_balls("moss ", "20 g").balls_of("MOSS") == "20 g"
    assert book.with_balls("moss", "50 g").with_balls("moss", "").stock == ()
