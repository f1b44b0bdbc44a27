"""Which yarns lie on the free bench: each has a name, a colour, and what it is for; more can be added."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QMenu, QWidget
from typing_extensions import override

from bedview.picture.colour import Colour
from bedview.plan.piece import Yarn
from bedview.ui.learn.rows import place_in_rows
from bedview.ui.parts.buttons import Button
from bedview.ui.plan.entries import ChoiceEntry
from bedview.ui.theme import Theme

MOST_YARNS: Final = 8
"""Yarns on a bench; with more the form would cover the bed."""
LONGEST_NAME: Final = 60
"""Letters of a yarn's name."""
_ROLES: Final = ("fabric", "waste", "ravel")


class _YarnLine(QWidget):
    """One yarn: its colour, its name, its role.

    Args:
        yarn: as it lies there.
        colours: colours to choose from, and their names.
        theme: how it looks.
        parent: the form.
    """

    def __init__(
        self, yarn: Yarn, colours: Sequence[tuple[Colour, str]], theme: Theme, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._yarn, self._theme = yarn, theme
        self._colours = {known.lower(): said for known, said in colours}
        self._colour: Colour = yarn.colour or colours[0][0]
        self.colour = Button("", theme)
        self.name = QLineEdit(yarn.name or yarn.id)
        self.name.setMaxLength(LONGEST_NAME)
        self.name.setFixedWidth(theme.px(168))
        self.name.setAccessibleName(self.tr("Name of the yarn"))
        self.role = ChoiceEntry(
            list(zip(_ROLES, (self.tr("stays"), self.tr("waste"), self.tr("ravel cord")), strict=True))
        )
        self.role.show_value(yarn.role)
        self.role.setAccessibleName(self.tr("What the yarn is for"))
        menu = QMenu(self)
        for colour, said in colours:
            menu.addAction(_swatch(colour, theme), said).triggered.connect(partial(self._paint, colour))
        self.colour.setMenu(menu)
        self._show_colour()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, theme.px(10), 0)
        row.setSpacing(theme.px(4))
        for widget in (self.colour, self.name, self.role):
            row.addWidget(widget)

    def yarn(self) -> Yarn:
        """The yarn as it is wanted; where nothing is changed, what it was."""
        wanted = {"name": self.name.text().strip() or self._yarn.id, "role": _ROLES[self.role.currentIndex()]}
        known = {"name": self._yarn.name or self._yarn.id, "role": self._yarn.role}
        if self._yarn.colour is not None or self._colour != self._yarn.colour:
            wanted["colour"], known["colour"] = self._colour, self._yarn.colour or ""
        if wanted == known:
            return self._yarn
        return Yarn.model_validate(self._yarn.model_dump(exclude_unset=True) | wanted)

    def _paint(self, colour: Colour, _checked: bool = False) -> None:
        self._colour = colour
        self._show_colour()

    def _show_colour(self) -> None:
        self.colour.setIcon(_swatch(self._colour, self._theme))
        called = self._colours.get(self._colour.lower(), self._colour)
        self.colour.say("", self.tr("Colour of the yarn: {colour}").format(colour=called))


class YarnForm(QWidget):
    """The form, on as many lines as it needs.

    Args:
        yarns: what lies there.
        theme: how it looks.
        parent: as ever.
    """

    chosen = Signal(object)
    """These yarns are to lie there: those that did, in their order, then new ones."""

    def __init__(self, yarns: Sequence[Yarn], theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._colours: tuple[tuple[Colour, str], ...] = (
            ("#2f6690", self.tr("blue")),
            ("#6f8f4e", self.tr("green")),
            ("#c79a2e", self.tr("yellow")),
            ("#8a5a9c", self.tr("violet")),
            ("#4f8f97", self.tr("teal")),
            ("#c2573f", self.tr("red")),
            ("#d8c3a5", self.tr("natural")),
            ("#b0b4ba", self.tr("grey")),
            ("#3a3f45", self.tr("black")),
        )
        self.lines = [self._line(yarn) for yarn in yarns]
        self.another = Button(self.tr("Add a yarn"), theme, parent=self)
        self.use = Button(self.tr("Use these yarns"), theme, parent=self)
        self.another.clicked.connect(self.add)
        self.use.clicked.connect(self._choose)

    def _line(self, yarn: Yarn) -> _YarnLine:
        line = _YarnLine(yarn, self._colours, self._theme, self)
        line.name.returnPressed.connect(self._choose)
        return line

    def add(self) -> None:
        """Another yarn, in a colour that none has yet, to be named."""
        taken = {line.yarn().colour for line in self.lines}
        colour = next((each for each, _ in self._colours if each not in taken), self._colours[0][0])
        known = {line.yarn().id for line in self.lines}
        number = next(n for n in range(len(self.lines) + 1, 999) if f"yarn {n}" not in known)
        name = self.tr("yarn {number}").format(number=number)
        line = self._line(Yarn(id=f"yarn {number}", name=name, role="fabric", colour=colour))
        self.lines.append(line)
        line.show()
        self.another.setVisible(len(self.lines) < MOST_YARNS)
        self._arrange()
        line.name.selectAll()
        line.name.setFocus()

    def _choose(self) -> None:
        self.chosen.emit(tuple(line.yarn() for line in self.lines))

    def _arrange(self) -> None:
        buttons = [self.another, self.use] if len(self.lines) < MOST_YARNS else [self.use]
        high = place_in_rows([*self.lines, *buttons], self.width(), self._theme.px(40), self._theme.px(8))
        if self.height() != high:
            self.setFixedHeight(high)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()


def _swatch(colour: Colour, theme: Theme) -> QIcon:
    """A disc of a colour."""
    across, ratio = theme.px(16), 2.0
    image = QPixmap(round(across * ratio), round(across * ratio))
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.look.ink), 1))
        painter.setBrush(QColor(colour))
        painter.drawEllipse(1, 1, across - 2, across - 2)
    return QIcon(image)
