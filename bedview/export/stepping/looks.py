"""Marks as SVG whose colours follow the reader's look: light, dark or high contrast, chosen by the browser.

A picture is drawn once in each look. The shapes are the same and only colours differ, so each is written once
and its colours become class names; the style sheet says what a class means in which look.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final
from xml.sax.saxutils import escape

from bedview.picture.colour import Colour
from bedview.picture.look import CONTRAST, DARK, LIGHT, Palette
from bedview.picture.marks import Box, Mark, Shape, Text, Tiles
from bedview.picture.svg import number, path_data

LOOKS: Final = (LIGHT, DARK, CONTRAST)

Colours = tuple[Colour, ...]
"""One colour in each of :data:`LOOKS`."""


class LookSheet:
    """The classes given away so far."""

    def __init__(self) -> None:
        self._names: dict[tuple[str, Colours], str] = {}

    def name(self, attribute: str, colours: Colours) -> str:
        """The class that gives ``fill`` or ``stroke`` a colour in each look."""
        return self._names.setdefault((attribute, colours), f"{attribute[0]}{len(self._names)}")

    def rules(self, look: int) -> str:
        """The rules of all classes in one look."""
        parts = []
        for (attribute, colours), name in self._names.items():
            colour = colours[look]
            parts.append(f".{name}{{{attribute}:{colour[:7]}{_opacity(attribute, colour)}}}")
        return "".join(parts)

    # -- writing ------------------------------------------------------------------------------------------

    def markup(self, draw: Callable[[Palette], Iterable[Mark]]) -> str:
        """Marks as SVG elements.

        Args:
            draw: draws them in a look; only colours may depend on it.
        """
        drawn = [list(draw(look)) for look in LOOKS]
        return "".join(self._mark(marks) for marks in zip(*drawn, strict=True))

    def shapes(self, draw: Callable[[Palette], Iterable[Shape]]) -> str:
        """The same for shapes alone."""
        return self.markup(draw)

    def _mark(self, marks: tuple[Mark, ...]) -> str:
        first = marks[0]
        match first:
            case Shape():
                return f'<path d="{path_data(first.path)}"{self._paint(marks)}/>'
            case Box():
                place = f'x="{number(first.x)}" y="{number(first.y)}"'
                size = f'width="{number(first.width)}" height="{number(first.height)}"'
                radius = f' rx="{number(first.radius)}"' if first.radius else ""
                return f"<rect {place} {size}{radius}{self._paint(marks)}/>"
            case Text():
                return self._text(first, tuple(mark.colour for mark in marks if isinstance(mark, Text)))
            case Tiles():
                return "".join(self._tiles(first, tuple(mark for mark in marks if isinstance(mark, Tiles))))
        raise TypeError(f"no {type(first).__name__} in a page")

    def _tiles(self, first: Tiles, marks: tuple[Tiles, ...]) -> Iterator[str]:
        """Runs of a tile, each tile written out where it lies."""
        shapes = "".join(
            self._mark(shapes) for shapes in zip(*(mark.tile.shapes for mark in marks), strict=True)
        )
        for x, y, count in zip(first.x.tolist(), first.y.tolist(), first.count.tolist(), strict=True):
            for place in range(count):
                at = f"{number(x + place * first.advance)} {number(y)}"
                yield f'<g transform="translate({at})">{shapes}</g>'

    def _text(self, text: Text, colours: Colours) -> str:
        anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
        weight = ' font-weight="600"' if text.bold else ""
        place = f'x="{number(text.x)}" y="{number(text.y)}" font-size="{number(text.size)}"'
        return (
            f'<text {place}{anchor}{weight} class="{self.name("fill", colours)}">{escape(text.text)}</text>'
        )

    def _paint(self, marks: tuple[Mark, ...]) -> str:
        """Filling and line of a shape or box, as attributes."""
        fills = [mark.fill for mark in marks if isinstance(mark, Shape | Box)]
        pens = [mark.pen for mark in marks if isinstance(mark, Shape | Box)]
        there = tuple(fill for fill in fills if fill is not None)
        classes = [self.name("fill", there)] if there else []
        rest = "" if there else ' fill="none"'
        drawn = [pen for pen in pens if pen is not None]
        if len(drawn) == len(LOOKS):
            pen = drawn[0]
            classes.append(self.name("stroke", tuple(each.colour for each in drawn)))
            cap = ' stroke-linecap="round"' if pen.cap == "round" else ""
            dash = f' stroke-dasharray="{" ".join(map(number, pen.dash))}"' if pen.dash else ""
            rest += f' stroke-width="{number(pen.width)}" stroke-linejoin="round"{cap}{dash}'
        return f' class="{" ".join(classes)}"{rest}' if classes else rest


def _opacity(attribute: str, colour: Colour) -> str:
    """The alpha of a colour of eight digits as a further rule."""
    return f";{attribute}-opacity:{number(int(colour[7:9], 16) / 255)}" if len(colour) > 7 else ""
