"""Knitting: where the knitter stands in a piece, row by row, on disk before anybody says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from psygnal import Signal

from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.steps import Step
from bedview.session.knitted_so_far import KnittedSoFar, step_after_passes
from bedview.session.open_piece import OpenPiece
from bedview.session.really_knitted import (
    Change,
    as_knitted,
    rows_can_be_added,
    rows_that_can_go,
    second_piece,
    with_change,
)
from bedview.session.record import Record
from bedview.session.setting_up import line_before_step


class KnittingRun:
    """Where a knitter stands in an open piece.

    The cursor is the number of the step that comes next; ``len(steps)`` when all is done. It starts where the
    record says that the piece was left.

    The procedure is the plan's, until something was done otherwise: then it is what was really knitted, and
    from there on what the plan makes of it.

    Args:
        opened: the piece.
        record: what keeps the place.

    Signals:
        step_confirmed: a step is done and on disk (its number).
        cursor_moved: another step comes next (its number), in whatever way that came about.
        procedure_changed: the steps are others now.
        told: something worth a line happened.
        changes_kept: what was done otherwise was told, or taken back.
    """

    step_confirmed = Signal(int)
    cursor_moved = Signal(int)
    procedure_changed = Signal()
    told = Signal(str)
    changes_kept = Signal()

    def __init__(self, opened: OpenPiece, record: Record) -> None:
        self.opened = opened
        self._record = record
        self._changes: tuple[Change, ...] = tuple(record.changes())
        self._procedure = opened.procedure
        self._news = ""
        self._follow_plan()
        self._saved_at: datetime | None = None
        self._cursor = 0
        self._knitted = KnittedSoFar()
        self._elsewhere = False
        self._resume()
        self._remember()
        opened.changed.connect(self._plan_changed)
        opened.saved.connect(self._plan_saved)

    # -- where --------------------------------------------------------------------------------------------

    @property
    def procedure(self) -> Procedure:
        """What is knitted: the plan, with what was done otherwise in it."""
        return self._procedure

    @property
    def steps(self) -> tuple[Step, ...]:
        """Its steps."""
        return self._procedure.steps

    @property
    def cursor(self) -> int:
        """Number of the step that comes next."""
        return self._cursor

    @property
    def at_end(self) -> bool:
        """Whether no step is left."""
        return self._cursor >= len(self.steps)

    @property
    def breaks_off(self) -> bool:
        """Whether the steps end before the piece does, because the rest cannot be knitted."""
        return self._procedure.finished < len(self._procedure.piece.segments)

    @property
    def passes_done(self) -> int:
        """Passes made so far."""
        return int(self.steps[self._cursor - 1].passes) if self._cursor else 0

    @property
    def line(self) -> int:
        """The last line done; -1 at the start."""
        return line_before_step(self._procedure, self._cursor)

    @property
    def saved_at(self) -> datetime | None:
        """When the place was last written; None if never."""
        return self._saved_at

    @property
    def is_kept(self) -> bool:
        """Whether the place outlasts the program."""
        return self._record.is_kept

    @property
    def news(self) -> str:
        """What happened while the piece was opened and is worth a line; empty for nothing."""
        return self._news

    # -- row by row ---------------------------------------------------------------------------------------

    def confirm(self) -> None:
        """The coming step is done: write that, then move on. At the end nothing happens.

        Raises:
            JournalError: if it is not on disk; the step is not confirmed then.
        """
        if self.at_end:
            return
        step = self._cursor
        self._write(step + 1)
        self._stand_at(step + 1)
        self.step_confirmed.emit(step)

    def back(self) -> None:
        """The last step is not done after all. At the start nothing happens.

        Raises:
            JournalError: if that is not on disk; nothing has changed then.
        """
        self.go_to(self._cursor - 1)

    def go_to(self, step: int) -> None:
        """Stand before another step: a place that was found, or one that was unpicked to.

        Raises:
            JournalError: if that is not on disk; nothing has changed then.
        """
        step = max(0, min(step, len(self.steps)))
        if step != self._cursor:
            self._write(step)
            self._stand_at(step)

    # -- done otherwise -----------------------------------------------------------------------------------

    @property
    def changes(self) -> tuple[Change, ...]:
        """What was done otherwise than planned, from the first step to the last."""
        return self._changes

    @property
    def most_rows_out(self) -> int:
        """How many rows can be left out here."""
        return 0 if self.at_end else rows_that_can_go(self._procedure, self._cursor)

    @property
    def can_add_rows(self) -> bool:
        """Whether rows more may have been knitted here."""
        return rows_can_be_added(self._procedure, self._cursor)

    def rows_changed(self, rows: int) -> None:
        """Rows more were knitted here than planned (they count as done), or rows of the plan are left out.

        Args:
            rows: how many; less than 0 to leave out.

        Raises:
            PlanError, ValueError: if the rest of the plan cannot follow; nothing has changed then.
            JournalError: if it is not on disk; nothing has changed then.
        """
        self._change(Change(self._cursor, rows=rows))

    def dial_changed(self, dial: float) -> None:
        """The tension dial stands elsewhere from here on.

        Raises:
            PlanError, ValueError, JournalError: as of :meth:`rows_changed`.
        """
        self._change(Change(self._cursor, dial=dial))

    def remark(self, text: str) -> None:
        """Keep some words about this place, for the next time.

        Raises:
            JournalError: if they are not on disk; nothing has changed then.
        """
        self._keep(joined_changes(self._changes, Change(self._cursor, remark=text), 0))
        self.changes_kept.emit()

    def take_back(self, change: Change) -> None:
        """Forget a change; the knitter then stands at the same row of the plan as it is without it.

        Raises:
            PlanError, ValueError: if the rest cannot follow without it; nothing has changed then.
            JournalError: if that is not on disk; nothing has changed then.
        """
        kept = tuple(each for each in self._changes if each is not change)
        if not change.touches_the_bed:
            self._keep(kept)
            self.changes_kept.emit()
            return
        more = max(change.rows, 0)
        kept = tuple(
            replace(each, step=each.step - change.rows) if each.step > change.step else each for each in kept
        )
        procedure = self.opened.spoken(compile_piece(as_knitted(self.opened.piece, kept)))
        cursor = self._cursor
        if cursor > change.step:
            cursor -= min(more, cursor - change.step) if change.rows > 0 else change.rows
        self._take(procedure, cursor, kept)

    def second_piece(self, *, really: bool, mirrored: bool) -> Piece:
        """The other one of a pair; see :func:`bedview.session.really_knitted.second_piece`."""
        return second_piece(self.opened.piece, self._changes, really=really, mirrored=mirrored)

    def _change(self, change: Change) -> None:
        procedure = self.opened.spoken(compile_piece(with_change(self._procedure, change)))
        more = len(procedure.steps) - len(self.steps)
        cursor = self._cursor + max(change.rows, 0)
        self._take(procedure, cursor, joined_changes(self._changes, change, more))

    def _take(self, procedure: Procedure, cursor: int, changes: tuple[Change, ...]) -> None:
        """Go on with another procedure, once that is written."""
        cursor = max(0, min(cursor, len(procedure.steps)))
        self._keep(changes)
        self._saved_at = self._record.write(procedure, cursor)
        self._procedure, self._cursor = procedure, cursor
        self._remember(anew=True)
        self.changes_kept.emit()
        self.procedure_changed.emit()
        self.cursor_moved.emit(cursor)

    def _keep(self, changes: tuple[Change, ...]) -> None:
        self._record.keep_changes(changes)
        self._changes = changes

    # -- the plan moves under it --------------------------------------------------------------------------

    def _plan_changed(self) -> None:
        self._follow_plan()
        step = self._knitted.step_in(self._procedure)
        # What was knitted stays remembered as it was: the next edit may bring that plan back.
        self._elsewhere = step is None
        self._cursor = self._knitted.step_like_here(self._procedure) if step is None else step
        if step is None:
            self._say_changed()
        self.procedure_changed.emit()
        self.cursor_moved.emit(self._cursor)

    def _follow_plan(self) -> None:
        """Take over the plan's procedure, with what was done otherwise in it as far as it still fits."""
        self._procedure = self.opened.procedure
        if not any(change.touches_the_bed for change in self._changes):
            return
        try:
            piece = as_knitted(self.opened.piece, self._changes)
            self._procedure = self.opened.spoken(compile_piece(piece))
        except (PlanError, ValueError):
            self._tell(_("What was knitted otherwise no longer fits the plan; the plan is shown as it is."))

    def _say_changed(self) -> None:
        text = _("The plan has changed in rows already knitted. The bed looks like this before row {row}.")
        self._tell(text.format(row=self.passes_done + 1))

    def _tell(self, text: str) -> None:
        self._news = text
        self.told.emit(text)

    # -- keeping ------------------------------------------------------------------------------------------

    def _resume(self) -> None:
        kept = self._record.last(self._procedure)
        if kept is None:
            return
        self._saved_at = kept.at
        if not kept.changed:
            self._cursor = min(kept.steps_done, len(self.steps))
            return
        self._cursor = step_after_passes(self._procedure, kept.passes)
        text = _(
            "The plan has changed in rows already knitted; {rows} were knitted. If in doubt, find your place."
        )
        self._tell(text.format(rows=kept.passes))

    def _plan_saved(self) -> None:
        """The piece may have its first file now, or another one: the place goes with it."""
        if self.opened.path is not None:
            self._record.move_to(self.opened.path)
            self._record.keep_changes(self._changes)
            if self._cursor:
                self._write(self._cursor)

    def _write(self, steps_done: int) -> None:
        self._saved_at = self._record.write(self._procedure, steps_done)

    def _stand_at(self, step: int) -> None:
        self._cursor = step
        self._remember()
        self.cursor_moved.emit(step)

    def _remember(self, *, anew: bool = False) -> None:
        self._knitted.remember(self._procedure, self.line, anew=anew or self._elsewhere)
        self._elsewhere = False


def joined_changes(changes: Sequence[Change], new: Change, more_steps: int) -> tuple[Change, ...]:
    """Changes with another among them: joined with one at the same step, those behind moved on.

    Args:
        changes: from the first step to the last.
        new: the new one.
        more_steps: how many more steps the procedure has because of it.
    """
    joined = new
    others = []
    for change in changes:
        if change.step == new.step:
            dial = change.dial if new.dial is None else new.dial
            remark = " ".join(text for text in (change.remark, new.remark) if text)
            joined = Change(new.step, change.rows + new.rows, dial, remark)
        elif change.step > new.step:
            others.append(replace(change, step=change.step + more_steps))
        else:
            others.append(change)
    return tuple(sorted([*others, joined], key=lambda change: change.step))
