"""Hands at a bench: which needles are chosen, and what each move does with them.

Between the painted bed, the row of tools and the keys on one side and the bench on the other. A move is one
gesture and is undone by one undo.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from PySide6.QtCore import QObject, Signal

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Cut,
    FreeMove,
    Hang,
    HoldCams,
    Knit,
    OpenEdge,
    Park,
    Place,
    Resume,
    Thread,
    Transfer,
    Wrap,
)
from bedview.bed.needles import Position, Side
from bedview.checks.finding import Finding, Severity
from bedview.lessons.finding_words import finding_in_words
from bedview.lessons.hands import LessonAction, Unpick
from bedview.session.bench_run import BenchRun
from bedview.ui.learn.telling import Telling
from bedview.ui.learn.told import Told, Tone

_MOST_TOLD: Final = 2
"""New findings told after one gesture."""


class Hands(QObject):
    """The hands.

    Args:
        bench: what they work on.
        tells_findings: whether to say at once what went wrong, as on the free bench.
        parent: as ever.
    """

    moved = Signal(bool)
    """The bed stands differently; whether a single row was knitted, which the carriage may ride."""
    choice_changed = Signal()
    """Other needles are chosen."""
    said = Signal(object)
    """Something is to be said (:class:`~bedview.ui.learn.told.Told`)."""

    def __init__(
        self, bench: BenchRun, *, tells_findings: bool = False, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.bench = bench
        self._telling = Telling(bench, self)
        self._tells_findings = tells_findings
        self._chosen: tuple[int, ...] = ()
        self.cursor = bench.timeline.bed.needles // 2

    # -- choosing -----------------------------------------------------------------------------------------

    @property
    def chosen(self) -> tuple[int, ...]:
        """The chosen needles, ascending."""
        return self._chosen

    @property
    def meant(self) -> tuple[int, ...]:
        """What a tool acts on: the chosen needles, or the one under the cursor."""
        return self._chosen or (self.cursor,)

    def choose(self, needles: Iterable[int]) -> None:
        """Choose these and no others."""
        chosen = tuple(sorted(set(needles)))
        if chosen != self._chosen:
            self._chosen = chosen
            self.choice_changed.emit()

    def choose_stretch(self, one: int, other: int) -> None:
        """Choose all needles from one to the other."""
        self.choose(range(min(one, other), max(one, other) + 1))

    def toggle(self, needle: int) -> None:
        """Choose a needle besides the others, or no longer."""
        self.choose(set(self._chosen) ^ {needle})

    # -- needles ------------------------------------------------------------------------------------------

    def group_of(self, needle: int) -> tuple[int, ...]:
        """What moves with a needle: all that are chosen if it is one of them, else it alone."""
        return self._chosen if needle in self._chosen else (needle,)

    def tap(self, needle: int) -> None:
        """One position on; from hold a stitch goes the way home, and an empty needle out of work."""
        state = self.bench.state
        position = Position(int(state.position[needle]))
        if position is Position.HOLD:
            to = Position.UPPER if state.height[needle] else Position.OUT
        else:
            to = Position(position + 1)
        self.move(needle, to)

    def move(self, needle: int, to: Position) -> None:
        """A needle was drawn to a position; the others that are chosen with it come along."""
        group = self.group_of(needle)
        if group == (needle,) and self._chosen:
            self.choose(())
        self.cursor = needle
        self._place(group, to)

    def place(self, to: Position) -> None:
        """Bring what is meant to a position."""
        self._place(self.meant, to)

    def _place(self, needles: Sequence[int], to: Position) -> None:
        if any(self.bench.state.position[needle] != to for needle in needles):
            self.do(Place(tuple(needles), to))

    def cast_on(self) -> None:
        """Wind a loop on each needle that is meant."""
        self.do(CastOn(self.meant))

    def wrap(self) -> None:
        """Wrap what is meant, from the carriage's side on."""
        order = self.meant if self.bench.state.carriage is Side.LEFT else self.meant[::-1]
        self.do(*(Wrap(needle) for needle in order))

    def hang(self) -> None:
        """Hang the open loops below what is meant back on their needles."""
        self.do(Hang(self.meant, OpenEdge(self.meant)))

    def transfer(self, by: int) -> None:
        """Move the loops of what is meant to the neighbours on the right (1) or left (-1)."""
        order = self.meant[::-1] if by > 0 else self.meant
        last = self.bench.timeline.bed.needles - 1
        if not 0 <= order[0] + by <= last:
            self.refuse(self.tr("There is no needle beside it."))
            return
        self.do(*(Transfer(needle, needle + by) for needle in order))

    def bind_off(self) -> None:
        """Bind off what is meant."""
        self.do(BindOff(self.meant))

    # -- yarn and carriage --------------------------------------------------------------------------------

    def thread_yarn(self, yarn: str) -> None:
        """Thread a yarn; what is in the feeder is cut first."""
        self.do(Thread(yarn))

    def cut(self) -> None:
        """Cut the yarn."""
        self.do(Cut())

    def park(self) -> None:
        """Let the yarn wait uncut."""
        self.do(Park())

    def resume(self, yarn: str) -> None:
        """Put a waiting yarn back."""
        self.do(Resume(yarn))

    def switch_cams(self) -> None:
        """Set the hold cams on if they are off, and off if they are on."""
        self.do(HoldCams(on=not self.bench.state.hold_cams))

    def push(self) -> None:
        """Push the carriage across: one row."""
        if self.do(Knit(1)):
            self.choose(())

    def lift(self) -> None:
        """Lift the carriage across without knitting."""
        self.do(FreeMove())

    def unpick(self) -> None:
        """Take the last row back, loop by loop."""
        self.do(Unpick(1))

    # -- one gesture --------------------------------------------------------------------------------------

    def do(self, *actions: LessonAction) -> bool:
        """Do the actions of one gesture, and say what came of it.

        Returns:
            Whether the bed took them.
        """
        before = list(self.bench.findings) if self._tells_findings else []
        refused = self.bench.do(*actions)
        if refused:
            self.refuse(refused)
            return False
        self.moved.emit(actions == (Knit(1),))
        self.said.emit(self._told_of(actions, before))
        return True

    def refuse(self, text: str) -> None:
        """Say why something cannot be done."""
        self.said.emit(Told(Tone.REFUSED, text))

    def _told_of(self, actions: Sequence[LessonAction], before: list[Finding]) -> Told:
        plain: list[Action] = [action for action in actions if not isinstance(action, Unpick)]
        if len(plain) < len(actions):
            rows = sum(action.rows for action in actions if isinstance(action, Unpick))
            return Told(Tone.PLAIN, self._telling.of_unpicking(rows))
        text = self._telling.of_actions(plain)
        if not self._tells_findings:
            return Told(Tone.PLAIN, text)
        new = [
            finding
            for finding in self.bench.findings
            if finding.severity is not Severity.NOTE and finding not in before
        ][:_MOST_TOLD]
        if not new:
            return Told(Tone.PLAIN, text)
        needles = {needle for finding in new for needle in finding.needles}
        words, count = self.bench.words, self.bench.timeline.bed.needles
        said = " ".join([text, *(finding_in_words(finding, words, count) for finding in new)])
        return Told(Tone.MISSED, said, tuple(sorted(needles)))

    def undo(self) -> None:
        """Take the last gesture back."""
        if self.bench.can_undo:
            self.bench.undo()
            self.tell_stepped(self.tr("Taken back."))

    def redo(self) -> None:
        """Do it again."""
        if self.bench.can_redo:
            self.bench.redo()
            self.tell_stepped(self.tr("Done again."))

    def tell_stepped(self, text: str) -> None:
        """Show the bed as it stands after steps back or on, and say so."""
        self.moved.emit(False)
        self.said.emit(Told(Tone.PLAIN, text))

    # -- why ----------------------------------------------------------------------------------------------

    def why_needle(self, needle: int) -> None:
        """Say why a needle bears what it bears, its wrap first, and why a gap shows beside it."""
        told = [self.bench.why_needle(needle)]
        fabric, top = self.bench.timeline.fabric, int(self.bench.state.top[needle])
        wrap = next((loop for loop in fabric.stack(top) if fabric.is_wrap(loop)), None)
        if wrap is not None and self.bench.why_loop(wrap) not in told:
            told.insert(0, self.bench.why_loop(wrap))
        for left in (needle - 1, needle):
            why = self.bench.why_gap(left) if left >= 0 else ""
            if why:
                pair = self.bench.words.needles((left, left + 1))
                told.append(self.tr("A gap shows between {pair}: {why}").format(pair=pair, why=why))
        self.said.emit(Told(Tone.WHY, " ".join(told), (needle,)))

    def why_loop(self, loop: int) -> None:
        """Say why a loop of the fabric is there."""
        needle = int(self.bench.timeline.fabric.needle[loop])
        self.said.emit(Told(Tone.WHY, self.bench.why_loop(loop), (needle,)))
