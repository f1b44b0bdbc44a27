"""Bringing all links to their rest lengths at once, as far as that can be.

Each step turns every link to its rest length where it stands, and solves for the places that fit all of them
best; the matrix of that solve never changes and is factorised once (Liu, Bargteil, O'Brien and Kavan 2013,
"Fast simulation of mass-spring systems", from memory). Written as a step along the gradient it can be made
faster by looking at the last few steps (Anderson acceleration); a step that would raise the energy is taken
plainly.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.linalg import splu

from bedview.form.stitch_sizes import Floats

STEPS_BACK: Final = 5
HELD_IN_PLACE: Final = 1e-4
"""Stiffness that keeps the matrix regular; it pulls towards where the step began, so to no place at all."""
SHORTEST_MM: Final = 1e-9


@dataclass(frozen=True)
class Springs:
    """What is relaxed.

    Attributes:
        one, other: nodes at the ends of each spring.
        rest_mm: its length at rest.
        stiffness: its weight.
        pulls_only: whether it may be slack.
        bends: shape (3, k): three nodes in a row that want to lie straight, the middle one second.
        bend_stiffness: weight of each in the matrix.
        nodes: how many nodes there are.
    """

    one: npt.NDArray[np.integer]
    other: npt.NDArray[np.integer]
    rest_mm: Floats
    stiffness: Floats
    pulls_only: npt.NDArray[np.bool_]
    bends: npt.NDArray[np.integer]
    bend_stiffness: float
    nodes: int


class Relaxer:
    """Relaxes one set of springs.

    Args:
        springs: the springs. Their rest lengths may be changed between steps, the rest not.
    """

    def __init__(self, springs: Springs) -> None:
        self.springs = springs
        self.rest_mm = springs.rest_mm
        count, nodes = len(springs.one), springs.nodes
        each, ones = np.arange(count), np.ones(count)
        ends = np.concatenate((springs.one, springs.other))
        self._spans = sparse.csr_array(
            (np.concatenate((ones, -ones)), (np.tile(each, 2), ends)), shape=(count, nodes)
        )
        bends = springs.bends.shape[1]
        each, ones = np.arange(bends), np.ones(bends)
        self._bends = sparse.csr_array(
            (np.concatenate((ones, -2 * ones, ones)), (np.tile(each, 3), springs.bends.ravel())),
            shape=(bends, nodes),
        )
        self._back = sparse.csr_array((self._spans * springs.stiffness[:, None]).T)
        self._bend_matrix = sparse.csr_array(self._bends.T @ self._bends) * springs.bend_stiffness
        self.matrix = sparse.csc_array(
            self._back @ self._spans + self._bend_matrix + HELD_IN_PLACE * sparse.eye_array(nodes)
        )
        self._solver: Any = splu(
            self.matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0, options={"SymmetricMode": True}
        )

    def energy(self, places: Floats, bend_share: float) -> tuple[float, Floats, Floats]:
        """Energy, its gradient, and the lengths of the springs."""
        spans = self._spans @ places
        lengths = np.sqrt(np.einsum("ij,ij->i", spans, spans))
        excess = lengths - self.rest_mm
        excess[self.springs.pulls_only & (excess < 0)] = 0
        pull = spans * (excess / np.maximum(lengths, SHORTEST_MM))[:, None]
        bending = self._bend_matrix @ places * bend_share
        gradient = self._back @ pull + bending
        energy = 0.5 * float(self.springs.stiffness @ excess**2) + 0.5 * float(np.vdot(places, bending))
        return energy, gradient, lengths

    def steps(self, places: Floats, bend_share: float) -> Iterator[Floats]:
        """Places after each further step; never ends by itself.

        Args:
            places: where to begin, shape (n, 3).
            bend_share: how much of the bending stiffness counts, 0 to 1.
        """
        energy, gradient, _ = self.energy(places, bend_share)
        moves: deque[Floats] = deque(maxlen=STEPS_BACK)
        changes: deque[Floats] = deque(maxlen=STEPS_BACK)
        last: tuple[Floats, Floats] | None = None
        while True:
            step = -self._solver.solve(gradient)
            if last is not None:
                moves.append(places - last[0])
                changes.append(step - last[1])
            last = places, step
            ahead = places + step
            tried = ahead - _correction(moves, changes, step) if moves else ahead
            new_energy, gradient, _ = self.energy(tried, bend_share)
            if moves and not new_energy <= energy:
                moves.clear()
                changes.clear()
                last, tried = None, ahead
                new_energy, gradient, _ = self.energy(tried, bend_share)
            places, energy = tried, new_energy
            yield places


def _correction(moves: deque[Floats], changes: deque[Floats], step: Floats) -> Floats:
    """What Anderson acceleration takes off a plain step."""
    many = len(moves)
    gram = np.empty((many, many))
    right = np.empty(many)
    for i in range(many):
        right[i] = np.vdot(changes[i], step)
        for j in range(i, many):
            gram[i, j] = gram[j, i] = np.vdot(changes[i], changes[j])
    gram.flat[:: many + 1] += 1e-10 * gram.trace()
    shares = np.linalg.lstsq(gram, right, rcond=None)[0]
    correction = shares[0] * (moves[0] + changes[0])
    for share, move, change in zip(list(shares)[1:], list(moves)[1:], list(changes)[1:], strict=True):
        correction += share * (move + change)
    return correction
