"""Edits: functions from a piece to the next one. None of them changes anything; undo keeps what was.

A part is named by its place: its index in the piece, then its index in each repeat on the way down to it. A
stretch of parts is the place of its first, and how many there are side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Final

from pydantic import ValidationError

from bedview.language import gettext as _
from bedview.plan.fields import BedNeedles
from bedview.plan.piece import Piece
from bedview.plan.problems import TOP, first_problem
from bedview.plan.segments.base import Segment
from bedview.plan.segments.repeat import DEEPEST, RepeatSegment

Place = tuple[int, ...]
Parts = tuple[Segment, ...]

MOST_TAKEN_APART: Final = 200
"""Parts that a repeat may come to when it is taken apart; nobody could find their way among more."""


class EditError(ValueError):
    """An edit that makes no piece, with the reason in one sentence; the piece stands as it was.

    Attributes:
        field: the field at fault, or "".
        message: the reason.
    """

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.field = field
        self.message = message


# -- parts ------------------------------------------------------------------------------------------------


def parts_in(piece: Piece, above: Place = ()) -> Parts:
    """The parts of the piece, or of the repeat at a place."""
    found: Parts = piece.segments
    for index in above:
        repeat = found[index]
        if not isinstance(repeat, RepeatSegment):
            raise IndexError(f"no repeat at {above}")
        found = repeat.segments
    return found


def part_at(piece: Piece, place: Place) -> Segment:
    """The part at a place.

    Raises:
        IndexError: if there is none.
    """
    return parts_in(piece, place[:-1])[place[-1]]


def inserted(piece: Piece, place: Place, parts: Sequence[Segment]) -> Piece:
    """Parts put in before the one that stands at ``place``; at the end where none does."""
    at = place[-1]
    return _with_list(piece, place[:-1], lambda old: (*old[:at], *parts, *old[at:]))


def taken_out(piece: Piece, place: Place, count: int = 1) -> Piece:
    """So many parts from ``place`` on are gone.

    Raises:
        EditError: if a repeat would hold nothing.
    """
    at = place[-1]
    if len(place) > 1 and len(parts_in(piece, place[:-1])) <= count:
        raise EditError(_("a repeat holds at least one part; take the repeat itself out"))
    return _with_list(piece, place[:-1], lambda old: (*old[:at], *old[at + count :]))


def copied(piece: Piece, place: Place, count: int = 1) -> Piece:
    """So many parts from ``place`` on stand there twice, the copies behind."""
    start, stop = place[-1], place[-1] + count
    return _with_list(piece, place[:-1], lambda old: (*old[:stop], *old[start:stop], *old[stop:]))


def moved(piece: Piece, place: Place, to: int, count: int = 1) -> Piece:
    """So many parts from ``place`` on stand elsewhere in their list.

    Args:
        piece: the piece.
        place: of the first.
        to: the index the first shall have.
        count: how many.
    """
    at = place[-1]

    def change(old: Parts) -> Parts:
        rest = (*old[:at], *old[at + count :])
        return (*rest[:to], *old[at : at + count], *rest[to:])

    return _with_list(piece, place[:-1], change)


def replaced(piece: Piece, place: Place, part: Segment) -> Piece:
    """Another part in the place of one."""
    at = place[-1]
    return _with_list(piece, place[:-1], lambda old: (*old[:at], part, *old[at + 1 :]))


def repeated(piece: Piece, place: Place, count: int = 1, times: int = 2) -> Piece:
    """So many parts from ``place`` on, put into a repeat.

    Raises:
        EditError: if repeats would lie in each other too deep.
    """
    at = place[-1]
    inside = parts_in(piece, place[:-1])[at : at + count]
    depth = max((part.depth() for part in inside if isinstance(part, RepeatSegment)), default=0)
    if len(place) + depth > DEEPEST:
        raise EditError(_("repeats lie in each other {deepest} deep at most").format(deepest=DEEPEST))
    repeat = RepeatSegment.model_validate({"kind": "repeat", "times": times, "segments": inside})
    return _with_list(piece, place[:-1], lambda old: (*old[:at], repeat, *old[at + count :]))


def taken_apart(piece: Piece, place: Place) -> Piece:
    """The parts of a repeat one by one, as often as it repeats them: the fabric stays the same.

    Raises:
        EditError: if there would be too many.
    """
    repeat = part_at(piece, place)
    if not isinstance(repeat, RepeatSegment):
        raise EditError(_("only a repeat can be taken apart"))
    parts = repeat.segments * repeat.times
    if len(parts) > MOST_TAKEN_APART:
        raise EditError(
            _("that would be {count} parts; repeat them fewer times first").format(count=len(parts))
        )
    at = place[-1]
    return _with_list(piece, place[:-1], lambda old: (*old[:at], *parts, *old[at + 1 :]))


def with_fields(piece: Piece, place: Place, changes: dict[str, Any]) -> Piece:
    """Some fields of a part changed, and the part checked again.

    Args:
        piece: the piece.
        place: of the part.
        changes: values by field, as the file writes them; None leaves a field out.

    Raises:
        EditError: naming the field, if a value is wrong.
    """
    return replaced(piece, place, part_with(part_at(piece, place), changes, piece.bed.needles))


def part_with(part: Segment, changes: dict[str, Any], bed_needles: int) -> Segment:
    """A part with some fields changed; see :func:`with_fields`."""
    # What is not touched was checked when it came in, and a part may hold thousands of actions.
    kept = {key: getattr(part, key) for key in part.model_fields_set if key not in changes}
    document = kept | {key: new for key, new in changes.items() if new is not None}
    try:
        return type(part).model_validate(document, context=BedNeedles(bed_needles))
    except ValidationError as error:
        raise _as_edit_error(error, document, type(part).model_json_schema) from None


# -- the piece as a whole ---------------------------------------------------------------------------------


def with_piece_fields(piece: Piece, changes: dict[str, Any]) -> Piece:
    """Title, bed, yarns, gauges or seams changed, as the file writes them, and all of it checked again.

    Raises:
        EditError: if it would be no piece.
    """
    document = {key: value for key, value in (piece.to_document() | changes).items() if value is not None}
    try:
        return Piece.read(document)
    except ValidationError as error:
        raise _as_edit_error(error, document, Piece.model_json_schema) from None


def with_bed(piece: Piece, changes: dict[str, Any]) -> Piece:
    """The bed changed.

    Raises:
        EditError: if a value is wrong, or a part names needles that are not there any more.
    """
    return with_piece_fields(piece, {"bed": piece.bed.model_dump(exclude_unset=True) | changes})


def with_yarn(piece: Piece, place: int, changes: dict[str, Any]) -> Piece:
    """A yarn changed, or added where none stands at ``place``; None leaves a field out.

    Raises:
        EditError: if a value is wrong.
    """
    yarns = [yarn.model_dump(exclude_unset=True) for yarn in piece.yarns]
    old = yarns[place] if place < len(yarns) else {}
    new = {key: value for key, value in (old | changes).items() if value is not None}
    return with_piece_fields(piece, {"yarns": [*yarns[:place], new, *yarns[place + 1 :]]})


def without_yarn(piece: Piece, place: int) -> Piece:
    """A yarn taken out, and its gauges with it."""
    gone = piece.yarns[place].id
    return with_piece_fields(
        piece,
        {
            "yarns": [yarn.model_dump(exclude_unset=True) for yarn in piece.yarns if yarn.id != gone],
            "gauges": [gauge.model_dump(exclude_unset=True) for gauge in piece.gauges if gauge.yarn != gone],
        },
    )


def with_gauges(piece: Piece, gauges: Iterable[dict[str, Any]]) -> Piece:
    """Other gauges.

    Raises:
        EditError: if a value is wrong.
    """
    return with_piece_fields(piece, {"gauges": list(gauges)})


def with_gauge(piece: Piece, gauge: dict[str, Any]) -> Piece:
    """A gauge in the place of that of its yarn and tension, or added.

    Raises:
        EditError: if a value is wrong.
    """
    key = (gauge["yarn"], gauge["tension"])
    old = [each.model_dump(exclude_unset=True) for each in piece.gauges]
    new = [gauge if (each["yarn"], each["tension"]) == key else each for each in old]
    return with_gauges(piece, new if gauge in new else [*old, gauge])


def meant(piece: Piece, place: Place, rule: str) -> Piece:
    """A part that means what a rule would warn of."""
    rules = part_at(piece, place).meant
    return piece if rule in rules else with_fields(piece, place, {"meant": (*rules, rule)})


def _with_list(piece: Piece, above: Place, change: Callable[[Parts], Parts]) -> Piece:
    """The piece with the list of parts at a place changed."""
    if not above:
        return piece.model_copy(update={"segments": change(piece.segments)})
    outer = part_at(piece, above)
    assert isinstance(outer, RepeatSegment)
    return replaced(piece, above, outer.model_copy(update={"segments": change(outer.segments)}))


def _as_edit_error(
    error: ValidationError, document: object, schema: Callable[[], dict[str, Any]]
) -> EditError:
    problem = first_problem(error, document, schema)
    field = "" if problem.where == TOP else problem.where
    return EditError(problem.what, field)
