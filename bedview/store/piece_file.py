"""Piece files: read with one clear word about what is wrong, written so that none is ever lost."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pydantic import ValidationError

from bedview.language import gettext as _
from bedview.plan.fields import shown
from bedview.plan.piece import Piece
from bedview.plan.problems import TOP, PieceError, first_problem
from bedview.plan.segments import AnySegment
from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.store.bounds import MAX_BYTES, colons_of_piece, refuse_excess, refuse_too_long
from bedview.store.json_text import collecting_paused, parse_json
from bedview.store.migration import migrate
from bedview.store.piece_text import piece_text
from bedview.store.whole_file import OutputError, read_whole, write_whole

__all__ = ["OutputError", "PieceError", "parse_piece", "read_piece", "write_piece"]


def read_piece(path: Path) -> Piece:
    """The piece of a file.

    Raises:
        PieceError: if there is none that can be used; the first thing wrong is named.
    """
    return parse_piece(read_whole(path, MAX_BYTES))


def parse_piece(data: bytes) -> Piece:
    """The piece of a file's bytes.

    Raises:
        PieceError: if they say none that can be used; the first thing wrong is named.
    """
    if len(data) > MAX_BYTES:
        raise PieceError("file", _("is larger than {max_bytes} MiB").format(max_bytes=MAX_BYTES // 2**20))
    with collecting_paused():
        document = parse_json(data, colons_of_piece)
        if not isinstance(document, dict):
            raise PieceError(TOP, _("must be an object, not {document}").format(document=shown(document)))
        refuse_excess(document)
        document = migrate(document)
        try:
            piece = Piece.read(document)
        except ValidationError as error:
            raise first_problem(error, document, Piece.model_json_schema) from None
    _refuse_long(piece)
    return piece


def write_piece(path: Path, piece: Piece) -> None:
    """Write a piece to a file, whole or not at all.

    Raises:
        OutputError: if it could not be written; what stood there before still stands.
    """
    write_whole(path, piece_text(piece), parse_piece)


def _refuse_long(piece: Piece) -> None:
    actions = passes = 0
    for place, segment in enumerate(piece.segments):
        more_actions, more_passes = _known_length((segment,))
        actions, passes = actions + more_actions, passes + more_passes
        refuse_too_long(actions, passes, ("segments", place))


def _known_length(segments: Iterable[AnySegment]) -> tuple[int, int]:
    """Actions and passes of those segments whose length is known before they are built."""
    actions = passes = 0
    for segment in segments:
        if isinstance(segment, ActionsSegment):
            actions += len(segment.actions)
            passes += sum(item["rows"] for item in segment.actions if item["do"] == "knit")
        elif isinstance(segment, RepeatSegment):
            more_actions, more_passes = _known_length(segment.segments)
            actions += segment.times * more_actions
            passes += segment.times * more_passes
    return actions, passes
