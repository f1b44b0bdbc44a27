"""A new measure while knitting: only rows ahead change, the knitter stays where they are."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from bedview.plan.piece import Gauge, Piece
from bedview.plan.replan import ReplanError
from bedview.session.knitting_run import KnittingRun
from bedview.session.measuring_again import measured_again, underway_in
from bedview.session.open_piece import OpenPiece
from bedview.session.record import Record
from bedview.store.journal import Journal
from tests.session.knitting_pieces import CAST_ON, a_piece, plain

OLD = {"yarn": "main", "tension": 6, "stitches": 16, "rows": 20, "over_mm": 100}
FLATTER = Gauge(yarn="main", tension=6, stitches=16, rows=25, over_mm=100)


def lengths(*cm: float) -> Piece:
    parts = [
        {"kind": "plain", "title": f"Part {number}", "length_cm": each} for number, each in enumerate(cm, 1)
    ]
    return a_piece(CAST_ON, *parts, gauges=[OLD])


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal(tmp_path / "knitting.sqlite3") as journal:
        yield journal


def begin(journal: Journal, tmp_path: Path, piece: Piece, rows: int) -> KnittingRun:
    path = tmp_path / "cosy.piece.json"
    run = KnittingRun(OpenPiece(piece, path), Record(journal, path))
    while run.passes_done < rows:
        run.confirm()
    return run


def parts(run: KnittingRun) -> list[dict[str, Any]]:
    return list(run.opened.piece.to_document()["segments"])


def test_rows_ahead_change_and_the_knitter_stays(journal: Journal, tmp_path: Path) -> None:
    # 10 cm at 20 to 10 cm are 20 rows a part; 30 are knitted. At 25 to 10 cm they measure 12 cm, and of the
    # second part 10 rows are 4 cm: 15 more make 10 cm.
    run = begin(journal, tmp_path, lengths(10, 10, 10), 30)
    said: list[str] = []
    run.told.connect(said.append)
    found = measured_again(run.opened, run, FLATTER)
    assert (found.part, found.rows) == ("Part 2", (60, 20 + 25 + 25))
    assert found.ahead is not None
    assert (found.ahead.done, found.ahead.ahead, found.ahead.done_mm) == (10, 15, 40)
    cursor = run.cursor
    run.opened.revise(found.piece, "Measure again")
    assert (run.cursor, run.passes_done, said) == (cursor, 30, [])
    assert run.procedure.timeline.passes == 70
    run.confirm()
    assert KnittingRun(run.opened, Record(journal, run.opened.path)).passes_done == 31
    run.opened.undo()
    assert run.procedure.timeline.passes == 60
    assert run.passes_done == 31


def test_rows_knitted_more_than_planned_count_too(journal: Journal, tmp_path: Path) -> None:
    run = begin(journal, tmp_path, lengths(10, 10), 25)
    run.rows_changed(4)
    assert run.passes_done == 29
    found = measured_again(run.opened, run, FLATTER)
    # 9 rows of the second part are knitted, 5 of them planned; 16 more make 25, which are 10 cm.
    assert found.ahead is not None
    assert (found.ahead.done, found.ahead.ahead) == (9, 16)
    run.opened.revise(found.piece, "Measure again")
    assert run.passes_done == 29
    assert run.procedure.timeline.passes == 20 + 25


def test_what_is_in_the_feeder_is_asked_about(journal: Journal, tmp_path: Path) -> None:
    run = begin(journal, tmp_path, lengths(10), 4)
    now = underway_in(run)
    assert (now.yarn, now.tension, now.rows) == ("main", 6, 4)
    assert now.gauge == Gauge.model_validate(OLD)


def test_nothing_is_measured_before_anything_is_knitted(journal: Journal, tmp_path: Path) -> None:
    run = begin(journal, tmp_path, lengths(10), 0)
    with pytest.raises(ReplanError, match="no row is knitted yet"):
        underway_in(run)


def test_a_plan_that_breaks_off_is_not_planned_anew(journal: Journal, tmp_path: Path) -> None:
    broken = {"kind": "short_rows", "down_to": 99}
    run = begin(journal, tmp_path, a_piece(CAST_ON, plain(4), broken, gauges=[OLD]), 2)
    with pytest.raises(ReplanError, match="to its end"):
        measured_again(run.opened, run, FLATTER)
