"""Panels: a card on the paper, a card that warns, a strip that says a state of things."""

from __future__ import annotations

from typing import Literal

from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from bedview.ui.theme import Theme


class Card(QFrame):
    """A panel whose contents stand one below the other; add them to :attr:`column`."""

    def __init__(
        self,
        theme: Theme,
        part: Literal["card", "warning_card"] = "card",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", part)
        self.column = QVBoxLayout(self)
        edge = theme.px(18)
        self.column.setContentsMargins(edge, theme.px(15), edge, theme.px(15))
        self.column.setSpacing(theme.px(6))


class Strip(QFrame):
    """A dark strip across a page, contents side by side; add them to :attr:`row`."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("part", "strip")
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(theme.px(16), theme.px(6), theme.px(6), theme.px(6))
        self.row.setSpacing(theme.px(12))
