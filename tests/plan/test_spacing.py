import pytest
from hypothesis import given
from hypothesis import strategies as some

from bedview.plan.spacing import Gap, blocks, gaps, say_blocks, spread, spread_inside


@some.composite
def fitting(draw: some.DrawFn) -> tuple[int, int, int]:
    """Rows, events and how far apart events must be, so that they fit."""
    every = draw(some.integers(1, 4))
    events = draw(some.integers(1, 200))
    return draw(some.integers(events * every, 2000)), events, every


@given(fitting())
def test_a_spread_stays_within_a_row_of_the_ideal_line(case: tuple[int, int, int]) -> None:
    total, events, every = case
    last = total // every * every
    places = spread(total, events, every)
    assert len(places) == events
    assert places[-1] == last
    for event, place in enumerate(places, 1):
        assert 0 <= event * last / events - place < every
        assert place % every == 0


@given(fitting())
def test_blocks_and_spread_have_the_same_gaps(case: tuple[int, int, int]) -> None:
    total, events, every = case
    printed = blocks(total, events, every)
    assert sorted(gaps(spread(total, events, every))) == [
        gap.size for gap in printed for _ in range(gap.times)
    ]
    assert sum(gap.size * gap.times for gap in printed) == total // every * every
    assert len(printed) <= 2
    assert printed[-1].size - printed[0].size in {0, every}


@given(fitting())
def test_a_spread_inside_leaves_half_a_gap_at_both_ends(case: tuple[int, int, int]) -> None:
    total, events, _ = case
    places = spread_inside(total, events)
    assert len(set(places)) == events
    for event, place in enumerate(places, 1):
        assert 0 <= (event - 0.5) * total / events - place < 1
    before, after = places[0], total - places[-1]
    assert 0 <= after - before <= 2


def test_decreases_every_second_row() -> None:
    assert spread(21, 4, every=2) == (4, 10, 14, 20)
    assert blocks(21, 4, every=2) == (Gap(4, 2), Gap(6, 2))


def test_nothing_to_spread() -> None:
    assert spread(10, 0) == ()
    assert blocks(10, 0) == ()
    assert spread_inside(10, 0) == ()


@pytest.mark.parametrize(
    ("total", "events", "every"), [(3, 4, 1), (7, 4, 2), (-1, 0, 1), (4, -1, 1), (4, 1, 0)]
)
def test_what_does_not_fit_is_refused(total: int, events: int, every: int) -> None:
    for count in (spread, blocks):
        with pytest.raises(ValueError, match="rows"):
            count(total, events, every)


def test_said_as_a_handbook_prints_it() -> None:
    assert say_blocks(blocks(140, 36)) == "every 3 rows 4 times, every 4 rows 32 times"
    assert say_blocks(blocks(216, 142)) == "every row 68 times, every 2 rows 74 times"
