"""Repairs: what could mend a finding, each as one edit that undo takes back.

A repair is offered by the rule and by the part the finding lies in. It may know several ways; all are tried
on the bed, and the one that leaves least of the finding, and brings no new error with it, is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

from bedview.checks.finding import Finding, Severity
from bedview.checks.folding import Folded
from bedview.checks.of_piece import piece_findings
from bedview.language import gettext as _
from bedview.plan.piece import Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.session import action_repairs, editing
from bedview.session.editing import EditError, Place
from bedview.session.new_parts import at_the_end

Edit = Callable[[Piece], Piece]
ENOUGH_WASTE: Final = 8
"""Rows of waste that hold; seven or eight is usual."""


@dataclass(frozen=True, slots=True)
class Repair:
    """One thing to do about a finding.

    Attributes:
        title: what stands on its button, and what undo calls it.
        ways: how to do it, the likeliest first.
    """

    title: str
    ways: tuple[Edit, ...]


def repairs_for(folded: Folded, piece: Piece, procedure: Procedure) -> tuple[Repair, ...]:
    """What could be done about a finding, the best first; none where only the knitter knows."""
    found = [each for each in _by_rule(folded, piece, procedure) if each.ways]
    if folded.severity is not Severity.NOTE and folded.stretch >= 0:
        found.append(Repair(_("It is meant so"), (partial(_meant, folded.stretch, folded.rule),)))
    return tuple(found)


def mended(repair: Repair, folded: Folded, piece: Piece, procedure: Procedure) -> Piece:
    """The piece with a finding mended.

    Raises:
        EditError: if none of the repair's ways helps here.
    """
    before = piece_findings(piece, procedure)
    best, least = None, _weight(before, folded)
    for way in repair.ways:
        try:
            tried = way(piece)
            found = piece_findings(tried, compile_piece(tried))
        except (EditError, PlanError):
            continue
        weight = _weight(found, folded)
        if weight < least and _errors(found) <= _errors(before):
            best, least = tried, weight
        if least == (0, 0):
            break
    if best is None:
        raise EditError(_("that does not help here; look at it on the bed"))
    return best


def _weight(found: list[Finding], folded: Folded) -> tuple[int, int]:
    """How much is left of a finding: as many as bad as it, then as many at all."""
    alike = [each for each in found if each.rule == folded.rule]
    return sum(each.severity is folded.severity for each in alike), len(alike)


def _errors(found: list[Finding]) -> int:
    return sum(each.severity is Severity.ERROR for each in found)


def _meant(place: int, rule: str, piece: Piece) -> Piece:
    return editing.meant(piece, (place,), rule)


# -- by rule ----------------------------------------------------------------------------------------------


def _by_rule(folded: Folded, piece: Piece, procedure: Procedure) -> Iterator[Repair]:
    rule = folded.rule
    if rule == "opening":
        yield Repair(_("Wrap by hand"), tuple(_hand_wraps(folded, piece)))
    elif rule == "waste-too-short":
        yield Repair(
            _("Knit {rows} rows of waste").format(rows=ENOUGH_WASTE),
            tuple(_more_waste(folded.stretch, piece)),
        )
    elif rule == "stitches-left":
        yield Repair(_("Scrap them off at the end"), (partial(at_the_end, "scrap_off"),))
        yield Repair(_("Bind them off at the end"), (partial(at_the_end, "bind_off"),))
    elif rule == "seam-mismatch":
        yield Repair(_("Ease them with a mattress seam"), tuple(_mattress(piece)))
    if 0 <= folded.stretch < len(piece.segments) and folded.first.action is not None:
        part = piece.segments[folded.stretch]
        if isinstance(part, ActionsSegment):
            ways = action_repairs.repairs(folded.first, part, procedure)
            yield from (Repair(title, _at(folded.stretch, parts)) for title, parts in ways)


def _at(place: int, parts: tuple[ActionsSegment, ...]) -> tuple[Edit, ...]:
    return tuple(partial(_put, place, part) for part in parts)


def _put(place: int, part: ActionsSegment, piece: Piece) -> Piece:
    return editing.replaced(piece, (place,), part)


def _hand_wraps(folded: Folded, piece: Piece) -> Iterator[Edit]:
    """Hand wraps in the part of the gap first, then in the parts before it, the nearest first."""
    for top in range(folded.stretch, -1, -1):
        for place in _places(piece, (top,)):
            yield from _wrapping(place, piece)


def _wrapping(place: Place, piece: Piece) -> Iterator[Edit]:
    part = editing.part_at(piece, place)
    wraps, back = getattr(part, "wraps", "hand"), getattr(part, "back", None)
    on_the_way_back: dict[str, Any] = {}
    if back is not None and back.wraps != "hand":
        on_the_way_back = {"back": back.model_dump(exclude_unset=True) | {"wraps": "hand"}}
        yield partial(editing.with_fields, place=place, changes=on_the_way_back)
    if wraps != "hand":
        yield partial(editing.with_fields, place=place, changes={"wraps": "hand"})
        if on_the_way_back:
            yield partial(editing.with_fields, place=place, changes={"wraps": "hand", **on_the_way_back})


def _more_waste(stretch: int, piece: Piece) -> Iterator[Edit]:
    """Enough waste in the part where it drops, or where it was cast on before."""
    for top in range(stretch, -1, -1):
        for place in _places(piece, (top,)):
            part = editing.part_at(piece, place)
            if isinstance(part, ScrapOffSegment) and part.rows < ENOUGH_WASTE:
                yield partial(editing.with_fields, place=place, changes={"rows": ENOUGH_WASTE})
            if isinstance(part, CastOnSegment) and part.how == "waste" and part.waste_rows < ENOUGH_WASTE:
                yield partial(editing.with_fields, place=place, changes={"waste_rows": ENOUGH_WASTE})


def _mattress(piece: Piece) -> Iterator[Edit]:
    for number, seam in enumerate(piece.seams):
        if seam.kind == "graft":
            yield partial(_sewn, number)


def _sewn(number: int, piece: Piece) -> Piece:
    seams = [seam.model_dump(exclude_unset=True) for seam in piece.seams]
    seams[number]["kind"] = "mattress"
    return editing.with_piece_fields(piece, {"seams": seams})


def _places(piece: Piece, place: Place) -> Iterator[Place]:
    """A place, and those inside it."""
    part = editing.part_at(piece, place)
    yield place
    if isinstance(part, RepeatSegment):
        for inner in range(len(part.segments)):
            yield from _places(piece, (*place, inner))
