"""What comes of a part, in figures: its rows, its needles, its length, both figures of what was asked."""

from __future__ import annotations

from dataclasses import dataclass

from bedview.plan.gauge import Figure, Swatch, find_gauge, length_in_rows, length_mm_of, width_mm_of
from bedview.plan.procedure import Procedure
from bedview.plan.segments.base import Segment


@dataclass(frozen=True, slots=True)
class PartFigures:
    """Figures of one part.

    Attributes:
        first: its first pass; ``last`` + 1 if it makes none.
        last: its last pass.
        needles: how many knit in its first pass and in its last.
        gauge: of the yarn and tension of its last pass; None if nobody counted one.
    """

    first: int
    last: int
    needles: tuple[int, int]
    gauge: Swatch | None

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
    state = timeline.state_at(end)
    gauge = None
    if state.threaded:
        gauge = find_gauge(procedure.piece.gauges, timeline.machine.yarns[state.yarn][0], state.dial)
    return PartFigures(first, last, needles, gauge)
