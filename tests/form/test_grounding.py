"""What is put down tips until it stands."""

from math import degrees, radians

import numpy as np
import pytest

from bedview.form.grounding import tip_radians
from bedview.form.stitch_sizes import Floats


def boot(toe_up_degrees: float) -> Floats:
    """A leg of 100 upright above the heel, and a foot of 150 thick 30 whose sole rises towards the toe."""
    leg = np.array([(x, y) for x in (0.0, 40.0) for y in np.linspace(0, 100, 41)])
    foot = np.array([(x, y) for x in np.linspace(0, 150, 61) for y in (0.0, 30.0)])
    angle = radians(toe_up_degrees)
    turn = np.array(((np.cos(angle), np.sin(angle)), (-np.sin(angle), np.cos(angle))))
    return np.concatenate((leg[leg[:, 1] > 40], foot @ turn))


@pytest.mark.parametrize("angle", [-40, -12.5, 0, 5, 30])
def test_a_boot_comes_to_stand_on_its_sole(angle: float) -> None:
    assert degrees(tip_radians(boot(angle))) == pytest.approx(angle, abs=0.1)


def test_what_stands_on_a_broad_base_stays() -> None:
    tower = np.array([(x, y) for x in (-20.0, 20.0) for y in np.linspace(0, 60, 30)])
    assert tip_radians(tower) == 0.0


def test_what_would_fall_over_is_left_upright() -> None:
    # A stick on its end, a little heavier to one side, would lie down.
    stick = np.array([(0.0, y) for y in np.linspace(0, 100, 50)] + [(2.0, 90.0)])
    assert tip_radians(stick) == 0.0
