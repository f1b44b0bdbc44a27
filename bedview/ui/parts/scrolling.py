"""Room for what may be taller than its place."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


class ScrollingArea(QScrollArea):
    """Scrolls what stands in it, up and down; the keyboard passes it by.

    Args:
        inner: what stands in it, as wide as the area.
        sideways: whether it scrolls sideways too where the inner part cannot become narrow enough.
    """

    def __init__(self, inner: QWidget, *, sideways: bool = False) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        if not sideways:
            self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inner)
