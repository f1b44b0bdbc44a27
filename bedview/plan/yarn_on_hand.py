"""Yarn on hand: where it runs out, and where the next ball is best begun."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Position
from bedview.language import gettext
from bedview.language import gettext as _
from bedview.plan.loop_choice import LoopLength, loop_length
from bedview.plan.loop_length import Relaxation
from bedview.plan.procedure import Procedure
from bedview.plan.swatch import EDGE_WIDTHS, KnittedSwatch
from bedview.plan.units import LengthUnit, UnitError, parse_length_mm, parse_mass_g
from bedview.plan.yarn import MEASURED_STATE, WRAP_WIDTHS
from bedview.plan.yarn_counts import metres_of
from bedview.plan.yarn_use import KINDS, YarnUse, tails

JOIN_TAIL_CM: Final = 15.0
"""What is left at each end where a new ball begins, to darn in (common practice)."""
MOST_BALLS: Final = 200
_SEVERAL: Final = re.compile(r"\s*(?:([0-9]{1,3})\s*[x×*]\s*)?(.*\S)\s*")
_MASS: Final = re.compile(r".*[0-9]\s*(?:g|kg|oz|lb)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Join:
    """Where a new ball begins.

    Attributes:
        pass_number: the first pass of the new ball.
        row: what the row counter shows after it.
        in_short_rows: whether needles with stitches are in hold there, for want of a better place.
    """

    pass_number: int
    row: int
    in_short_rows: bool


@dataclass(frozen=True, slots=True)
class RunsOut:
    """Where the yarn comes to its end.

    Attributes:
        early_pass: the first pass it may not last for, the margin taken into account.
        early_row: what the row counter shows after it.
        likely_pass: the first pass it is not expected to last for; None if it is expected to do.
        likely_row: what the row counter shows after that.
    """

    early_pass: int
    early_row: int
    likely_pass: int | None
    likely_row: int | None


@dataclass(frozen=True, slots=True)
class OnHand:
    """How far the balls at hand go.

    Attributes:
        yarn: id.
        joins: where each ball after the first begins.
        runs_out: where the last ball comes to its end; None if it lasts, margin and all.
        margin: the part by which the figures may be off, at the worst of its dials.
    """

    yarn: str
    joins: tuple[Join, ...]
    runs_out: RunsOut | None
    margin: float = 0.0

    def says(self) -> str:
        """One line: "runs out near row 84"."""
        if self.runs_out is None:
            return gettext("lasts to the end")
        if self.runs_out.likely_row is None:
            return gettext("may run out from row {row} on").format(row=self.runs_out.early_row)
        return gettext("runs out near row {row}").format(row=self.runs_out.likely_row)


def parse_balls(text: str, tex: float | None) -> tuple[float, ...]:
    """Read what lies at hand, by weight or by length: ``3 x 50 g, 20 g`` or ``2 x 120 m``.

    Args:
        text: balls in the order they are used, ``;`` or a comma and a space between different ones.
        tex: grams of 1,000 metres, to turn weights into lengths; None if nobody knows.

    Returns:
        Metres of each ball.

    Raises:
        UnitError: if it cannot be read, or weights have no tex.
    """
    balls: list[float] = []
    for part in re.split(r";|,\s", text.strip().rstrip(";,")):
        match = _SEVERAL.fullmatch(part)
        if match is None:
            raise UnitError(gettext("write balls such as 3 x 50 g, 20 g or 2 x 120 m"))
        times, each = int(match[1] or 1), match[2]
        if not _MASS.fullmatch(each):
            metres = parse_length_mm(each, LengthUnit.M) / 1000
        elif tex is None:
            raise UnitError(
                gettext("weight tells the length of a yarn only by its tex; give that, or metres")
            )
        else:
            metres = metres_of(parse_mass_g(each), tex)
        if metres <= 0 or not 1 <= times <= MOST_BALLS - len(balls):
            raise UnitError(gettext("write 1 to {most} balls, each with some yarn").format(most=MOST_BALLS))
        balls.extend([metres] * times)
    return tuple(balls)


def on_hand(
    procedure: Procedure,
    yarn: str,
    balls_m: Sequence[float],
    swatches: Sequence[KnittedSwatch] = (),
    state: Relaxation = MEASURED_STATE,
) -> OnHand:
    """Where the balls of a yarn come to their ends.

    Args:
        procedure: the piece compiled.
        yarn: id of one of its yarns.
        balls_m: metres of each ball, in the order they are used.
        swatches: swatches on record.
        state: how far the gauges of the piece had come to rest.

    Returns:
        The joins, each before its ball may end, kept out of short rows where one can be; and where the last
        ball ends.

    Raises:
        ValueError: if the piece has no such yarn.
    """
    index = next((place for place, each in enumerate(procedure.piece.yarns) if each.id == yarn), None)
    if index is None:
        raise ValueError(_("the yarn '{yarn}' is not in the piece").format(yarn=yarn))
    likely, early, margin = _used_by_pass(procedure, index, swatches, state)
    joins: list[Join] = []
    begun = 0
    for ball, metres in enumerate(balls_m):
        last = ball == len(balls_m) - 1
        tails_mm = JOIN_TAIL_CM * 10 * ((ball > 0) + (not last))
        ends = _runs_out(procedure, likely, early, begun, metres * 1000 - tails_mm)
        if ends is None or last:
            return OnHand(yarn, tuple(joins), ends, margin)
        joins.append(_join(procedure, early, begun, ends.early_pass))
        begun = joins[-1].pass_number
    return OnHand(yarn, tuple(joins), _runs_out(procedure, likely, early, begun, 0), margin)


def _runs_out(
    procedure: Procedure,
    likely: npt.NDArray[np.float64],
    early: npt.NDArray[np.float64],
    begun: int,
    ball_mm: float,
) -> RunsOut | None:
    """Where a ball ends that begins with the pass ``begun``; ``likely`` and ``early`` are mm used a pass."""
    ends: list[int | None] = []
    for used in (early, likely):
        over = np.flatnonzero(np.cumsum(used[begun:]) > ball_mm + 1e-6)
        ends.append(begun + int(over[0]) if len(over) else None)
    first, expected = ends
    if first is None:
        return None
    expected_row = None if expected is None else _row(procedure, expected)
    return RunsOut(first, _row(procedure, first), expected, expected_row)


def _join(procedure: Procedure, used: npt.NDArray[np.float64], begun: int, before: int) -> Join:
    """The last good place for a new ball behind the pass ``begun`` and no later than ``before``."""
    passes = [number for number in range(before, begun, -1) if used[number] > 0 and number > 0]
    for number in passes:
        if not _short(procedure, number):
            return Join(number, _row(procedure, number), in_short_rows=False)
    number = passes[0] if passes else min(max(before, begun + 1), procedure.timeline.passes)
    return Join(number, _row(procedure, number), in_short_rows=True)


def _short(procedure: Procedure, pass_number: int) -> bool:
    """Whether needles with stitches wait in hold while a pass is made."""
    timeline = procedure.timeline
    before = timeline.state_at(timeline.line_of_pass(pass_number) - 1)
    return bool(before.hold_cams and ((before.position == Position.HOLD) & (before.height > 0)).any())


def _row(procedure: Procedure, pass_number: int) -> int:
    return procedure.timeline.state_after_pass(pass_number).row


def _used_by_pass(
    procedure: Procedure, yarn: int, swatches: Sequence[KnittedSwatch], state: Relaxation
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], float]:
    """Millimetres of a yarn that each pass takes, as expected and with the margin, and the largest margin.

    Index 0 is before the first pass; what hands do after a pass counts with it.
    """
    counted = YarnUse(procedure)
    piece = procedure.piece
    passes = procedure.timeline.passes + 1
    size = len(counted.groups)
    kind_mm, margin, ours = np.zeros((size, KINDS)), np.zeros(size), np.zeros(size, np.bool_)
    for place, group in enumerate(counted.groups):
        if group.yarn == yarn:
            loop = loop_length(piece, piece.yarns[yarn], group.dial, swatches, state)
            kind_mm[place], margin[place], ours[place] = _lengths(loop), loop.margin, True
    likely, early, worst = np.zeros(passes), np.zeros(passes), 0.0
    for batch in counted.batches():
        mine = ours[batch.group]
        at = batch.group[mine]
        mm = kind_mm[at, batch.kind[mine]] + batch.float_columns[mine] * piece.bed.pitch_mm
        likely += np.bincount(batch.passes[mine], mm, passes)
        early += np.bincount(batch.passes[mine], mm * (1 + margin[at]), passes)
        worst = max(worst, float(margin[at].max(initial=0)))
    for tail in tails(procedure):
        if tail.yarn == yarn:
            likely[tail.passes] += tail.cm * 10
            early[tail.passes] += tail.cm * 10
    return likely, early, worst


def _lengths(loop: LoopLength) -> npt.NDArray[np.float64]:
    """Yarn in one loop of each kind."""
    mm = np.empty(KINDS)
    mm[[LoopKind.KNIT, LoopKind.LAID_IN]] = loop.mm
    mm[[LoopKind.CAST_ON, LoopKind.BIND]] = EDGE_WIDTHS * loop.stitch_mm
    mm[[LoopKind.WRAP, LoopKind.HAND_WRAP]] = WRAP_WIDTHS * loop.stitch_mm
    return mm
