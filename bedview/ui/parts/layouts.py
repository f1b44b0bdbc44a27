"""What layouts have in common: how they are emptied, and how a bed stands over what is said of it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLayout, QVBoxLayout, QWidget

from bedview.ui.theme import Theme


def clear(layout: QLayout) -> None:
    """Take all widgets out of a layout and away; what is taken out is painted no more."""
    while layout.count():
        item = layout.takeAt(0)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def bed_over(bed: QWidget, beneath: QLayout | QWidget, card: QWidget, theme: Theme) -> QVBoxLayout:
    """A bed as tall as there is room for, below it a card, and below that what one acts with.

    Args:
        bed: the bed.
        beneath: buttons or tools.
        card: what is said.
        theme: how far things stand apart.
    """
    px = theme.px
    column = QVBoxLayout()
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(px(8))
    across = QHBoxLayout()
    across.setContentsMargins(px(20), 0, px(20), 0)
    across.addWidget(bed)
    column.addLayout(across, 1)
    below = QVBoxLayout()
    below.setContentsMargins(px(24), 0, px(24), px(14))
    below.setSpacing(px(10))
    below.addWidget(card)
    if isinstance(beneath, QLayout):
        below.addLayout(beneath)
    else:
        below.addWidget(beneath)
    column.addLayout(below)
    return column
