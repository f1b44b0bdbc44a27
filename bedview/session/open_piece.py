"""One open piece: what it says, what comes of it, and every version it had.

An edit is a new piece; undo moves a cursor over the versions. Procedure and findings follow the cursor.
Nothing here knows of windows: pages take the model in their constructor and listen to its signals.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from psygnal import Signal

from bedview.checks.finding import Finding
from bedview.checks.folding import Folded, fold
from bedview.checks.of_piece import piece_findings
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.steps import Step
from bedview.store.piece_file import write_piece
from bedview.store.recovery import RecoveryCopies


@dataclass(frozen=True, slots=True)
class Version:
    """One version of the piece, and the edit that led to it ("Needles left at the end")."""

    piece: Piece
    edit: str


class OpenPiece:
    """A piece that is open.

    Args:
        piece: what it says now.
        path: where it is kept; None for a demo or one that was never saved.
        copies: where copies of unsaved edits lie, in case the program ends; None for none.
        name: what its copy is called while it has no path: the name of its demo, or a word.

    Signals:
        changed: piece, procedure and findings are new.
        saved: it was written to its path.
    """

    changed = Signal()
    saved = Signal()

    def __init__(
        self,
        piece: Piece,
        path: Path | None = None,
        copies: RecoveryCopies | None = None,
        name: str = "untitled",
    ) -> None:
        self.path = path
        self._copies = copies
        self._name = name
        self._versions = [Version(piece, "")]
        self._cursor = 0
        self._saved_at = 0
        self._procedure = compile_piece(piece)
        self._findings: list[Finding] | None = None
        self._folded: list[Folded] | None = None

    # -- what it says -------------------------------------------------------------------------------------

    @property
    def piece(self) -> Piece:
        """The version at the cursor."""
        return self._versions[self._cursor].piece

    @property
    def title(self) -> str:
        """Its title, or the name of its file."""
        return self.piece.title or (self.path.name.removesuffix(".piece.json") if self.path else "Untitled")

    @property
    def procedure(self) -> Procedure:
        """What hands and carriage do."""
        return self._procedure

    @property
    def steps(self) -> tuple[Step, ...]:
        """What is done between two glances, in order."""
        return self._procedure.steps

    @property
    def findings(self) -> list[Finding]:
        """All findings, in order."""
        if self._findings is None:
            self._findings = piece_findings(self.piece, self._procedure)
        return self._findings

    @property
    def folded(self) -> list[Folded]:
        """Findings for people, like ones in one segment told once."""
        if self._folded is None:
            self._folded = fold(self.findings, self.segment_of_action, self.piece.bed.needles)
        return self._folded

    def segment_of_action(self, action: int) -> int:
        """Index of the top-level segment an action belongs to."""
        return next(span.path[0] for span in self._procedure.top_spans() if action < span.stop)

    def step_of_line(self, line: int) -> int:
        """Index of the step a line belongs to."""
        return self._procedure.step_of_line(line).number

    def step_of_pass(self, pass_number: int) -> int:
        """Index of the step that makes a pass."""
        return self._procedure.step_of_pass(pass_number).number

    def step_of_finding(self, finding: Finding) -> int:
        """The step to look at for a finding."""
        if finding.action is None or not self.steps:
            return max(len(self.steps) - 1, 0)
        timeline = self._procedure.timeline
        line = timeline.line_of_action(finding.action)
        if timeline.event_of(line).is_pass:
            line = timeline.line_of_pass(finding.pass_number)
        return self.step_of_line(line)

    # -- editing ------------------------------------------------------------------------------------------

    def edit(self, piece: Piece, what: str) -> None:
        """Make ``piece`` the next version.

        Raises:
            PlanError: if it cannot be knitted to its end; nothing has changed then.
        """
        with self._compiled(piece):
            del self._versions[self._cursor + 1 :]
            if self._saved_at > self._cursor:
                self._saved_at = -1
            self._versions.append(Version(piece, what))
            self._cursor += 1

    def undo(self) -> None:
        """Go back to the version before, if there is one."""
        self._move_to(self._cursor - 1)

    def redo(self) -> None:
        """Go on to the version that was undone, if there is one."""
        self._move_to(self._cursor + 1)

    @property
    def undo_words(self) -> str:
        """What undo would take back; empty if nothing."""
        return self._versions[self._cursor].edit if self._cursor else ""

    @property
    def redo_words(self) -> str:
        """What redo would do again; empty if nothing."""
        following = self._cursor + 1
        return self._versions[following].edit if following < len(self._versions) else ""

    @property
    def unsaved(self) -> bool:
        """Whether it says something else than its file."""
        return self._cursor != self._saved_at

    def save(self, path: Path | None = None) -> None:
        """Write it to its path, or to another that becomes its path.

        Raises:
            OutputError: if it cannot be written; what stood there before still stands.
            ValueError: if it has no path and none is given.
        """
        target = path or self.path
        if target is None:
            raise ValueError("no path to save to")
        write_piece(target, self.piece)
        copied_as = self.copy_name
        self.path = target
        self._saved_at = self._cursor
        if self._copies is not None:
            self._copies.drop(copied_as)
        self.saved.emit()

    @property
    def copy_name(self) -> str:
        """What the copy of its unsaved edits is called."""
        return self._name if self.path is None else str(self.path.absolute())

    def keep_copy(self) -> None:
        """Keep a copy of edits that are not saved; drop it where there are none. May be called on any thread.

        Raises:
            OutputError: if it cannot be written; an earlier one still stands.
        """
        if self._copies is None:
            return
        if self.unsaved:
            self._copies.keep(self.copy_name, self.piece)
        else:
            self._copies.drop(self.copy_name)

    def _move_to(self, cursor: int) -> None:
        if not 0 <= cursor < len(self._versions) or cursor == self._cursor:
            return
        with self._compiled(self._versions[cursor].piece):
            self._cursor = cursor

    @contextmanager
    def _compiled(self, piece: Piece) -> Iterator[None]:
        """Compile ``piece`` first, then let the cursor move, then tell everyone; or put all back."""
        try:
            procedure = compile_piece(piece, self._procedure)
        except PlanError:
            self._procedure = compile_piece(self.piece, self._procedure)
            raise
        self._procedure = procedure
        yield
        self._findings = self._folded = None
        self.changed.emit()
