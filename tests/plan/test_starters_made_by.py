"""What a file may say of the starter that made its piece."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from tests.plan.knitting import cast_on, piece_of, plain


def with_made_by(made_by: object) -> Piece:
    return piece_of([cast_on(), plain(4)], made_by=made_by)


def test_it_may_be_left_out() -> None:
    assert "made_by" not in piece_of([cast_on(), plain(4)]).to_document()


def test_it_is_written_as_it_was_read() -> None:
    made_by = {"starter": "sock", "values": {"size": "38", "foot_length": 24.5, "needles": 200}}
    assert with_made_by(made_by).to_document()["made_by"] == made_by


def test_a_starter_of_another_day_is_no_fault_of_the_file() -> None:
    assert with_made_by({"starter": "scarf", "values": {}}).made_by is not None


@pytest.mark.parametrize(
    "made_by",
    [
        {"starter": "sock"},
        {"values": {}},
        {"starter": "", "values": {}},
        {"starter": "sock", "values": {}, "more": 1},
        {"starter": "sock", "values": {"size": True}},
        {"starter": "sock", "values": {"size": None}},
        {"starter": "sock", "values": {"size": [38]}},
        {"starter": "sock", "values": {"ease": float("nan")}},
        {"starter": "sock", "values": {"ease": float("inf")}},
        {"starter": "sock", "values": {"size": "3" * 101}},
        {"starter": "sock", "values": {str(key): 1 for key in range(61)}},
        {"starter": "sock", "values": {}, "mirrored": 1},
        "sock",
    ],
)
def test_anything_else_is_refused(made_by: Any) -> None:  # noqa: ANN401 - parts of a document
    with pytest.raises(ValidationError):
        with_made_by(made_by)


def test_mirrored_twice_it_says_nothing_of_mirrors() -> None:
    piece = with_made_by({"starter": "sock", "values": {}})
    once = mirror_piece(piece)
    assert once.made_by is not None
    assert once.made_by.mirrored
    assert "mirrored" not in mirror_piece(once).to_document()["made_by"]
