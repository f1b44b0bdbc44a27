"""Wales and courses of a piece counted by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bedview.bed.fabric import Fabric
from bedview.finish.finish_plan import FinishPlan
from bedview.ui.finish.pointing import Pointing
from tests.finish.pieces import flat, planned, toe_and_flaps

MIDDLE = 20
"""Index of R1 on the bed of 40 needles."""


def pointing(plan: FinishPlan) -> tuple[Pointing, Fabric]:
    fabric = plan.procedure.timeline.fabric
    return Pointing(fabric), fabric


def test_a_rectangle_s_wales_are_as_high_as_it_is_and_its_courses_as_wide() -> None:
    made, fabric = pointing(planned([*flat(6)[:2]]))
    loop = made.loop_at(MIDDLE, 4)
    assert loop is not None
    assert (int(fabric.needle[loop]), made.wale(loop).index(loop)) == (MIDDLE, 4)
    # The cast-on and six rows; ten stitches.
    assert len(made.wale(loop)) == 7
    assert len(made.course(loop)) == 10
    assert made.course(loop).index(loop) == 5


def test_waste_is_no_part_of_the_fabric() -> None:
    made, fabric = pointing(toe_and_flaps(3, 4, []))
    loop = made.loop_at(MIDDLE, 30)
    assert loop is not None
    assert not fabric.is_waste(loop)
    assert not any(fabric.is_waste(each) for each in made.wale(loop))


def test_where_a_needle_was_held_its_waiting_stitch_is_meant() -> None:
    made, fabric = pointing(toe_and_flaps(3, 4, []))
    # After row 12 the carriage stands on the right, so L5 to L3 go to hold first.
    assert made.loop_at(MIDDLE - 4, 14) == made.loop_at(MIDDLE - 4, 12)
    assert made.loop_at(0, 5) is None
    loop = made.loop_at(MIDDLE - 4, 14)
    assert loop is not None
    assert fabric.pass_of(np.array([loop])).tolist() == [12]


@pytest.mark.parametrize(
    ("right", "up", "needle", "row"),
    [(2, 0, 2, 3), (-9, 0, -5, 3), (0, 2, 0, 5), (0, -9, 0, 0), (1, 1, 1, 4)],
)
def test_neighbours(right: int, up: int, needle: int, row: int) -> None:
    made, _ = pointing(planned([*flat(6)[:2]]))
    start = made.loop_at(MIDDLE, 3)
    assert start is not None
    assert made.beside(start, right, up) == made.loop_at(MIDDLE + needle, row)


def test_nothing_knitted_is_nowhere() -> None:
    made, _ = pointing(planned([]))
    assert made.middle() is None
    assert made.loop_at(0, 0) is None
