"""Gauges turned into counts, against published patterns. T: read in the text of the source; D: derived."""

import pytest

from bedview.plan.gauge import EVEN, length_in_rows, width_in_stitches
from bedview.plan.gauge_bands import bands_for, bands_of
from bedview.plan.piece import Gauge

FINE = Gauge(yarn="main", tension=6, stitches=28, rows=40, over_mm=100)
INCH = 25.4


def to_the_inch(stitches: float, rows: float = 12) -> Gauge:
    return Gauge(yarn="main", tension=6, stitches=stitches, rows=rows, over_mm=INCH)


@pytest.mark.parametrize(("width_mm", "exact", "count"), [(260, 72.8, 72), (560, 156.8, 156)])
def test_widths_of_a_jersey(width_mm: float, exact: float, count: int) -> None:
    # T: designyourownsweater 2007/01: 28 stitches to 10 cm.
    figure = width_in_stitches(width_mm, FINE, EVEN)
    assert figure.exact == pytest.approx(exact)
    assert figure.count == count


@pytest.mark.parametrize(("length_mm", "rows"), [(490, 196), (50, 20)])
def test_lengths_of_a_jersey(length_mm: float, rows: int) -> None:
    # T: the same, 40 rows to 10 cm.
    assert length_in_rows(length_mm, FINE).count == rows


def test_sock_round_with_ease() -> None:
    # T: gardeningintheshade 2024/04: 9 in × 9.5 stitches to the inch × 0.85 → 72 (exactly 72.675), half 36.
    figure = width_in_stitches(9 * INCH * 0.85, to_the_inch(9.5), EVEN)
    assert figure.exact == pytest.approx(72.675)
    assert figure.count == 72
    assert figure.count // 2 == 36


@pytest.mark.parametrize(("inches", "rows"), [(1, 12), (4, 48)])
def test_sock_rows(inches: float, rows: int) -> None:
    # T: the same: 12 rows to the inch.
    assert length_in_rows(inches * INCH, to_the_inch(9.5)).count == rows


def test_a_tenth_less() -> None:
    # D: 9 in less 10 % at 7.5 stitches to the inch, 60.75 → 60.
    figure = width_in_stitches(9 * INCH * 0.9, to_the_inch(7.5), EVEN)
    assert figure.exact == pytest.approx(60.75)
    assert figure.count == 60


def test_sleeve_that_matches_an_even_body() -> None:
    # T: kristentendyke 2014/02: 7¾ in × 5 to the inch → 38, even to match 60, 11 widening rows between.
    cuff = width_in_stitches(7.75 * INCH, to_the_inch(5), EVEN)
    assert cuff.count == 38
    assert (60 - cuff.count) // 2 == 11


@pytest.mark.parametrize(
    ("stitches", "numbers"),
    [
        # T: Craft Yarn Council, Standard Yarn Weight System, stitches to 4 in.
        (40, [0]),
        (33, [0]),
        (32, [1]),
        (27, [1]),
        (26, [2]),
        (25, [2]),
        # 2 and 3 overlap.
        (24, [2, 3]),
        (23, [2, 3]),
        (22, [3]),
        (21, [3]),
        (20, [4]),
        (16, [4]),
        (15, [5]),
        (12, [5]),
        (11, [6]),
        (7, [6]),
        # M: the last band was not read.
        (6, [7]),
        (4, [7]),
        # Between bands: to the nearest whole stitch first.
        (20.5, [3]),
        (15.5, [4]),
        (20.49, [4]),
        (41, []),
    ],
)
def test_bands(stitches: float, numbers: list[int]) -> None:
    assert [band.number for band in bands_for(stitches)] == numbers


def test_band_of_a_metric_swatch() -> None:
    # 22 stitches to 10 cm are 22.352 to 4 in.
    assert [
        band.name for band in bands_of(Gauge(yarn="a", tension=1, stitches=22, rows=30, over_mm=100))
    ] == ["light"]
