"""The parts of an open piece as they are edited: which are chosen, and what can be done with them.

Every edit is one step of undo and names itself. What cannot be done is told in one sentence, and the piece
stays as it was; what can be done but not knitted is kept, as
:class:`~bedview.session.open_piece.OpenPiece` says.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from psygnal import Signal

from bedview import language
from bedview.checks.folding import Folded
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.segments.base import Segment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.session import editing
from bedview.session.editing import EditError, Place
from bedview.session.new_parts import Ground, ground_at, new_part
from bedview.session.open_piece import OpenPiece
from bedview.session.repairs import Repair, mended


class PartsEditor:
    """Edits parts.

    Args:
        opened: the piece.

    Signals:
        chosen_changed: other parts are chosen.
        told: one sentence why something was not done.
    """

    chosen_changed = Signal()
    told = Signal(str)

    def __init__(self, opened: OpenPiece) -> None:
        self.opened = opened
        self._place: Place = (0,)
        self._count = 1
        opened.changed.connect(self._stay_inside)

    # -- choosing -----------------------------------------------------------------------------------------

    @property
    def place(self) -> Place:
        """The chosen part, or the first of several."""
        return self._place

    @property
    def count(self) -> int:
        """How many parts are chosen, side by side; 0 where there are none."""
        return min(self._count, len(self._siblings()))

    @property
    def part(self) -> Segment | None:
        """The chosen part, or the first of several; None where there are none."""
        return editing.part_at(self.opened.piece, self._place) if self.count else None

    def title_of(self, place: Place) -> str:
        """What a part is called: its title, or its kind."""
        return editing.part_at(self.opened.piece, place).called

    def choose(self, place: Place, count: int = 1) -> None:
        """Choose a part, or several side by side."""
        if (place, count) != (self._place, self._count):
            self.opened.end_gesture()
            self._place, self._count = place, count
            self.chosen_changed.emit()

    def extend(self, to: int) -> None:
        """Choose all parts from the chosen ones to the one at index ``to`` of the same list."""
        first, last = self._place[-1], self._place[-1] + self._count - 1
        first, last = min(first, to), max(last, to)
        self.choose((*self._place[:-1], first), last - first + 1)

    def _siblings(self) -> Sequence[Segment]:
        return editing.parts_in(self.opened.piece, self._place[:-1])

    def _stay_inside(self) -> None:
        """What was chosen may be gone: choose what is nearest to it."""
        place, piece = self._place, self.opened.piece
        while len(place) > 1 and not _is_repeat(piece, place[:-1]):
            place = place[:-1]
        there = len(editing.parts_in(piece, place[:-1]))
        index = max(0, min(place[-1], there - 1))
        place = (*place[:-1], index)
        count = max(1, min(self._count, there - index))
        if (place, count) != (self._place, self._count):
            self._place, self._count = place, count
            self.chosen_changed.emit()

    # -- parts --------------------------------------------------------------------------------------------

    def ground(self, place: Place) -> Ground:
        """What stands on the bed where a part could be put."""
        return ground_at(self.opened.piece, self.opened.procedure, place)

    def insert(self, kind: str, place: Place | None = None) -> None:
        """Put a new part of a kind before the one at ``place``; behind the chosen ones if left out."""
        at = place or self.behind()
        part = new_part(kind, self.ground(at))
        self._do(
            lambda piece: editing.inserted(piece, at, [part]),
            _("Add {part}").format(part=_in_a_sentence(part.says)),
            at,
        )

    def behind(self) -> Place:
        """The place behind the chosen parts."""
        return (*self._place[:-1], self._place[-1] + self.count)

    def take_out(self) -> None:
        """The chosen parts go."""
        if self.count:
            place, count = self._place, self.count
            what = _("Take out {part}").format(part=self._named())
            self._do(
                lambda piece: editing.taken_out(piece, place, count), what, self._left_after(place, count)
            )

    def copy(self) -> None:
        """The chosen parts stand there twice, and the copies are chosen."""
        if self.count:
            place, count, behind = self._place, self.count, self.behind()
            what = _("Copy {part}").format(part=self._named())
            self._do(lambda piece: editing.copied(piece, place, count), what, behind, count)

    def move_to(self, to: int) -> None:
        """The first of the chosen parts gets another index in its list."""
        place, count = self._place, self.count
        to = max(0, min(to, len(self._siblings()) - count))
        if count and to != place[-1]:
            what = _("Move {part}").format(part=self._named())
            self._do(lambda piece: editing.moved(piece, place, to, count), what, (*place[:-1], to), count)

    def move_by(self, by: int) -> None:
        """The chosen parts go so many places on."""
        self.move_to(self._place[-1] + by)

    def repeat(self, times: int = 2) -> None:
        """The chosen parts are put into a repeat."""
        if self.count:
            place, count = self._place, self.count
            what = _("Repeat {part}").format(part=self._named())
            self._do(lambda piece: editing.repeated(piece, place, count, times), what, place)

    def take_apart(self) -> None:
        """The chosen repeat becomes its parts, one by one."""
        place, part = self._place, self.part
        count = len(part.segments) * part.times if isinstance(part, RepeatSegment) else 1
        self._do(
            lambda piece: editing.taken_apart(piece, place),
            _("Take {part} apart").format(part=self._named()),
            place,
            count,
        )

    def put_fields(self, changes: dict[str, Any], what: str, gesture: str = "") -> None:
        """Change fields of the chosen part.

        Raises:
            EditError: if a value is wrong; nothing has changed then.
        """
        piece = editing.with_fields(self.opened.piece, self._place, changes)
        if piece != self.opened.piece:
            self.opened.revise(piece, what, gesture)

    def put_part(self, part: Segment, what: str, gesture: str = "") -> None:
        """Another part in the place of the chosen one."""
        if part != self.part:
            self.opened.revise(editing.replaced(self.opened.piece, self._place, part), what, gesture)

    def mend(self, folded: Folded, repair: Repair) -> None:
        """Mend a finding."""
        opened = self.opened
        self._do(lambda piece: mended(repair, folded, piece, opened.procedure), repair.title, self._place)

    # -- doing --------------------------------------------------------------------------------------------

    def apply(self, change: Callable[[Piece], Piece], what: str, gesture: str = "") -> bool:
        """Do any edit of the piece; tell why if it cannot be done. Returns whether it was."""
        try:
            piece = change(self.opened.piece)
        except EditError as error:
            self.told.emit(f"{what}: {error.message}.")
            return False
        if piece != self.opened.piece:
            self.opened.revise(piece, what, gesture)
        return True

    def _do(self, change: Callable[[Piece], Piece], what: str, then: Place, count: int = 1) -> None:
        self.opened.end_gesture()
        chosen = self._place, self._count
        # Chosen first, so that whoever follows the piece finds the right part chosen already.
        self._place, self._count = then, count
        if not self.apply(change, what):
            self._place, self._count = chosen
        elif chosen != (self._place, self._count):
            self.chosen_changed.emit()

    def _left_after(self, place: Place, count: int) -> Place:
        left = len(self._siblings()) - count
        return (*place[:-1], max(0, min(place[-1], left - 1)))

    def _named(self) -> str:
        return self.title_of(self._place) if self.count == 1 else _("{count} parts").format(count=self.count)


def _in_a_sentence(says: str) -> str:
    """The name of a kind of part behind other words: small in English alone, for others write nouns large."""
    return says.lower() if language.code() == language.ENGLISH else _(says)


def _is_repeat(piece: Piece, place: Place) -> bool:
    try:
        return isinstance(editing.part_at(piece, place), RepeatSegment)
    except IndexError:
        return False
