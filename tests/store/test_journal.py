import random
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from bedview.store.journal import Follows, Journal, JournalError, Progress, Remark, default_journal

NOW = "2031-05-04T10:11:12+02:00"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "knitting.sqlite3"


@pytest.fixture
def journal(path: Path) -> Iterator[Journal]:
    with Journal(path, now=lambda: NOW) as opened:
        yield opened


def test_the_last_confirmed_row_outlives_the_journal(journal: Journal, path: Path, tmp_path: Path) -> None:
    piece = tmp_path / "buoy.piece.json"
    session = journal.session_for(piece)
    assert session.last() is None
    session.confirm(0, 0, 74, b"a")
    session.confirm(1, 1, 74, b"b")
    journal.close()

    with Journal(path) as again:
        found = again.session_for(piece).last()

    assert found == Progress(1, 1, 74, NOW, b"b")
    assert found.to_json(b"b") == {"step": 1, "pass": 1, "of": 74, "confirmed_at": NOW}
    assert found.to_json(b"c") == {"step": 1, "pass": 1, "of": 74, "confirmed_at": NOW, "changed": True}
    assert found.to_json(None)["changed"] is True


def test_back_takes_one_row_after_another(journal: Journal, tmp_path: Path) -> None:
    session = journal.session_for(tmp_path / "buoy.piece.json")
    for step in range(3):
        session.confirm(step, step, 3, b"")

    assert [left.step for left in (session.back(), session.back()) if left] == [1, 0]
    assert session.back() is None
    assert session.back() is None
    session.confirm(0, 0, 3, b"")
    assert [done.step for done in session.confirmed()] == [0]


def test_a_piece_is_known_by_its_resolved_path(journal: Journal, tmp_path: Path) -> None:
    (tmp_path / "shed").mkdir()
    (tmp_path / "link").symlink_to("shed")
    session = journal.session_for(tmp_path / "shed" / "glove.piece.json")

    assert journal.session_for(tmp_path / "link" / "glove.piece.json").number == session.number
    assert (
        journal.session_for(tmp_path / "shed" / ".." / "shed" / "glove.piece.json").number == session.number
    )
    assert journal.latest(tmp_path / "shed" / "other.piece.json") is None


def test_a_name_that_is_no_text_is_a_name(journal: Journal, tmp_path: Path) -> None:
    odd = tmp_path / "odd\udcff.piece.json"

    assert journal.session_for(odd).number == journal.session_for(odd).number
    assert journal.latest(tmp_path / "odd\udcfe.piece.json") is None


def test_sessions_keep_apart(journal: Journal, tmp_path: Path) -> None:
    piece = tmp_path / "glove.piece.json"
    old = journal.begin(piece)
    old.confirm(7, 7, 9, b"")
    new = journal.begin(piece)

    assert journal.session_for(piece).number == new.number
    assert new.last() is None
    new.confirm(0, 0, 9, b"")
    assert [done.step for done in old.confirmed()] == [7]


def test_remarks_by_step_the_last_word_counts(journal: Journal, tmp_path: Path) -> None:
    session = journal.session_for(tmp_path / "glove.piece.json")
    session.remark(4, Remark(rows=3))
    session.remark(4, Remark(rows=2, dial=6.5, words="yarn ran thin; «new» ball"))
    session.remark(1, Remark(words="weights moved"))

    assert session.remarks() == {
        1: Remark(words="weights moved"),
        4: Remark(2, 6.5, "yarn ran thin; «new» ball"),
    }
    assert journal.begin(tmp_path / "glove.piece.json").remarks() == {}


def test_the_second_one_of_a_pair(journal: Journal, tmp_path: Path) -> None:
    piece = tmp_path / "glove.piece.json"
    first = journal.begin(piece)
    journal.begin(piece, first=first, follows=Follows.KNITTED, mirrored=True)

    found = journal.latest(piece)

    assert found is not None
    assert (found.first, found.follows, found.mirrored) == (first.number, Follows.KNITTED, True)
    assert (first.first, first.follows, first.mirrored) == (None, Follows.PLAN, False)


def test_another_that_is_writing_is_told_in_a_line(journal: Journal, path: Path, tmp_path: Path) -> None:
    session = journal.session_for(tmp_path / "glove.piece.json")
    session.confirm(0, 0, 9, b"")
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    # Waiting is not what is tested.
    journal._database.execute("PRAGMA busy_timeout = 1")

    with pytest.raises(JournalError, match=r"^another bedview is writing in the knitting journal"):
        session.confirm(1, 1, 9, b"")

    assert [done.step for done in session.confirmed()] == [0]
    other.execute("ROLLBACK")
    other.close()
    session.confirm(1, 1, 9, b"")
    assert [done.step for done in session.confirmed()] == [0, 1]


def test_two_write_in_turns(journal: Journal, path: Path, tmp_path: Path) -> None:
    piece = tmp_path / "glove.piece.json"
    here = journal.session_for(piece)
    with Journal(path) as other:
        there = other.session_for(piece)
        here.confirm(0, 0, 9, b"")
        there.confirm(1, 1, 9, b"")
        here.confirm(2, 2, 9, b"")
        assert [done.step for done in there.confirmed()] == [0, 1, 2]


def test_a_full_disk_is_told_and_nothing_is_lost(journal: Journal, tmp_path: Path) -> None:
    session = journal.session_for(tmp_path / "glove.piece.json")
    session.confirm(0, 0, 9, b"")
    pages = journal._database.execute("PRAGMA page_count").fetchone()[0]
    journal._database.execute(f"PRAGMA max_page_count = {pages}")

    with pytest.raises(JournalError, match="no space left on the disk"):
        session.remark(0, Remark(words="x" * 100_000))

    assert [done.step for done in session.confirmed()] == [0]
    assert session.remarks() == {}


@pytest.mark.parametrize("size", [3, 40, 5000])
def test_a_file_that_is_no_journal_is_set_aside(path: Path, tmp_path: Path, size: int) -> None:
    path.parent.mkdir()
    path.write_bytes(b"ahoy " * size)

    with Journal(path) as journal:
        assert journal.set_aside is not None
        assert journal.set_aside.read_bytes() == b"ahoy " * size
        journal.session_for(tmp_path / "glove.piece.json").confirm(0, 0, 9, b"")
    with Journal(path) as journal:
        assert journal.set_aside is None
        assert journal.latest(tmp_path / "glove.piece.json") is not None


def test_a_journal_damaged_in_the_middle_is_set_aside(path: Path, tmp_path: Path) -> None:
    with Journal(path) as journal:
        session = journal.session_for(tmp_path / "glove.piece.json")
        for step in range(100):
            session.confirm(step, step, 100, bytes(16))
    whole = path.read_bytes()
    damaged = whole[:2048] + b"\xa5" * (len(whole) - 2048)
    path.write_bytes(damaged)

    with Journal(path) as journal:
        assert journal.set_aside is not None
        assert journal.set_aside.read_bytes() == damaged
        assert journal.latest(tmp_path / "glove.piece.json") is None


def test_damage_met_while_knitting_is_told_in_a_line(journal: Journal, path: Path, tmp_path: Path) -> None:
    session = journal.session_for(tmp_path / "glove.piece.json")
    session.confirm(0, 0, 9, b"")
    journal._database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    path.write_bytes(b"\xa5" * path.stat().st_size)
    journal._database.execute("PRAGMA shrink_memory")

    with pytest.raises(JournalError, match=r"^the knitting journal is damaged"):
        session.last()


def test_a_newer_journal_is_left_alone(path: Path) -> None:
    Journal(path).close()
    with sqlite3.connect(path) as database:
        database.execute("PRAGMA user_version = 99")
    database.close()

    with pytest.raises(JournalError, match="newer bedview"):
        Journal(path)
    with sqlite3.connect(path) as database:
        assert database.execute("PRAGMA user_version").fetchone() == (99,)
    database.close()


def test_a_place_where_none_can_be(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="cannot be written"):
        Journal(tmp_path)
    (tmp_path / "file").touch()
    with pytest.raises(JournalError, match="folder of the knitting journal cannot be made"):
        Journal(tmp_path / "file" / "knitting.sqlite3")


def test_each_row_is_synced(journal: Journal) -> None:
    full = 2
    assert journal._database.execute("PRAGMA synchronous").fetchone() == (full,)
    assert journal._database.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_lies_among_the_data_of_the_user(own_home: Path) -> None:
    assert default_journal().is_relative_to(own_home)


def test_killed_a_hundred_times_no_row_is_lost(path: Path, tmp_path: Path) -> None:
    piece = tmp_path / "glove.piece.json"
    dice = random.Random(20)  # noqa: S311 - moments, no secrets
    asked, told = set[int](), set[int]()
    for _ in range(100):
        lines = _confirm_until_killed(path, piece, dice.randrange(1, 40))
        asked |= {int(line[:-1]) for line in lines if line.endswith("?")}
        told |= {int(line[:-1]) for line in lines if line.endswith("!")}

    with Journal(path) as journal:
        found = [done.step for done in journal.session_for(piece).confirmed()]

    assert found == list(range(len(found)))
    assert told <= set(found) <= asked
    assert len(told) >= 100


def _confirm_until_killed(path: Path, piece: Path, after: int) -> list[str]:
    """Let another process confirm steps, and kill it when it has printed so many lines.

    Returns:
        All the whole lines it printed, those after the decision to kill it too.
    """
    command = [sys.executable, "-m", "tests.store.confirming", str(path), str(piece)]
    root = Path(__file__).parents[2]
    with subprocess.Popen(command, cwd=root, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        lines = [process.stdout.readline() for _ in range(after)]
        process.kill()
        lines += process.stdout.readlines()
    return [line.strip() for line in lines if line.endswith("\n")]
