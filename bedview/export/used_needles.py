"""Which needles a piece ever uses."""

from __future__ import annotations

import numpy as np

from bedview.bed.needles import Position
from bedview.bed.timeline import Timeline


def used_needles(timeline: Timeline) -> tuple[int, int]:
    """First and last needle that is ever anything but out of work and empty; the innermost two if none is."""
    busy = np.zeros(timeline.bed.needles, np.bool_)
    for _, state in timeline.walk_events():
        busy |= (state.position != Position.OUT) | (state.height > 0)
    ends = np.flatnonzero(busy)
    half = timeline.bed.needles // 2
    return (int(ends[0]), int(ends[-1])) if len(ends) else (half - 1, half)
