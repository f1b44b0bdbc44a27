"""Piece files of other formats: older ones are brought up to date, newer ones refused with a clear word."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from bedview.language import gettext as _
from bedview.plan.piece import FORMAT
from bedview.plan.problems import PieceError

Document = dict[str, Any]

_STEPS: Final[Mapping[int, Callable[[Document], Document]]] = {}
"""From each older format to the next: takes a document of that format and gives one of the next."""


def migrate(
    document: Document, steps: Mapping[int, Callable[[Document], Document]] = _STEPS, newest: int = FORMAT
) -> Document:
    """A document in the format of today.

    Args:
        document: as read; not changed. Without a usable format it comes back as it is, to be refused later.
        steps: how to get from each older format to the next.
        newest: the format of today.

    Raises:
        PieceError: if the format is newer than this program.
    """
    number = document.get("format")
    if not isinstance(number, int) or isinstance(number, bool):
        return document
    if number > newest:
        raise PieceError(
            "format",
            _("is newer than this bedview, which knows formats up to {newest}").format(newest=newest),
        )
    while number in steps:
        document = steps[number](document)
        number += 1
    return document
