"""Measure finding the resting shape against one factorisation and thirty solves of the same matrix.

Closed shapes of 3,000, 15,000 and 60,000 loops (a foot of two tubes and a heel between, a tube, a cone), and
a rectangle of 5,000. For each: seconds in all, as a multiple of the floor measured in the same run;
mean strain; and how far the shape is from that of 400 steps, as a share of its size.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import islice
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bedview.form.beginning import first_places, near_lengths, parts_of
from bedview.form.net import fabric_graph, make_net
from bedview.form.relaxing import factorised
from bedview.form.resting import resting_shape
from bedview.form.settling import loads_for, make_relaxer
from bedview.form.stitch_sizes import Floats
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from tests.form.fabrics import heel_cup, rectangle, tube, wedges

PIECES: dict[str, Callable[[], Piece]] = {
    "rectangle, 5,000": lambda: rectangle(50, 99),
    "foot, 3,000": lambda: heel_cup(40, 14, 20),
    "foot, 15,000": lambda: heel_cup(88, 30, 46),
    "foot, 60,000": lambda: heel_cup(176, 60, 93),
    "tube, 15,000": lambda: tube(100, 149),
    "cone, 5,500": lambda: wedges(48, 16, [8] * 5),
}
STEPS_FAR = 400


def floor_seconds(piece: Piece, procedure: Procedure) -> float:
    """Seconds of one factorisation and thirty solves for places in space."""
    matrix = make_relaxer(make_net(fabric_graph(piece, procedure), closed=True)).matrix
    start = perf_counter()
    factors = factorised(matrix)
    sides = np.random.default_rng(1).normal(size=(matrix.shape[0], 3))
    for _ in range(30):
        factors.solve(sides)
    return perf_counter() - start


def after_many_steps(piece: Piece, procedure: Procedure) -> Floats:
    """Places after 400 steps, found the same way."""
    net = make_net(fabric_graph(piece, procedure), closed=True)
    metric = near_lengths(net)
    places = first_places(net, metric, parts_of(metric))
    relaxer = make_relaxer(net)
    loads, _ = loads_for(net, places)
    left = STEPS_FAR
    for steps, load in loads:
        many = left if load is loads[-1][1] else steps
        places = next(islice(relaxer.steps(places, load), many - 1, None))
        left -= many
    return places


def apart(one: Floats, other: Floats) -> float:
    """Root mean square distance of two shapes laid on each other, as a share of the second one's size."""
    one, other = one - one.mean(axis=0), other - other.mean(axis=0)
    left, _, right = np.linalg.svd(one.T @ other)
    return float(np.sqrt(((one @ left @ right - other) ** 2).sum() / (other**2).sum()))


def measure(name: str) -> None:
    """Measure one piece and print a line."""
    piece = PIECES[name]()
    procedure = compile_piece(piece)
    floor = min(floor_seconds(piece, procedure) for _ in range(3))
    taken = []
    for _ in range(3):
        start = perf_counter()
        shape = resting_shape(piece, procedure)
        taken.append(perf_counter() - start)
    off = apart(shape.places_mm, after_many_steps(piece, procedure))
    print(
        f"{name:18} {len(shape):6} loops  {min(taken):6.3f} s  {min(taken) / floor:5.2f} x {floor:.3f} s  "
        f"strain {shape.strain_mean:6.2%}  {off:6.2%} from {STEPS_FAR} steps"
    )


if __name__ == "__main__":
    for each in PIECES:
        measure(each)
