"""Edits on the chart itself: edges of a part that can be taken hold of, and what becomes of it when they go.

Needles count from 0 at the left end, passes from 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from bedview.bed.needles import NeedleError, format_needles, parse_needles
from bedview.language import gettext as _
from bedview.plan.segments.base import Segment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.hem import HemSegment
from bedview.plan.segments.narrow import NarrowSegment
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.segments.widen import WidenSegment
from bedview.session.editing import EditError, part_with

Bars = npt.NDArray[np.int32]
"""Rows of pass, first needle, last needle, part."""
Edge = Literal["left", "right", "top"]


@dataclass(frozen=True, slots=True)
class Grip:
    """An edge that can be dragged.

    Attributes:
        edge: which: left and right go across, top goes up and down.
        pass_number: where it is taken hold of.
        needle: likewise; the outermost needle inside, for the top the middle.
    """

    edge: Edge
    pass_number: int
    needle: float


def grips(part: Segment, bars: Bars) -> tuple[Grip, ...]:
    """The edges of a part that can be dragged.

    Args:
        part: the part.
        bars: its own bars in the chart.
    """
    if not len(bars):
        return ()
    return tuple(_grips(part, bars))


def dragged(part: Segment, grip: Grip, bars: Bars, needles: int, rows: int, bed_needles: int) -> Segment:
    """A part whose edge was dragged.

    Args:
        part: as it was when the drag began.
        grip: the edge.
        bars: the part's bars then.
        needles: how many needles it went to the right (less than 0: left).
        rows: how many rows it went up (less than 0: down).
        bed_needles: how many needles the bed has.

    Raises:
        EditError: if there can be no such part.
    """
    outwards = needles if grip.edge == "right" else -needles
    changes: Mapping[str, object] = {}
    match part:
        case ShortRowsSegment():
            changes = {"down_to": _down_to(part, bars, outwards)}
        case NarrowSegment():
            changes = {"stitches": max(1, part.stitches - outwards)}
        case WidenSegment():
            changes = {"stitches": max(1, part.stitches + outwards)}
        case CastOnSegment():
            changes = {"needles": _cast_on(part, grip, needles, bed_needles)}
        case PlainSegment():
            had = part.rows if part.rows is not None else _passes(bars)
            changes = {"rows": max(1, had + rows), "length_cm": None}
        case HemSegment() | ScrapOffSegment():
            changes = {"rows": max(1, part.rows + rows)}
        case _:
            raise EditError(_("this part has no edge to drag"))
    return part_with(part, dict(changes), bed_needles)


def _grips(part: Segment, bars: Bars) -> Iterator[Grip]:
    widths = bars[:, 2] - bars[:, 1]
    if isinstance(part, ShortRowsSegment):
        turn = bars[int(np.argmin(widths))]
        yield from _sides(turn, part.ends)
    elif isinstance(part, NarrowSegment | WidenSegment):
        yield from _sides(bars[-1], part.ends)
    elif isinstance(part, CastOnSegment) and part.how == "waste":
        yield from _sides(bars[0], "both")
    elif isinstance(part, PlainSegment | HemSegment | ScrapOffSegment):
        last = bars[-1]
        yield Grip("top", int(last[0]), float(last[1] + last[2]) / 2)


def _sides(bar: npt.NDArray[np.int32], ends: str) -> Iterator[Grip]:
    number, first, last, _ = bar.tolist()
    if ends != "right":
        yield Grip("left", number, first)
    if ends != "left":
        yield Grip("right", number, last)


def _down_to(part: ShortRowsSegment, bars: Bars, outwards: int) -> int:
    ends = 1 if part.ends in ("left", "right") else 2
    widest = int((bars[:, 2] - bars[:, 1]).max()) + 1
    return max(1, min(part.down_to + ends * outwards, max(1, widest - 1)))


def _cast_on(part: CastOnSegment, grip: Grip, needles: int, bed_needles: int) -> str:
    try:
        indices = parse_needles(part.needles, bed_needles)
    except NeedleError as error:
        raise EditError(str(error)) from None
    first, last = int(min(indices)), int(max(indices))
    if len(indices) != last - first + 1:
        raise EditError(_("needles with gaps between them are written, not dragged"))
    if grip.edge == "left":
        first = max(0, min(first + needles, last))
    else:
        last = min(bed_needles - 1, max(last + needles, first))
    return format_needles(range(first, last + 1), bed_needles)


def _passes(bars: Bars) -> int:
    return int(bars[:, 0].max() - bars[:, 0].min()) + 1
