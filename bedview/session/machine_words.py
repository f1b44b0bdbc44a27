"""What is said to the knitter, in the words of one machine."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from typing_extensions import override

from bedview.bed.actions import HandAction, Tension
from bedview.bed.needles import Position
from bedview.bed.state import BedState
from bedview.language import gettext as _
from bedview.language import number
from bedview.picture.bed_scene import PLAIN_LABELS
from bedview.plan.words import Words, YarnName
from bedview.session.machine import Machine


class MachineWords(Words):
    """Sentences in the words of one machine."""

    def __init__(self, bed_needles: int, yarns: Sequence[YarnName], machine: Machine) -> None:
        super().__init__(bed_needles, yarns)
        self._machine = machine

    @override
    def position(self, position: Position) -> str:
        """The machine's own name of a position, or the trade's."""
        machine = self._machine
        if position is Position.UPPER and not machine.has_upper:
            work = self.position(Position.WORK)
            return self.gettext("{work}, the latch kept open").format(work=work)
        return machine.names[int(position)] or super().position(position)

    @override
    def hand(self, action: HandAction, before: BedState) -> tuple[str, ...]:
        """As in any words, but a dial that the machine lacks is said with those beside it."""
        if isinstance(action, Tension) and not self._machine.has_dial(action.dial):
            return (self.gettext("Set the tension dial to {dial}").format(dial=self.dial(action.dial)),)
        return super().hand(action, before)

    @override
    def _moved(self, needles: Iterable[int], position: Position, *, is_back: bool) -> str:
        own = self._machine.names[Position.OUT]
        if position is not Position.OUT or not own:
            return super()._moved(needles, position, is_back=is_back)
        sentence = self.gettext("Push {needles} back to {position}")
        return sentence.format(needles=self.needles(needles), position=own)

    @property
    def labels(self) -> tuple[str, str, str, str]:
        """What the four positions are called beside a picture, from out of work to hold."""
        upper = PLAIN_LABELS[2] if self._machine.has_upper else _("latch open")
        usual = (PLAIN_LABELS[0], PLAIN_LABELS[1], upper, PLAIN_LABELS[3])
        out, work, above, hold = (
            (own if self._machine.has_upper or place != 2 else "") or word
            for place, (own, word) in enumerate(zip(self._machine.names, usual, strict=True))
        )
        return out, work, above, hold

    @property
    def claws(self) -> int:
        """How many claw weights there are."""
        return self._machine.claws

    def dial(self, dial: float) -> str:
        """A dial, and what is beside it where the machine's own has no such setting."""
        if self._machine.has_dial(dial):
            return number(dial)
        beside = self._machine.dials_beside(dial)
        if len(beside) < 2:
            return self.gettext("{dial}, which your dial lacks").format(dial=number(dial))
        sentence = self.gettext("{dial}, between {below} and {above} on your dial")
        return sentence.format(dial=number(dial), below=number(beside[0]), above=number(beside[1]))


def dial_doubt(machine: Machine, dial: float) -> str:
    """What to say of a tension that is not on the machine's dial; empty if it is."""
    if machine.has_dial(dial):
        return ""
    beside = machine.dials_beside(dial)
    if len(beside) < 2:
        return _("Your dial has no {dial}; it ends at {last}").format(
            dial=number(dial), last=number(beside[0])
        )
    sentence = _("Your dial has no {dial}; it has {below} and {above}")
    return sentence.format(dial=number(dial), below=number(beside[0]), above=number(beside[1]))


def position_labels(words: Words) -> tuple[str, str, str, str]:
    """What the four positions are called beside a picture of the bed, from out of work to hold."""
    if not isinstance(words, MachineWords):
        return PLAIN_LABELS
    return words.labels


def claws_of(words: Words) -> int:
    """How many claw weights the knitter has, as far as these words know."""
    return words.claws if isinstance(words, MachineWords) else Machine().claws


def words_of_dial(words: Words, dial: float) -> str:
    """A dial in a sentence."""
    return words.dial(dial) if isinstance(words, MachineWords) else number(dial)
