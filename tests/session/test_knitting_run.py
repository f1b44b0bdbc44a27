import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.cli.running import run as run_command
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError
from bedview.session.knitting_run import KnittingRun
from bedview.session.open_piece import OpenPiece
from bedview.session.record import Record, changes_of, digest_now
from bedview.store.journal import Journal, JournalError, default_journal
from bedview.store.knitted import step_digests
from bedview.store.piece_file import write_piece
from tests.session.knitting_pieces import HEEL_ROWS, a_heel


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal(tmp_path / "knitting.sqlite3") as journal:
        yield journal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "cosy.piece.json"


def begin(journal: Journal, path: Path, piece: Piece | None = None) -> KnittingRun:
    return KnittingRun(OpenPiece(piece or a_heel(), path), Record(journal, path))


def knit(run: KnittingRun, rows: int) -> None:
    while run.passes_done < rows:
        run.confirm()


def revised(piece: Piece, segment: int, **fields: object) -> Piece:
    document = piece.to_document()
    document["segments"][segment].update(fields)
    return Piece.read(document)


# -- row by row -------------------------------------------------------------------------------------------


def test_from_the_first_step_to_the_last(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    confirmed: list[int] = []
    run.step_confirmed.connect(confirmed.append)
    ends = []
    for _ in run.steps:
        run.confirm()
        ends.append(run.at_end)
    assert ends.index(True) == len(run.steps) - 1
    assert run.passes_done == HEEL_ROWS
    assert confirmed == list(range(len(run.steps)))
    run.confirm()
    assert len(confirmed) == len(run.steps)


def test_it_is_on_disk_before_anyone_is_told(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    seen: list[tuple[int, int]] = []

    def look(step: int) -> None:
        # Another connection sees only what has been written.
        database = sqlite3.connect(journal._database.execute("PRAGMA database_list").fetchone()[2])
        seen.append((step, database.execute("SELECT max(step) FROM confirmed").fetchone()[0]))
        database.close()

    run.step_confirmed.connect(look)
    knit(run, 3)
    assert seen == [(0, 0), (1, 1), (2, 2), (3, 3)]


def test_it_opens_where_it_was(journal: Journal, path: Path) -> None:
    knit(begin(journal, path), 9)
    again = begin(journal, path)
    assert (again.passes_done, again.cursor, again.news) == (9, 10, "")
    assert again.saved_at is not None


def test_back_is_kept_too(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 5)
    run.back()
    run.back()
    assert begin(journal, path).passes_done == 3
    for _ in range(9):
        run.back()
    assert run.cursor == 0
    assert begin(journal, path).cursor == 0


def test_a_place_that_was_found_is_kept(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 5)
    run.go_to(15)
    assert begin(journal, path).cursor == 15
    run.back()
    assert begin(journal, path).cursor == 14
    run.go_to(0)
    assert begin(journal, path).cursor == 0
    run.go_to(99)
    assert begin(journal, path).at_end


def test_a_step_that_cannot_be_written_is_not_confirmed(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 2)
    told: list[int] = []
    run.cursor_moved.connect(told.append)
    journal.close()
    with pytest.raises(JournalError):
        run.confirm()
    with pytest.raises(JournalError):
        run.back()
    assert (run.passes_done, told) == (2, [])


def test_without_a_file_nothing_is_kept_until_it_is_saved(journal: Journal, path: Path) -> None:
    opened = OpenPiece(a_heel())
    run = KnittingRun(opened, Record(journal, None))
    knit(run, 4)
    run.remark("soft")
    kept = [run.is_kept]
    opened.save(path)
    kept.append(run.is_kept)
    assert kept == [False, True]
    again = begin(journal, path)
    assert again.passes_done == 4
    assert [change.remark for change in again.changes] == ["soft"]


# -- the plan changes -------------------------------------------------------------------------------------


def test_an_edit_of_rows_to_come_leaves_the_place(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 6)
    run.opened.edit(revised(run.opened.piece, 3, rows=10), "Rows")
    assert (run.passes_done, run.news) == (6, "")
    assert run.procedure.timeline.passes == HEEL_ROWS + 6
    assert begin(journal, path, run.opened.piece).news == ""


def test_an_edit_of_the_part_at_hand_leaves_the_place(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 2)
    run.opened.edit(revised(run.opened.piece, 1, rows=12), "Rows")
    assert (run.passes_done, run.news) == (2, "")


def test_an_edit_of_rows_knitted_goes_where_the_bed_looks_the_same(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 7)
    said: list[str] = []
    run.told.connect(said.append)
    run.opened.edit(revised(run.opened.piece, 1, rows=8), "Rows")
    # Four rows more before the heel: what row 7 left is left by row 11 now.
    assert run.passes_done == 11
    assert len(said) == 1
    assert "row 12" in said[0]
    run.opened.undo()
    assert run.passes_done == 7


def test_a_change_made_while_it_was_closed_is_told(journal: Journal, path: Path) -> None:
    knit(begin(journal, path), 7)
    again = begin(journal, path, revised(a_heel(), 1, rows=8))
    assert again.passes_done == 7
    assert "changed in rows already knitted" in again.news
    later = begin(journal, path, revised(a_heel(), 3, rows=8))
    assert (later.passes_done, later.news) == (7, "")


# -- done otherwise ---------------------------------------------------------------------------------------


def test_rows_more_count_as_done_and_stay(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 3)
    run.rows_changed(2)
    assert (run.passes_done, run.procedure.timeline.passes) == (5, HEEL_ROWS + 2)
    run.confirm()
    again = begin(journal, path)
    assert (again.passes_done, again.procedure.timeline.passes, again.news) == (6, HEEL_ROWS + 2, "")
    assert again.opened.procedure.timeline.passes == HEEL_ROWS


def test_rows_left_out(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 2)
    assert run.most_rows_out == 2
    run.rows_changed(-2)
    assert (run.passes_done, run.procedure.timeline.passes) == (2, HEEL_ROWS - 2)
    assert begin(journal, path).procedure.timeline.passes == HEEL_ROWS - 2


def test_the_dial_and_remarks_stay(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 2)
    run.dial_changed(7.5)
    run.remark("new cone")
    run.remark("softer")
    again = begin(journal, path)
    assert [(each.dial, each.remark) for each in again.changes] == [(7.5, "new cone softer")]
    assert again.procedure.timeline.state_after_pass(3).dial == 7.5


def test_a_change_before_others_moves_them_on(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 18)
    run.remark("in the foot")
    run.go_to(run.procedure.step_of_pass(3).number)
    run.rows_changed(2)
    there = run.changes[-1].step
    assert run.procedure.steps[there].passes == 18 + 2 + 1
    assert begin(journal, path).changes == run.changes


def test_a_change_is_taken_back(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 3)
    run.rows_changed(2)
    knit(run, 8)
    run.remark("here")
    run.take_back(run.changes[0])
    assert (run.passes_done, run.procedure.timeline.passes) == (6, HEEL_ROWS)
    assert [change.step for change in run.changes] == [run.cursor]
    run.take_back(run.changes[0])
    again = begin(journal, path)
    assert (again.changes, again.passes_done, again.news) == ((), 6, "")


def test_what_cannot_be_changed_changes_nothing(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 6)
    before = run.procedure
    with pytest.raises(ValueError, match="hands"):
        run.rows_changed(-1)
    assert run.procedure is before
    assert run.changes == ()


def test_what_the_rest_cannot_follow_is_refused(journal: Journal, path: Path) -> None:
    # Hung from the fourth row, which is gone when two of four are left out... unless the edge follows.
    document = a_heel().to_document()
    hang = {"do": "hang", "needles": "L5-R5", "edge": {"made_in_pass": 2, "needles": "L5-R5"}}
    again = {"do": "hang", "needles": "L5-R5", "edge": {"made_in_pass": 3, "needles": "L5-R5"}}
    document["segments"] = [*document["segments"][:2], {"kind": "actions", "actions": [hang, again]}]
    run = begin(journal, path, Piece.read(document))
    knit(run, 1)
    before = run.procedure
    with pytest.raises(PlanError):
        run.rows_changed(-2)
    assert run.procedure is before
    assert (run.changes, run.passes_done) == ((), 1)
    assert run.procedure.timeline.passes == 4


def test_what_no_longer_fits_the_plan_is_told(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 18)
    run.rows_changed(2)
    short = a_heel().to_document()
    short["segments"] = short["segments"][:2]
    said: list[str] = []
    run.told.connect(said.append)
    run.opened.edit(Piece.read(short), "Fewer parts")
    assert run.procedure is run.opened.procedure
    assert any("no longer fits" in text for text in said)
    assert run.cursor <= len(run.steps)


def test_the_second_piece_follows_what_was_knitted(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 3)
    run.rows_changed(2)
    assert OpenPiece(run.second_piece(really=True, mirrored=True)).procedure.timeline.passes == HEEL_ROWS + 2
    assert OpenPiece(run.second_piece(really=False, mirrored=True)).procedure.timeline.passes == HEEL_ROWS


# -- what other programs are told -------------------------------------------------------------------------


def test_progress_counts_in_what_was_done_otherwise(journal: Journal, path: Path) -> None:
    run = begin(journal, path)
    knit(run, 3)
    run.rows_changed(2)
    run.confirm()
    session = journal.latest(path)
    assert session is not None
    last = session.last()
    assert last is not None
    assert (last.pass_number, last.of) == (6, HEEL_ROWS + 2)
    plan = run.opened.procedure
    assert digest_now(plan, changes_of(session), last.step) == last.digest
    assert digest_now(plan, [], last.step) == _plain_digest(run, last.step)
    assert digest_now(plan, [], 999) is None


def _plain_digest(run: KnittingRun, step: int) -> bytes:
    plan = run.opened.procedure
    steps = [[plan.actions[number] for number in each.actions] for each in plan.steps]
    return list(step_digests(plan.timeline.bed, steps))[step]


def test_the_command_tells_no_change_of_the_piece_where_only_the_knitting_differed(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    piece = a_heel()
    write_piece(path, piece)
    with Journal(default_journal()) as journal:
        run = begin(journal, path, piece)
        knit(run, 3)
        run.rows_changed(2)
    assert run_command(["progress", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["pass"], told["of"], "changed" in told) == (5, HEEL_ROWS + 2, False)
