from collections.abc import Callable
from typing import Any

import pytest
from bench_load import good_files, hostile_files
from pydantic import ValidationError

from bedview.plan.problems import first_problem
from bedview.store import piece_file
from bedview.store.piece_file import PieceError, parse_piece

# Small enough for a test, and yet far more of everything than a file may have by accident.
HOSTILE = dict(hostile_files(2**20))
GOOD = dict(good_files(400))


@pytest.mark.parametrize("name", HOSTILE)
def test_is_refused_without_listing_what_else_is_wrong(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = [0]

    def count(error: ValidationError, document: object, schema: Callable[[], dict[str, Any]]) -> PieceError:
        listed.append(error.error_count())
        return first_problem(error, document, schema)

    monkeypatch.setattr(piece_file, "first_problem", count)

    with pytest.raises(PieceError) as refused:
        parse_piece(HOSTILE[name])

    assert max(listed) < 20
    assert len(str(refused.value)) < 300
    assert len(str(refused.value).splitlines()) == 1


@pytest.mark.parametrize("name", GOOD)
def test_is_read(name: str) -> None:
    assert len(parse_piece(GOOD[name]).to_document()["segments"][0]["actions"]) == 400


def test_the_key_that_is_there_twice_is_found_among_many() -> None:
    with pytest.raises(
        PieceError, match=r"^segments\[0\]\.actions\[6678\]\.do: the key 'do' stands here twice$"
    ):
        parse_piece(HOSTILE["twice at the end"])
    assert 2**20 // 157 == 6678
