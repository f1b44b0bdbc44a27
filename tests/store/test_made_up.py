"""What was ticked off outlives the program, piece by piece."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from bedview.plan.problems import PieceError
from bedview.store.made_up import MadeUp
from bedview.store.whole_file import OutputError


def test_each_piece_has_its_own_ticks(tmp_path: Path) -> None:
    kept = MadeUp(tmp_path / "making-up")
    one, other = tmp_path / "a" / "sock.piece.json", tmp_path / "b" / "sock.piece.json"
    kept.keep(one, frozenset({"aa", "bb"}))
    kept.keep(other, frozenset({"cc"}))
    again = MadeUp(tmp_path / "making-up")
    assert again.done(one) == {"aa", "bb"}
    assert again.done(other) == {"cc"}
    assert again.done(tmp_path / "hat.piece.json") == frozenset()


def test_nothing_done_leaves_no_file(tmp_path: Path) -> None:
    kept = MadeUp(tmp_path)
    piece = tmp_path / "sock.piece.json"
    kept.keep(piece, frozenset({"aa"}))
    assert len(list(tmp_path.iterdir())) == 1
    kept.keep(piece, frozenset())
    assert list(tmp_path.iterdir()) == []
    kept.keep(piece, frozenset())


@pytest.mark.parametrize("text", ["{", '{"format": 1, "done": [1]}', '{"format": 1, "done": [], "more": 0}'])
def test_what_cannot_be_used_is_said(tmp_path: Path, text: str) -> None:
    kept = MadeUp(tmp_path)
    piece = tmp_path / "sock.piece.json"
    kept.keep(piece, frozenset({"aa"}))
    (file,) = tmp_path.iterdir()
    file.write_text(text)
    with pytest.raises(PieceError):
        kept.done(piece)


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    kept = MadeUp(tmp_path / "file" / "making-up")
    with pytest.raises(OutputError):
        kept.keep(tmp_path / "sock.piece.json", frozenset({"aa"}))


_TICKING = """
import sys
import subprocess
import sys
from pathlib import Path
from bedview.store.made_up import MadeUp

kept, piece = MadeUp(Path(sys.argv[1])), Path(sys.argv[2])
for number in range(1000):
    kept.keep(piece, kept.done(piece) | {f"step{number}"})
    print(number, flush=True)
"""


def test_what_was_said_to_be_done_is_there_after_a_kill(tmp_path: Path) -> None:
    folder, piece = tmp_path / "kept", tmp_path / "sock.piece.json"
    command = [sys.executable, "-c", _TICKING, str(folder), str(piece)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as ticking:
        assert ticking.stdout is not None
        said = [ticking.stdout.readline() for _ in range(7)]
        ticking.kill()
    done = MadeUp(folder).done(piece)
    assert [int(each) for each in said] == list(range(7))
    assert {f"step{number}" for number in range(7)} <= done
