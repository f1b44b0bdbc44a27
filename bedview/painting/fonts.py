"""The typeface of the pictures, and how wide a text is in it."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QGuiApplication

_BY_NEIGHBOUR = QFont.Tag("calt")
"""Glyphs chosen by what stands beside them (OpenType, contextual alternates)."""
_WANTED = ("Inter", "Inter Variable", "DejaVu Sans", "Noto Sans")


@lru_cache(maxsize=1)
def family() -> str:
    """The first of the wanted families that is there, else what the desktop uses."""
    there = set(QFontDatabase.families())
    return next((name for name in _WANTED if name in there), QGuiApplication.font().family())


@lru_cache(maxsize=256)
def font(size: float, bold: bool) -> QFont:
    """The font of a size in pixels."""
    made = QFont(family())
    made.setPixelSize(max(1, round(size)))
    made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    # Signs that change their shape beside a figure (":" after a row's number) are written into a PDF without
    # the character they stand for: what is copied out of it would read otherwise than what is seen.
    made.setFeature(_BY_NEIGHBOUR, 0)
    return made


@lru_cache(maxsize=256)
def _metrics(size: float, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(font(size, bold))


@lru_cache(maxsize=8192)
def text_width(text: str, size: float, bold: bool) -> float:
    """Width of a text in pixels."""
    return _metrics(size, bold).horizontalAdvance(text)
