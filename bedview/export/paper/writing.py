"""Headings and paragraphs as blocks, the same on every sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from bedview.export.paper.pages import INK, MM, Block, paragraph
from bedview.picture.marks import Box, MeasureText, Text

TITLE: Final = 7.5 * MM
HEADING: Final = 4.6 * MM
BODY: Final = 4.0 * MM
SMALL: Final = 3.1 * MM


@dataclass(frozen=True, slots=True)
class Writer:
    """Writes texts as wide as the page's text.

    Attributes:
        room: that width.
        measure: how wide a text is.
    """

    room: float
    measure: MeasureText

    def text(
        self,
        text: str,
        size: float = BODY,
        *,
        bold: bool = False,
        indent: float = 0.0,
        below: float = 0.3 * MM,
        colour: str = INK.ink,
        with_next: bool = False,
    ) -> Block:
        """A paragraph with some air below it."""
        marks, tall = paragraph(
            text, self.room - indent, size, self.measure, at=(indent, 0.0), bold=bold, colour=colour
        )
        return Block(tall + below, marks, with_next=with_next)

    def title(self, text: str, *, new_page: bool = True) -> Block:
        """What a sheet is; it begins a page, unless it stays with what comes before."""
        above = 0.0 if new_page else 4 * MM
        marks, tall = paragraph(text, self.room, TITLE, self.measure, at=(0.0, above), bold=True)
        return Block(above + tall + 2 * MM, marks, with_next=True, new_page=new_page)

    def heading(self, text: str, right: str = "") -> Block:
        """A heading over a line, with a few quiet words at its right; it stays with what follows."""
        marks, tall = paragraph(text, self.room - 30 * MM, HEADING, self.measure, bold=True)
        quiet = Text(self.room, marks[0].y, right, SMALL, INK.quiet_ink, "end")
        line = Box(0, tall + 1.4 * MM, self.room, 0.35 * MM, 0, INK.ink)
        return Block(tall + 3.4 * MM, (*marks, quiet, line), with_next=True)

    def point(self, text: str, indent: float, size: float = SMALL) -> Block:
        """A line of a list, with a dash before it."""
        lead = 3.0 * MM
        marks, tall = paragraph(text, self.room - indent - lead, size, self.measure, at=(indent + lead, 0.0))
        dash = Text(indent, 0.95 * size, "–", size, INK.quiet_ink)
        return Block(tall + 0.2 * MM, (dash, *marks))


def air(tall_mm: float) -> Block:
    """Nothing, so many millimetres of it."""
    return Block(tall_mm * MM, ())
