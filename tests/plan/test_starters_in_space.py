"""Starters as they lie in space, seams closed: what was counted on the bed is there in the shape."""

from __future__ import annotations

from math import hypot, pi, sqrt

import numpy as np
import numpy.typing as npt
import pytest

from bedview.form.resting import resting_shape
from bedview.form.shape import Shape
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.starters import find_starter
from bedview.plan.starters.cloth import Cloth
from bedview.plan.starters.cone import Cone

BULKY = {"stitches": 15, "rows": 21, "tension": 7, "needles": 110, "pitch": 9}
Places = npt.NDArray[np.float64]


def made(name: str, **values: str | float) -> tuple[Piece, Procedure, Shape]:
    piece = find_starter(name).make({**BULKY, **values})
    procedure = compile_piece(piece)
    return piece, procedure, resting_shape(piece, procedure)


def length(places: Places, *, round_it: bool = False) -> float:
    way = np.vstack((places, places[:1])) if round_it else places
    return float(np.linalg.norm(np.diff(way, axis=0), axis=1).sum())


def rings(shape: Shape) -> list[Places]:
    """The places along each needle, from the rim to the tip, in order of knitting."""
    found = []
    for needle in np.unique(shape.needle):
        nodes = np.flatnonzero(shape.needle == needle)
        found.append(shape.places_mm[nodes[np.argsort(shape.pass_number[nodes])]])
    return found


def test_a_cone_stands_as_high_and_as_wide_as_asked() -> None:
    _, _, shape = made("cone", across=20, height=15)
    rim, *_, tip = rings(shape)
    assert length(rim, round_it=True) == pytest.approx(pi * 200, rel=0.03)
    assert np.linalg.norm(rim - rim.mean(axis=0), axis=1).mean() == pytest.approx(100, rel=0.03)
    high = float(np.linalg.norm(rim.mean(axis=0) - tip.mean(axis=0)))
    assert high == pytest.approx(150, rel=0.06)


def test_rounds_of_a_cone_grow_with_their_distance_from_its_point() -> None:
    """Half a step lies between the last stitch and the point where the cone would end."""
    piece, _, shape = made("cone", across=20, height=15)
    cone = find_starter("cone")
    assert isinstance(cone, Cone)
    step = cone.plan(cone.resolve(BULKY | {"across": 20, "height": 15})).step
    around = [length(ring, round_it=True) for ring in rings(shape)]
    distance = len(around) - np.arange(len(around)) - 0.5 + step / 2
    per_stitch = np.array(around) / distance
    inside = slice(step // 2, len(around) - step)
    asked = 2 * pi * 100 / (hypot(100, 150) / (100 / 15))
    assert per_stitch[inside].mean() == pytest.approx(asked, rel=0.06)
    assert per_stitch[inside].std() < 0.12 * asked
    assert piece.made_by is not None


def test_a_hat_is_as_wide_as_a_head() -> None:
    _, _, shape = made("hat", head_girth=50, ease=0, depth=18)
    needles = np.unique(shape.needle)
    rim = shape.places_mm[shape.needle == needles[0]]
    assert length(rim, round_it=True) == pytest.approx(500, rel=0.04)
    assert np.ptp(shape.places_mm, axis=0).max() < 200


@pytest.mark.parametrize("name", ["sock", "bootee"])
def test_a_foot_lies_between_the_turns_of_heel_and_toe(name: str) -> None:
    piece, procedure, shape = made(name, size="30", leg_length=8, hem=0)
    cloth = Cloth(piece, procedure)
    heel, toe = cloth.fabric_passes("Heel, narrowing")[-1], cloth.fabric_passes("Toe, narrowing")[-1]
    foot_mm = find_starter(name).resolve({"size": "30"}).mm("foot_length")
    ends = [shape.places_mm[shape.pass_number == turn].mean(axis=0) for turn in (heel, toe)]
    straight = float(np.linalg.norm(ends[0] - ends[1]))
    # The sole curves from turn to turn, and both turns lie a little inside the tips of the cups.
    assert 0.82 * foot_mm < straight < 1.02 * foot_mm
    needles = cloth.narrowest("Heel, narrowing").needles
    middle = shape.needle == needles[len(needles) // 2]
    sole = np.flatnonzero(middle & (shape.pass_number > heel) & (shape.pass_number <= toe))
    along = length(shape.places_mm[sole[np.argsort(shape.pass_number[sole])]])
    room = find_starter(name).resolve({"size": "30"}).mm("room")
    assert along == pytest.approx(foot_mm + room, rel=0.05)


def test_a_lining_can_be_pushed_into_its_outer() -> None:
    """Rounds of the foot, measured in space: the lining's is the smaller one."""
    piece, procedure, shape = made("lined-bootee", size="24", lining_ease=5)
    cloth = Cloth(piece, procedure)
    rounds = []
    for part in ("Outer: foot", "Lining: foot"):
        passes = cloth.fabric_passes(part)
        nodes = np.flatnonzero(shape.pass_number == passes[len(passes) // 2])
        places = shape.places_mm[nodes[np.argsort(shape.needle[nodes])]]
        rounds.append(length(places[1:-1], round_it=True))
    assert rounds[1] < rounds[0]
    assert rounds[1] / rounds[0] == pytest.approx(0.95, abs=0.05)


def test_what_a_ball_measures_round() -> None:
    _, _, shape = made("ball", across=10)
    needles = np.unique(shape.needle)
    middle = shape.places_mm[shape.needle == needles[len(needles) // 2]]
    assert length(middle, round_it=True) == pytest.approx(pi * 100, rel=0.05)
    extent = np.ptp(shape.places_mm, axis=0)
    # Its poles are not drawn together and nothing fills it, so it is longer than wide.
    assert sqrt(extent[0] * extent[2]) == pytest.approx(100, rel=0.2)
