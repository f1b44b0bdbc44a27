import os
from pathlib import Path

import pytest

from bedview.plan.piece import Piece
from bedview.store.piece_file import write_piece
from bedview.store.recovery import RecoveryCopies, default_folder
from bedview.store.whole_file import OutputError

HULL = Piece.read({"format": 1, "title": "Hull", "bed": {"needles": 4, "pitch_mm": 9.0}, "segments": []})
EDITED = HULL.revised(title="Hull, longer")


@pytest.fixture
def copies(tmp_path: Path) -> RecoveryCopies:
    return RecoveryCopies(tmp_path / "state" / "recovery")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    place = tmp_path / "hull.piece.json"
    write_piece(place, HULL)
    return place


def test_nothing_is_found_where_nothing_was_kept(copies: RecoveryCopies, path: Path) -> None:
    assert copies.find(path) is None
    assert copies.all() == []


def test_an_edit_is_found_again_by_another(copies: RecoveryCopies, path: Path, tmp_path: Path) -> None:
    copies.keep(str(path), HULL.revised(title="first"))
    copies.keep(str(path), EDITED)

    found = RecoveryCopies(tmp_path / "state" / "recovery").find(path)

    assert found is not None
    assert found.piece == EDITED
    assert found.name == str(path)


def test_dropped_on_save(copies: RecoveryCopies, path: Path) -> None:
    copies.keep(str(path), EDITED)
    copies.drop(str(path))
    copies.drop(str(path))

    assert copies.find(path) is None


def test_a_file_saved_later_by_another_program_is_newer(copies: RecoveryCopies, path: Path) -> None:
    copies.keep(str(path), EDITED)
    found = copies.find(path)
    assert found is not None
    os.utime(path, (found.kept_at + 5, found.kept_at + 5))

    assert copies.find(path) is None


def test_a_copy_that_says_what_the_file_says_is_none(copies: RecoveryCopies, path: Path) -> None:
    copies.keep(str(path), HULL)

    assert copies.find(path) is None


def test_a_lost_file_is_offered_from_its_copy(copies: RecoveryCopies, path: Path) -> None:
    copies.keep(str(path), EDITED)
    path.unlink()

    found = copies.find(path)

    assert found is not None
    assert found.piece == EDITED


def test_untitled_ones_are_listed_the_newest_first(copies: RecoveryCopies, tmp_path: Path) -> None:
    for age, name in enumerate(["untitled-1", "untitled-2"]):
        copies.keep(name, HULL.revised(title=name))
        for file in (tmp_path / "state" / "recovery").iterdir():
            os.utime(file, (file.stat().st_atime, file.stat().st_mtime - 60 * (1 - age)))

    assert [copy.piece.title for copy in copies.all()] == ["untitled-2", "untitled-1"]


def test_a_broken_copy_is_none(copies: RecoveryCopies, path: Path, tmp_path: Path) -> None:
    copies.keep(str(path), EDITED)
    for file in (tmp_path / "state" / "recovery").iterdir():
        file.write_bytes(b"\xff{")

    assert copies.find(path) is None
    assert copies.all() == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "state").touch()

    with pytest.raises(OutputError, match="cannot be made: a part of the path is not a folder"):
        RecoveryCopies(tmp_path / "state" / "recovery").keep("untitled", HULL)


def test_lies_in_the_state_of_the_user(own_home: Path) -> None:
    assert default_folder().is_relative_to(own_home)
