"""What lies on the free bench outlives the program."""

from pathlib import Path

import pytest

from bedview.bed.actions import CastOn, Knit, Thread
from bedview.bed.needles import Bed
from bedview.session.bench_kept import bench_as_left, keep_bench
from bedview.session.bench_run import BenchRun
from bedview.store.whole_file import OutputError


def test_a_bench_is_found_as_it_was_left(tmp_path: Path) -> None:
    path = tmp_path / "new" / "bench.piece.json"
    bench = BenchRun(Bed(8))
    bench.do(Thread("main"), CastOn(tuple(range(8))), Knit(3))
    keep_bench(path, bench)
    left = bench_as_left(path)
    assert left is not None
    assert left.timeline.passes == 3
    assert left.yarns == bench.yarns


def test_an_empty_bench_is_kept_only_where_one_was_kept_before(tmp_path: Path) -> None:
    path = tmp_path / "bench.piece.json"
    keep_bench(path, BenchRun(Bed(8)))
    assert not path.exists()
    bench = BenchRun(Bed(8))
    bench.do(Thread("main"))
    keep_bench(path, bench)
    bench.undo()
    keep_bench(path, bench)
    left = bench_as_left(path)
    assert left is not None
    assert left.timeline.lines == 0


@pytest.mark.parametrize("text", ["", "{", '{"format": 1}'])
def test_a_file_that_cannot_be_used_is_none(tmp_path: Path, text: str) -> None:
    path = tmp_path / "bench.piece.json"
    assert bench_as_left(path) is None
    path.write_text(text, encoding="utf-8")
    assert bench_as_left(path) is None


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "quay").write_text("", encoding="utf-8")
    bench = BenchRun(Bed(8))
    bench.do(Thread("main"))
    with pytest.raises(OutputError):
        keep_bench(tmp_path / "quay" / "bench.piece.json", bench)
