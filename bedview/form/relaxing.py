"""Bringing all links to their rest lengths at once, as far as that can be.

Each step turns every link to its rest length where it stands, and solves for the places that fit all of them
best; the matrix of that solve never changes and is factorised once (Liu, Bargteil, O'Brien and Kavan 2013,
"Fast simulation of mass-spring systems", from memory). Written as a step along the gradient it is a first
guess at Newton's, which what the last steps changed makes better (limited-memory BFGS; Nocedal 1980; Liu,
Bouaziz and Kavan 2017, "Quasi-Newton methods for real-time simulation of hyperelastic materials", from
memory). A step that does not lower the energy is shortened.

Sums of products are written with ``einsum``: the libraries behind ``@`` share even short ones out among
threads that then wait for each other, which takes ten times as long on a busy computer.
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

from bedview.form.lids import Lids
from bedview.form.stitch_sizes import Floats

STEPS_BACK: Final = 5
FALL_EXPECTED: Final = 1e-4
"""Share of the fall that the slope promises which a step must bring (Armijo 1966)."""
SHORTEST_SHARE: Final = 0.1
LONGEST_SHARE: Final = 0.5
"""How much of a step that was too long the next try is at least and at most."""
SHORTENINGS: Final = 12
CURVED: Final = 1e-10
"""Steps along which the slope changes less than this, as a share of the most it could, tell of nothing."""
HELD_IN_PLACE: Final = 1e-4
"""Stiffness that keeps the matrix regular; it pulls towards where a step began, so to no place at all."""
SHORTEST_MM: Final = 1e-9
FARTHEST_MM: Final = 1e6
"""No loop goes so far in one step."""


@dataclass(frozen=True)
class Springs:
    """What is relaxed: k springs between n nodes.

    Attributes:
        spans: shape (k, n): the way along each spring from the places of the nodes.
        rest_mm: their lengths at rest.
        stiffness: their weights.
        pulls_only: whether each may be slack.
        bending: symmetric, shape (n, n): the force against bending from the places of the nodes.
    """

    spans: sparse.csr_array
    rest_mm: Floats
    stiffness: Floats
    pulls_only: npt.NDArray[np.bool_]
    bending: sparse.csr_array


@dataclass(frozen=True)
class Load:
    """What acts beside the springs.

    Attributes:
        bend_share: how much of the bending stiffness counts, 0 to 1.
        air: pressure inside, stiffness a millimetre of edge.
        lids: the surface it presses on, if there is any air.
    """

    bend_share: float
    air: float = 0.0
    lids: Lids | None = None


class Relaxer:
    """Relaxes one set of springs.

    Attributes:
        springs: the springs.
        rest_mm: their lengths at rest; may be changed between runs of :meth:`steps`.
        matrix: what is factorised.
    """

    def __init__(self, springs: Springs) -> None:
        self.springs = springs
        self.rest_mm = springs.rest_mm.copy()
        self._spans = springs.spans
        self._back = sparse.csr_array(self._spans.T)
        self._back.data = self._back.data * springs.stiffness[self._back.indices]
        # It is symmetric, so its columns are its rows.
        self.matrix = sparse.csc_array((self._back @ self._spans + springs.bending).T)
        self.matrix.setdiag(self.matrix.diagonal() + HELD_IN_PLACE)
        self._solver: Any = factorised(self.matrix)

    def lengths_mm(self, places: Floats) -> Floats:
        """Lengths of the springs where nodes stand at ``places``, shape (n, 3)."""
        return _norms(self._spans @ places)

    def energy(self, places: Floats, load: Load) -> tuple[float, Floats]:
        """Energy and its gradient."""
        spans = self._spans @ places
        lengths = _norms(spans)
        excess = lengths - self.rest_mm
        excess[self.springs.pulls_only & (excess < 0)] = 0
        spans *= (excess / np.maximum(lengths, SHORTEST_MM))[:, None]
        bending = self.springs.bending @ places * load.bend_share
        gradient = self._back @ spans + bending
        stretching = np.einsum("i,i,i->", self.springs.stiffness, excess, excess)
        energy = 0.5 * float(stretching + np.einsum("ij,ij->", places, bending))
        if load.lids is not None:
            volume, slope = load.lids.enclosed(places)
            energy -= load.air * volume
            gradient -= load.air * slope
        return energy, gradient

    def steps(self, places: Floats, load: Load) -> Iterator[Floats]:
        """Places after each further step; never ends by itself, and never raises the energy.

        Args:
            places: where to begin, shape (n, 3).
            load: what acts beside the springs.
        """
        here = self._point(places, *self.energy(places, load))
        memory = _Memory()
        while True:
            ahead = self._lower(here, memory.way(here), load)
            if ahead is None:
                memory.forget()
                ahead = self._lower(here, -here.plain, load)
            if ahead is not None:
                memory.keep(here, ahead)
                here = ahead
            yield here.places

    def _point(self, places: Floats, energy: float, gradient: Floats) -> _Point:
        return _Point(places, energy, gradient, np.asarray(self._solver.solve(gradient)))

    def _lower(self, here: _Point, way: Floats, load: Load) -> _Point | None:
        """The end of a way, or of its beginning, where the energy is lower; None if there is no such."""
        slope = _product(way, here.gradient)
        if not slope < 0 or not np.abs(way).max() < FARTHEST_MM:
            return None
        share = 1.0
        for _ in range(SHORTENINGS):
            places = here.places + share * way
            energy, gradient = self.energy(places, load)
            if energy <= here.energy + FALL_EXPECTED * share * slope:
                return self._point(places, energy, gradient)
            # The lowest point of the parabola through what is known.
            best = -slope * share**2 / (2 * (energy - here.energy - slope * share))
            share *= min(max(best / share, SHORTEST_SHARE), LONGEST_SHARE)
        return None


@dataclass(frozen=True, slots=True)
class _Point:
    """Some places, their energy and its gradient, and the plain step there, its sign changed."""

    places: Floats
    energy: float
    gradient: Floats
    plain: Floats


def factorised(matrix: sparse.csc_array) -> Any:  # noqa: ANN401 - SuperLU objects have no public type
    """The factors of a symmetric positive matrix."""
    return splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0, options={"SymmetricMode": True})


def differences(nodes: npt.NDArray[np.integer], weights: tuple[int, ...], count: int) -> sparse.csr_array:
    """Matrix whose rows sum ``weights`` times the nodes of each column of ``nodes``, of ``count`` nodes."""
    many = nodes.shape[1]
    values = np.repeat(np.array(weights, np.float64), many)
    return sparse.csr_array(
        (values, (np.tile(np.arange(many), len(weights)), nodes.ravel())), shape=(many, count)
    )


@dataclass(frozen=True, slots=True)
class _Move:
    """A step taken, and by how much gradient and plain step changed along it."""

    way: Floats
    gradient: Floats
    plain: Floats
    curve: float


class _Memory:
    """The last steps, and what they tell of the next."""

    def __init__(self) -> None:
        self._moves: deque[_Move] = deque(maxlen=STEPS_BACK)

    def forget(self) -> None:
        """Begin anew."""
        self._moves.clear()

    def keep(self, before: _Point, after: _Point) -> None:
        """Remember a step."""
        way, gradient = after.places - before.places, after.gradient - before.gradient
        curve = _product(way, gradient)
        if curve > CURVED * np.sqrt(_product(way, way) * _product(gradient, gradient)):
            self._moves.append(_Move(way, gradient, after.plain - before.plain, curve))

    def way(self, here: _Point) -> Floats:
        """The next step: the plain one, corrected from the latest move to the first and back.

        In the usual two loops the plain step is solved for between them; as it is linear in the gradient, it
        is put together here from those at the ends of the moves.
        """
        gradient, way = here.gradient.copy(), here.plain.copy()
        shares = []
        for move in reversed(self._moves):
            share = _product(move.way, gradient) / move.curve
            shares.append(share)
            gradient -= share * move.gradient
            way -= share * move.plain
        if self._moves:
            last = self._moves[-1]
            way *= last.curve / _product(last.gradient, last.plain)
        for move, share in zip(self._moves, reversed(shares), strict=True):
            way += (share - _product(move.gradient, way) / move.curve) * move.way
        return -way


def _norms(ways: Floats) -> Floats:
    """Length of each row; column by column, which numpy does faster than by such short rows."""
    x, y, z = ways.T
    return np.asarray(np.sqrt(x * x + y * y + z * z))


def _product(one: Floats, other: Floats) -> float:
    return float(np.einsum("ij,ij->", one, other))
