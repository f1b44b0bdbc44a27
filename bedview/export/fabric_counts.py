"""The account of a fabric: how many loops of each kind, and what shows or runs."""

from __future__ import annotations

from typing import Any

import numpy as np

from bedview.bed.fabric import LoopKind
from bedview.bed.timeline import Timeline


def fabric_counts(timeline: Timeline) -> dict[str, Any]:
    """Counts of all loops of all yarns, waste and wraps too.

    Returns:
        ``loops`` by kind, ``strands`` that made a loop, ``passes``, ``openings`` (how many of each size,
        sizes as text), ``unsecured`` and ``on_bed`` (loops).
    """
    fabric = timeline.fabric
    kinds = np.bincount(fabric.kind, minlength=len(LoopKind)).tolist()
    return {
        "loops": {
            "cast_on": kinds[LoopKind.CAST_ON],
            "knit": kinds[LoopKind.KNIT],
            "laid_in": kinds[LoopKind.LAID_IN],
            "wrap": kinds[LoopKind.WRAP] + kinds[LoopKind.HAND_WRAP],
            "bind": kinds[LoopKind.BIND],
        },
        "strands": fabric.strands_with_loops(),
        "passes": timeline.passes,
        "openings": {str(size): many for size, many in timeline.openings.sizes().items()},
        "unsecured": timeline.machine.ledger.unsecured(),
        "on_bed": int(timeline.state.height.sum()),
    }
