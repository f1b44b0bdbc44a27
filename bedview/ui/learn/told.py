"""What the page says back: what happened, that something cannot be done, feedback, a hint, a reason."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Tone(Enum):
    """What kind of thing is said."""

    PLAIN = "plain"
    """What happened, or what to do next."""
    REFUSED = "refused"
    """It cannot be done, and why."""
    MISSED = "missed"
    """Not yet right: the needles and the reason."""
    REACHED = "reached"
    """Right."""
    HINT = "hint"
    """A hint that was asked for."""
    WHY = "why"
    """Why a loop, a wrap or a gap is there."""


@dataclass(frozen=True, slots=True)
class Told:
    """One thing said.

    Attributes:
        tone: what kind of thing it is.
        text: full sentences.
        needles: the needles it is about, indices from the left; they flash on the bed.
        heading: what stands above it, where the tone's own word does not fit.
    """

    tone: Tone
    text: str
    needles: tuple[int, ...] = ()
    heading: str = ""
