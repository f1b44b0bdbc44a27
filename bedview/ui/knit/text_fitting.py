"""Text in the room there is: broken into lines, made smaller, and only at the very end cut short."""

from __future__ import annotations

from collections.abc import Callable

Measure = Callable[[str, float, bool], float]
"""Width in pixels of a text, at a size in pixels, bold or not."""
LINE_HEIGHT = 1.2
"""Of a line of text, as a share of its size."""


def wrap(text: str, width: float, px: float, bold: bool, measure: Measure) -> list[str]:
    """A text in lines no wider than ``width``; a word that is wider by itself is broken anywhere."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if measure(longer, px, bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while measure(line, px, bold) > width and len(line) > 1:
            fits = _letters_that_fit(line, width, px, bold, measure)
            lines.append(line[:fits])
            line = line[fits:]
    return [*lines, line] if line else lines


def _letters_that_fit(word: str, width: float, px: float, bold: bool, measure: Measure) -> int:
    fits = 1
    while fits < len(word) - 1 and measure(word[: fits + 1], px, bold) <= width:
        fits += 1
    return fits


def fit_lines(
    text: str, width: float, most_lines: int, px: float, bold: bool, measure: Measure, *, smallest: float
) -> tuple[list[str], float]:
    """A text in few lines, smaller if need be, and cut short with "…" where even that will not do.

    Args:
        text: the text.
        width: room in pixels.
        most_lines: how many lines there may be.
        px: size wanted.
        bold: weight.
        measure: how wide a text is.
        smallest: size below which it is rather cut short.

    Returns:
        The lines, and the size they fit at.
    """
    size = px
    while True:
        lines = wrap(text, width, size, bold, measure)
        if len(lines) <= most_lines:
            return lines, size
        if size <= smallest:
            return [*lines[: most_lines - 1], _cut(lines[most_lines - 1 :], width, size, bold, measure)], size
        size = max(smallest, size * 0.94)


def _cut(rest: list[str], width: float, px: float, bold: bool, measure: Measure) -> str:
    line = " ".join(rest)
    while line and measure(f"{line}…", px, bold) > width:
        line = line[:-1]
    return f"{line.rstrip()}…"
