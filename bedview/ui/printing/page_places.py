"""Where pages lie on the desk of the preview: in rows, as many side by side as there is room for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bedview.export.paper.pages import Paper


@dataclass(frozen=True, slots=True)
class PagePlace:
    """A page on the desk, in pixels.

    Attributes:
        x: of its left edge.
        y: of its upper edge.
        width: of the page.
        height: likewise.
    """

    x: float
    y: float
    width: float
    height: float

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.y + self.height

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width


def whole_page_scale(papers: Sequence[Paper], width: float, height: float, gap: float) -> float:
    """Pixels to a millimetre by which every page is seen whole in so much room."""
    wide = max(paper.width_mm for paper in papers)
    tall = max(paper.height_mm for paper in papers)
    return max(0.05, min((width - 2 * gap) / wide, (height - 2 * gap) / tall))


def place_pages(papers: Sequence[Paper], scale: float, width: float, gap: float) -> list[PagePlace]:
    """Places in rows from the top, each row in the middle of the room.

    Args:
        papers: of the pages, in their order.
        scale: pixels to a millimetre.
        width: of the room; a page that is wider has a row for itself.
        gap: between pages, and round them all.
    """
    places: list[PagePlace] = []
    y = gap
    for row in _rows(papers, scale, width, gap):
        x = max(gap, (width - sum(paper.width_mm * scale + gap for paper in row) + gap) / 2)
        for paper in row:
            places.append(PagePlace(x, y, paper.width_mm * scale, paper.height_mm * scale))
            x += paper.width_mm * scale + gap
        y += max(paper.height_mm for paper in row) * scale + gap
    return places


def _rows(papers: Sequence[Paper], scale: float, width: float, gap: float) -> list[list[Paper]]:
    rows: list[list[Paper]] = []
    taken = 0.0
    for paper in papers:
        wide = paper.width_mm * scale + gap
        if not rows or taken + wide > width:
            rows.append([])
            taken = gap
        rows[-1].append(paper)
        taken += wide
    return rows
