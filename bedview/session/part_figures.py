"""What comes of a part, in figures: its rows, its needles, its length, both figures of what was asked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedview.bed.actions import Knit
from bedview.bed.needles import Position, format_needles
from bedview.language import gettext as _
from bedview.plan.gauge import (
    ANY,
    EVEN,
    Figure,
    Rounding,
    Swatch,
    beyond_bed,
    find_gauge,
    length_in_rows,
    length_mm_of,
    width_in_stitches,
    width_mm_of,
)
from bedview.plan.procedure import Procedure
from bedview.plan.segments.base import Segment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.units import UnitError
from bedview.plan.words import CROSSING, TO_THE_YARN


@dataclass(frozen=True, slots=True)
class PartFigures:
    """Figures of one part.

    Attributes:
        first: its first pass; ``last`` + 1 if it makes none.
        last: its last pass.
        needles: how many knit in its first pass and in its last.
        gauge: of the yarn and tension of its last pass; None if nobody counted one.
        working: how many work before it.
        gauge_after: of the yarn and tension that it leaves set, whatever its rows were knitted with.
    """

    first: int
    last: int
    needles: tuple[int, int]
    gauge: Swatch | None
    working: int = 0
    gauge_after: Swatch | None = None

    @property
    def rows(self) -> int:
        """How many passes it makes."""
        return self.last - self.first + 1

    @property
    def length_mm(self) -> float | None:
        """How long it is, if it is knitted on all its needles."""
        return None if self.gauge is None or not self.rows else length_mm_of(self.rows, self.gauge)

    @property
    def width_mm(self) -> float | None:
        """How wide its last row is."""
        return None if self.gauge is None or not self.needles[1] else width_mm_of(self.needles[1], self.gauge)

    def asked(self, part: Segment) -> Figure | None:
        """Both figures of a length that was asked for; None for a part that asks for none."""
        length_cm = getattr(part, "length_cm", None)
        if length_cm is None or self.gauge is None:
            return None
        return length_in_rows(length_cm * 10, self.gauge)


def part_figures(procedure: Procedure, place: tuple[int, ...]) -> PartFigures | None:
    """Figures of a part, the first time it is knitted; None if the procedure does not come so far."""
    span = next((each for each in procedure.spans if each.path == place), None)
    if span is None:
        return None
    timeline = procedure.timeline
    first = timeline.pass_of_line(timeline.line_of_action(span.start) - 1) + 1
    last = timeline.pass_of_line(timeline.line_of_action(span.stop) - 1)
    needles = (0, 0)
    end = timeline.line_of_action(span.stop) - 1
    if last >= first:
        lines = timeline.line_of_pass(first), timeline.line_of_pass(last)
        needles = len(timeline.event_of(lines[0]).knit), len(timeline.event_of(lines[1]).knit)
        end = lines[1]
    gauges = [_gauge_at(procedure, line) for line in (end, timeline.line_of_action(span.stop) - 1)]
    before = timeline.state_at(timeline.line_of_action(span.start) - 1)
    ready = (before.position == Position.WORK) | (before.position == Position.UPPER)
    working = int(np.count_nonzero(ready & (before.height > 0)))
    return PartFigures(first, last, needles, gauges[0], working, gauges[1])


def _gauge_at(procedure: Procedure, line: int) -> Swatch | None:
    """The gauge of what is in the feeder after a line."""
    state = procedure.timeline.state_at(line)
    if not state.threaded:
        return None
    yarn = procedure.timeline.machine.yarns[state.yarn][0]
    return find_gauge(procedure.piece.gauges, yarn, state.dial)


def spares_a_row(procedure: Procedure, place: int) -> str:
    """What is called the part that begins with a row only to bring the carriage over; empty for none.

    An even number of rows before it instead of an odd one, or the other way, would spare it that row.

    Args:
        procedure: the piece compiled.
        place: of the part before, in the piece.
    """
    spans = procedure.top_spans()
    following = next((span for span in spans if span.path == (place + 1,)), None)
    if following is None:
        return ""
    rows = (number for number in range(following.start, following.stop) if _is_row(procedure, number))
    first = next(rows, None)
    if first is None or procedure.reasons.get(first) not in (CROSSING, TO_THE_YARN):
        return ""
    return following.segment.called


def _is_row(procedure: Procedure, action: int) -> bool:
    return isinstance(procedure.timeline.actions[action], Knit)


@dataclass(frozen=True, slots=True)
class Widths:
    """Widths that become needles in one field of a part.

    Attributes:
        gauge: by which.
        rounding: what the number of needles has to be.
        bed_needles: how many there are.
    """

    gauge: Swatch
    rounding: Rounding
    bed_needles: int

    def figure(self, width_mm: float) -> Figure:
        """Both figures of a width.

        Raises:
            UnitError: if it is narrower than a stitch, or wider than the bed.
        """
        figure = width_in_stitches(width_mm, self.gauge, self.rounding)
        caution = beyond_bed(figure.count, self.bed_needles)
        if caution is not None:
            raise UnitError(caution.says())
        if figure.count < 1:
            raise UnitError(_("that is narrower than a stitch"))
        return figure


def needles_in_middle(count: int, bed_needles: int) -> str:
    """So many needles in the middle of the bed, as a file names them.

    Raises:
        UnitError: if there are not so many.
    """
    if not 1 <= count <= bed_needles:
        raise UnitError(_("the bed has {needles} needles").format(needles=bed_needles))
    left = bed_needles // 2 - (count + 1) // 2
    return format_needles(range(left, left + count), bed_needles)


def widths_in(part: Segment, key: str, figures: PartFigures | None, bed_needles: int) -> Widths | None:
    """How widths become needles in a field; None where nobody counted a gauge, or no width makes sense.

    A cast-on lies in the middle of the bed, so its needles are even; so that short rows at both ends take as
    many at either, those that are left are even or odd as the ones that work.
    """
    if figures is None:
        return None
    if isinstance(part, CastOnSegment) and key == "needles" and figures.gauge_after is not None:
        # A start on waste knits waste, and leaves the fabric's yarn in the feeder.
        return Widths(figures.gauge_after, EVEN, bed_needles)
    if figures.gauge is None:
        return None
    if isinstance(part, ShortRowsSegment) and key == "down_to":
        both = part.ends in ("in_turn", "both_each_row")
        return Widths(figures.gauge, Rounding(2, figures.working % 2) if both else ANY, bed_needles)
    return Widths(figures.gauge, ANY, bed_needles) if key == "stitches" else None
