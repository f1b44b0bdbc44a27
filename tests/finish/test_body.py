"""Outlines of bodies: their girths and lengths are those asked for, and they lie in the piece."""

from __future__ import annotations

from math import pi

import numpy as np
import numpy.typing as npt
import pytest
from scipy.special import ellipe

from bedview.finish import body_curves as draw
from bedview.finish.body_in_shape import body_in_shape, compared, stood_with_body
from bedview.form.resting import resting_shape
from bedview.form.shape import Shape
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece
from bedview.plan.starters import find_starter
from bedview.plan.starters.fit_line import FitLine
from tests.finish.pieces import document, flat

BULKY = {"stitches": 15, "rows": 21, "tension": 7, "needles": 110, "pitch": 9}
Floats = npt.NDArray[np.float64]


def length(curve: Floats) -> float:
    return float(np.linalg.norm(np.diff(curve, axis=0), axis=1).sum())


def made(name: str, **values: float | str) -> tuple[Piece, Shape]:
    piece = find_starter(name).make({**BULKY, **values})
    return piece, resting_shape(piece, compile_piece(piece))


# -- curves -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("flatness", [1.0, 0.8, 0.62, 0.33])
def test_a_ring_has_its_girth(flatness: float) -> None:
    axis = draw.ring_axis(240, flatness)
    # The exact circumference of an ellipse, by the complete integral of the second kind (scipy).
    assert 2 * axis * ellipe(1 - flatness**2) == pytest.approx(240, rel=1e-4)
    assert length(draw.ring(axis / 2, flatness * axis / 2)) == pytest.approx(240, rel=0.002)


def test_a_ball_s_quarter_is_a_quarter_of_its_round() -> None:
    assert draw.quarter_height(100, pi / 2 * 100) == pytest.approx(100, rel=1e-6)
    # No arc is shorter than the way straight across.
    assert draw.quarter_height(100, 90) == pytest.approx(0, abs=1e-3)


def test_a_foot_is_as_long_and_as_thick_as_asked() -> None:
    side, sole, ball, heel = draw.foot(240, 224, 304, 110).curves
    assert np.ptp(sole[:, 0]) == pytest.approx(240, rel=0.02)
    assert side[:, 0].max() == pytest.approx(240, rel=0.02)
    assert length(ball) == pytest.approx(224, rel=0.005)
    assert length(heel) == pytest.approx(304, rel=0.005)
    # The foot stands on its sole.
    assert side[:, 1].min() == pytest.approx(0, abs=3)


def test_a_hand_has_its_thumb_on_one_side_and_a_trunk_has_two_alike() -> None:
    outline, palm = draw.hand(181, 187, 60, 60, 71).curves
    assert np.ptp(palm[:, 1]) == pytest.approx(2 * -outline[:, 1].min(), rel=0.05)
    assert outline[:, 1].max() > 1.3 * palm[:, 1].max()
    assert length(palm) == pytest.approx(187, rel=0.005)
    one, other, chest = draw.trunk(860, 150, 20, 190, 550).curves
    assert one * (1, -1, 1) == pytest.approx(other)
    assert length(chest) == pytest.approx(860, rel=0.005)


# -- in the shape -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["sock", "bootee", "lined-bootee", "mitt", "hat"])
@pytest.mark.parametrize("mirrored", [False, True])
def test_a_body_lies_where_the_piece_is(name: str, mirrored: bool) -> None:
    piece, shape = made(name, size=find_starter(name).sizes[0].name)
    if mirrored:
        piece = mirror_piece(piece)
        shape = resting_shape(piece, compile_piece(piece))
    body = body_in_shape(piece, compile_piece(piece), shape)
    assert body is not None
    low, high = shape.places_mm.min(axis=0), shape.places_mm.max(axis=0)
    places = np.concatenate(body.curves)
    inside = ((places > low - 15) & (places < high + 15)).all(axis=1)
    assert inside.mean() > 0.75


def test_a_foot_lies_with_its_heel_in_the_heel_and_its_leg_in_the_leg() -> None:
    piece, shape = made("bootee", size="30", hem=0)
    body = body_in_shape(piece, compile_piece(piece), shape)
    assert body is not None
    side, sole = body.curves[:2]
    # The shape stands with its leg up and its toe to the right.
    assert sole[:, 0].argmax() not in (0, len(sole) - 1)
    assert side[0, 1] > side[:, 1].min() + 40
    toe_mm, foot_mm = body.marks[0]
    assert foot_mm == pytest.approx(185.2)
    assert toe_mm[0] == pytest.approx(shape.places_mm[:, 0].max(), abs=25)


@pytest.mark.parametrize("name", ["sock", "lined-bootee"])
def test_a_foot_stands_on_its_sole_whatever_its_leg_does(name: str) -> None:
    piece, shape = made(name, size=find_starter(name).sizes[0].name)
    before = body_in_shape(piece, compile_piece(piece), shape)
    assert before is not None
    (_, stood), body = stood_with_body((shape, shape), before)
    assert body is not None
    side, sole = body.curves[:2]
    # A sole is flat, and the leg rises from it.
    assert np.ptp(sole[:, 1]) == pytest.approx(0, abs=1e-6)
    assert side[0, 1] > sole[0, 1] + 20
    # Turned as a whole and never mirrored: what is said of strain and seams stays true.
    turn = np.linalg.lstsq(shape.places_mm - shape.places_mm.mean(axis=0), stood.places_mm, rcond=None)[0]
    assert np.linalg.det(turn) == pytest.approx(1)
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-9)
    assert stood.places_mm.min(axis=0) == pytest.approx(-stood.places_mm.max(axis=0))
    # The foot goes with its shape.
    for one, other in zip(before.curves, body.curves, strict=True):
        assert np.linalg.norm(one - shape.places_mm[0], axis=1) == pytest.approx(
            np.linalg.norm(other - stood.places_mm[0], axis=1)
        )


def test_what_stands_by_itself_is_left_as_it_is() -> None:
    piece, shape = made("hat", size="newborn")
    body = body_in_shape(piece, compile_piece(piece), shape)
    assert stood_with_body((shape,), body) == ((shape,), body)
    assert stood_with_body((shape,), None) == ((shape,), None)


@pytest.mark.parametrize("name", ["cone", "ball"])
def test_what_is_worn_by_nobody_has_no_body(name: str) -> None:
    piece, shape = made(name)
    assert body_in_shape(piece, compile_piece(piece), shape) is None


def test_a_piece_of_no_starter_or_with_parts_gone_has_none() -> None:
    plain = Piece.read(document(flat(8)))
    assert body_in_shape(plain, compile_piece(plain), resting_shape(plain, compile_piece(plain))) is None
    piece, shape = made("hat", size="newborn")
    cut = piece.revised(segments=piece.segments[:1], seams=())
    procedure = compile_piece(cut)
    assert body_in_shape(cut, procedure, resting_shape(cut, procedure)) is None
    assert body_in_shape(piece, compile_piece(piece), shape) is not None


# -- what is said -----------------------------------------------------------------------------------------


def line(key: str, got: float, body: float, **more: str) -> FitLine:
    return FitLine(key, "Round the foot", "mm", got, got, 1, body=body, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("each", "says"),
    [
        (line("foot_girth", 200, 224), "Nothing is too tight or too loose"),
        (line("foot_girth", 180, 224), "Round the foot: 20 % too tight"),
        (line("foot_girth", 260, 220), "Round the foot: 18 % too loose"),
        # What is slipped over once may stretch by a third.
        (line("way_in", 230, 304, bound="at_least"), "Nothing is too tight or too loose"),
        (line("way_in", 220, 304, bound="at_least"), "Round the foot: 28 % too tight"),
        (line("foot_length", 225, 240), "Round the foot: 6 % too short"),
        (line("foot_length", 310, 240), "Round the foot: 29 % too long"),
    ],
)
def test_too_tight_and_too_loose_are_said_first(each: FitLine, says: str) -> None:
    assert compared((each,)).startswith(f"{says}. Round the foot {each.got / 10:.1f} cm on ")  # type: ignore[operator]


def test_every_starter_s_own_sizes_are_neither_tight_nor_loose() -> None:
    for name in ("sock", "bootee", "lined-bootee", "hat", "mitt", "shoulders"):
        piece, shape = made(name)
        body = body_in_shape(piece, compile_piece(piece), shape)
        assert body is not None
        assert body.says.startswith("Nothing is too tight or too loose. ")
