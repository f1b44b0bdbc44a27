import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.gauge import (
    ANY,
    EVEN,
    ODD,
    Rounding,
    beyond_bed,
    doubtful_gauge,
    find_gauge,
    length_in_rows,
    rows_in,
    stitches_in,
    width_in_stitches,
)
from bedview.plan.piece import Gauge
from bedview.plan.units import LengthUnit

COUNTS = some.floats(1, 100)
MIDDLE = Gauge(yarn="main", tension=6, stitches=16, rows=22, over_mm=100)


def gauge(stitches: float, rows: float, yarn: str = "main", tension: float = 6) -> Gauge:
    return Gauge(yarn=yarn, tension=tension, stitches=stitches, rows=rows, over_mm=100)


def test_both_figures_are_said() -> None:
    assert length_in_rows(140, MIDDLE).says() == "14.0 cm = 31 rows; 31 rows are 14.1 cm"
    assert width_in_stitches(250, MIDDLE).says() == "25.0 cm = 40 stitches; 40 stitches are 25.0 cm"


def test_the_rounding_is_said() -> None:
    # 21 cm are 33.6 stitches; the nearest odd number is 33, and 33 stitches are 20.6 cm.
    said = width_in_stitches(210, MIDDLE, ODD).says(comma=True)
    assert said == "21,0 cm = 33,6 stitches, rounded to an odd number: 33; 33 stitches are 20,6 cm"
    said = length_in_rows(140, MIDDLE, EVEN).says(LengthUnit.IN)
    assert said == "5.5 in = 30.8 rows, rounded to an even number: 30; 30 rows are 5.4 in"
    assert Rounding(4, 2).says() == "a multiple of 4 plus 2"
    assert Rounding(6).says() == "a multiple of 6"


@given(some.floats(0, 5000), COUNTS, COUNTS, some.integers(1, 12), some.data())
def test_a_count_is_the_nearest_that_is_allowed(
    mm: float, stitches: float, rows: float, multiple_of: int, data: some.DataObject
) -> None:
    rounding = Rounding(multiple_of, data.draw(some.integers(0, multiple_of - 1)))
    for figure in (
        width_in_stitches(mm, gauge(stitches, rows), rounding),
        length_in_rows(mm, gauge(stitches, rows), rounding),
    ):
        assert figure.count % multiple_of == rounding.plus
        if figure.exact >= rounding.plus:
            assert abs(figure.count - figure.exact) <= multiple_of / 2 + 1e-6


@given(some.integers(0, 3000), COUNTS, COUNTS)
def test_what_a_count_measures_gives_the_count_again(count: int, stitches: float, rows: float) -> None:
    swatch = gauge(stitches, rows)
    assert rows_in(count * 100 / rows, swatch) == count
    assert stitches_in(count * 100 / stitches, swatch) == count
    assert length_in_rows(count * 100 / rows, swatch).gives_mm == pytest.approx(count * 100 / rows)


@pytest.mark.parametrize(
    ("value", "rounding", "count"),
    [(72.5, ANY, 73), (73, EVEN, 74), (72, ODD, 73), (0.4, ODD, 1), (0, EVEN, 0), (7, Rounding(4, 1), 9)],
)
def test_the_greater_of_two_equally_near(value: float, rounding: Rounding, count: int) -> None:
    assert rounding.nearest(value) == count


@pytest.mark.parametrize(("multiple_of", "plus"), [(0, 0), (2, 2), (3, -1)])
def test_a_rounding_that_no_count_meets(multiple_of: int, plus: int) -> None:
    with pytest.raises(ValueError, match="no count"):
        Rounding(multiple_of, plus)


def test_the_gauge_of_a_yarn_at_a_tension() -> None:
    loose, tight, other = gauge(15, 20), gauge(17, 24, tension=4), gauge(30, 40, "fine")
    all_of_them = [loose, tight, other]
    assert find_gauge(all_of_them, "main", 4) is tight
    assert find_gauge(all_of_them, "main", 5) is None
    assert find_gauge(all_of_them, "main", None) is None
    assert find_gauge(all_of_them, "fine", None) is other


def test_more_stitches_than_needles() -> None:
    assert beyond_bed(110, 110) is None
    caution = beyond_bed(111, 110)
    assert caution is not None
    assert caution.says().startswith("111 stitches are more than the bed's 110 needles")


@pytest.mark.parametrize(
    ("stitches", "rows", "rule"),
    [(16, 22, None), (22, 16, "gauge-swapped"), (16, 25, "gauge-unsettled"), (16, 17, "gauge-unsettled")],
)
def test_a_gauge_that_plain_fabric_hardly_has(stitches: float, rows: float, rule: str | None) -> None:
    caution = doubtful_gauge(gauge(stitches, rows))
    assert (caution and caution.rule) == rule
    assert caution is None or "rows" in caution.says()
