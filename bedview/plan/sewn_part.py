"""Which part of an edge a seam closes, where it leaves some of it open."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from bedview.plan.seams_file import Graft, Mattress, Overcast


def sewn_part(seam: Graft | Mattress | Overcast, along_mm: npt.NDArray[np.float64]) -> slice:
    """Which loops of an edge are joined.

    Args:
        seam: the seam.
        along_mm: what each loop of the edge takes up along it, in the order in which the seam joins them.

    Returns:
        A slice of the edge's loops, empty where all of it stays open.
    """
    count = len(along_mm)
    if isinstance(seam, Graft):
        return slice(0, count)
    at_end = seam.open_at == "end"
    if seam.open_rows is not None:
        left = min(seam.open_rows, count)
    elif seam.open_cm is not None:
        # The edge of a loop that lies nearest to the place asked for.
        edges = np.concatenate(([0.0], np.cumsum(along_mm[::-1] if at_end else along_mm)))
        left = int(np.abs(edges - 10 * seam.open_cm).argmin())
    else:
        left = 0
    return slice(0, count - left) if at_end else slice(left, count)
