"""What keeps a knitter's place in one piece: a session of the journal, once the piece has a file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from pathlib import Path

from bedview.bed.actions import Action
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.session.really_knitted import Change, as_knitted
from bedview.store.journal import Journal, Remark, Session
from bedview.store.knitted import step_digests


@dataclass(frozen=True, slots=True)
class Kept:
    """Where the knitter stood when the record was last written.

    Attributes:
        steps_done: how many steps were confirmed.
        passes: passes made by then.
        at: when it was written.
        changed: the procedure has changed since, in steps that were done then.
    """

    steps_done: int
    passes: int
    at: datetime
    changed: bool


class Record:
    """What keeps the place. When a method returns, it is on disk.

    Args:
        journal: where places are kept; None to keep none.
        known_as: the file by which the piece is known; None while it has none.
    """

    def __init__(self, journal: Journal | None = None, known_as: Path | None = None) -> None:
        self._journal = journal
        self._known_as = known_as
        self._session: Session | None = None
        if journal is not None and known_as is not None:
            self._session = journal.latest(known_as)
        self._digests = _Digests()

    @property
    def is_kept(self) -> bool:
        """Whether places outlast the program."""
        return self._journal is not None and self._known_as is not None

    def last(self, procedure: Procedure) -> Kept | None:
        """What was written last, held against the procedure of now; None if this piece was never knitted.

        Raises:
            JournalError: if the journal cannot be read.
        """
        progress = self._session.last() if self._session else None
        if progress is None:
            return None
        digest = self._digests.up_to(procedure, progress.step)
        at = datetime.fromisoformat(progress.confirmed_at)
        return Kept(progress.step + 1, progress.pass_number, at, digest != progress.digest)

    def write(self, procedure: Procedure, steps_done: int) -> datetime:
        """Write where the knitter stands.

        Returns:
            When it was written.

        Raises:
            JournalError: if it is not on disk; what stood there before still stands.
        """
        session = self._open_session()
        if session is not None:
            self._write_to(session, procedure, steps_done)
        return datetime.now().astimezone()

    def _write_to(self, session: Session, procedure: Procedure, steps_done: int) -> None:
        last = session.last()
        if last is not None and last.step == steps_done:
            last = session.back()
        if steps_done == 0:
            if last is not None and self._journal is not None and self._known_as is not None:
                self._session = self._journal.begin(self._known_as)
            return
        if last is None or last.step != steps_done - 1:
            step = procedure.steps[steps_done - 1]
            digest = self._digests.up_to(procedure, step.number)
            assert digest is not None
            session.confirm(step.number, int(step.passes), procedure.timeline.passes, digest)

    def changes(self) -> list[Change]:
        """What was done otherwise than planned, from the first step to the last.

        Raises:
            JournalError: if the journal cannot be read.
        """
        return changes_of(self._session) if self._session else []

    def keep_changes(self, changes: Sequence[Change]) -> None:
        """Write what was done otherwise than planned: at most one change a step.

        Raises:
            JournalError: if it is not on disk.
        """
        session = self._open_session()
        if session is None:
            return
        wanted = {change.step: Remark(change.rows or None, change.dial, change.remark) for change in changes}
        kept = session.remarks()
        for step, remark in wanted.items():
            if kept.get(step) != remark:
                session.remark(step, remark)
        for step in kept.keys() - wanted.keys():
            session.remark(step, Remark())

    def move_to(self, known_as: Path) -> None:
        """The piece is known by another file now; write everything anew there.

        Raises:
            JournalError: if the journal cannot be read or written.
        """
        if known_as != self._known_as:
            self._known_as = known_as
            self._session = self._journal.latest(known_as) if self._journal else None

    def _open_session(self) -> Session | None:
        if self._session is None and self._journal is not None and self._known_as is not None:
            self._session = self._journal.session_for(self._known_as)
        return self._session


def changes_of(session: Session) -> list[Change]:
    """What was done otherwise than planned in a session, from the first step to the last.

    Raises:
        JournalError: if the journal cannot be read.
    """
    remarks = session.remarks()
    found = (Change(step, each.rows or 0, each.dial, each.words) for step, each in remarks.items())
    return [change for change in found if change.touches_the_bed or change.remark]


def digest_now(procedure: Procedure, changes: Sequence[Change], step: int) -> bytes | None:
    """What a piece says today up to a step that was confirmed, what was done otherwise counted in.

    Args:
        procedure: the plan's.
        changes: what was done otherwise in that session.
        step: number of the step.

    Returns:
        None if there is no such step, or the changes no longer fit the plan.
    """
    if any(change.touches_the_bed for change in changes):
        try:
            procedure = compile_piece(as_knitted(procedure.piece, changes))
        except (PlanError, ValueError):
            return None
    return _Digests().up_to(procedure, step)


class _Digests:
    """What a procedure says up to its steps, worked out as far as was asked for."""

    def __init__(self) -> None:
        self._procedure: Procedure | None = None
        self._found: list[bytes] = []
        self._coming: Iterator[bytes] = iter(())

    def up_to(self, procedure: Procedure, step: int) -> bytes | None:
        """The digest up to a step; None if there is no such step."""
        if procedure is not self._procedure:
            self._procedure = procedure
            self._found = []
            self._coming = step_digests(procedure.timeline.bed, _actions_of_steps(procedure))
        if step >= len(self._found):
            self._found.extend(islice(self._coming, step + 1 - len(self._found)))
        return self._found[step] if step < len(self._found) else None


def _actions_of_steps(procedure: Procedure) -> Iterator[list[Action]]:
    actions = procedure.timeline.actions
    for step in procedure.steps:
        yield [actions[number] for number in step.actions]
