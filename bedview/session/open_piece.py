"""One open piece: what it says, what comes of it, and every version it had.

An edit is a new piece; undo moves a cursor over the versions. Procedure and findings follow the cursor.
Nothing here knows of windows: pages take the model in their constructor and listen to its signals.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from psygnal import Signal

from bedview.checks.finding import Finding
from bedview.checks.folding import Folded, fold
from bedview.checks.of_piece import piece_findings
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.steps import Step
from bedview.session.machine import Machine
from bedview.session.machine_words import MachineWords
from bedview.session.seams_following import RowsOfParts, hung_followed, rows_of_parts, seams_followed
from bedview.store.piece_file import write_piece
from bedview.store.recovery import RecoveryCopies


@dataclass(frozen=True, slots=True)
class Version:
    """One version of the piece.

    Attributes:
        piece: what it says.
        edit: the edit that led to it ("Needles left at the end").
        rows: how many rows its parts make.
        gesture: what of the user's led to it, as long as that may go on: a drag, the typing of a number.
    """

    piece: Piece
    edit: str
    rows: RowsOfParts
    gesture: str = ""


class OpenPiece:
    """A piece that is open.

    A version that cannot be knitted to its end is kept all the same: the procedure then ends before the part
    that cannot be done, and :attr:`trouble` says why.

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
        *,
        is_new: bool = False,
    ) -> None:
        self.path = path
        self._copies = copies
        self._name = name
        self._machine = Machine()
        self._procedure, self._trouble = _compiled_as_far(piece, None)
        self._versions = [Version(piece, "", rows_of_parts(self._procedure, piece))]
        self._cursor = 0
        self._saved_at = -1 if is_new else 0
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
        return self.piece.title or (
            self.path.name.removesuffix(".piece.json") if self.path else _("Untitled")
        )

    @property
    def procedure(self) -> Procedure:
        """What hands and carriage do."""
        return self._procedure

    @property
    def trouble(self) -> PlanError | None:
        """Why the piece cannot be knitted to its end; None if it can."""
        return self._trouble

    @property
    def steps(self) -> tuple[Step, ...]:
        """What is done between two glances, in order."""
        return self._procedure.steps

    @property
    def findings(self) -> list[Finding]:
        """All findings, in order."""
        if self._findings is None:
            found = piece_findings(self.piece, self._procedure)
            # What only shows at the end cannot be told before there is one.
            self._findings = [each for each in found if not self._trouble or each.action is not None]
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
        with self._compiled(piece, strict=True) as procedure:
            self._append(Version(piece, what, rows_of_parts(procedure, piece, self._version.rows)))

    def revise(self, piece: Piece, what: str, gesture: str = "") -> None:
        """Make ``piece`` the next version, whether it can be knitted to its end or not.

        Edges that are named by their passes stay at the rows they meant, unless the edit is about them.

        Args:
            piece: what it says now.
            what: the edit, as undo names it.
            gesture: edits of one gesture, one straight after the other, become one version.
        """
        is_last = self._cursor == len(self._versions) - 1
        going_on = bool(gesture) and self._version.gesture == gesture and is_last
        base = self._versions[self._cursor - 1] if going_on else self._version
        follow = piece.seams == self.piece.seams
        if going_on and follow:
            # Rows are followed from where the gesture began; what it moved on the way has no say.
            piece = piece.model_copy(update={"seams": base.piece.seams})
        procedure, _ = _compiled_as_far(piece, self._procedure)
        self._procedure = procedure
        rows = rows_of_parts(procedure, piece, base.rows)
        if follow:
            piece = seams_followed(piece, base.rows, rows)
            piece = hung_followed(piece, self._version.rows, rows)
        rows = RowsOfParts(piece.segments, rows.rows)
        with self._compiled(piece):
            if going_on:
                self._drop_last()
            self._append(Version(piece, what, rows, gesture))

    def end_gesture(self) -> None:
        """What comes next is a step of its own, even if it is like the last."""
        if self._version.gesture:
            self._versions[self._cursor] = replace(self._version, gesture="")

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
            raise ValueError(_("no path to save to"))
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

    def _move_to(self, cursor: int, *, again: bool = False) -> None:
        if not 0 <= cursor < len(self._versions) or (cursor == self._cursor and not again):
            return
        with self._compiled(self._versions[cursor].piece):
            self._cursor = cursor
            self.end_gesture()

    @property
    def machine(self) -> Machine:
        """The machine in whose words all is said."""
        return self._machine

    def speak_for(self, machine: Machine) -> None:
        """Say all steps in the words of a machine."""
        if machine != self._machine:
            self._machine = machine
            self._move_to(self._cursor, again=True)

    @property
    def _version(self) -> Version:
        return self._versions[self._cursor]

    def _append(self, version: Version) -> None:
        del self._versions[self._cursor + 1 :]
        if self._saved_at > self._cursor:
            self._saved_at = -1
        self._versions.append(version)
        self._cursor += 1

    def _drop_last(self) -> None:
        if self._saved_at == self._cursor:
            self._saved_at = -1
        self._versions.pop()
        self._cursor -= 1

    @contextmanager
    def _compiled(self, piece: Piece, *, strict: bool = False) -> Iterator[Procedure]:
        """Compile ``piece`` first, then let the cursor move, then tell everyone; or put all back."""
        procedure, trouble = _compiled_as_far(piece, self._procedure)
        if strict and trouble is not None:
            self._procedure, self._trouble = _compiled_as_far(self.piece, procedure)
            raise trouble
        self._procedure, self._trouble = self.spoken(procedure), trouble
        yield procedure
        self._findings = self._folded = None
        self.changed.emit()

    def spoken(self, procedure: Procedure) -> Procedure:
        """A procedure of this piece, or of what became of it, in the words of the machine."""
        if self._machine.is_usual:
            return procedure
        piece = procedure.piece
        return procedure.spoken(MachineWords(piece.bed.needles, piece.yarns, self._machine))


def _compiled_as_far(piece: Piece, previous: Procedure | None) -> tuple[Procedure, PlanError | None]:
    """The procedure of a piece, or as much of it as can be done, and why no more."""
    try:
        return compile_piece(piece, previous), None
    except PlanError as error:
        return error.procedure, error
