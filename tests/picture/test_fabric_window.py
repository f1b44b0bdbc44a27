import numpy as np

from bedview.bed.actions import CastOn, HoldCams, Knit, Place, Thread, Transfer, Wrap
from bedview.bed.needles import Position
from bedview.bed.timeline import Timeline
from bedview.picture.fabric_window import ENDS, STEEP_DOWN, TURNS_DOWN, TURNS_UP, FabricWindow, fabric_below
from tests.picture.examples import one_held, ran


def window(timeline: Timeline, depth: int = 40) -> FabricWindow:
    return fabric_below(timeline.fabric, timeline.state.top, depth)


def test_wales_hang_from_their_needles_and_wraps_are_no_loops() -> None:
    assert window(one_held()).loops.tolist() == [
        [15, 14, 13, 11],
        [8, 9, 10, 4],
        [7, 6, 5, 3],
        [0, 1, 2, -1],
    ]


def test_a_window_is_no_deeper_than_asked() -> None:
    assert window(one_held(), 2).loops.tolist() == [[15, 14, 13, 11], [8, 9, 10, 4]]


def test_a_course_climbs_towards_the_held_needle() -> None:
    seen = window(one_held())
    assert seen.right[1, 2] == -1, "the second row goes up from needle 2 ..."
    assert seen.left[0, 3] == 1, "... to needle 3, which looks down to it"
    assert seen.right[2, 2] == -1
    assert seen.left[1, 3] == 1
    assert seen.right[0, 1] == 0, "among needles that knitted alike it stays level"
    assert seen.left[0, 2] == 0


def test_yarn_turns_at_the_edges() -> None:
    seen = window(one_held())
    assert (seen.left[1, 0], seen.left[2, 0]) == (TURNS_DOWN, TURNS_UP), "rows 2 and 1 at the left"
    assert (seen.right[1, 3], seen.right[2, 3]) == (TURNS_DOWN, TURNS_UP), (
        "row 1 and the cast-on at the right"
    )
    assert seen.left[0, 0] == ENDS, "here the yarn goes to the carriage"
    assert seen.right[0, 3] == ENDS, "this turn lies behind the wrap"


def test_courses_are_shaded_by_their_pass() -> None:
    assert window(one_held()).odd[:, 0].tolist() == [True, False, True, False]


def test_yarn_floats_past_an_empty_needle() -> None:
    timeline = ran(4, Place((0, 1, 3), Position.WORK), Thread("main"), CastOn((0, 1, 3)), Knit(1))
    assert window(timeline).floats.tolist() == [[1, 0, 3, 0, 0], [1, 1, 3, 1, 0]]


def test_a_long_held_needle_hangs_steeply() -> None:
    timeline = ran(
        4,
        Place((0, 1, 2, 3), Position.WORK),
        Thread("main"),
        CastOn((0, 1, 2, 3)),
        Knit(1),
        HoldCams(True),
        Place((0,), Position.HOLD),
        Knit(6),
    )
    seen = window(timeline)
    # Six rows were knitted beside it, so what it is joined to hangs six rows lower than itself.
    assert seen.loops[0, 0] == 7
    assert seen.loops[6, 1] == 6
    assert seen.right[0, 0] == STEEP_DOWN
    assert seen.left[6, 1] == -STEEP_DOWN


def test_a_wale_follows_the_loop_that_lies_on_top() -> None:
    timeline = ran(
        4, Place((0, 1), Position.WORK), Thread("main"), CastOn((0, 1)), Knit(1), Transfer(0, 1), Knit(1)
    )
    # Cast on 0, 1; row 1 makes 2 on needle 1 and 3 on needle 0; 3 goes on top of 2; row 2 lays 4 in on
    # needle 0 and draws 5 through both.
    assert window(timeline).loops.tolist() == [[4, 5, -1, -1], [-1, 3, -1, -1], [-1, 0, -1, -1]]


def test_a_hand_wrap_is_passed_over() -> None:
    timeline = ran(
        2,
        Place((0, 1), Position.WORK),
        Thread("main"),
        CastOn((0, 1)),
        Knit(1),
        Place((0,), Position.HOLD),
        Wrap(0),
    )
    assert window(timeline).loops[0].tolist() == [3, 2]


def test_no_fabric_no_window() -> None:
    empty = window(ran(4, Place((1,), Position.WORK)))
    assert empty.depth == 0
    assert empty.loops.shape == (0, 4)


def test_every_pair_of_ways_agrees() -> None:
    timeline = ran(
        12, Place(tuple(range(12)), Position.WORK), Thread("main"), CastOn(tuple(range(12))), Knit(3)
    )
    timeline.append(HoldCams(True))
    for needle in (11, 0, 10, 1, 9, 2):
        timeline.append(Place((needle,), Position.HOLD))
        timeline.append(Knit(1))
    seen = window(timeline)
    for row, column in np.argwhere((np.abs(seen.right) <= 3) & (seen.loops >= 0)).tolist():
        across = row + seen.right[row, column]
        if column < 11 and 0 <= across < seen.depth and abs(int(seen.left[across, column + 1])) <= 3:
            assert seen.left[across, column + 1] == -seen.right[row, column]
