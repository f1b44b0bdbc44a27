"""Going back: rows counted by hand, random ways back against the trace, and what can't be taken back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Cut,
    FreeMove,
    Hang,
    HoldCams,
    Knit,
    MadeEdge,
    Note,
    OpenEdge,
    Place,
    Thread,
    YarnRole,
)
from bedview.bed.needles import Bed, Position, Side, needle_index
from bedview.bed.notation import describe
from bedview.bed.timeline import Timeline
from bedview.bed.unpick import PassBack, UnpickError, unpick
from bedview.export.trace import trace_lines
from tests.bed.running import run
from tests.reference.procedures import random_piece

ALL = tuple(range(10))


def knitted(*actions: Action) -> Timeline:
    """Ten needles cast on, cams on, and these actions."""
    timeline = Timeline(Bed(10, 9.0, Side.RIGHT), [("main", YarnRole.FABRIC), ("scrap", YarnRole.WASTE)])
    for action in (Thread("main"), CastOn(ALL), HoldCams(on=True), *actions):
        timeline.append(action)
    return timeline


def test_short_rows_back_to_the_plain_ones() -> None:
    timeline = knitted(
        Knit(2), Place((9,), Position.HOLD), Knit(1), Note("a marker"), Place((0,), Position.HOLD), Knit(1)
    )
    way = unpick(timeline, 4, 2)
    assert way.passes == (
        # Knit to the right, wrapping L5 first; out comes the yarn to the left, then L5 back, then the marker.
        PassBack(4, tuple(range(9)), Side.LEFT, (7, 6)),
        # Knit to the left with a wrap on R5 to begin with.
        PassBack(3, ALL, Side.RIGHT, (4,)),
    )
    text = describe(way.state, timeline.bed, timeline.machine.yarns)
    assert text == "L5 wwwwwwwwww R5 carriage right cams on pass 2 yarn main"


def test_a_carriage_that_was_carried_across() -> None:
    timeline = knitted(Knit(1), FreeMove(), Knit(1))
    assert [each.towards for each in unpick(timeline, 2, 0).passes] == [Side.RIGHT, Side.RIGHT]


def test_back_to_the_very_start_undoes_the_cast_on() -> None:
    timeline = knitted(Knit(3))
    way = unpick(timeline, 3, 0)
    assert [each.then for each in way.passes] == [(), (), (2, 1, 0)]
    assert describe(way.state, timeline.bed, timeline.machine.yarns) == "L5 oooooooooo R5 carriage right"


def test_back_from_the_middle_leaves_later_passes_out() -> None:
    timeline = knitted(Knit(2), BindOff((0,)), Knit(2), Note("x"), Knit(4))
    assert [each.pass_number for each in unpick(timeline, 6, 4).passes] == [6, 5]
    assert unpick(timeline, 6, 6).passes == ()


def test_a_threaded_pass_that_knits_nothing() -> None:
    timeline = knitted(Knit(1), Place(ALL, Position.HOLD), Knit(2))
    assert unpick(timeline, 3, 1).passes == (
        PassBack(3, (), Side.RIGHT, ()),
        PassBack(2, (), Side.LEFT, (4,)),
    )


def test_what_was_dropped_stays_dropped() -> None:
    timeline = knitted(Knit(2), Cut(), Knit(1), Thread("main"), Knit(1))
    with pytest.raises(UnpickError, match=r"^pass 3 dropped what stood on L5-R5;"):
        unpick(timeline, 4, 2)
    assert len(unpick(timeline, 4, 3).passes) == 1
    assert len(unpick(timeline, 2, 0).passes) == 2


def test_what_was_bound_stays_bound() -> None:
    timeline = knitted(Knit(1), BindOff((9, 8)), Knit(1))
    with pytest.raises(UnpickError, match=r"^action 4 bound off R4-R5;"):
        unpick(timeline, 2, 1)


def test_a_group_let_go_by_its_waste_cannot_go_back() -> None:
    timeline = knitted(Knit(1), Cut(), Thread("scrap"), Knit(6), Cut(), Knit(1))
    timeline.append(Hang(ALL, OpenEdge(ALL)))
    timeline.append(Thread("main"))
    timeline.append(Knit(1))
    with pytest.raises(UnpickError, match=r"^action 9 hung on L5 a loop that nothing else holds;"):
        unpick(timeline, 9, 8)


def test_a_hem_can_be_taken_down_again() -> None:
    timeline = knitted(Knit(4))
    timeline.append(Hang(ALL, MadeEdge(1)))
    timeline.append(Knit(1))
    way = unpick(timeline, 5, 4)
    assert way.passes == (PassBack(5, ALL, Side.RIGHT, (4,)),)
    assert way.state.height.tolist() == [1] * 10


@pytest.mark.parametrize(
    ("start", "goal", "says"),
    [(3, 4, "^pass 4 comes after pass 3"), (9, 2, "^there is no pass 9"), (3, -1, "^there is no pass -1")],
)
def test_ways_that_are_not_there(start: int, goal: int, says: str) -> None:
    with pytest.raises(UnpickError, match=says):
        unpick(knitted(Knit(5)), start, goal)


@given(st.integers(0, 400), st.data())
def test_against_the_trace(seed: int, data: st.DataObject) -> None:
    timeline = run(random_piece(seed))
    start = data.draw(st.integers(0, timeline.passes))
    goal = data.draw(st.integers(0, start))
    lines = list(trace_lines(timeline))
    passes = {line["pass"]: line for line in reversed(lines) if line["do"] == "knit"}
    after = passes[goal]["n"] + 1 if goal else 0
    until = passes[start]["n"] + 1 if start else 0
    between = lines[after:until]
    hands = [line["action"] for line in between if line["do"] != "knit"]
    try:
        way = unpick(timeline, start, goal)
    except UnpickError:
        assert any(line["dropped"] or line["do"] in ("bind_off", "hang") for line in between)
        return
    assert not any(line["dropped"] or line["do"] == "bind_off" for line in between)
    assert [each.pass_number for each in way.passes] == list(range(start, goal, -1))
    for each in way.passes:
        line = passes[each.pass_number]
        names = {*line["knit"], *line["wrapped"]}
        assert each.needles == tuple(sorted(needle_index(name, timeline.bed.needles) for name in names))
        assert each.towards != line["carriage"]
    assert [action for each in way.passes for action in each.then] == hands[::-1]
    assert np.array_equal(way.state.height, timeline.state_at(after - 1).height)
