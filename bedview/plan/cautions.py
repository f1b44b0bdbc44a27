"""Things worth saying about a plan's numbers: data first, a sentence when somebody asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

Gettext = Callable[[str], str]
"""Translates a sentence with its named gaps still open."""


def untranslated(sentence: str) -> str:
    """English, as it stands."""
    return sentence


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to know before the yarn is threaded.

    Attributes:
        rule: a short name that stays the same in every language: ``yarn-jams``.
        severity: ``warning`` if it will show, ``note`` if it is worth knowing.
        sentence: English, with named gaps.
        values: what goes into the gaps; also for a screen that shows the figures by themselves.
    """

    rule: str
    severity: Literal["warning", "note"]
    sentence: str
    values: Mapping[str, float | int | str] = field(default_factory=dict)

    def says(self, gettext: Gettext = untranslated) -> str:
        """The sentence."""
        return gettext(self.sentence).format(**self.values)
