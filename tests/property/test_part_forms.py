"""Closed forms of the parts that shape nothing: rows, stitches and needles of thousands of random ones.

What narrows and widens stands in ``test_segment_forms``, what turns in ``test_segments_short_rows``. Each
piece is mirrored, as there.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Position, Side, format_needles
from bedview.plan.procedure import Procedure
from tests.plan.making import rows_of, stitches_of, widths_of
from tests.property.test_segment_forms import BED, bearing, cast_on, knitted, sides, told

ROWS_TO_10_CM = 40  # the gauge of the pieces
stretches = st.integers(1, BED).flatmap(lambda many: st.tuples(st.integers(0, BED - many), st.just(many)))


def named(first: int, count: int) -> str:
    """Needles from the index ``first``."""
    return format_needles(range(first, first + count), BED)


def loops_made(procedure: Procedure, kind: LoopKind) -> int:
    return int((procedure.timeline.fabric.kind == kind).sum())


# -- cast on, knit, bind off ------------------------------------------------------------------------------


@given(stretches, st.integers(1, 20), sides)
@settings(deadline=None, max_examples=300)
def test_a_closed_start_and_plain_rows(stretch: tuple[int, int], rows: int, carriage: str) -> None:
    first, count = stretch
    made = knitted([cast_on(first, count), {"kind": "plain", "rows": rows}], carriage)
    assert (rows_of(made, 0), rows_of(made, 1)) == (0, rows)
    assert widths_of(made, 1) == [count] * rows
    assert loops_made(made, LoopKind.CAST_ON) == count
    assert loops_made(made, LoopKind.KNIT) == count * rows
    assert bearing(made) == list(range(first, first + count))
    # Between two columns a face for each row above the first.
    assert sum(made.timeline.openings.sizes().values()) == (count - 1) * rows


@given(stretches, st.integers(4, 12), st.booleans(), st.integers(1, 9), sides)
@settings(deadline=None, max_examples=300)
def test_an_open_start(stretch: tuple[int, int], waste: int, cord: bool, rows: int, carriage: str) -> None:
    first, count = stretch
    start = cast_on(first, count, how="waste", waste_rows=waste, **({"ravel": "cord"} if cord else {}))
    made = knitted([start, {"kind": "plain", "rows": rows}], carriage)
    assert widths_of(made, 0) == [count] * (waste + cord)
    assert widths_of(made, 1) == [count] * rows
    used = made.timeline.fabric
    of_fabric = used.yarn_of(np.flatnonzero(used.kind == LoopKind.KNIT)) == 0
    assert int(of_fabric.sum()) == count * rows
    assert bearing(made) == list(range(first, first + count))


@given(st.integers(1, 30), st.integers(1, 15), st.integers(1, 15), st.booleans(), st.integers(1, 5), sides)
@settings(deadline=None, max_examples=300)
def test_new_stitches_beside_others(
    count: int, new: int, rows: int, left: bool, before: int, carriage: str
) -> None:
    """At the carriage they are cast on at once; on the far side a row is knitted to the yarn first."""
    where = 15 - new if left else 15 + count
    segments = [
        cast_on(15, count),
        {"kind": "plain", "rows": before},
        {"kind": "cast_on", "needles": named(where, new)},
        {"kind": "plain", "rows": rows},
    ]
    made = knitted(segments, carriage)
    at_left = (carriage == "left") ^ (before % 2 == 1)
    assert widths_of(made, 2) == ([] if at_left == left else [count])
    assert widths_of(made, 3) == [count + new] * rows
    assert bearing(made) == list(range(min(where, 15), max(15 + count, where + new)))


@given(st.floats(0.5, 50), st.integers(1, 12), sides)
@settings(deadline=None, max_examples=300)
def test_a_length_is_so_many_rows(length_cm: float, count: int, carriage: str) -> None:
    length_cm = round(length_cm, 2)
    made = knitted([cast_on(10, count), {"kind": "plain", "length_cm": length_cm}], carriage)
    # The nearest whole number of rows: none is nearer.
    assert abs(rows_of(made, 1) - length_cm * ROWS_TO_10_CM / 10) <= 0.5 + 1e-9


@given(st.integers(1, 9), st.integers(1, 6), st.integers(1, 6), st.integers(1, 20), sides)
@settings(deadline=None, max_examples=200)
def test_a_repeat_is_its_parts_so_many_times(
    times: int, one: int, other: int, count: int, carriage: str
) -> None:
    parts = [{"kind": "plain", "rows": one}, {"kind": "plain", "rows": other}]
    made = knitted([cast_on(10, count), {"kind": "repeat", "times": times, "segments": parts}], carriage)
    assert rows_of(made, 1) == times * (one + other)
    assert stitches_of(made, 1) == count * times * (one + other)


@given(st.integers(1, 40), st.integers(1, 9), st.data(), sides)
@settings(deadline=None, max_examples=400)
def test_binding_off(count: int, rows: int, data: st.DataObject, carriage: str) -> None:
    """All, or the stitches at one end; those at the far end after a row to bring the yarn there."""
    many = data.draw(st.integers(1, count))
    left = data.draw(st.booleans())
    start = 10 if left else 10 + count - many
    end: dict[str, Any] = {"kind": "bind_off"} | ({} if many == count else {"needles": named(start, many)})
    made = knitted([cast_on(10, count), {"kind": "plain", "rows": rows}, end], carriage)
    at_left = (carriage == "left") ^ (rows % 2 == 1)
    assert rows_of(made, 2) == (0 if many == count or at_left == left else 1)
    assert loops_made(made, LoopKind.BIND) == many
    kept = range(10 + many, 10 + count) if left else range(10, 10 + count - many)
    state = made.timeline.state
    assert np.flatnonzero(state.height).tolist() == list(kept if many < count else ())


# -- what waits -------------------------------------------------------------------------------------------


@given(st.integers(2, 40), st.integers(1, 6), st.data(), sides)
@settings(deadline=None, max_examples=400)
def test_one_end_is_set_aside_and_comes_back(
    count: int, before: int, data: st.DataObject, carriage: str
) -> None:
    """One row after the group is held on the far side; a row more brings the carriage over first."""
    many = data.draw(st.integers(1, count - 1))
    left, wraps = data.draw(st.booleans()), data.draw(st.sampled_from(["hand", "none"]))
    rows = data.draw(st.integers(1, 6))
    group = range(10, 10 + many) if left else range(10 + count - many, 10 + count)
    segments = [
        cast_on(10, count),
        {"kind": "plain", "rows": before},
        {"kind": "set_aside", "groups": [format_needles(group, BED)], "wraps": wraps},
        {"kind": "plain", "rows": rows},
        {"kind": "bring_back", "ends": "all_at_once"},
        {"kind": "plain", "rows": 2},
    ]
    made = knitted(segments, carriage)
    at_left = (carriage == "left") ^ (before % 2 == 1)
    crossing = [count] if at_left == left else []
    assert widths_of(made, 2) == [*crossing, count - many]
    assert widths_of(made, 3) == [count - many] * rows
    assert widths_of(made, 5) == [count] * 2
    # The nearest needle of the group is wrapped once after its row, or by nothing.
    assert loops_made(made, LoopKind.HAND_WRAP) == (1 if wraps == "hand" else 0)
    assert np.flatnonzero(made.timeline.state.height).tolist() == list(range(10, 10 + count))


@given(st.integers(2, 40), st.integers(1, 9), st.data(), sides)
@settings(deadline=None, max_examples=400)
def test_held_needles_come_back_step_by_step(
    count: int, before: int, data: st.DataObject, carriage: str
) -> None:
    """Each step is knitted there and back, but at the ends, where the carriage stands on either side."""
    held = data.draw(st.integers(1, count - 1))
    step = data.draw(st.integers(1, 5))
    left = data.draw(st.booleans())
    group = range(10, 10 + held) if left else range(10 + count - held, 10 + count)
    segments = [
        cast_on(10, count),
        {"kind": "plain", "rows": before},
        {"kind": "set_aside", "groups": [format_needles(group, BED)], "wraps": "none"},
        {"kind": "bring_back", "ends": "left" if left else "right", "needles_a_step": step, "wraps": "hand"},
        {"kind": "plain", "rows": 1},
    ]
    made = knitted(segments, carriage)
    widths = widths_of(made, 3)
    # What each step reaches, whoever knits it first.
    reached = [min(count, count - held + step * turn) for turn in range(1, ceil(held / step) + 1)]
    assert sorted({*widths, count} - {count - held}) == reached
    assert all(now <= later for now, later in pairwise(widths))
    # Each width is knitted there and back, but at the ends, where the carriage may stand on either side.
    for width in reached[:-1]:
        assert widths.count(width) == 2
    assert len(widths) in range(2 * len(reached) - 1, 2 * len(reached) + 2)
    assert widths_of(made, 4) == [count]


@given(st.integers(1, 40), st.integers(4, 12), st.booleans(), st.data(), sides)
@settings(deadline=None, max_examples=300)
def test_scrapping_off(count: int, rows: int, cord: bool, data: st.DataObject, carriage: str) -> None:
    """Rows of waste, one of cord if it is wanted, and one without yarn, after which the group is gone."""
    many = data.draw(st.integers(1, count))
    start = data.draw(st.sampled_from([10, 10 + count - many]))
    end: dict[str, Any] = {"kind": "scrap_off", "needles": named(start, many), "rows": rows, "tail_cm": 30}
    end |= {"ravel": "cord"} if cord else {}
    made = knitted([cast_on(10, count), {"kind": "plain", "rows": 5}, end], carriage)
    assert widths_of(made, 2) == [many] * (rows + cord) + [0]
    assert rows_of(made, 2) == rows + cord + 1
    dropped = made.timeline.event_of(made.timeline.line_of_pass(made.timeline.passes)).dropped
    assert dropped.tolist() == list(range(start, start + many))
    kept = [needle for needle in range(10, 10 + count) if not start <= needle < start + many]
    assert np.flatnonzero(made.timeline.state.height).tolist() == kept
    assert (made.timeline.state.position[kept] == Position.HOLD).all()


# -- written action by action ----------------------------------------------------------------------------


@given(st.integers(1, 40), st.lists(st.integers(1, 9), min_size=1, max_size=8), sides)
@settings(deadline=None, max_examples=200)
def test_actions_do_what_they_say(count: int, runs: list[int], carriage: str) -> None:
    actions = [{"do": "knit", "rows": rows} for rows in runs]
    made = knitted([cast_on(10, count), {"kind": "actions", "actions": actions}], carriage)
    assert rows_of(made, 1) == sum(runs)
    assert stitches_of(made, 1) == count * sum(runs)
    goes_over = sum(runs) % 2 == 1
    side = Side(carriage)
    assert made.timeline.state.carriage is (side.other if goes_over else side)
    assert not told(made)
