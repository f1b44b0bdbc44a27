"""Ticks of the making up: on disk first, known by what a step does, moved along with the file."""

from __future__ import annotations

from pathlib import Path

import pytest

from bedview.finish.making_up import making_up
from bedview.finish.told import mark_of
from bedview.session.making_up_run import MakingUpRun
from bedview.store.made_up import MadeUp
from bedview.store.whole_file import OutputError
from tests.finish.pieces import graft, toe_and_flaps

STEPS = ("aa", "bb", "cc")


def run_of(folder: Path, piece: Path) -> MakingUpRun:
    run = MakingUpRun(MadeUp(folder), lambda: piece)
    run.take_steps(STEPS)
    return run


def test_the_next_run_goes_on_where_the_last_was_left(tmp_path: Path) -> None:
    piece = tmp_path / "sock.piece.json"
    run = run_of(tmp_path / "kept", piece)
    assert (run.next, run.count, run.of) == (0, 0, 3)
    run.tick(0)
    run.tick(2)
    later = run_of(tmp_path / "kept", piece)
    assert (later.next, later.count) == (1, 2)
    later.tick(0, done=False)
    assert run_of(tmp_path / "kept", piece).next == 0


def test_on_means_the_next_that_is_not_done_and_then_what_was_passed_over(tmp_path: Path) -> None:
    run = run_of(tmp_path, tmp_path / "sock.piece.json")
    run.tick(1)
    assert run.next_after(0) == 2
    run.tick(2)
    assert run.next_after(2) == 0
    run.tick(0)
    assert run.next_after(0) == run.of


def test_begun_again_and_taken_up(tmp_path: Path) -> None:
    piece = tmp_path / "sock.piece.json"
    run = run_of(tmp_path / "kept", piece)
    run.tick(1)
    before = run.begin_again()
    assert run.count == 0
    assert run_of(tmp_path / "kept", piece).count == 0
    run.take_up(before)
    assert run_of(tmp_path / "kept", piece).is_done(1)


def test_what_is_not_on_disk_does_not_count(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    run = run_of(tmp_path / "file" / "kept", tmp_path / "sock.piece.json")
    heard: list[None] = []
    run.changed.connect(lambda: heard.append(None))
    with pytest.raises(OutputError):
        run.tick(0)
    assert not run.is_done(0)
    assert heard == []


def test_ticks_go_along_when_the_piece_is_saved_elsewhere(tmp_path: Path) -> None:
    places = [tmp_path / "old.piece.json"]
    run = MakingUpRun(MadeUp(tmp_path / "kept"), lambda: places[-1])
    run.take_steps(STEPS)
    run.tick(1)
    places.append(tmp_path / "new.piece.json")
    run.follow_file()
    run.tick(2)
    assert MadeUp(tmp_path / "kept").done(places[0]) == {"bb"}
    assert MadeUp(tmp_path / "kept").done(places[1]) == {"bb", "cc"}


def test_ticks_that_cannot_be_read_are_told_and_begin_anew(tmp_path: Path) -> None:
    piece = tmp_path / "sock.piece.json"
    run_of(tmp_path / "kept", piece).tick(0)
    (file,) = (tmp_path / "kept").iterdir()
    file.write_text("{")
    run = run_of(tmp_path / "kept", piece)
    assert run.trouble
    assert run.count == 0


def test_a_mark_stays_while_the_step_does_the_same_and_no_two_steps_share_one() -> None:
    grafts = [graft("L4-L3", "L2-L1"), graft("R3-R4", "R1-R2")]
    once = [mark_of(step) for step in making_up(toe_and_flaps(3, 4, grafts))]
    assert len(set(once)) == len(once)
    assert once == [mark_of(step) for step in making_up(toe_and_flaps(3, 4, grafts))]
    wider = [mark_of(step) for step in making_up(toe_and_flaps(4, 6, grafts))]
    assert not set(once) & set(wider)
