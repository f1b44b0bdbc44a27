"""Measure confirming a row against the least it could cost: a small append to a file, and fsync."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from bedview.store.journal import Journal

_ROWS = 500


def measure_confirming(folder: Path) -> tuple[float, float]:
    """Confirm rows and append to a file, in turns.

    Args:
        folder: an empty folder on the disk to measure.

    Returns:
        Median seconds of write and fsync, and of a confirmed row.
    """
    appended, confirmed = [], []
    handle = os.open(folder / "plain", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    with Journal(folder / "journal.sqlite3") as journal:
        session = journal.begin(folder / "a.piece.json")
        for step in range(_ROWS):
            start = perf_counter()
            os.write(handle, b"a confirmed row and what it says: about so long\n")
            os.fsync(handle)
            middle = perf_counter()
            session.confirm(step, step, _ROWS, b"sixteen bytes...")
            appended.append(middle - start)
            confirmed.append(perf_counter() - middle)
    os.close(handle)
    return median(appended), median(confirmed)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(dir=".") as place:
        floor, taken = measure_confirming(Path(place))
    print(f"a confirmed row {floor * 1000:7.3f} ms  {taken * 1000:7.3f} ms  {taken / floor:5.2f} x")
