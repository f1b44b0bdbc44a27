"""The user's own machine: what its four positions are called there, and what it can and has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

LONGEST_NAME: Final = 24
STEPS: Final = (1, 2, 3, 4, 5, 10)
"""Into how many steps a number of the dial may be parted."""


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine, as its owner describes it; nothing is known of any make.

    Attributes:
        names: what the four positions are called, from the back of the bed; "" for the trade's own word.
        has_upper: whether it has an upper working position.
        dial_steps: into how many steps a number of its dial is parted.
        claws: how many claw weights there are.
    """

    names: tuple[str, str, str, str] = ("", "", "", "")
    has_upper: bool = True
    dial_steps: int = 1
    claws: int = 2

    @property
    def is_usual(self) -> bool:
        """Whether the trade's words do."""
        return self.has_upper and not any(self.names)
