"""The flat chart of a piece as plain values: needles across, passes up, one bar a stretch that knits.

Pass numbers count from 1, needles from 0 at the left end.
"""

from __future__ import annotations

from bisect import bisect_left
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
        reached: whether it can be knitted to its end.
    """

    title: str
    first: int
    last: int
    reached: bool = True

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
    """What has been noted so far while a procedure is read: a row a stretch of like passes.

    Attributes:
        bars: first pass, how many passes, first needle, last needle, place of the part.
        wrapped: needles wrapped in each pass of an event.
        wraps: first pass of that event, how many passes, how many needles.
    """

    bars: list[tuple[int, int, int, int, int]] = field(default_factory=list)
    wrapped: list[npt.NDArray[np.signedinteger]] = field(default_factory=list)
    wraps: list[tuple[int, int, int]] = field(default_factory=list)

    def note(self, event: Event, part: int) -> None:
        """Bars and wraps of the passes of one event."""
        knit, wrapped = event.knit, event.wrapped
        if len(knit):
            first, last = int(knit[0]), int(knit[-1])
            if last - first < len(knit):
                self.bars.append((event.passes, event.lines, first, last, part))
            else:
                gaps = np.flatnonzero(np.diff(knit) > 1).tolist()
                for start, end in zip([0, *(gap + 1 for gap in gaps)], [*gaps, len(knit) - 1], strict=True):
                    self.bars.append((event.passes, event.lines, int(knit[start]), int(knit[end]), part))
        if len(wrapped):
            self.wrapped.append(wrapped)
            self.wraps.append((event.passes, event.lines, len(wrapped)))

    def bar_table(self) -> Table:
        """A row a bar, as :class:`ChartScene` has them."""
        if not self.bars:
            return np.empty((0, 4), np.int32)
        blocks = np.array(self.bars, np.int32)
        table = np.repeat(blocks[:, [0, 2, 3, 4]], blocks[:, 1], axis=0)
        table[:, 0] += _counted_up(blocks[:, 1])
        if len(blocks) > 1 and (np.diff(table[:, 0]) < 0).any():
            table = table[np.argsort(table[:, 0], kind="stable")]
        return table

    def wrap_table(self) -> Table:
        """A row a wrap, as :class:`ChartScene` has them."""
        if not self.wraps:
            return np.empty((0, 2), np.int32)
        parts = [
            wrapped if lines == 1 else np.tile(wrapped, lines)
            for wrapped, (_, lines, _) in zip(self.wrapped, self.wraps, strict=True)
        ]
        passes, lines, counts = np.array(self.wraps, np.int32).T
        numbers = np.repeat(passes, lines) + _counted_up(lines)
        return np.column_stack((np.repeat(numbers, np.repeat(counts, lines)), np.concatenate(parts))).astype(
            np.int32
        )


def _counted_up(lengths: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """0, 1, 2 … for each length, one after the other."""
    starts = np.cumsum(lengths) - lengths
    return (np.arange(int(lengths.sum())) - np.repeat(starts, lengths)).astype(np.int32)


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
    ends = [last for _, _, last in spans] or [0]
    role = np.zeros(passes + 1, np.uint8)
    roles = np.array([list(YarnRole).index(each) for each in timeline.fabric.roles] + [0], np.uint8)
    first_pass: dict[int, int] = {}
    last_pass: dict[int, int] = {}
    sheet = _Sheet()
    for event in pass_events(timeline):
        part = min(bisect_left(ends, event.action), len(ends) - 1)
        first_pass.setdefault(part, event.passes)
        last_pass[part] = event.passes + event.lines - 1
        role[event.passes : event.passes + event.lines] = roles[event.yarn]
        sheet.note(event, part)
    return ChartScene(
        timeline.state.needles,
        passes,
        sheet.bar_table(),
        sheet.wrap_table(),
        role,
        tuple(_parts(spans, first_pass, last_pass)),
        tuple(marks),
        chosen,
    )


def pass_events(timeline: Timeline) -> Iterator[Event]:
    """The events of passes, each a pass or a block of like ones."""
    return (event for event in timeline.events if event.is_pass)


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
