"""Measure finding the resting shape against one factorisation and thirty solves of the same matrix.

Closed shapes of 3,000, 15,000 and 60,000 loops (a foot of two tubes and a heel between, a tube, a cone), and
a rectangle of 5,000. For each: seconds in all, as a multiple of the floor measured in the same run;
mean strain; and how far the shape is from that of 400 steps, as a share of its size.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bedview.form.net import fabric_graph, make_net
from bedview.form.relaxing import factorised
from bedview.form.resting import resting_shape
from bedview.form.settling import make_relaxer
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from tests.form.fabrics import heel_cup, rectangle, tube, wedges
from tests.form.resting import after_many_steps, apart

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


def measure(name: str) -> None:
    """Measure one piece and print a line; the floor is measured before each of its runs."""
    piece = PIECES[name]()
    procedure = compile_piece(piece)
    floors, taken = [], []
    for _ in range(5):
        floors.append(floor_seconds(piece, procedure))
        start = perf_counter()
        shape = resting_shape(piece, procedure)
        taken.append(perf_counter() - start)
    off = apart(shape.places_mm, after_many_steps(piece, procedure, STEPS_FAR))
    print(
        f"{name:18} {len(shape):6} loops  {min(taken):6.3f} s  {min(taken) / min(floors):5.2f} x "
        f"{min(floors):.3f} s  strain {shape.strain_mean:6.2%}  {off:6.2%} from {STEPS_FAR} steps"
    )


if __name__ == "__main__":
    for each in PIECES:
        measure(each)
