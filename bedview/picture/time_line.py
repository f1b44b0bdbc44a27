"""The time line of a piece: segments as long as their rows, the row one is at, findings below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bedview.language import gettext as _
from bedview.picture.chart import SEVERITIES, ChartMark, ChartPart
from bedview.picture.finding_signs import finding_sign
from bedview.picture.look import Palette
from bedview.picture.marks import (
    Box,
    DisplayList,
    Layer,
    Mark,
    MeasureText,
    Pen,
    Shape,
    Text,
    cautious_width,
    polyline,
)

GAP = 2.0
_SIGN = 15.0


@dataclass(frozen=True, slots=True)
class TimeLineScene:
    """What a time line shows.

    Attributes:
        parts: the segments; those without rows are left out.
        passes: how many passes the piece makes.
        at: how many of them are made where one stands.
        marks: findings, shown below the band.
    """

    parts: tuple[ChartPart, ...]
    passes: int
    at: int
    marks: tuple[ChartMark, ...] = ()


@dataclass(frozen=True, slots=True)
class TimeLineLayout:
    """Places along a time line, in pixels.

    Attributes:
        width, height: of the picture.
        passes: how many there are.
        left, right: edges of the band.
        top, bottom: of the band.
    """

    width: float
    height: float
    passes: int
    left: float
    right: float
    top: float
    bottom: float

    def x_of(self, passes: float) -> float:
        """Where so many passes are made."""
        return self.left + (self.right - self.left) * passes / max(1, self.passes)

    def passes_at(self, x: float) -> int:
        """How many passes are made at a place along the line."""
        share = (x - self.left) / max(1e-9, self.right - self.left)
        return max(0, min(self.passes, round(share * self.passes)))


def lay_out_time_line(passes: int, width: float, height: float) -> TimeLineLayout:
    """Places for a time line: there is room above for the cursor and below for signs."""
    return TimeLineLayout(width, height, passes, 2.0, width - 2.0, 0.42 * height, 0.80 * height)


def draw_time_line(
    scene: TimeLineScene,
    width: float,
    height: float,
    palette: Palette,
    *,
    measure: MeasureText = cautious_width,
) -> DisplayList:
    """The time line.

    Args:
        scene: what it shows.
        width: of the picture in pixels.
        height: likewise, 48 or more.
        palette: the look.
        measure: how wide a text is.
    """
    layout = lay_out_time_line(scene.passes, width, height)
    layers = (
        Layer("parts", tuple(_parts(scene.parts, layout, palette, measure))),
        Layer("findings", tuple(_findings(scene.marks, layout, palette))),
        Layer("cursor", tuple(_cursor(scene.at, layout, palette, measure))),
    )
    return DisplayList(
        width, height, palette.paper, layers, _("row {row} of {rows}").format(row=scene.at, rows=scene.passes)
    )


def _parts(
    parts: Sequence[ChartPart], layout: TimeLineLayout, palette: Palette, measure: MeasureText
) -> Iterator[Mark]:
    size = min(15.0, 0.44 * (layout.bottom - layout.top))
    for place, part in enumerate(parts):
        if part.rows < 1:
            continue
        left, right = layout.x_of(part.first - 1), layout.x_of(part.last)
        wide = max(1.0, right - left - GAP)
        tint = palette.tint(place)
        yield Box(left + GAP / 2, layout.top, wide, layout.bottom - layout.top, min(5.0, wide / 3), tint)
        if part.title and measure(part.title, size, False) <= wide - 0.8 * size:
            middle = (layout.top + layout.bottom) / 2 + 0.36 * size
            yield Text((left + right) / 2, middle, part.title, size, palette.on(tint), "middle")


def _findings(marks: Sequence[ChartMark], layout: TimeLineLayout, palette: Palette) -> Iterator[Mark]:
    """Signs below the band, the worst where several crowd."""
    size = min(_SIGN, layout.height - layout.bottom - 1)
    taken: set[int] = set()
    for mark in sorted(marks, key=lambda mark: SEVERITIES.index(mark.severity)):
        x = min(max(layout.x_of(mark.pass_number - 0.5), size / 2), layout.width - size / 2)
        slot = round(x / size)
        if slot not in taken:
            taken.add(slot)
            yield from finding_sign(mark.severity, x, layout.bottom + size / 2 + 1, size, palette)


def _cursor(at: int, layout: TimeLineLayout, palette: Palette, measure: MeasureText) -> Iterator[Mark]:
    """A bubble with the row, on a line through the band."""
    x, text = layout.x_of(at), _("row {row}").format(row=at)
    size = min(15.0, 0.20 * layout.height)
    tall = 1.75 * size
    wide = measure(text, size, True) + 1.6 * size
    left = min(max(0.0, x - wide / 2), layout.width - wide)
    foot = layout.bottom + 4
    yield Shape(polyline((x, tall - 2), (x, foot)), pen=Pen(palette.paper, 6, "flat"))
    yield Shape(polyline((x, tall - 2), (x, foot)), pen=Pen(palette.ink, 2.6, "flat"))
    yield Box(left, 0, wide, tall, tall / 2, palette.ink)
    yield Text(left + wide / 2, tall / 2 + 0.36 * size, text, size, palette.paper, "middle", bold=True)
