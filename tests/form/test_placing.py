"""First places: distances that can be had in space are had."""

import numpy as np
import pytest
from scipy import sparse
from scipy.spatial.distance import cdist

from bedview.form.placing import place_nodes


def test_straight_distances_come_out_again() -> None:
    points = np.random.default_rng(3).normal(size=(60, 3)) * 40
    apart = cdist(points, points)
    found = place_nodes(sparse.csr_array(apart))
    assert cdist(found, found) == pytest.approx(apart, abs=1e-6)


@pytest.mark.parametrize("nodes", [1, 2, 3])
def test_a_few_nodes_in_a_row(nodes: int) -> None:
    lengths = sparse.csr_array(np.diag(np.full(nodes - 1, 7.0), 1) + np.diag(np.full(nodes - 1, 7.0), -1))
    found = place_nodes(lengths)
    assert np.ptp(np.linalg.norm(found - found[0], axis=1)) == pytest.approx(7.0 * (nodes - 1))
