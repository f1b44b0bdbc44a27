"""What a gesture did, in words: for the line under the bed, and for a screen reader."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Cut,
    FreeMove,
    Hang,
    HoldCams,
    Knit,
    Park,
    Place,
    Resume,
    SetCounter,
    Tension,
    Thread,
    Transfer,
    Wrap,
)
from bedview.bed.events import Event
from bedview.bed.needles import Position
from bedview.language import number
from bedview.lessons.because import stands
from bedview.plan.words import Words
from bedview.session.bench_run import BenchRun
from bedview.ui.parts.counting import counted


class Telling(QObject):
    """Tells of one bench.

    Args:
        bench: the bench.
        parent: as ever.
    """

    def __init__(self, bench: BenchRun, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bench = bench

    @property
    def _words(self) -> Words:
        return self._bench.words

    def of_actions(self, actions: Sequence[Action]) -> str:
        """What these actions did; they were the last ones done, in one gesture."""
        events = self._bench.timeline.events[-len(actions) :]
        wraps = [action.needle for action in actions if isinstance(action, Wrap)]
        if len(wraps) == len(actions) > 1:
            return self.tr("{needles} are wrapped by hand.").format(needles=self._words.needles(wraps))
        told = [self._of_one(action, event) for action, event in zip(actions, events, strict=False)]
        return " ".join(each for each in told if each)

    def of_row(self, event: Event) -> str:
        """What a row did."""
        side = self._words.side(self._bench.state.carriage)
        row = event.passes + event.lines - 1
        parts = [self._of_knitting(event, row, side)]
        for needles, text in (
            (event.laid_in, self.tr("The yarn is only laid into {needles}.")),
            (event.wrapped, self.tr("Wrapped: {needles}.")),
            (event.dropped, self.tr("Off fell the loops of {needles}.")),
        ):
            if len(needles):
                parts.append(text.format(needles=self._words.needles(needles)))
        return " ".join(parts)

    def _of_knitting(self, event: Event, row: int, side: str) -> str:
        if not len(event.knit):
            return self.tr("Row {row}: the carriage went to {side}; nothing knitted.").format(
                row=row, side=side
            )
        text = self.tr("Row {row}, to {side}: {needles} knitted.")
        return text.format(row=row, side=side, needles=self._words.needles(event.knit))

    def of_unpicking(self, rows: int) -> str:
        """That rows were taken back."""
        return counted(
            self.tr("One row is taken back, and what hands did after the row before it."),
            self.tr("{count} rows are taken back, and what hands did in between."),
            rows,
        )

    def _of_one(self, action: Action, event: Event) -> str:
        words = self._words
        match action:
            case Knit():
                return self.of_row(event)
            case Place(needles, position):
                return stands(words, sorted(needles), Position(position))
            case CastOn(needles):
                return self.tr("A closed loop is wound on each of {needles}.").format(
                    needles=words.needles(needles)
                )
            case Wrap(needle):
                return self.tr("{needle} is wrapped by hand.").format(needle=words.needles([needle]))
            case Hang(needles):
                return self.tr("The loops hang on {needles}.").format(needles=words.needles(needles))
            case Transfer(source, target):
                return self.tr("What {source} bore lies on {target} now.").format(
                    source=words.needles([source]), target=words.needles([target])
                )
            case BindOff(needles):
                return self.tr("{needles} are bound off.").format(needles=words.needles(needles))
            case _:
                return self._of_yarn(action) or self._of_setting(action)

    def _of_yarn(self, action: Action) -> str:
        match action:
            case Thread(yarn):
                return self.tr("In the feeder is {yarn}, a new strand.").format(yarn=self._words.yarn(yarn))
            case Cut():
                return self.tr("The yarn is cut; the feeder is empty.")
            case Park():
                return self.tr("The yarn waits, uncut; the feeder is empty.")
            case Resume(yarn):
                return self.tr("Back in the feeder is {yarn}.").format(yarn=self._words.yarn(yarn))
            case _:
                return ""

    def _of_setting(self, action: Action) -> str:
        match action:
            case HoldCams(on):
                return self.tr("The hold cams are on.") if on else self.tr("The hold cams are off.")
            case FreeMove():
                return self.tr("The carriage was lifted across and stands on {side}.").format(
                    side=self._words.side(self._bench.state.carriage)
                )
            case Tension(dial):
                return self.tr("The tension dial shows {dial}.").format(dial=number(dial))
            case SetCounter(value):
                return self.tr("The row counter shows {value}.").format(value=value)
            case _:
                return ""
