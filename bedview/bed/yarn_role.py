"""What a yarn is for; apart from the actions, because the window needs its colours before anything knits."""

from __future__ import annotations

from enum import StrEnum


class YarnRole(StrEnum):
    """What a yarn is for: ``fabric`` stays, ``waste`` and ``ravel`` are taken out again."""

    FABRIC = "fabric"
    WASTE = "waste"
    RAVEL = "ravel"
