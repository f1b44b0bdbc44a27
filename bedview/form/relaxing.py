"""Bringing all links to their rest lengths at once, as far as that can be.

Each step turns every link to its rest length where it stands, and solves for the places that fit all of them
best; the matrix of that solve never changes and is factorised once (Liu, Bargteil, O'Brien and Kavan 2013,
"Fast simulation of mass-spring systems", from memory). Written as a step along the gradient it is made faster
by looking at the last steps (Anderson acceleration); a step that would raise the energy is taken plainly.

Sums of products are written with ``einsum``: the libraries behind ``@`` share even short ones out among
threads that then wait for each other, which takes ten times as long on a busy computer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import numpy.typing as npt
from scipy import sparse
from scipy.sparse.linalg import splu

from bedview.form.lids import Lids
from bedview.form.stitch_sizes import Floats

STEPS_BACK: Final = 20
HELD_IN_PLACE: Final = 1e-4
"""Stiffness that keeps the matrix regular; it pulls towards where a step began, so to no place at all."""
SHORTEST_MM: Final = 1e-9
FARTHEST_MM: Final = 1e6
"""No loop goes so far in one step."""


@dataclass(frozen=True)
class Springs:
    """What is relaxed.

    Attributes:
        one, other: nodes at the ends of each spring.
        stiffness: its weight.
        pulls_only: whether it may be slack.
        bends: shape (3, k): three nodes in a row that want to lie straight, the middle one second.
        bend_stiffness: weight of each in the matrix.
        nodes: how many nodes there are.
    """

    one: npt.NDArray[np.integer]
    other: npt.NDArray[np.integer]
    stiffness: Floats
    pulls_only: npt.NDArray[np.bool_]
    bends: npt.NDArray[np.integer]
    bend_stiffness: float
    nodes: int


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

    Args:
        springs: the springs.
        rest_mm: their lengths at rest.

    Attributes:
        rest_mm: the same; may be changed between runs of :meth:`steps`.
        matrix: what is factorised.
    """

    def __init__(self, springs: Springs, rest_mm: Floats) -> None:
        self.springs = springs
        self.rest_mm = rest_mm
        self._spans = _differences(np.stack((springs.one, springs.other)), (1, -1), springs.nodes)
        bends = _differences(springs.bends, (1, -2, 1), springs.nodes)
        weights = sparse.diags_array(springs.stiffness)
        self._back = sparse.csr_array(self._spans.T @ weights)
        self._bend_matrix = sparse.csr_array(bends.T @ bends) * springs.bend_stiffness
        held = HELD_IN_PLACE * sparse.eye_array(springs.nodes)
        self.matrix = sparse.csc_array(self._back @ self._spans + self._bend_matrix + held)
        self._solver: Any = factorised(self.matrix)

    def lengths_mm(self, places: Floats) -> Floats:
        """Lengths of the springs where nodes stand at ``places``, shape (n, 3)."""
        spans = self._spans @ places
        return np.asarray(np.sqrt(np.einsum("ij,ij->i", spans, spans)))

    def energy(self, places: Floats, load: Load) -> tuple[float, Floats]:
        """Energy and its gradient."""
        spans = self._spans @ places
        lengths = np.sqrt(np.einsum("ij,ij->i", spans, spans))
        excess = lengths - self.rest_mm
        excess[self.springs.pulls_only & (excess < 0)] = 0
        spans *= (excess / np.maximum(lengths, SHORTEST_MM))[:, None]
        bending = self._bend_matrix @ places * load.bend_share
        gradient = self._back @ spans + bending
        stretching = np.einsum("i,i,i->", self.springs.stiffness, excess, excess)
        energy = 0.5 * float(stretching + np.einsum("ij,ij->", places, bending))
        if load.lids is not None:
            volume, slope = load.lids.enclosed(places)
            energy -= load.air * volume
            gradient -= load.air * slope
        return energy, gradient

    def steps(self, places: Floats, load: Load) -> Iterator[Floats]:
        """Places after each further step; never ends by itself.

        Args:
            places: where to begin, shape (n, 3).
            load: what acts beside the springs.
        """
        energy, gradient = self.energy(places, load)
        memory = _Memory(places.size)
        while True:
            step = -self._solver.solve(gradient)
            ahead = places + step
            tried = memory.ahead(places, step)
            if tried is not None:
                new_energy, gradient = self.energy(tried, load)
            if tried is None or not new_energy <= energy:
                if tried is not None:
                    memory.forget()
                tried = ahead
                new_energy, gradient = self.energy(tried, load)
            places, energy = tried, new_energy
            yield places


def factorised(matrix: sparse.csc_array) -> Any:  # noqa: ANN401 - SuperLU objects have no public type
    """The factors of a symmetric positive matrix."""
    return splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0, options={"SymmetricMode": True})


def _differences(nodes: npt.NDArray[np.integer], weights: tuple[int, ...], count: int) -> sparse.csr_array:
    """Matrix whose rows sum ``weights`` times the nodes of each column of ``nodes``."""
    many = nodes.shape[1]
    values = np.repeat(np.array(weights, np.float64), many)
    return sparse.csr_array(
        (values, (np.tile(np.arange(many), len(weights)), nodes.ravel())), shape=(many, count)
    )


class _Memory:
    """The last steps, and what they tell of the next (Anderson 1965, in its second form)."""

    def __init__(self, size: int) -> None:
        self._moves = np.empty((STEPS_BACK, size))
        self._changes = np.empty((STEPS_BACK, size))
        self._products = np.zeros((STEPS_BACK, STEPS_BACK))
        self._known = 0
        self._last: tuple[Floats, Floats] | None = None

    def forget(self) -> None:
        """Begin anew."""
        self._known = 0
        self._last = None

    def ahead(self, places: Floats, step: Floats) -> Floats | None:
        """Where the next step should lead, given the plain one; None while nothing is known."""
        if self._last is not None:
            slot = self._known % STEPS_BACK
            self._moves[slot] = (places - self._last[0]).ravel()
            self._changes[slot] = (step - self._last[1]).ravel()
            self._known += 1
            products = np.einsum("ij,j->i", self._changes[: self._count], self._changes[slot])
            self._products[slot, : self._count] = self._products[: self._count, slot] = products
        self._last = places, step
        count = self._count
        if not count:
            return None
        products = self._products[:count, :count].copy()
        # A little more on the diagonal keeps it regular where steps repeat each other.
        products.flat[:: count + 1] += 1e-10 * products.trace() + 1e-300
        toward = np.einsum("ij,j->i", self._changes[:count], step.ravel())
        shares = np.linalg.solve(products, toward)
        taken = np.einsum("i,ij->j", shares, self._moves[:count])
        taken += np.einsum("i,ij->j", shares, self._changes[:count])
        if not np.abs(taken).max() < FARTHEST_MM:
            # Steps that have come to nothing tell of nothing.
            return None
        return np.asarray(places + step - taken.reshape(step.shape))

    @property
    def _count(self) -> int:
        return min(self._known, STEPS_BACK)
