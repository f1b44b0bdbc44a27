"""The hand that builds: segments speak to it, and it does on the bed what they say."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from bedview.bed import actions as do
from bedview.bed.actions import Action, Knit, Needles, YarnRole
from bedview.bed.needles import NeedleError, Position, Side, format_needles, parse_needles
from bedview.bed.state import HOLD, UPPER, WORK
from bedview.language import gettext as _
from bedview.language import ngettext, number
from bedview.plan.gauge import find_gauge, rows_in
from bedview.plan.segments.base import OldYarn, Segment, SegmentError
from bedview.plan.segments.reminders import Due
from bedview.plan.segments.span import MOST_ACTIONS, MOST_PASSES, MOST_SEGMENTS_BUILT, Span, TooLong

if TYPE_CHECKING:
    from bedview.bed.fabric import Fabric
    from bedview.bed.state import BedState
    from bedview.bed.timeline import Timeline
    from bedview.plan.piece import Gauge, Yarn
    from bedview.plan.segments.done_before import DoneBefore


class Maker:
    """Does actions on a growing timeline, and answers what a segment asks of the bed.

    Args:
        timeline: where actions are appended; other actions may already stand there.
        yarns: the piece's yarns.
        gauges: its gauges.

    Attributes:
        timeline: the same.
        yarns: the same.
        gauges: the same.
        reasons: why an action is done, by its number, where a segment said so.
        actions_done: number of the next action.
        passes_done: passes made so far.
        spans: which actions belong to which segment, a segment before those inside it.
    """

    def __init__(self, timeline: Timeline, yarns: Sequence[Yarn], gauges: Sequence[Gauge]) -> None:
        self.timeline = timeline
        self.yarns = tuple(yarns)
        self.gauges = tuple(gauges)
        self.reasons: dict[int, str] = {}
        self.actions_done = 0
        self.passes_done = 0
        self.spans: list[Span] = []
        self._path: tuple[int, ...] = ()
        self._turns: tuple[int, ...] = ()
        self._reminders: list[Due] = []
        self._state: BedState | None = None

    def stand_behind(self, spans: Iterable[Span], reasons: dict[int, str], passes: int) -> None:
        """Go on behind segments that were built before; the timeline's pen must stand there.

        Args:
            spans: theirs.
            reasons: theirs.
            passes: the passes they made.
        """
        self.spans = list(spans)
        self.reasons = reasons
        self.actions_done = max((span.stop for span in self.spans), default=0)
        self.passes_done = passes

    @property
    def depth(self) -> int:
        """How many lists of segments lie round the one that is being built."""
        return len(self._path)

    @property
    def may_do_again(self) -> bool:
        """Whether it stands at the end, with no reminder waiting for a row."""
        return not self._reminders and self.timeline.at_its_end

    def go_on_with(self, done: DoneBefore) -> bool:
        """Do again what some segments did, if they find the bed as they found it; whether they do.

        Where they do not, nothing has changed.
        """
        actions, passes = len(done.stretch.actions), done.stretch.passes
        too_long = (
            self.actions_done + actions > MOST_ACTIONS
            or self.passes_done + passes > MOST_PASSES
            or len(self.spans) + len(done.spans) > MOST_SEGMENTS_BUILT
        )
        if too_long or not self.timeline.go_on_with(done.stretch):
            return False
        self.spans += done.spans_from(self.actions_done)
        self.reasons |= done.reasons_from(self.actions_done)
        self.actions_done += actions
        self.passes_done += passes
        self._state = None
        return True

    # -- doing --------------------------------------------------------------------------------------------

    def do(self, action: Action, why: str = "") -> None:
        """Do one action; where a reminder is due between its rows, in parts with the reminder between them.

        Args:
            action: what to do.
            why: one short sentence, where the bed's own event will not tell.

        Raises:
            Refused: if the bed cannot do it; then nothing has changed.
            TooLong: if the procedure would grow beyond its limits; then nothing has changed.
        """
        rows = action.rows if isinstance(action, Knit) else 0
        if self.passes_done + rows > MOST_PASSES:
            raise TooLong(_("the piece has more than {most:,} passes").format(most=MOST_PASSES))
        if self._reminders and isinstance(action, Knit):
            for part in self._up_to_reminders(action):
                self._append(part, why)
                why = ""
                self._remind()
        else:
            self._append(action, why)

    def _append(self, action: Action, why: str) -> None:
        rows = action.rows if isinstance(action, Knit) else 0
        if self.actions_done >= MOST_ACTIONS:
            raise TooLong(_("the piece has more than {most:,} actions").format(most=MOST_ACTIONS))
        self.timeline.append(action)
        self._state = None
        if why:
            self.reasons[self.actions_done] = why
        self.actions_done += 1
        self.passes_done += rows

    def build(self, segment: Segment, place: int, turn: int = 0) -> None:
        """Build a segment here, and note which actions are its own.

        Args:
            segment: the segment.
            place: its index in the list it stands in.
            turn: how often that list has been gone through before.

        Raises:
            SegmentError: if it cannot be done here; the error then knows the segment's path.
            Refused: if the bed refuses one of its actions.
            TooLong: if the procedure would grow beyond its limits.
        """
        # Without this limit, repeats that hold nothing in repeats of them would run for ever.
        if len(self.spans) >= MOST_SEGMENTS_BUILT:
            raise TooLong(
                _("the piece repeats its segments more than {most:,} times").format(most=MOST_SEGMENTS_BUILT)
            )
        outer = self._path, self._turns
        self._path, self._turns = (*self._path, place), (*self._turns, turn)
        first, number = self.actions_done, len(self.spans)
        self.spans.append(Span(self._path, self._turns, segment, first, first))
        try:
            if segment.reminders:
                self._build_reminding(segment)
            else:
                segment.build(self)
        except (SegmentError, TooLong) as error:
            error.path = error.path or self._path
            raise
        finally:
            self.spans[number] = Span(self._path, self._turns, segment, first, self.actions_done)
            self._path, self._turns = outer

    def _build_reminding(self, segment: Segment) -> None:
        """Build a segment, and say its reminders as their rows are made."""
        begun, due = self.passes_done, Due(segment.reminders, self.passes_done)
        self._reminders.append(due)
        try:
            self._remind()
            segment.build(self)
        finally:
            self._reminders.remove(due)
        left = due.left()
        if left is not None:
            place, reminder = left
            rows = self.passes_done - begun
            text = ngettext(
                "this part makes only {count} row; a reminder waits for row {row}",
                "this part makes only {count} rows; a reminder waits for row {row}",
                rows,
            )
            if not rows:
                text = _("this part makes no row; a reminder waits for row {row}")
            raise SegmentError(
                text.format(count=rows, row=reminder.row),
                f"reminders[{place}].row",
            )

    def _up_to_reminders(self, action: Knit) -> Iterator[Knit]:
        """A ``knit`` in parts that each end where a reminder is due, or with its last row."""
        left, start = action.rows, action.start
        while left:
            until = [due.rows_until_next(self.passes_done) for due in self._reminders]
            rows = min([left, *(each for each in until if each is not None)])
            yield Knit(rows, start)
            left, start = left - rows, None

    def _remind(self) -> None:
        """Say what is due now, that of an outer segment first."""
        for due in self._reminders:
            for place, reminder in due.take(self.passes_done):
                needles = (
                    self.needles(reminder.needles, f"reminders[{place}].needles") if reminder.needles else ()
                )
                self._append(do.Note(reminder.text, needles), "")

    def knit(self, rows: int = 1, why: str = "") -> None:
        """Knit rows from where the carriage stands."""
        self.do(Knit(rows), why)

    def place(self, needles: Iterable[int], position: Position) -> None:
        """Place needles; those that stand there already are left alone, and no action is done for none."""
        stands, wanted = self.state.position, int(position)
        moving = tuple(needle for needle in sorted(needles) if stands[needle] != wanted)
        if moving:
            self.do(do.Place(moving, position))

    def hold(self, needles: Iterable[int]) -> None:
        """Bring needles to hold, with the hold cams on."""
        if not self.state.hold_cams:
            self.do(do.HoldCams(on=True))
        self.place(needles, Position.HOLD)

    def bring_back(self, needles: Iterable[int]) -> None:
        """Push needles back to where they knit: to upper working, so that no latch closes."""
        self.place(needles, Position.UPPER)

    def carry_to(self, side: Side, why: str) -> None:
        """Knit one row if the carriage does not stand on ``side``."""
        if self.state.carriage is not side:
            self.knit(1, why)

    # -- asking -------------------------------------------------------------------------------------------

    @property
    def state(self) -> BedState:
        """The state after the last action. Read it, do not keep it."""
        if self._state is None:
            self._state = self.timeline.state
        return self._state

    @property
    def fabric(self) -> Fabric:
        """The fabric so far."""
        return self.timeline.fabric

    def needles(self, text: str, field: str) -> Needles:
        """Indices of a needle list, ascending.

        Raises:
            SegmentError: naming ``field``, if the bed has no such needles or the list is wrong.
        """
        try:
            return tuple(sorted(parse_needles(text, self.state.needles)))
        except NeedleError as error:
            raise SegmentError(str(error), field) from None

    def names(self, needles: Iterable[int]) -> str:
        """The needle list of some indices: ``L10-R4``."""
        return format_needles(needles, self.state.needles)

    def working(self) -> list[int]:
        """Needles that bear loops and stand in work or upper working, from left to right."""
        position = self.state.position
        ready = (position == WORK) | (position == UPPER)
        found: list[int] = (ready & (self.state.height > 0)).nonzero()[0].tolist()
        return found

    def held(self) -> list[int]:
        """Needles that bear loops and stand in hold, from left to right."""
        holding = self.state.position == HOLD
        found: list[int] = (holding & (self.state.height > 0)).nonzero()[0].tolist()
        return found

    def need_working(self) -> list[int]:
        """As :meth:`working`.

        Raises:
            SegmentError: if there are none.
        """
        working = self.working()
        if not working:
            raise SegmentError(_("no needle works here; cast on first, or bring needles back from hold"))
        return working

    def need_yarn(self) -> None:
        """See that there is yarn in the feeder.

        Raises:
            SegmentError: if there is none.
        """
        if not self.state.threaded:
            raise SegmentError(_("no yarn is in the feeder here"))

    # -- yarn ---------------------------------------------------------------------------------------------

    @property
    def yarn(self) -> Yarn | None:
        """The yarn in the feeder."""
        return self.yarns[self.state.yarn] if self.state.threaded else None

    def yarn_of_role(self, role: YarnRole, asked: str | None, field: str) -> str:
        """Id of the yarn asked for, or of the piece's first yarn of that role.

        Raises:
            SegmentError: if the piece has none, or the one asked for is not there.
        """
        if asked is not None:
            if all(yarn.id != asked for yarn in self.yarns):
                raise SegmentError(_("the piece has no yarn '{asked}'").format(asked=asked), field)
            return asked
        found = [yarn.id for yarn in self.yarns if yarn.role == role.value]
        if not found:
            raise SegmentError(_("the piece has no yarn with the role {role}").format(role=role.value), field)
        return found[0]

    def use_yarn(self, yarn: str, field: str, *, old: OldYarn = "cut", tail_cm: float | None = None) -> None:
        """See that ``yarn`` is in the feeder, picking up its waiting strand if there is one.

        Args:
            yarn: id of the yarn.
            field: the segment's field that names it.
            old: whether the strand now in the feeder is cut or parked.
            tail_cm: the tail to leave if it is cut.

        Raises:
            SegmentError: if the piece has no such yarn.
        """
        self.yarn_of_role(YarnRole.FABRIC, yarn, field)
        now = self.yarn
        if now is not None and now.id == yarn:
            return
        self.clear_feeder(old, tail_cm)
        index = next(index for index, each in enumerate(self.yarns) if each.id == yarn)
        self.do(do.Resume(yarn) if index in self.state.waiting else do.Thread(yarn))

    def clear_feeder(self, old: OldYarn = "cut", tail_cm: float | None = None) -> None:
        """Take the yarn out of the feeder, if there is any; waste is always cut, and without a tail."""
        now = self.yarn
        if now is None:
            return
        if now.role != YarnRole.FABRIC.value:
            self.do(do.Cut())
        else:
            self.do(do.Park() if old == "park" else do.Cut(tail_cm))

    def set_dial(self, dial: float | None) -> None:
        """Set the tension dial, if a number is given and it is not set already."""
        if dial is not None and self.state.dial != dial:
            self.do(do.Tension(dial))

    def rows_for(self, length_cm: float, field: str) -> int:
        """Rows for a length, by the gauge of the yarn in the feeder at the tension set.

        Raises:
            SegmentError: if there is no such gauge, or the length comes to no row.
        """
        yarn = self.yarn
        if yarn is None:
            raise SegmentError(_("no yarn is in the feeder, so a length cannot be turned into rows"), field)
        dial = self.state.dial
        gauge = find_gauge(self.gauges, yarn.id, dial)
        if gauge is None:
            text = _("no gauge for the yarn '{yarn}' at tension {dial}; add its swatch or give rows")
            if dial is None:
                text = _("no gauge for the yarn '{yarn}'; add its swatch or give rows")
            raise SegmentError(text.format(yarn=yarn.id, dial=number(dial or 0.0)), field)
        rows = rows_in(length_cm * 10, gauge)
        if rows < 1:
            raise SegmentError(
                _("{length_cm} cm is less than half a row").format(length_cm=number(length_cm)), field
            )
        return rows
