"""The flat chart of a piece as plain values: needles across, passes up, one bar a stretch that knits.

Pass numbers count from 1, needles from 0 at the left end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np
import numpy.typing as npt

from bedview.bed.actions import YarnRole
from bedview.bed.events import Event
from bedview.bed.timeline import Timeline

Table = npt.NDArray[np.int32]
SEVERITIES: Final = ("error", "warning", "note")
"""From the worst down."""


@dataclass(frozen=True, slots=True)
class ChartPart:
    """One segment of the piece.

    Attributes:
        title: for people.
        first, last: its passes; ``last`` is ``first - 1`` for a part without any.
    """

    title: str
    first: int
    last: int

    @property
    def rows(self) -> int:
        """How many passes it makes."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class ChartMark:
    """A finding, where it lies.

    Attributes:
        pass_number: the pass that does it.
        needle: the middle of its needles; None for one that concerns none.
        severity: ``error``, ``warning`` or ``note``.
    """

    pass_number: int
    needle: float | None
    severity: str


@dataclass(frozen=True, slots=True, eq=False)
class ChartScene:
    """A whole piece, flat.

    Attributes:
        needles: how many the bed has.
        passes: how many the piece makes.
        bars: rows of pass, first needle, last needle, place of the part; shape (k, 4), ascending by pass.
        wraps: rows of pass, needle; shape (w, 2).
        role: what the yarn of each pass is for: 0 fabric, 1 waste, 2 ravel cord; shape (passes + 1,).
        parts: the segments, in order.
        marks: the findings.
        chosen: place of the chosen part, None for none.
    """

    needles: int
    passes: int
    bars: Table
    wraps: Table
    role: npt.NDArray[np.uint8]
    parts: tuple[ChartPart, ...]
    marks: tuple[ChartMark, ...] = ()
    chosen: int | None = None

    def used(self) -> tuple[int, int]:
        """First and last needle that ever knits or is wrapped; the whole bed if none does."""
        ends = [*self.bars[:, 1].tolist(), *self.bars[:, 2].tolist(), *self.wraps[:, 1].tolist()]
        return (min(ends), max(ends)) if ends else (0, self.needles - 1)


@dataclass(slots=True)
class _Sheet:
    """What has been noted so far while a procedure is read."""

    bars: list[Table] = field(default_factory=list)
    wraps: list[Table] = field(default_factory=list)


def chart_of(
    timeline: Timeline,
    spans: Sequence[tuple[str, int, int]],
    *,
    marks: Iterable[ChartMark] = (),
    chosen: int | None = None,
) -> ChartScene:
    """The chart of a procedure.

    Args:
        timeline: the procedure as it ran.
        spans: title, first and last action of every segment, in order; last below first for an empty one.
        marks: findings to show.
        chosen: place of the chosen segment.
    """
    passes = timeline.passes
    ends = np.array([last for _, _, last in spans] or [0])
    role = np.zeros(passes + 1, np.uint8)
    roles = np.array([list(YarnRole).index(each) for each in timeline.fabric.roles] + [0], np.uint8)
    first_pass: dict[int, int] = {}
    last_pass: dict[int, int] = {}
    sheet = _Sheet()
    for event in pass_events(timeline):
        part = min(int(np.searchsorted(ends, event.action)), len(ends) - 1)
        first_pass.setdefault(part, event.passes)
        last_pass[part] = event.passes + event.lines - 1
        role[event.passes : event.passes + event.lines] = roles[event.yarn]
        _note(event, part, sheet)
    return ChartScene(
        timeline.state.needles,
        passes,
        np.concatenate(sheet.bars) if sheet.bars else np.empty((0, 4), np.int32),
        np.concatenate(sheet.wraps) if sheet.wraps else np.empty((0, 2), np.int32),
        role,
        tuple(_parts(spans, first_pass, last_pass)),
        tuple(marks),
        chosen,
    )


def pass_events(timeline: Timeline) -> Iterator[Event]:
    """The events of passes, each a pass or a block of like ones."""
    line = 0
    while line < timeline.lines:
        event = timeline.event_of(line)
        if event.is_pass:
            yield event
        line = event.line + event.lines


def _note(event: Event, part: int, sheet: _Sheet) -> None:
    """Bars and wraps of the passes of one event."""
    numbers = np.arange(event.passes, event.passes + event.lines, dtype=np.int32)
    if len(event.knit):
        gaps = np.flatnonzero(np.diff(event.knit) > 1)
        firsts = event.knit[np.concatenate(([0], gaps + 1))]
        lasts = event.knit[np.concatenate((gaps, [len(event.knit) - 1]))]
        count = len(firsts)
        table = np.empty((len(numbers) * count, 4), np.int32)
        table[:, 0] = np.repeat(numbers, count)
        table[:, 1] = np.tile(firsts, len(numbers))
        table[:, 2] = np.tile(lasts, len(numbers))
        table[:, 3] = part
        sheet.bars.append(table)
    if len(event.wrapped):
        count = len(event.wrapped)
        wraps = np.column_stack((np.repeat(numbers, count), np.tile(event.wrapped, len(numbers))))
        sheet.wraps.append(wraps.astype(np.int32))


def _parts(
    spans: Sequence[tuple[str, int, int]], first_pass: dict[int, int], last_pass: dict[int, int]
) -> Iterator[ChartPart]:
    """Parts with their passes; one that makes none stands at the pass that follows it."""
    following = 1
    for place, (title, _, _) in enumerate(spans):
        first = first_pass.get(place, following)
        last = last_pass.get(place, first - 1)
        following = last + 1
        yield ChartPart(title, first, last)
