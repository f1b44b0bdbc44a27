"""Colours as ``#rrggbb`` texts, and how well two of them can be told apart.

Luminance and contrast as the Web Content Accessibility Guidelines 2.2 define them
(https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio).
"""

from __future__ import annotations

from functools import lru_cache

Colour = str
"""``#rrggbb``, or ``#rrggbbaa`` where a mark is meant to let through what lies below."""


def channels(colour: Colour) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255; an alpha is left out."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def from_channels(red: float, green: float, blue: float) -> Colour:
    """The colour of three channels, 0 to 255."""
    return f"#{round(red):02x}{round(green):02x}{round(blue):02x}"


def with_alpha(colour: Colour, alpha: float) -> Colour:
    """The colour let through: ``alpha`` 0 is nothing, 1 opaque."""
    return f"{colour[:7]}{round(alpha * 255):02x}"


def mix(one: Colour, other: Colour, share: float) -> Colour:
    """``one`` with a ``share`` (0 to 1) of ``other``."""
    pairs = zip(channels(one), channels(other), strict=True)
    red, green, blue = (a + (b - a) * share for a, b in pairs)
    return from_channels(red, green, blue)


@lru_cache(maxsize=1024)
def luminance(colour: Colour) -> float:
    """Relative luminance, 0 for black to 1 for white."""
    linear = []
    for channel in channels(colour):
        share = channel / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    red, green, blue = linear
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio of two opaque colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def readable(colour: Colour, ground: Colour, at_least: float) -> Colour:
    """``colour``, moved as little as needed towards black or white until it stands out from ``ground``.

    Args:
        colour: the colour to keep if it can be kept.
        ground: what it is seen against.
        at_least: the contrast wanted; what neither black nor white reaches ends at the better of them.
    """
    if contrast(colour, ground) >= at_least:
        return colour
    away = "#000000" if contrast("#000000", ground) >= contrast("#ffffff", ground) else "#ffffff"
    for step in range(1, 21):
        moved = mix(colour, away, step / 20)
        if contrast(moved, ground) >= at_least:
            return moved
    return away
