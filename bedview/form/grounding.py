"""How far a piece tips when it is put down on level ground: a foot comes to stand on its sole."""

from __future__ import annotations

from typing import Final

import numpy as np

from bedview.form.stitch_sizes import Floats

FARTHEST_DEGREES: Final = 60
"""What would tip further does not stand at all: it is left upright."""
FINE: Final = 20
"""Parts of a degree that are told apart."""
LEVEL: Final = 1e-3
"""What lowers the middle of a piece by less than this share of its size does not tip it."""


def tip_radians(profile: Floats) -> float:
    """How far a piece tips to the right, in its own plane, until it stands.

    It tips towards the side on which its middle sinks, until that would rise again: then what it touches the
    ground with lies on both sides of its middle.

    Args:
        profile: shape (n, 2): how far to the right and how high each node is.

    Returns:
        The angle; 0 if it stands as it is, or tips over.
    """
    around = profile - profile.mean(axis=0)
    degrees = np.arange(-FARTHEST_DEGREES, FARTHEST_DEGREES + 1.0)
    heights = _middle_mm(around, degrees)
    upright = place = FARTHEST_DEGREES
    way = -1 if heights[place - 1] < heights[place + 1] else 1
    while 0 < place < len(degrees) - 1 and heights[place + way] < heights[place]:
        place += way
    fallen = heights[upright] - heights[place]
    if not 0 < place < len(degrees) - 1 or fallen <= LEVEL * np.ptp(around, axis=0).max():
        return 0.0
    near = degrees[place] + np.arange(-FINE, FINE + 1) / FINE
    return float(np.radians(near[_middle_mm(around, near).argmin()]))


def _middle_mm(around: Floats, degrees: Floats) -> Floats:
    """How high the middle of a piece lies above its lowest node, tipped by each angle."""
    turns = np.radians(degrees)
    return np.array(
        [
            -float((around[:, 1] * cos - around[:, 0] * sin).min())
            for cos, sin in zip(np.cos(turns), np.sin(turns), strict=True)
        ]
    )
