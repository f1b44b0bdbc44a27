"""Display lists as SVG: one symbol a tile, used wherever the tile lies."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from bedview.picture.colour import Colour
from bedview.picture.marks import (
    Box,
    Boxes,
    DisplayList,
    Dots,
    Fade,
    Lines,
    Mark,
    Path,
    Pen,
    Shape,
    Text,
    Tile,
    Tiles,
)

_FONTS = "Inter, 'DejaVu Sans', sans-serif"


def to_svg(picture: DisplayList, *, only_body: bool = False, prefix: str = "") -> str:
    """A picture as an SVG 1.1 document.

    Args:
        picture: what to write.
        only_body: leave out the XML declaration, to put it into a page.
        prefix: before every id, where several pictures stand in one page.
    """
    writer = _Writer(prefix)
    layers = [writer.layer(layer.name, layer.marks) for layer in picture.layers]
    size = f'width="{number(picture.width)}" height="{number(picture.height)}"'
    box = f'viewBox="0 0 {number(picture.width)} {number(picture.height)}"'
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    head = f'<svg {spaces} {size} {box} role="img">'
    parts = [
        "" if only_body else '<?xml version="1.0" encoding="UTF-8"?>\n',
        head,
        f"<title>{escape(picture.title)}</title>" if picture.title else "",
        "<defs>",
        *writer.definitions,
        "</defs>",
        f"<rect {size} {_fill(picture.ground)}/>",
        *layers,
        "</svg>\n",
    ]
    return "".join(parts)


class _Writer:
    """Writes marks, and collects what they refer to."""

    def __init__(self, prefix: str) -> None:
        self._prefix = prefix
        self.definitions: list[str] = []
        self._tiles: dict[Tile, str] = {}
        self._fades = 0

    def layer(self, name: str, marks: tuple[Mark, ...]) -> str:
        """One group of marks."""
        shown = "".join(self._mark(mark) for mark in marks if not _is_empty(mark))
        return f"<g class={quoteattr(name)}>{shown}</g>"

    def _mark(self, mark: Mark) -> str:
        match mark:
            case Shape():
                return _shape(mark)
            case Box():
                place = _place(mark)
                return f'<rect {place} rx="{number(mark.radius)}" {_fill(mark.fill)}{_stroke(mark.pen)}/>'
            case Boxes():
                return f'<path d="{"".join(map(_box_path, mark.boxes.tolist()))}" {_fill(mark.fill)}/>'
            case Lines():
                steps = "".join(
                    f"M{number(a)} {number(b)}L{number(c)} {number(d)}" for a, b, c, d in mark.ends.tolist()
                )
                return f'<path d="{steps}" fill="none"{_stroke(mark.pen)}/>'
            case Dots():
                dots = "".join(
                    f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(mark.radius)}"/>'
                    for x, y in mark.centres.tolist()
                )
                return f"<g {_fill(mark.fill)}{_stroke(mark.pen)}>{dots}</g>"
            case Text():
                return _text(mark)
            case Fade():
                return self._fade(mark)
            case Tiles():
                return "".join(self._runs(mark))

    def _runs(self, mark: Tiles) -> Iterator[str]:
        tile = self._tile(mark.tile)
        for x, y, count in zip(mark.x.tolist(), mark.y.tolist(), mark.count.tolist(), strict=True):
            for place in range(count):
                yield f'<use xlink:href="#{tile}" x="{number(x + place * mark.advance)}" y="{number(y)}"/>'

    def _tile(self, tile: Tile) -> str:
        """The id of a tile's group, written down the first time."""
        if tile not in self._tiles:
            name = f"{self._prefix}t{len(self._tiles)}"
            self._tiles[tile] = name
            self.definitions.append(f'<g id="{name}">{"".join(map(_shape, tile.shapes))}</g>')
        return self._tiles[tile]

    def _fade(self, mark: Fade) -> str:
        name = f"{self._prefix}f{self._fades}"
        self._fades += 1
        ends = ("1", "0") if mark.upward else ("0", "1")
        stops = "".join(
            f'<stop offset="{offset}" stop-color="{mark.colour}" stop-opacity="{opacity}"/>'
            for offset, opacity in zip("01", ends, strict=True)
        )
        self.definitions.append(
            f'<linearGradient id="{name}" x1="0" y1="0" x2="0" y2="1">{stops}</linearGradient>'
        )
        place = _place(mark)
        return f'<rect {place} fill="url(#{name})"/>'


def _place(mark: Box | Fade) -> str:
    corner = f'x="{number(mark.x)}" y="{number(mark.y)}"'
    return f'{corner} width="{number(mark.width)}" height="{number(mark.height)}"'


def _is_empty(mark: Mark) -> bool:
    """Whether there is nothing to draw; an empty path would be an error."""
    match mark:
        case Boxes():
            return not len(mark.boxes)
        case Lines():
            return not len(mark.ends)
        case _:
            return False


def number(value: float) -> str:
    """A number with as few digits as a picture needs."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _colour(colour: Colour, attribute: str) -> str:
    if len(colour) > 7:
        return f'{attribute}="{colour[:7]}" {attribute}-opacity="{number(int(colour[7:9], 16) / 255)}"'
    return f'{attribute}="{colour}"'


def _fill(colour: Colour | None) -> str:
    return 'fill="none"' if colour is None else _colour(colour, "fill")


def _stroke(pen: Pen | None) -> str:
    if pen is None:
        return ""
    cap = ' stroke-linecap="round"' if pen.cap == "round" else ""
    dash = f' stroke-dasharray="{" ".join(map(number, pen.dash))}"' if pen.dash else ""
    width = f'stroke-width="{number(pen.width)}"'
    return f' {_colour(pen.colour, "stroke")} {width} stroke-linejoin="round"{cap}{dash}'


def _shape(shape: Shape) -> str:
    return f'<path d="{path_data(shape.path)}" {_fill(shape.fill)}{_stroke(shape.pen)}/>'


def path_data(path: Path) -> str:
    """A path as the attribute ``d`` of SVG has it."""
    return "".join(step + " ".join(map(number, points)) for step, points in path)


def _box_path(box: list[float]) -> str:
    x, y, width, height = box
    return f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}z"


def _text(mark: Text) -> str:
    weight = ' font-weight="600"' if mark.bold else ""
    anchor = "" if mark.anchor == "start" else f' text-anchor="{mark.anchor}"'
    place = f'x="{number(mark.x)}" y="{number(mark.y)}" font-size="{number(mark.size)}"'
    style = f'font-family="{_FONTS}"{weight}{anchor} {_fill(mark.colour)}'
    return f"<text {place} {style}>{escape(mark.text)}</text>"
