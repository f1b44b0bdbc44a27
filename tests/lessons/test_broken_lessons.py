"""A lesson file with one thing wrong is refused with one clear line that says where."""

import json
from pathlib import Path

import pytest

from bedview.lessons.lesson_file import PieceError, parse_lesson, parse_lesson_actions, read_lesson
from tests.lessons.broken_lessons import BROKEN, BROKEN_TEXTS, SOUND, Broken


def test_the_sound_one_is_taken() -> None:
    assert parse_lesson(json.dumps(SOUND).encode()).title == "Two rows"
    assert len(BROKEN) >= 40


@pytest.mark.parametrize("broken", BROKEN.values(), ids=BROKEN.keys())
def test_is_refused_with_its_place_in_one_line(broken: Broken) -> None:
    refuse(broken.data(), broken.where, broken.says)


@pytest.mark.parametrize(("data", "where", "says"), BROKEN_TEXTS.values(), ids=BROKEN_TEXTS.keys())
def test_what_is_no_document_is_refused_in_one_line(data: bytes, where: str, says: str) -> None:
    refuse(data, where, says)


def refuse(data: bytes, where: str, says: str) -> None:
    with pytest.raises(PieceError) as refused:
        parse_lesson(data)
    assert refused.value.where == where
    assert says in refused.value.what
    assert len(str(refused.value).splitlines()) == 1
    assert len(refused.value.what) < 500


def test_a_lesson_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PieceError, match="no such file"):
        read_lesson(tmp_path / "none.lesson.json")
    with pytest.raises(PieceError, match="no such file"):
        read_lesson("no-such-lesson")


def test_actions_to_try_are_refused_with_their_place() -> None:
    with pytest.raises(PieceError) as refused:
        parse_lesson_actions(b'[{"do": "unpick", "rows": 1}, {"do": "knit", "rows": 0}]', 8)
    assert refused.value.where == "[1].rows"
