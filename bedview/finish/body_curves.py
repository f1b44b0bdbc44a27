"""Plain outlines of what a piece is worn on, drawn from a few measures: a foot, a head, a hand, a trunk.

Each is a handful of smooth curves in a frame of its own, in millimetres: ``along`` the foot from heel to toe
(the hand from wrist to tip, the head and the trunk upwards), ``up`` towards the leg (the thumb's side of a
hand, a head's or trunk's side), and ``across``. They are sketches to hold a shape against, not anatomy:
girths and lengths are exact, the rest is proportion (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final, Literal

import numpy as np

from bedview.form.stitch_sizes import Floats

What = Literal["foot", "head", "hand", "trunk"]

_FINE: Final = 12
"""Points from one given point of a curve to the next."""
_ROUND: Final = 72
"""Points of a ring."""
FOOT_FLATNESS: Final = 0.62
"""Height of a foot at its ball over its breadth there."""
HAND_FLATNESS: Final = 0.33
HEAD_FLATNESS: Final = 0.80
TRUNK_FLATNESS: Final = 0.68
BALL_AT: Final = 0.70
"""Where a foot is broadest, from the heel over its length."""


@dataclass(frozen=True, slots=True, eq=False)
class Mark:
    """A figure beside a curve.

    Attributes:
        place: where, in the frame of the curves.
        mm: what it says.
    """

    place: Floats
    mm: float


@dataclass(frozen=True, slots=True, eq=False)
class BodyCurves:
    """An outline.

    Attributes:
        what: of what.
        curves: each of shape (k, 3): along, up, across.
        marks: the measures it was drawn from, where they are seen.
    """

    what: What
    curves: tuple[Floats, ...]
    marks: tuple[Mark, ...]


def foot(length_mm: float, girth_mm: float, heel_mm: float, leg_mm: float) -> BodyCurves:
    """A foot from the side and its sole, a ring round the ball and one round heel and instep.

    Args:
        length_mm: from heel to toe.
        girth_mm: round the ball.
        heel_mm: round heel and instep.
        leg_mm: how far up the leg it is drawn.
    """
    broad = ring_axis(girth_mm, FOOT_FLATNESS)
    high = FOOT_FLATNESS * broad
    ball = BALL_AT * length_mm
    # Round heel and instep the way runs slanting, from the heel's back below to the front of the ankle.
    slant = heel_ring(heel_mm)
    lean = np.array((np.cos(0.78), np.sin(0.78)))
    front = lean * 2 * slant
    side = smooth(
        (0.11 * length_mm, leg_mm), (0.05 * length_mm, 0.34 * length_mm), (0.0, 0.12 * length_mm),
        (0.07 * length_mm, 0.0), (0.35 * length_mm, 0.05 * high), (ball, 0.0),
        (0.95 * length_mm, 0.04 * high),
        (length_mm, 0.22 * high), (0.94 * length_mm, 0.46 * high), (ball, high), (front[0], front[1]),
        (0.9 * front[0], 1.35 * front[1]), (0.88 * front[0], max(leg_mm, 1.5 * front[1])),
    )  # fmt: skip
    sole = smooth(
        (0.0, 0.0), (0.10 * length_mm, 0.27 * broad), (0.40 * length_mm, 0.30 * broad), (ball, 0.5 * broad),
        (0.92 * length_mm, 0.36 * broad), (length_mm, 0.05 * broad), (0.90 * length_mm, -0.33 * broad),
        (0.62 * length_mm, -0.48 * broad), (0.30 * length_mm, -0.36 * broad),
        (0.08 * length_mm, -0.26 * broad),
        (0.0, 0.0),
    )  # fmt: skip
    around_ball = ring(broad / 2, high / 2)
    around_heel = ring(slant * 0.72, slant)
    middle = front / 2
    return BodyCurves(
        "foot",
        (
            _columns(side[:, 0], side[:, 1], 0.0),
            _columns(sole[:, 0], 0.0, sole[:, 1]),
            _columns(ball, high / 2 + around_ball[:, 1], around_ball[:, 0]),
            _columns(
                middle[0] + lean[0] * around_heel[:, 1],
                middle[1] + lean[1] * around_heel[:, 1],
                around_heel[:, 0],
            ),
        ),
        (
            Mark(np.array((length_mm, 0.0, 0.0)), length_mm),
            Mark(np.array((ball, high, 0.0)), girth_mm),
            Mark(np.array((front[0], front[1], 0.0)), heel_mm),
        ),
    )


def heel_ring(heel_mm: float) -> float:
    """Half of the slant from the heel's back to the front of the ankle: the longer half axis of that way."""
    return ring_axis(heel_mm, 0.72) / 2


def head(girth_mm: float, crown_mm: float) -> BodyCurves:
    """A head above the ring on which a hat's rim lies: that ring, and both profiles.

    Args:
        girth_mm: the ring.
        crown_mm: from the ring over the crown's side to its middle.
    """
    long = ring_axis(girth_mm, HEAD_FLATNESS) / 2
    high = quarter_height(girth_mm / (2 * pi), crown_mm)
    around = ring(long, HEAD_FLATNESS * long)
    angle = np.linspace(0, pi, _ROUND)
    return BodyCurves(
        "head",
        (
            _columns(0.0, around[:, 0], around[:, 1]),
            _columns(high * np.sin(angle), long * np.cos(angle), 0.0),
            _columns(high * np.sin(angle), 0.0, HEAD_FLATNESS * long * np.cos(angle)),
        ),
        (Mark(np.array((0.0, long, 0.0)), girth_mm), Mark(np.array((high, 0.0, 0.0)), crown_mm)),
    )


def hand(
    length_mm: float, girth_mm: float, thumb_at_mm: float, thumb_mm: float, thumb_girth_mm: float
) -> BodyCurves:
    """A hand laid flat, fingers together, its thumb aside, and a ring round the palm.

    Args:
        length_mm: from the wrist to the tip of the longest finger.
        girth_mm: round the palm without the thumb.
        thumb_at_mm: from the wrist to where the thumb begins.
        thumb_mm: length of the thumb from there.
        thumb_girth_mm: round it.
    """
    broad = ring_axis(girth_mm, HAND_FLATNESS)
    half, thumb = broad / 2, thumb_girth_mm / pi
    root = np.array((thumb_at_mm, half))
    way = np.array((np.cos(0.7), np.sin(0.7)))
    beside = np.array((-way[1], way[0])) * thumb / 2
    tip = root + way * thumb_mm
    outline = smooth(
        (-0.15 * length_mm, 0.36 * broad), (0.0, 0.37 * broad), (thumb_at_mm * 0.45, 0.5 * broad),
        tuple(root + beside), tuple(tip + beside - way * thumb / 2), tuple(tip),
        tuple(tip - beside - way * thumb / 2), tuple(root - beside + way * thumb * 0.8),
        (0.62 * length_mm, half), (0.86 * length_mm, 0.40 * broad), (length_mm, 0.06 * broad),
        (0.90 * length_mm, -0.36 * broad), (0.55 * length_mm, -half), (0.25 * length_mm, -0.47 * broad),
        (0.0, -0.37 * broad), (-0.15 * length_mm, -0.36 * broad),
    )  # fmt: skip
    around = ring(half, HAND_FLATNESS * half)
    palm = 0.55 * length_mm
    return BodyCurves(
        "hand",
        (_columns(outline[:, 0], outline[:, 1], 0.0), _columns(palm, around[:, 0], around[:, 1])),
        (
            Mark(np.array((length_mm, 0.0, 0.0)), length_mm),
            Mark(np.array((palm, -half, 0.0)), girth_mm),
            Mark(np.array((*tip, 0.0)), thumb_mm),
        ),
    )


def trunk(
    chest_mm: float, neck_mm: float, slope_mm: float, armhole_mm: float, length_mm: float
) -> BodyCurves:
    """A trunk seen from the front, and a ring round the chest; nothing lies above the neck.

    Args:
        chest_mm: round the chest.
        neck_mm: across the neck.
        slope_mm: how much lower a shoulder is at the arm.
        armhole_mm: from the shoulder down to the arm's pit.
        length_mm: from the shoulder at the neck down to where it is drawn.
    """
    half = ring_axis(chest_mm, TRUNK_FLATNESS) / 2
    one_side = smooth(
        (-length_mm, 0.92 * half), (-0.6 * length_mm, 0.9 * half), (-armhole_mm, half),
        (-0.5 * armhole_mm, 0.94 * half), (-slope_mm, half), (0.0, neck_mm / 2),
        (0.25 * neck_mm, 0.42 * neck_mm),
    )  # fmt: skip
    around = ring(half, TRUNK_FLATNESS * half)
    return BodyCurves(
        "trunk",
        (
            _columns(one_side[:, 0], one_side[:, 1], 0.0),
            _columns(one_side[:, 0], -one_side[:, 1], 0.0),
            _columns(-armhole_mm, around[:, 0], around[:, 1]),
        ),
        (Mark(np.array((-armhole_mm, half, 0.0)), chest_mm),),
    )


# -- curves -----------------------------------------------------------------------------------------------


def ring_axis(girth_mm: float, flatness: float) -> float:
    """The longer axis of an ellipse of a girth, the shorter being ``flatness`` of it (Ramanujan 1914)."""
    one, other = 1.0, flatness
    share = ((one - other) / (one + other)) ** 2
    of_half_axes = pi * (one + other) * (1 + 3 * share / (10 + np.sqrt(4 - 3 * share)))
    return float(2 * girth_mm / of_half_axes)


def quarter_height(across_mm: float, arc_mm: float) -> float:
    """The upright half axis of an ellipse whose quarter is so long; 0 where even a flat one is longer."""
    low, high = 0.0, arc_mm
    for _ in range(50):
        middle = (low + high) / 2
        flat, long = sorted((middle, across_mm))
        quarter = 2 * long / ring_axis(1.0, flat / long) / 4
        low, high = (middle, high) if quarter < arc_mm else (low, middle)
    return (low + high) / 2


def ring(half_mm: float, other_half_mm: float) -> Floats:
    """A closed ellipse about the origin, shape (k, 2)."""
    angle = np.linspace(0, 2 * pi, _ROUND + 1)
    return np.stack((half_mm * np.cos(angle), other_half_mm * np.sin(angle)), axis=1)


def smooth(*places: tuple[float, ...]) -> Floats:
    """A smooth curve through places (Catmull and Rom 1974), shape (k, 2)."""
    given = np.array(places, np.float64)
    closed = bool(np.allclose(given[0], given[-1]))
    before = given[-2] if closed else 2 * given[0] - given[1]
    after = given[1] if closed else 2 * given[-1] - given[-2]
    p = np.vstack((before, given, after))
    t = np.linspace(0, 1, _FINE, endpoint=False)[:, None]
    parts = [
        0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)
        for a, b, c, d in zip(p, p[1:], p[2:], p[3:], strict=False)
    ]
    return np.vstack((*parts, given[-1:]))


def _columns(along: Floats | float, up: Floats | float, across: Floats | float) -> Floats:
    """Curves of one point a row."""
    return np.stack(np.broadcast_arrays(along, up, across), axis=1).astype(np.float64)
