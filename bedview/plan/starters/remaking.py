"""A starter's piece again, for another yarn, bed or size, with nothing typed twice."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bedview.language import gettext as _
from bedview.plan.mirror import mirror_piece
from bedview.plan.piece import Piece
from bedview.plan.starters import find_starter
from bedview.plan.starters.parameter import Given, StarterError


def remake(piece: Piece, changes: Mapping[str, Given | None]) -> Piece:
    """The piece made again with some values changed.

    Yarns keep the names and colours they were given since, and the piece its title if it was changed. What
    was changed in its segments is not taken over (:func:`edited_since`).

    Args:
        piece: a piece that a starter made.
        changes: new values by key, as :meth:`Starter.make` takes them; None leaves one to the starter again.

    Raises:
        StarterError: if no starter made the piece, or a value is wrong, or no such piece can be knitted.
    """
    made_by = piece.made_by
    if made_by is None:
        raise StarterError(_("no starter made this piece, so it cannot be made again"))
    starter = find_starter(made_by.starter)
    values: dict[str, Given | None] = {**made_by.values, **changes}
    given = {key: value for key, value in values.items() if value is not None}
    made = starter.make(given)
    if made_by.mirrored:
        made = mirror_piece(made)
    document = made.to_document()
    document["yarns"] = [_as_called(yarn, piece, given) for yarn in document["yarns"]]
    if piece.title != starter.titled(starter.resolve(made_by.values)):
        document["title"] = piece.title
    return Piece.read(document)


def edited_since(piece: Piece) -> bool:
    """Whether a starter's piece was changed by hand since it was made, names and colours aside.

    Raises:
        StarterError: as :func:`remake`.
    """
    made = remake(piece, {})
    return any(getattr(made, part) != getattr(piece, part) for part in ("bed", "gauges", "segments", "seams"))


def _as_called(yarn: dict[str, Any], piece: Piece, given: Mapping[str, Given]) -> dict[str, Any]:
    """A yarn with the name and colour it has in the piece, and its tex if none is given."""
    for old in piece.yarns:
        if old.id == yarn["id"]:
            called = old.model_dump(exclude_unset=True, include={"name", "colour"})
            key = "tex" if yarn["id"] == "main" else f"{yarn['id']}_tex"
            if key not in given and old.tex is not None:
                called["tex"] = old.tex
            return yarn | called
    return yarn
