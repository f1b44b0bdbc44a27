"""What lies on the free bench, kept from one start to the next as a piece's file."""

from __future__ import annotations

from pathlib import Path

from bedview.plan.problems import PieceError
from bedview.plan.procedure import PlanError
from bedview.session.bench_run import BenchRun
from bedview.store.piece_file import read_piece, write_piece
from bedview.store.whole_file import OutputError, reason


def bench_as_left(path: Path) -> BenchRun | None:
    """The bench as it was left; None if it was not, or if its file cannot be used."""
    if not path.exists():
        return None
    try:
        return BenchRun.from_piece(read_piece(path))
    except (PieceError, PlanError):
        return None


def keep_bench(path: Path, bench: BenchRun) -> None:
    """Write down what lies on the bench, whole or not at all; of an empty one nothing, unless it was kept.

    Raises:
        OutputError: if it cannot be written; what stood there before still stands.
    """
    if not bench.timeline.actions and not path.exists():
        return
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(path, reason(error)) from None
    write_piece(path, bench.to_piece())
