"""Widgets side by side, in a new row where there is no room for more."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QWidget


def place_in_rows(widgets: Iterable[QWidget], width: int, high: int, gap: int, taken: int = 0) -> int:
    """Place widgets in rows from the left, each as wide as it likes, but never narrower than its least width.

    Args:
        widgets: in order; they lie in a parent of their own.
        width: of the parent.
        high: height of a row.
        gap: between neighbours and between rows.
        taken: how much of the first row's right end is not theirs.

    Returns:
        The height of all rows together.
    """
    x, y, room = 0, 0, width - taken
    for widget in widgets:
        wide = min(max(widget.sizeHint().width(), widget.minimumWidth()), widget.maximumWidth())
        if x and x + wide > room:
            x, y, room = 0, y + high + gap, width
        widget.setGeometry(x, y, wide, high)
        x += wide + gap
    return y + high
