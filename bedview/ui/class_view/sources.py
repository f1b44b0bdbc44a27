"""What a class looks at: a bed, where it is, and a few words; from whatever page the teacher is on."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from PySide6.QtCore import QObject, Signal

from bedview.picture.bed_scene import BedScene, View
from bedview.plan.procedure import Procedure
from bedview.plan.safety import cautions
from bedview.plan.steps import Step
from bedview.session.knitting_run import KnittingRun
from bedview.session.machine_words import position_labels
from bedview.session.rehearsal import Rehearsal
from bedview.ui.knit.acts_layout import ActLine, Sign
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.parts.piece_pictures import bed_of, broken_off_words, part_title, used_stretch, yarns_seen


@dataclass(frozen=True, slots=True)
class Moment:
    """One moment of it.

    Attributes:
        title: of the piece or the lesson.
        where: how far in it one is.
        lines: what to do, in few words.
        scene: the bed; the class view looks at it in its own way.
    """

    title: str
    where: str
    lines: tuple[ActLine, ...]
    scene: BedScene


class ClassSource(QObject):
    """Where moments come from, and how one goes on to the next."""

    changed = Signal()
    """There is another moment to look at."""

    @abstractmethod
    def moment(self) -> Moment:
        """What there is to see now."""

    @abstractmethod
    def forward(self) -> None:
        """One step on."""

    @abstractmethod
    def back(self) -> None:
        """One step back."""

    @abstractmethod
    def put_away(self) -> None:
        """The class has gone; listen to nothing any more."""


@runtime_checkable
class Teachable(Protocol):
    """A page that a class can look at."""

    def class_source(self) -> ClassSource:
        """What the class looks at."""


@runtime_checkable
class Turnable(Protocol):
    """A page whose bed can be turned round."""

    def turn_round(self) -> None:
        """See the bed from the other side of the table."""


def step_lines(step: Step, minds: tuple[str, ...] = ()) -> Iterator[ActLine]:
    """A step in few words: what hands do, what the carriage does, what to mind, and why."""
    number = 0
    for number, text in enumerate(step.hands, 1):
        yield ActLine(text, Sign.HANDS, number)
    if step.carriage:
        yield ActLine(step.carriage, Sign.CARRIAGE, number + 1)
    for text in minds:
        yield ActLine(text, Sign.CAUTION)
    if step.why:
        yield ActLine(step.why, Sign.NOTHING)


class RehearsalSource(ClassSource):
    """A piece as it is rehearsed; a mistake that is looked at is looked at by the class too."""

    def __init__(self, rehearsal: Rehearsal, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        rehearsal.cursor_moved.connect(self._tell)
        rehearsal.outcome_changed.connect(self._tell)
        rehearsal.opened.changed.connect(self._tell)

    def moment(self) -> Moment:
        """The bed before the step at the cursor."""
        rehearsal = self._rehearsal
        piece = rehearsal.opened.piece
        labels = position_labels(rehearsal.opened.procedure.words)
        view = View(stretch=used_stretch(rehearsal.timeline), labels=labels)
        return Moment(
            rehearsal.opened.title,
            self._where(),
            tuple(self._lines()),
            bed_of(rehearsal, yarns_seen(piece), view),
        )

    def _where(self) -> str:
        rehearsal = self._rehearsal
        row = self.tr("row {row} of {rows}").format(row=rehearsal.row, rows=rehearsal.timeline.passes)
        if rehearsal.at_end or rehearsal.outcome is not None:
            return row
        part = part_title(rehearsal.opened.piece, rehearsal.steps[rehearsal.cursor].segment)
        return f"{part} · {row}"

    def _lines(self) -> Iterator[ActLine]:
        rehearsal = self._rehearsal
        if rehearsal.outcome is not None:
            said = self.tr("What if {mistake}?").format(mistake=rehearsal.outcome.slip.words)
            yield ActLine(said, Sign.CAUTION)
        if rehearsal.at_end:
            yield self._end_line()
            return
        procedure = rehearsal.opened.procedure if rehearsal.outcome is None else None
        yield from _lines_at(procedure, rehearsal.steps[rehearsal.cursor])

    def _end_line(self) -> ActLine:
        opened = self._rehearsal.opened
        if self._rehearsal.outcome is None and opened.trouble is not None:
            return ActLine(broken_off_words(opened), Sign.CAUTION)
        if not self._rehearsal.steps:
            return ActLine(self.tr("This piece has no rows yet."), Sign.NOTHING)
        return ActLine(self.tr("That was the last row."), Sign.DONE)

    def forward(self) -> None:
        """One step on."""
        self._rehearsal.on()

    def back(self) -> None:
        """One step back."""
        self._rehearsal.back()

    def put_away(self) -> None:
        """Listen to nothing any more."""
        rehearsal = self._rehearsal
        for signal in (rehearsal.cursor_moved, rehearsal.outcome_changed, rehearsal.opened.changed):
            signal.disconnect(self._tell)

    def _tell(self, _cursor: int = 0) -> None:
        self.changed.emit()


class KnittingSource(ClassSource):
    """A piece as it is knitted; a step on is confirmed as on the page itself.

    Args:
        run: where the knitter stands.
        confirm: confirms the step at hand.
        go_back: takes the last one back.
        parent: as ever.
    """

    def __init__(
        self,
        run: KnittingRun,
        confirm: Callable[[], None],
        go_back: Callable[[], None],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._run = run
        self._confirm, self._go_back = confirm, go_back
        self._scenes = BedScenes(run)
        run.cursor_moved.connect(self._tell)
        run.procedure_changed.connect(self._forget)

    def moment(self) -> Moment:
        """The bed before the step at hand."""
        run = self._run
        rows = run.procedure.timeline.passes
        if run.at_end:
            lines: tuple[ActLine, ...] = (ActLine(self.tr("All rows are knitted"), Sign.DONE),)
            return Moment(run.opened.title, self.tr("Finished"), lines, self._scenes.at_hand())
        step = run.steps[run.cursor]
        row = min(int(step.passes) + (not step.makes_pass), rows)
        part = part_title(run.procedure.piece, step.segment)
        where = self.tr("row {row} of {rows}").format(row=row, rows=rows)
        lines = tuple(_lines_at(run.procedure, step))
        return Moment(run.opened.title, f"{part} · {where}", lines, self._scenes.at_hand())

    def forward(self) -> None:
        """The step at hand is done."""
        self._confirm()

    def back(self) -> None:
        """The step before is not done after all."""
        self._go_back()

    def put_away(self) -> None:
        """Listen to nothing any more."""
        self._run.cursor_moved.disconnect(self._tell)
        self._run.procedure_changed.disconnect(self._forget)

    def _tell(self, _step: int = 0) -> None:
        self.changed.emit()

    def _forget(self) -> None:
        self._scenes.forget()
        self.changed.emit()


def _lines_at(procedure: Procedure | None, step: Step) -> Iterator[ActLine]:
    minds = cautions(procedure, step.number) if procedure is not None else ()
    yield from step_lines(step, minds)
