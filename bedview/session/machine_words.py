"""What is said to the knitter, in the words of one machine."""

from __future__ import annotations

from collections.abc import Sequence

from bedview.bed.needles import Position
from bedview.plan.words import Words, YarnName
from bedview.session.machine import Machine


class MachineWords(Words):
    """Sentences in the words of one machine."""

    def __init__(self, bed_needles: int, yarns: Sequence[YarnName], machine: Machine) -> None:
        super().__init__(bed_needles, yarns)
        self._machine = machine

    def position(self, position: Position) -> str:
        """The machine's own name of a position, or the trade's."""
        machine = self._machine
        if position is Position.UPPER and not machine.has_upper:
            work = self.position(Position.WORK)
            return self.gettext("{work}, the latch kept open").format(work=work)
        return machine.names[int(position)] or super().position(position)
