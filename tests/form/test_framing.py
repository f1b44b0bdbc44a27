"""How shapes stand: as they are worn."""

import numpy as np
import pytest

from bedview.form.shape import Shape
from bedview.plan.starters import find_starter
from tests.form.fabrics import heel_cup, tube, wedges
from tests.form.resting import shape_of


def heights_mm(shape: Shape, needles: list[int]) -> list[float]:
    """Mean height of the wales on some needles, counted from the left of the fabric."""
    first = int(shape.needle.min())
    return [float(shape.places_mm[shape.wale_of(first + needle), 1].mean()) for needle in needles]


@pytest.mark.parametrize("count", [8, 16])
def test_a_cone_stands_on_its_rim(count: int) -> None:
    # The needles to the left are held in every wedge: there is the point.
    shape = shape_of(wedges(48, count, [8] * 5))
    heights = heights_mm(shape, [2, 14, 26, 38, 46])
    assert heights == sorted(heights, reverse=True)
    # Upright: the rim lies level.
    rim = shape.places_mm[shape.wale_of(int(shape.needle.max())), 1]
    assert np.ptp(rim) < 0.1 * shape.extent_mm[1]


def test_a_hat_stands_on_its_rim() -> None:
    shape = shape_of(find_starter("hat").make({}))
    # Its crown is at the end of the bed where fewest rows were knitted, its rim at the other.
    rows = np.bincount(shape.needle - shape.needle.min())
    ends = [0, len(rows) - 1]
    crown, rim = heights_mm(shape, sorted(ends, key=lambda needle: int(rows[needle])))
    assert crown > rim + 0.5 * shape.extent_mm[1]


@pytest.mark.parametrize("name", ["mitt", "shoulders"])
def test_what_is_knitted_from_its_hem_to_its_closed_end_stands_on_the_hem(name: str) -> None:
    size = {"size": "1-3m"} if name == "shoulders" else {}
    shape = shape_of(find_starter(name).make(size))
    assert shape.places_mm[shape.course_of(2), 1].mean() < -0.25 * shape.extent_mm[1]


@pytest.mark.parametrize("name", ["bootee", "sock"])
def test_what_covers_a_foot_stands_with_its_leg_up(name: str) -> None:
    shape = shape_of(find_starter(name).make({}))
    assert shape.places_mm[shape.course_of(1), 1].mean() > 0.3 * shape.extent_mm[1]


def test_with_two_openings_the_first_one_knitted_is_up() -> None:
    for piece in (tube(24, 40), heel_cup(40, 14, 20)):
        shape = shape_of(piece)
        first, last = shape.course_of(1), shape.course_of(int(shape.pass_number.max()))
        assert shape.places_mm[first, 1].mean() > shape.places_mm[last, 1].mean()


def sole_lies_level(shape: Shape, passes: range) -> None:
    """The underside of a foot, knitted in these passes, is level to a fifth of its length."""
    places = shape.places_mm[np.isin(shape.pass_number, passes)]
    heel_to_toe = np.ptp(places[:, 0])
    low = [
        places[np.abs(places[:, 0] - at) < 0.1 * heel_to_toe, 1].min()
        for at in np.quantile(places[:, 0], (0.2, 0.8))
    ]
    assert abs(low[0] - low[1]) < 0.2 * heel_to_toe


@pytest.mark.parametrize("name", ["bootee", "sock"])
def test_a_foot_stands_on_its_sole(name: str) -> None:
    piece = find_starter(name).make({"size": "24"})
    shape = shape_of(piece)
    passes = int(shape.pass_number.max())
    sole_lies_level(shape, range(int(0.6 * passes), passes))
    # Its toe is on the ground, too, or nearly.
    toe = shape.places_mm[shape.places_mm[:, 0] > np.quantile(shape.places_mm[:, 0], 0.9)]
    assert toe[:, 1].min() < shape.places_mm[:, 1].min() + 0.2 * shape.extent_mm[1]


def test_the_feet_of_a_lined_bootee_lie_above_each_other_the_outer_one_below() -> None:
    shape = shape_of(find_starter("lined-bootee").make({"size": "24"}))
    half = int(shape.pass_number.max()) // 2
    outer, lining = (
        shape.places_mm[side, 1].mean() for side in (shape.pass_number < half, shape.pass_number >= half)
    )
    assert outer < lining - 0.3 * shape.extent_mm[1]
    sole_lies_level(shape, range(1, half // 2))
