"""Texts set in a given room: wrapped into lines, or cut short."""

from __future__ import annotations

from bedview.picture.marks import MeasureText


def wrapped(text: str, room: float, size: float, measure: MeasureText, *, bold: bool = False) -> list[str]:
    """A text in lines no wider than ``room``; a word that is wider by itself is broken."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if measure(longer, size, bold) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, room, size, measure, bold=bold)
        lines += whole
    return [*lines, line] if line else lines


def _broken(word: str, room: float, size: float, measure: MeasureText, *, bold: bool) -> list[str]:
    """A word in pieces that fit, one letter at least in each."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and measure(pieces[-1] + letter, size, bold) > room:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def shortened(text: str, room: float, size: float, measure: MeasureText, *, bold: bool = False) -> str:
    """A text cut with an ellipsis where it is too wide; nothing if not even a letter fits."""
    if measure(text, size, bold) <= room:
        return text
    kept = text
    while kept and measure(f"{kept}…", size, bold) > room:
        kept = kept[:-1]
    return f"{kept.rstrip()}…" if kept else ""
