"""The user's own machine: what its four positions are called there, and what it can and has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

LONGEST_NAME: Final = 24
STEPS: Final = (1, 2, 3, 4, 5, 10)
"""Into how many steps a number of the dial may be parted."""
MOST_DIAL: Final = 20
_NEAR: Final = 0.02
"""How far a written dial may lie from its step: thirds are written 6.33."""


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine, as its owner describes it; nothing is known of any make.

    Attributes:
        names: what the four positions are called, from the back of the bed; "" for the trade's own word.
        has_upper: whether it has an upper working position.
        dial_steps: into how many steps a number of its dial is parted; 0 while nobody has said.
        claws: how many claw weights there are.
        title: what its owner calls it, to tell several apart.
        needles: how many needles its bed has; 0 while nobody has said.
        pitch_mm: from needle to needle; 0 while nobody has said.
    """

    names: tuple[str, str, str, str] = ("", "", "", "")
    has_upper: bool = True
    dial_steps: int = 0
    claws: int = 2
    title: str = ""
    needles: int = 0
    pitch_mm: float = 0.0

    @property
    def is_usual(self) -> bool:
        """Whether the trade's words do."""
        told = self.has_upper, self.names, self.dial_steps, self.claws
        usual = Machine()
        return told == (usual.has_upper, usual.names, usual.dial_steps, usual.claws)

    @property
    def bed(self) -> dict[str, float]:
        """Its bed as a piece's file has it, as far as it was described."""
        known: dict[str, float] = {}
        if self.needles:
            known["needles"] = self.needles
        if self.pitch_mm:
            known["pitch_mm"] = int(self.pitch_mm) if float(self.pitch_mm).is_integer() else self.pitch_mm
        return known

    # -- its dial -----------------------------------------------------------------------------------------

    def has_dial(self, dial: float) -> bool:
        """Whether its dial can be set so; any dial can while nobody has said how it is parted."""
        return not self.dial_steps or abs(dial - self._at(self._step_near(dial))) <= _NEAR

    def dials_beside(self, dial: float) -> tuple[float, ...]:
        """The settings of its dial just below and above a value that it lacks, from 0 to 20."""
        near = self._step_near(dial)
        below = near if self._at(near) <= dial else near - 1
        return tuple(
            self._at(step) for step in (below, below + 1) if 0 <= step <= MOST_DIAL * max(self.dial_steps, 1)
        )

    def turned_dial(self, dial: float, by: int) -> float:
        """The dial so many of its settings further; whole numbers while nobody has said more.

        From a dial that it lacks, the first setting is the nearest one in that direction.
        """
        steps = max(self.dial_steps, 1)
        near = self._step_near(dial)
        if by and abs(dial - self._at(near)) > _NEAR and (self._at(near) > dial) == (by > 0):
            # The way from a dial that the machine lacks to its neighbour is the first of the settings.
            by -= 1 if by > 0 else -1
        return self._at(max(0, min(near + by, MOST_DIAL * steps)))

    def _step_near(self, dial: float) -> int:
        return round(dial * max(self.dial_steps, 1))

    def _at(self, step: int) -> float:
        """A setting as it is written, with two decimals at most."""
        dial = round(step / max(self.dial_steps, 1), 2)
        return int(dial) if dial.is_integer() else dial
