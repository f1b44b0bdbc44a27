"""Where everything of the chart stands. Passes go up from the bottom, as fabric is knitted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bedview.picture.chart import ChartScene

CARD_LEAST: Final = 24.0
"""Height of a part's card that can still be read and hit, in pixels."""
CARD_GAP: Final = 3.0


@dataclass(frozen=True, slots=True)
class ChartLayout:
    """Sizes and places of one chart, in pixels.

    Attributes:
        width, height: of the picture.
        cards_left, cards_right: edges of the column of parts; equal where there is none.
        left, right, top, bottom: edges of the plot.
        first, last: the needles shown.
        row: height of a pass.
        cell: width of a needle.
        passes: how many there are.
        cards: top and bottom of every part's card, in the order of the parts.
    """

    width: float
    height: float
    cards_left: float
    cards_right: float
    left: float
    right: float
    top: float
    bottom: float
    first: int
    last: int
    row: float
    cell: float
    passes: int
    cards: tuple[tuple[float, float], ...]

    def x_of(self, needle: float) -> float:
        """Centre of a needle's column."""
        return self.left + (needle - self.first + 0.5) * self.cell

    def top_of(self, pass_number: int) -> float:
        """Upper edge of a pass."""
        return self.bottom - pass_number * self.row

    def pass_at(self, y: float) -> int | None:
        """The pass at a height, None above and below the plot."""
        number = int((self.bottom - y) // self.row) + 1
        return number if 1 <= number <= self.passes else None

    def needle_at(self, x: float) -> int | None:
        """The needle at a place across, None beside the plot."""
        needle = self.first + int((x - self.left) // self.cell)
        return needle if self.first <= needle <= self.last else None

    def part_at(self, x: float, y: float) -> int | None:
        """Place of the part whose card lies at a point."""
        if not self.cards_left <= x <= self.cards_right:
            return None
        return next((place for place, (top, bottom) in enumerate(self.cards) if top <= y <= bottom), None)


def lay_out_chart(scene: ChartScene, width: float, height: float, *, cards: bool = True) -> ChartLayout:
    """Sizes and places for a chart.

    Args:
        scene: the piece, flat.
        width: of the picture.
        height: likewise.
        cards: whether the parts stand in a column on the left, as high as their rows.
    """
    card_width = min(270.0, max(120.0, width * 0.30)) if cards else 0.0
    left = card_width + (92.0 if cards else 46.0)
    top, bottom = 10.0, height - 34.0
    first, last = scene.used()
    first, last = max(0, first - 1), min(scene.needles - 1, last + 1)
    room = max(10.0, width - left - 22.0)
    cell = min(room / (last - first + 1), 22.0)
    if cell >= 1:
        cell = float(int(cell * 2)) / 2
    row = min(max(1.0, bottom - top) / max(1, scene.passes), 16.0, max(4.0, cell))
    right = left + (last - first + 1) * cell
    shift = (room - (right - left)) / 2
    wanted = [(bottom - part.last * row, bottom - (part.first - 1) * row) for part in scene.parts]
    return ChartLayout(
        width=width,
        height=height,
        cards_left=0.0,
        cards_right=card_width,
        left=left + shift,
        right=right + shift,
        top=top,
        bottom=bottom,
        first=first,
        last=last,
        row=row,
        cell=cell,
        passes=scene.passes,
        cards=stack_cards(wanted, top - 8, bottom + 14) if cards else (),
    )


def stack_cards(
    wanted: Sequence[tuple[float, float]], top: float, bottom: float
) -> tuple[tuple[float, float], ...]:
    """Cards one above the other, the first lowest, each as high as its rows but never too low to be read.

    A card stands beside its rows where it can, and is pushed up or down by its neighbours where it cannot.

    Args:
        wanted: top and bottom of each part's rows.
        top: upper edge of the column.
        bottom: lower edge of the column.

    Returns:
        Top and bottom of each card, in the order given. None overlap.
    """
    if not wanted:
        return ()
    count = len(wanted)
    gap = CARD_GAP if (bottom - top) / count > 3 * CARD_GAP else 0.0
    room = bottom - top - gap * (count - 1)
    heights = _heights([low - high for high, low in wanted], room)
    # From the bottom up: no card starts below the end of the one under it.
    lows: list[float] = []
    below = bottom
    for (high, low), height in zip(wanted, heights, strict=True):
        middle = (high + low + height) / 2
        lows.append(min(below, middle))
        below = lows[-1] - height - gap
    # Whatever sticks out at the top is pushed down again, as far as needed.
    above = top
    for place in range(count - 1, -1, -1):
        lows[place] = max(lows[place], above + heights[place])
        above = lows[place] + gap
    return tuple((low - height, low) for low, height in zip(lows, heights, strict=True))


def _heights(rows: Sequence[float], room: float) -> list[float]:
    """Heights of cards: of their rows, at least :data:`CARD_LEAST`; the tall ones give what is missing."""
    least = min(CARD_LEAST, room / len(rows))
    heights = [max(least, row - CARD_GAP) for row in rows]
    spare = [height - least for height in heights]
    over = sum(heights) - room
    if over <= 0:
        return heights
    share = min(1.0, over / sum(spare)) if sum(spare) > 0 else 0.0
    return [height - share * extra for height, extra in zip(heights, spare, strict=True)]
