"""Regauge: what becomes of the piece with another yarn or on another bed, part by part, before it is done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bedview.checks.of_piece import piece_findings
from bedview.plan.gauge import length_mm_of, width_mm_of
from bedview.plan.gauge_carried import CarryError, NewGround, carried
from bedview.plan.piece import Gauge, Piece
from bedview.plan.procedure import PlanError, Procedure, compile_piece
from bedview.plan.starters import StarterError
from bedview.plan.starters.parameter import Given
from bedview.plan.starters.remaking import edited_since, remake
from bedview.session.part_figures import part_figures


@dataclass(frozen=True, slots=True)
class PartBefore:
    """A part in figures.

    Attributes:
        needles: how many knit in its last row.
        rows: how many it makes.
        width_mm: of its last row, by the gauge.
        length_mm: of its rows.
    """

    needles: int
    rows: int
    width_mm: float
    length_mm: float


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part before and after.

    Attributes:
        title: what it is called.
        before: as it is planned.
        after: by the new gauge; None if the plan breaks off before it.
    """

    title: str
    before: PartBefore
    after: PartBefore | None


@dataclass(frozen=True, slots=True)
class Regauged:
    """The piece by another gauge.

    Attributes:
        piece: the piece.
        parts: those that make rows, in order.
        trouble: why it cannot be knitted to its end; empty if it can.
        left: what was not carried over, a sentence each.
        made_again: whether its measures made it anew, so that every shaping is as the starter has it.
        new_findings: how many more findings it has than the piece as it is planned.
    """

    piece: Piece
    parts: tuple[PartChange, ...]
    trouble: str
    left: tuple[str, ...]
    made_again: bool
    new_findings: int = 0


def regauged(procedure: Procedure, old: Gauge, ground: NewGround) -> Regauged:
    """Carry the piece over to another yarn or bed.

    A starter's piece that nobody changed by hand is made again from its measures; any other is carried over
    count by count.

    Args:
        procedure: the piece compiled.
        old: its gauge of the yarn that is to be another.
        ground: the new yarn and bed.

    Raises:
        CarryError: if it has no place on the new bed.
    """
    again = _made_again(procedure.piece, old, ground)
    if again is None:
        found = carried(procedure, old, ground)
        parts = _changes(procedure, found.procedure, old, ground.gauge)
        more = _more_findings(procedure, found.procedure) if not found.trouble else 0
        return Regauged(found.piece, parts, found.trouble, found.left, made_again=False, new_findings=more)
    try:
        new, trouble = compile_piece(again), ""
    except PlanError as error:
        new, trouble = error.procedure, error.message
    return Regauged(again, _changes(procedure, new, old, ground.gauge), trouble, (), made_again=True)


def _more_findings(old: Procedure, new: Procedure) -> int:
    before, after = (len(piece_findings(each.piece, each)) for each in (old, new))
    return max(0, after - before)


def _made_again(piece: Piece, old: Gauge, ground: NewGround) -> Piece | None:
    """The piece as its starter makes it; None if none did, or hands changed it since."""
    if piece.made_by is None:
        return None
    try:
        if edited_since(piece):
            return None
    except StarterError:
        return None
    prefix = "" if old.yarn == "main" else f"{old.yarn}_"
    share = 100 / ground.gauge.over_mm
    changes: dict[str, Given | None] = {
        f"{prefix}stitches": ground.gauge.stitches * share,
        f"{prefix}rows": ground.gauge.rows * share,
        f"{prefix}tension": ground.gauge.tension,
        "needles": ground.bed.needles,
        "pitch": ground.bed.pitch_mm,
    }
    if ground.yarn.get("tex") is not None:
        changes[f"{prefix}tex"] = ground.yarn["tex"]
    try:
        made = remake(piece, changes)
    except StarterError as error:
        raise CarryError(str(error)) from None
    return _called(made, old.yarn, ground.yarn)


def _called(piece: Piece, yarn: str, fields: dict[str, Any]) -> Piece:
    document = piece.to_document()
    document["yarns"] = [{**each, **fields} if each["id"] == yarn else each for each in document["yarns"]]
    return Piece.read(document)


def _changes(old: Procedure, new: Procedure, before: Gauge, after: Gauge) -> tuple[PartChange, ...]:
    """Parts that make rows, side by side; where there are others now, by their order."""
    found: list[PartChange] = []
    for place, segment in enumerate(old.piece.segments):
        was = _figures(old, place, before)
        now = _figures(new, place, after)
        if was is not None and was.rows:
            found.append(PartChange(segment.called, was, now))
    return tuple(found)


def _figures(procedure: Procedure, place: int, gauge: Gauge) -> PartBefore | None:
    figures = part_figures(procedure, (place,)) if place < procedure.finished else None
    if figures is None:
        return None
    needles = figures.needles[1]
    if not needles:
        # Its last row drops from the needles: waste, which has no size to keep.
        return None
    return PartBefore(needles, figures.rows, width_mm_of(needles, gauge), length_mm_of(figures.rows, gauge))
