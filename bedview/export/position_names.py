"""Positions as a sheet calls them: by the user's own machine where that has a name for them."""

from __future__ import annotations

from bedview.bed.needles import Position
from bedview.plan.words import Words


def position_name(words: Words, position: Position, usual: str) -> str:
    """What a sheet calls a position.

    Args:
        words: in which the sheet is told.
        position: which.
        usual: what it is called there where the trade's own word does.
    """
    own = words.position(position)
    trade = Words.position(words, position)
    return usual if own == trade else own
