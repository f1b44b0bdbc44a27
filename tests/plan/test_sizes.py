import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.sizes import (
    Adults,
    Measure,
    bodies,
    bodies_of,
    child_shoe_size,
    fits_from_foot,
    foot_mm_of_child_eu,
    foot_mm_of_child_uk,
    foot_mm_of_eu,
    foot_mm_of_uk,
    foot_mm_of_us,
    shoe_size,
    unmeasured_foot,
)

HALVES = some.integers(2, 100).map(lambda count: count / 2)


@given(HALVES)
def test_a_size_gives_a_foot_that_gives_the_size(size: float) -> None:
    assert shoe_size(foot_mm_of_eu(size)).eu == size
    assert shoe_size(foot_mm_of_uk(size)).uk == size
    assert shoe_size(foot_mm_of_us(size, "men")).us_men == size
    assert shoe_size(foot_mm_of_us(size, "women")).us_women == size
    assert child_shoe_size(foot_mm_of_child_eu(size)).eu == size
    assert child_shoe_size(foot_mm_of_child_uk(size)).uk == size


@given(some.floats(150, 350))
def test_sizes_are_halves_within_a_quarter_of_the_exact_one(foot_mm: float) -> None:
    size = shoe_size(foot_mm)
    assert (size.eu * 2).is_integer()
    assert abs(size.eu - (0.15 * foot_mm + 2)) <= 0.25 + 1e-9
    assert abs(size.uk - (3 * foot_mm / 25.4 - 23)) <= 0.25 + 1e-9


@given(some.floats(150, 350), some.floats(0, 50))
def test_a_longer_foot_never_has_a_smaller_size(foot_mm: float, more: float) -> None:
    assert shoe_size(foot_mm + more).eu >= shoe_size(foot_mm).eu
    assert child_shoe_size(foot_mm + more).uk >= child_shoe_size(foot_mm).uk


def test_a_child_has_no_us_size_for_want_of_a_source() -> None:
    assert child_shoe_size(156).us_men is None
    assert child_shoe_size(156).us_women is None


def test_rows_stand_in_order() -> None:
    for body in bodies():
        assert body.from_years <= body.to_years
        known = [mm for mm in (body.low_mm, body.middle_mm, body.high_mm) if mm is not None]
        assert known
        assert known == sorted(known)
        assert (body.low_mm is None) == (body.high_mm is None) == (not body.limits_are)


def test_an_age_finds_its_rows() -> None:
    assert [body.middle_mm for body in bodies_of(Measure.HEAD, "girls", 0)] == [338.8]
    assert [body.who for body in bodies_of(Measure.HAND, years=8)] == ["children"]
    assert {body.who for body in bodies_of(Measure.HAND, years=40)} == {"men", "women"}
    # A newborn's row is for newborns.
    assert [body.from_years for body in bodies_of(Measure.HEAD, "boys", 5)] == [5]


@pytest.mark.parametrize(
    ("who", "foot_mm", "said"), [("men", 250, False), ("men", 240, True), ("women", 270, True)]
)
def test_a_foot_nobody_measured_is_said(who: Adults, foot_mm: float, said: bool) -> None:
    caution = unmeasured_foot(foot_mm, who)
    assert (caution is not None) == said
    assert caution is None or f"for {foot_mm} mm" in caution.says()


def test_longer_feet_are_thicker() -> None:
    for who in ("men", "women"):
        short, long = fits_from_foot(240, who), fits_from_foot(260, who)
        assert all(after.mm > before.mm for before, after in zip(short, long, strict=True))
