"""Where the free bench is kept: from one visit of the page to the next, and from one start to the next."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from bedview.bed.needles import Bed
from bedview.plan.piece import Yarn
from bedview.session.bench_kept import bench_as_left, keep_bench
from bedview.session.bench_run import BENCH_YARNS, BenchRun
from bedview.store.whole_file import OutputError
from bedview.ui.desk import Desk

USUAL_BED = Bed(40)
"""What lies on the bench if nobody says otherwise."""


class BenchShelf(QObject):
    """The shelf, with one bench on it.

    Args:
        desk: the open piece, whose yarns can lie on the bench.
        file: where the bench is written to; nowhere if None.
        parent: as ever.
    """

    trouble_met = Signal(str)
    """The bench could not be kept; one sentence says why."""

    def __init__(self, desk: Desk, file: Path | None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._file = desk, file
        self._bench: BenchRun | None = None

    @property
    def bench(self) -> BenchRun:
        """The bench: as it was left when the program ended, an empty bed if it never was."""
        if self._bench is None:
            left = bench_as_left(self._file) if self._file is not None else None
            self._bench = left or BenchRun(USUAL_BED)
        return self._bench

    def lay(self, bench: BenchRun) -> BenchRun:
        """Put another bench there.

        Returns:
            The one that lay there before.
        """
        before, self._bench = self.bench, bench
        return before

    def keep(self) -> None:
        """Write down what lies on the bench, so that it is there at the next start."""
        if self._bench is None or self._file is None:
            return
        try:
            keep_bench(self._file, self._bench)
        except OutputError as error:
            text = self.tr("What lies on the bench could not be kept: {why}.")
            self.trouble_met.emit(text.format(why=error))

    def yarn_sets(self) -> list[tuple[str, tuple[Yarn, ...]]]:
        """Sets of yarns by what they are called, the one on the bench first."""
        sets: list[tuple[str, tuple[Yarn, ...]]] = [(self.tr("of the bench"), BENCH_YARNS)]
        opened = self._desk.opened
        if opened is not None and opened.piece.yarns:
            sets.append((self.tr("of “{piece}”").format(piece=self._desk.title), opened.piece.yarns))
        lying = self.bench.yarns
        if all(yarns != lying for _, yarns in sets):
            sets.append((self.tr("as they are"), lying))
        return sorted(sets, key=lambda each: each[1] != lying)
