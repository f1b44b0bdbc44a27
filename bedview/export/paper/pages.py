"""Pages as data, and blocks that flow onto them.

On a page one unit is a tenth of a millimetre; x to the right, y down, the origin at the page's corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from bedview.picture.lines_of_text import shortened, wrapped
from bedview.picture.look import LIGHT, Palette
from bedview.picture.marks import DisplayList, Mark, MeasureText, Shape, Text, circle, moved

MM: Final = 10.0
"""Units in a millimetre."""
INK: Final[Palette] = replace(LIGHT, name="print", paper="#ffffff", card="#ffffff")
"""The look of printed sheets: light, on white paper."""
FOOT_MM: Final = 8.0
"""Room at the foot of a page for its number."""
LEADING: Final = 1.3
"""From line to line, in sizes of the letters."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright.

    Attributes:
        name: as one asks for it.
        width_mm: of a sheet.
        height_mm: likewise.
        margin_mm: what stays white all round; home printers need some 5.
    """

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 13.0

    def sideways(self) -> Paper:
        """The same sheet turned."""
        return replace(self, width_mm=self.height_mm, height_mm=self.width_mm)

    @property
    def room(self) -> float:
        """Width between the margins, in units."""
        return (self.width_mm - 2 * self.margin_mm) * MM

    @property
    def height_of_text(self) -> float:
        """Height between the margins above the foot, in units."""
        return (self.height_mm - 2 * self.margin_mm - FOOT_MM) * MM


PAPERS: Final = {paper.name: paper for paper in (Paper("a4", 210.0, 297.0), Paper("letter", 215.9, 279.4))}
"""ISO 216 A4, and 8.5 by 11 inches."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A picture on a page.

    Attributes:
        picture: in its own pixels.
        x: of its left edge, in the page's units.
        y: of its upper edge.
        scale: units to a pixel.
    """

    picture: DisplayList
    x: float
    y: float
    scale: float


@dataclass(frozen=True, slots=True)
class Page:
    """One side of paper.

    Attributes:
        paper: its size.
        marks: what is drawn on it, in its units.
        pictures: what is drawn below them.
    """

    paper: Paper
    marks: tuple[Mark, ...]
    pictures: tuple[Placed, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """What stays together on one page, as wide as the text; its own corner is its origin.

    Attributes:
        height: in units, with the air below it.
        marks: its marks.
        pictures: its pictures.
        with_next: it does not stay behind alone at the foot of a page.
        new_page: it begins a page.
    """

    height: float
    marks: tuple[Mark, ...]
    pictures: tuple[Placed, ...] = ()
    with_next: bool = False
    new_page: bool = False


def flow(blocks: Sequence[Block], paper: Paper) -> list[Page]:
    """Blocks one below the other, on as many pages as they take."""
    pages: list[Page] = []
    marks: list[Mark] = []
    pictures: list[Placed] = []
    left = paper.margin_mm * MM
    y = 0.0
    for group in _groups(blocks):
        tall = sum(block.height for block in group)
        if (marks or pictures) and (group[0].new_page or y + tall > paper.height_of_text):
            pages.append(Page(paper, tuple(marks), tuple(pictures)))
            marks, pictures, y = [], [], 0.0
        for block in group:
            top = paper.margin_mm * MM + y
            marks += [moved(mark, left, top) for mark in block.marks]
            pictures += [replace(each, x=each.x + left, y=each.y + top) for each in block.pictures]
            y += block.height
    if marks or pictures:
        pages.append(Page(paper, tuple(marks), tuple(pictures)))
    return pages


def _groups(blocks: Sequence[Block]) -> Iterator[list[Block]]:
    """Blocks that go together, each with those that must not stay behind before it."""
    group: list[Block] = []
    for block in blocks:
        group.append(block)
        if not block.with_next:
            yield group
            group = []
    if group:
        yield group


def with_feet(pages: Sequence[Page], title: str, of: str, measure: MeasureText) -> list[Page]:
    """The same pages with the title and their number at the foot.

    Args:
        pages: all of them.
        title: stands at the left; cut where it is too long.
        of: "page {page} of {pages}", in the knitter's language.
        measure: how wide a text is.
    """
    footed = []
    for number, page in enumerate(pages, 1):
        paper, size = page.paper, 3.2 * MM
        y = (paper.height_mm - paper.margin_mm) * MM
        left, right = paper.margin_mm * MM, (paper.width_mm - paper.margin_mm) * MM
        text = of.format(page=number, pages=len(pages))
        room = paper.room - measure(text, size, False) - 5 * MM
        foot = (
            Text(left, y, shortened(title, room, size, measure), size, INK.quiet_ink),
            Text(right, y, text, size, INK.quiet_ink, "end"),
        )
        footed.append(replace(page, marks=page.marks + foot))
    return footed


def paragraph(
    text: str,
    room: float,
    size: float,
    measure: MeasureText,
    *,
    at: tuple[float, float] = (0.0, 0.0),
    bold: bool = False,
    colour: str = INK.ink,
) -> tuple[tuple[Text, ...], float]:
    """A wrapped text and its height.

    Args:
        text: the text.
        room: its width.
        size: of its letters.
        measure: how wide a text is.
        at: its left and its upper edge.
        bold: whether it is bold.
        colour: of the text.
    """
    lines = wrapped(text, room, size, measure, bold=bold)
    step = LEADING * size
    x, top = at
    marks = tuple(
        Text(x, top + number * step + 0.95 * size, line, size, colour, bold=bold)
        for number, line in enumerate(lines)
    )
    return marks, len(lines) * step


def disc(x: float, y: float, radius: float) -> Shape:
    """A small disc in the hands' colour: something is to be done by hand."""
    return Shape(circle(x, y, radius), INK.hands)
