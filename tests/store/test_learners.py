"""Progress belongs to a name, on this machine only; it is kept whole and can be wiped."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from bedview.plan.problems import PieceError
from bedview.store.learners import Learners, LessonProgress
from bedview.store.whole_file import OutputError

WHEN = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
REACHED = LessonProgress(tries=2, hints=1, reached_at=WHEN)


def test_nobody_has_learned_anything_yet(tmp_path: Path) -> None:
    learners = Learners(tmp_path / "learners")
    assert learners.names() == []
    assert learners.load("Ada").lessons == {}
    assert not (tmp_path / "learners").exists()


def test_what_is_kept_is_there_again(tmp_path: Path) -> None:
    learners = Learners(tmp_path / "learners")
    kept = learners.load("Ada").with_lesson("hold-cams", REACHED).with_cards({"key": {"due": "later"}})
    learners.keep(kept)
    assert Learners(tmp_path / "learners").load("Ada") == kept


@pytest.mark.parametrize("other", ["ada", "Ada ", "Àda", "../Ada", "a/b", "名前", "…"])
def test_two_names_never_share_a_file(tmp_path: Path, other: str) -> None:
    learners = Learners(tmp_path)
    learners.keep(learners.load("Ada").with_lesson("hold-cams", REACHED))
    learners.keep(learners.load(other))
    assert learners.load("Ada").lessons == {"hold-cams": REACHED}
    assert learners.load(other).lessons == {}
    assert learners.names() == sorted(["Ada", other])
    assert all(path.parent == tmp_path for path in tmp_path.rglob("*.json"))


def test_wiping_one_leaves_the_others(tmp_path: Path) -> None:
    learners = Learners(tmp_path)
    for name in ("Ada", "Ben"):
        learners.keep(learners.load(name).with_lesson("hold-cams", REACHED))
    learners.wipe("Ada")
    learners.wipe("Ada")
    assert learners.names() == ["Ben"]
    assert learners.load("Ada").lessons == {}


def test_a_file_that_is_spoilt_is_said_to_be_and_does_not_hide_the_others(tmp_path: Path) -> None:
    learners = Learners(tmp_path)
    for name in ("Ada", "Ben"):
        learners.keep(learners.load(name))
    next(tmp_path.glob("ada-*")).write_text('{"format": 1, "name": "Ada", "lessons": 3}')
    assert learners.names() == ["Ben"]
    with pytest.raises(PieceError, match="lessons: must be an object"):
        learners.load("Ada")


def test_what_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "learners").write_text("a file in the way")
    learners = Learners(tmp_path / "learners")
    with pytest.raises(OutputError):
        learners.keep(learners.load("Ada"))
