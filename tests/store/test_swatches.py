"""The swatch book is kept whole, for the next piece, and a spoilt one is said to be."""

import errno
import os
from pathlib import Path

import pytest

from bedview.plan.problems import PieceError
from bedview.plan.swatch import KnittedSwatch, Measured, SwatchBook
from bedview.store.swatches import MAX_BYTES, SwatchFile
from bedview.store.whole_file import OutputError

TWINE = KnittedSwatch(
    yarn="Tarred twine",
    tension=6.5,
    needles=42,
    rows=60,
    marked_stitches=30,
    marked_rows=40,
    before=Measured(width_mm=190, height_mm=200),
    after=Measured(width_mm=187.5, height_mm=180, rested_hours=12),
    grams=21.5,
    tex=400,
)


def test_nothing_is_kept_yet(tmp_path: Path) -> None:
    assert SwatchFile(tmp_path / "away" / "swatches.json").load() == SwatchBook()
    assert not (tmp_path / "away").exists()


def test_what_is_kept_is_there_for_the_next_piece(tmp_path: Path) -> None:
    path = tmp_path / "away" / "swatches.json"
    SwatchFile(path).change(lambda book: book.with_swatch(TWINE))
    SwatchFile(path).change(lambda book: book.with_balls("Tarred twine", "3 x 50 g"))
    there = SwatchFile(path).load()
    assert there.swatches == (TWINE,)
    assert there.balls_of("tarred  TWINE") == "3 x 50 g"


def test_two_windows_keep_what_the_other_wrote(tmp_path: Path) -> None:
    one, other = (SwatchFile(tmp_path / "swatches.json") for _ in range(2))
    assert one.load() == other.load()
    one.change(lambda book: book.with_swatch(TWINE))
    looser = TWINE.model_copy(update={"tension": 8})
    assert other.change(lambda book: book.with_swatch(looser)).swatches == (TWINE, looser)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (b"", "is empty"),
        (b'{"format": 1, "swatches": 3}', "swatches"),
        (b'{"format": 1, "format": 1}', "twice"),
        (b'{"format": 2}', "format"),
        (b'{"format": 1, "swatches": [{"yarn": "a", "tension": NaN}]}', "NaN"),
        (b" " * (MAX_BYTES + 1), "larger than 4 MiB"),
    ],
)
def test_a_spoilt_book_is_said_to_be_and_stays_as_it_is(tmp_path: Path, text: bytes, what: str) -> None:
    path = tmp_path / "swatches.json"
    path.write_bytes(text)
    book = SwatchFile(path)
    with pytest.raises(PieceError, match=what):
        book.load()
    with pytest.raises(PieceError, match=what):
        book.change(lambda old: old.with_swatch(TWINE))
    assert path.read_bytes() == text


def test_a_full_disk_leaves_the_old_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "swatches.json"
    book = SwatchFile(path)
    book.change(lambda old: old.with_swatch(TWINE))
    before = path.read_bytes()

    def full(_handle: int, _data: memoryview) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(OutputError, match="no space left"):
        book.change(lambda old: old.without(TWINE))
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]
