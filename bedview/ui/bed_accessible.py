"""The bed for screen readers: one element that says the whole bed, with a named cell for every needle shown.

A painted widget is a nameless filler to a reader unless it brings an interface of its own; Qt asks a factory
for it. Interfaces made in Python live only while Python refers to them, so a keeper holds on to them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QRect
from PySide6.QtGui import QAccessible, QAccessibleEvent, QAccessibleInterface
from PySide6.QtWidgets import QAccessibleWidget
from typing_extensions import override

from bedview.picture.words import bed_in_words, needle_in_words, yarns_in_words

if TYPE_CHECKING:
    from bedview.ui.bed_widget import BedWidget


class NeedleCell(QAccessibleInterface):
    """One needle, by its column in the picture from 0 at the left edge."""

    def __init__(self, bed: BedWidget, column: int) -> None:
        super().__init__()
        self._bed = bed
        self._column = column

    @property
    def needle(self) -> int:
        """Index of the needle in this column."""
        layout = self._bed.bed_layout()
        return layout.last - self._column if layout.turned else layout.first + self._column

    @override
    def isValid(self) -> bool:
        return self._column < self._bed.bed_layout().columns

    @override
    def object(self) -> QObject | None:  # type: ignore[override]  # a needle is no object of Qt's
        return None

    @override
    def parent(self) -> QAccessibleInterface:
        return QAccessible.queryAccessibleInterface(self._bed)

    @override
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @override
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        return None

    @override
    def childCount(self) -> int:
        return 0

    @override
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        return -1

    @override
    def role(self) -> QAccessible.Role:
        return QAccessible.Role.ListItem

    @override
    def state(self) -> QAccessible.State:
        state = QAccessible.State()
        state.focusable = True
        state.focused = self._bed.hasFocus() and self._bed.focused == self.needle
        return state

    @override
    def rect(self) -> QRect:
        rect = self._bed.needle_rect(self.needle).toAlignedRect()
        return QRect(self._bed.mapToGlobal(rect.topLeft()), rect.size())

    @override
    def text(self, kind: QAccessible.Text) -> str:
        if kind == QAccessible.Text.Name:
            return needle_in_words(self._bed.scene, self.needle)
        return yarns_in_words(self._bed.scene, self.needle) if kind == QAccessible.Text.Description else ""

    @override
    def setText(self, kind: QAccessible.Text, text: str) -> None:
        return


class BedInterface(QAccessibleWidget):
    """The bed as a list of needles, with the whole bed in words as its description."""

    def __init__(self, bed: BedWidget) -> None:
        super().__init__(bed, QAccessible.Role.List)
        self._bed = bed
        self._cells: list[NeedleCell] = []

    @override
    def childCount(self) -> int:
        return self._bed.bed_layout().columns

    @override
    def child(self, index: int) -> QAccessibleInterface | None:  # type: ignore[override]
        if not 0 <= index < self.childCount():
            return None
        while len(self._cells) <= index:
            self._cells.append(NeedleCell(self._bed, len(self._cells)))
        return self._cells[index]

    @override
    def childAt(self, x: int, y: int) -> QAccessibleInterface | None:  # type: ignore[override]
        needle = self._bed.needle_at(self._bed.mapFromGlobal(QPoint(x, y)).toPointF())
        return None if needle is None else self.child(self._bed.bed_layout().column_of(needle))

    @override
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        return self._cells.index(child) if child in self._cells else -1

    @override
    def text(self, kind: QAccessible.Text) -> str:
        if kind == QAccessible.Text.Description:
            return bed_in_words(self._bed.scene)
        return super().text(kind)


class _Keeper:
    """Makes interfaces for beds and holds on to them as long as the beds live."""

    def __init__(self) -> None:
        self._interfaces: dict[int, BedInterface] = {}

    def interface(self, _class_name: str, thing: QObject) -> QAccessibleInterface | None:
        """Qt's question for the interface of an object."""
        from bedview.ui.bed_widget import BedWidget

        if not isinstance(thing, BedWidget):
            return None
        known = id(thing)
        made = BedInterface(thing)
        self._interfaces[known] = made
        thing.destroyed.connect(lambda: self._interfaces.pop(known, None))
        return made


@lru_cache(maxsize=1)
def let_readers_see_beds() -> _Keeper:
    """Tell Qt, once, where interfaces of beds come from."""
    keeper = _Keeper()
    QAccessible.installFactory(keeper.interface)
    return keeper


def tell_changed(bed: BedWidget) -> None:
    """Tell a reader, if one is running, that the bed stands differently, and the needle it is on with it."""
    if not QAccessible.isActive():
        return
    QAccessible.updateAccessibility(QAccessibleEvent(bed, QAccessible.Event.DescriptionChanged))
    if bed.hasFocus() and bed.bed_layout().shows(bed.focused):
        event = QAccessibleEvent(bed, QAccessible.Event.NameChanged)
        event.setChild(bed.bed_layout().column_of(bed.focused))
        QAccessible.updateAccessibility(event)


def announce_focus(bed: BedWidget, column: int) -> None:
    """Tell a reader that the keyboard is on the needle in that column of the picture."""
    event = QAccessibleEvent(bed, QAccessible.Event.Focus)
    event.setChild(column)
    QAccessible.updateAccessibility(event)
