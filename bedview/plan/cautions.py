"""Things worth saying about a plan's numbers: data first, a sentence when somebody asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from bedview.language import filled, gettext


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

    def says(self) -> str:
        """The sentence."""
        return filled(gettext(self.sentence), **self.values)
