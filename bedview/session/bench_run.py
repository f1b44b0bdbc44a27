"""The free bench: a bed worked by hand, action by action; everything can be undone, and every loop explained.

The timeline grows with what hands do. Undo moves a cursor back over gestures; a new gesture drops what was
undone. Nothing here knows of windows: the page sends gestures and listens to ``changed``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Self

from psygnal import Signal

from bedview.bed.actions import Action, Knit, YarnRole
from bedview.bed.needles import Bed
from bedview.bed.rules import MOST_ROWS, Refused
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.checks.finding import Finding
from bedview.checks.judge import judge
from bedview.lessons import because
from bedview.lessons.hands import LessonAction, perform
from bedview.plan.actions_written import to_item
from bedview.plan.piece import FORMAT, Piece, Yarn
from bedview.plan.procedure import compile_piece
from bedview.plan.words import Words

BENCH_YARNS: Final = (
    Yarn(id="main", name="blue harbour wool", role="fabric", colour="#2f6690"),
    Yarn(id="waste", name="sail-cloth waste", role="waste", colour="#d8c3a5"),
    Yarn(id="cord", name="ravel cord", role="ravel", colour="#b4553a"),
)
"""What lies on the bench if nobody says otherwise."""


@dataclass(frozen=True, slots=True)
class Gesture:
    """What one gesture did: its actions, how many were done before it, and the timeline before an unpick.

    Attributes:
        actions: in order.
        before: number of actions on the timeline before it.
        whole: the timeline before it, where it took rows back and so made a shorter one; else None.
    """

    actions: tuple[LessonAction, ...]
    before: int
    whole: Timeline | None


class BenchRun:
    """A bed to work with one's own hands.

    Args:
        bed: the bed.
        yarns: what can be threaded.
        start: what is done before the learner begins; it cannot be undone.

    Signals:
        changed: the bed stands differently; read :attr:`timeline` and :attr:`state` anew.
    """

    changed = Signal()

    def __init__(
        self, bed: Bed, yarns: Sequence[Yarn] = BENCH_YARNS, start: Iterable[LessonAction] = ()
    ) -> None:
        self.yarns = tuple(yarns)
        self.words = Words(bed.needles, self.yarns)
        self._timeline = Timeline(bed, [(yarn.id, YarnRole(yarn.role)) for yarn in self.yarns])
        for action in start:
            self._timeline = perform(self._timeline, action)
        self._done: list[Gesture] = []
        self._undone: list[Gesture] = []
        self._findings: list[Finding] | None = None

    @classmethod
    def from_piece(cls, piece: Piece) -> Self:
        """A bench on which everything a piece does was done by hand, each action to be undone by itself.

        Args:
            piece: as :meth:`to_piece` made it.

        Raises:
            PlanError: if the piece cannot be knitted.
        """
        bench = cls(piece.to_bed(), piece.yarns)
        for action in compile_piece(piece).actions:
            refused = bench._perform((action,))
            assert not refused, refused
        return bench

    def with_yarns(self, yarns: Sequence[Yarn]) -> Self:
        """The same bench with other yarns on it; what can be undone or done again still can.

        Args:
            yarns: those that lie there, in their order and by their ids, under other names and in other
                colours and roles if so wished; then new ones.

        Raises:
            ValueError: if something that was done cannot be done with a yarn of another role; one sentence.
        """
        again = type(self)(self._timeline.bed, yarns)
        for gesture in (*self._done, *reversed(self._undone)):
            refused = again.do(*gesture.actions)
            if refused:
                raise ValueError(refused)
        for _ in self._undone:
            again.undo()
        return again

    # -- what stands there --------------------------------------------------------------------------------

    @property
    def timeline(self) -> Timeline:
        """All that was done and not undone, the start included. To be read, never appended to."""
        return self._timeline

    @property
    def state(self) -> BedState:
        """The bed as it stands now. To be read at once, neither kept nor changed."""
        return self._timeline.state

    @property
    def findings(self) -> list[Finding]:
        """What went wrong so far, or is worth knowing; stitches still on the bed are no fault of a bench."""
        if self._findings is None:
            self._findings = [each for each in judge(self._timeline) if each.rule != "stitches-left"]
        return self._findings

    # -- hands --------------------------------------------------------------------------------------------

    def do(self, *actions: LessonAction) -> str:
        """Do the actions of one gesture: all of them, or none.

        Returns:
            An empty text, or why the bed refused: the needle and the reason, one sentence with a full stop.
        """
        refused = self._perform(actions)
        if not refused:
            self._undone.clear()
            self._has_changed()
        return refused

    def undo(self) -> None:
        """Take the last gesture back, if there is one."""
        if not self._done:
            return
        gesture = self._done.pop()
        self._put_back(gesture)
        self._undone.append(gesture)
        self._has_changed()

    def redo(self) -> None:
        """Do again what was undone last, if anything was."""
        if not self._undone:
            return
        gesture = self._undone.pop()
        refused = self._perform(gesture.actions)
        assert not refused, refused
        self._has_changed()

    def start_over(self) -> None:
        """Undo everything down to the start; it can all be done again."""
        if not self._done:
            return
        while self._done:
            gesture = self._done.pop()
            self._put_back(gesture)
            self._undone.append(gesture)
        self._has_changed()

    @property
    def can_undo(self) -> bool:
        """Whether there is a gesture to take back."""
        return bool(self._done)

    @property
    def can_redo(self) -> bool:
        """Whether there is one to do again."""
        return bool(self._undone)

    # -- why ----------------------------------------------------------------------------------------------

    def why_loop(self, loop: int) -> str:
        """How a loop or a wrap came about, and why.

        Args:
            loop: its id in the fabric.
        """
        return because.why_loop(self._timeline, self.words, loop)

    def why_needle(self, needle: int) -> str:
        """What the last row did on a needle and why; and if what it bore fell off, when and into what.

        Args:
            needle: index from the left.
        """
        told = because.why_now(self._timeline, self.words, needle)
        if self.state.height[needle]:
            return told
        fell = because.why_dropped(self._timeline, self.words, needle)
        return fell or told

    def why_gap(self, left: int) -> str:
        """Why a gap shows between a needle and its right neighbour; empty where none does.

        Args:
            left: index of the needle on the left of it.
        """
        for opening in reversed(self._timeline.openings.openings()):
            if opening.boundary == left:
                return because.why_gap(self._timeline, self.words, opening)
        return ""

    # -- out again ----------------------------------------------------------------------------------------

    def to_piece(self, title: str = "") -> Piece:
        """Everything done so far as a piece, to be saved, rehearsed and knitted."""
        bed = self._timeline.bed
        items = [to_item(action, bed.needles) for action in _rows_joined(self._timeline.actions)]
        document = {
            "format": FORMAT,
            "title": title,
            "bed": {"needles": bed.needles, "pitch_mm": bed.pitch_mm, "carriage": bed.carriage.value},
            "yarns": [yarn.model_dump(exclude_unset=True) for yarn in self.yarns],
            "segments": [{"kind": "actions", "actions": items}],
        }
        return Piece.read(document)

    # -- working out --------------------------------------------------------------------------------------

    def _perform(self, actions: Sequence[LessonAction]) -> str:
        before = self._timeline
        gesture = Gesture(tuple(actions), len(before.actions), None)
        try:
            for action in actions:
                self._timeline = perform(self._timeline, action)
        except Refused as refused:
            self._timeline = before
            self._put_back(gesture)
            return f"{refused.message[:1].upper()}{refused.message[1:]}."
        if self._timeline is not before:
            gesture = replace(gesture, whole=before)
        self._done.append(gesture)
        return ""

    def _put_back(self, gesture: Gesture) -> None:
        if gesture.whole is not None:
            self._timeline = gesture.whole
        self._timeline.rewind(gesture.before)
        self._timeline.finish()

    def _has_changed(self) -> None:
        self._findings = None
        self.changed.emit()


def _rows_joined(actions: Sequence[Action]) -> list[Action]:
    """The actions with rows that follow each other written as one."""
    joined: list[Action] = []
    for action in actions:
        last = joined[-1] if joined else None
        if isinstance(action, Knit) and isinstance(last, Knit) and action.start is None:
            together = last.rows + action.rows
            if together <= MOST_ROWS:
                joined[-1] = Knit(together, last.start)
                continue
        joined.append(action)
    return joined
