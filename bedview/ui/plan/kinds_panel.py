"""A new part: the kinds to choose among, each with one sentence."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QCoreApplication, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from bedview.plan.segments.actions import ActionsSegment
from bedview.plan.segments.base import Segment
from bedview.plan.segments.bind_off import BindOffSegment
from bedview.plan.segments.bring_back import BringBackSegment
from bedview.plan.segments.cast_on import CastOnSegment
from bedview.plan.segments.hang import HangSegment
from bedview.plan.segments.hem import HemSegment
from bedview.plan.segments.narrow import NarrowSegment
from bedview.plan.segments.plain import PlainSegment
from bedview.plan.segments.repeat import RepeatSegment
from bedview.plan.segments.scrap_off import ScrapOffSegment
from bedview.plan.segments.set_aside import SetAsideSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.segments.widen import WidenSegment
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

OFFERED: tuple[tuple[str, type[Segment]], ...] = (
    ("cast_on", CastOnSegment),
    ("plain", PlainSegment),
    ("short_rows", ShortRowsSegment),
    ("narrow", NarrowSegment),
    ("widen", WidenSegment),
    ("set_aside", SetAsideSegment),
    ("bring_back", BringBackSegment),
    ("hem", HemSegment),
    ("scrap_off", ScrapOffSegment),
    ("hang", HangSegment),
    ("bind_off", BindOffSegment),
    ("repeat", RepeatSegment),
    ("actions", ActionsSegment),
)
"""The kinds in the order in which they are offered: as a piece is made."""


class KindsPanel(Card):
    """The kinds.

    Args:
        theme: how they look.
        parent: as ever.
    """

    kind_chosen = Signal(str)
    """A part of this kind is wanted."""
    put_away = Signal()
    """None after all."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent=parent)
        self.title = Label(self.tr("Add a part"), size="title", bold=True, wraps=True)
        self.where = Label(tone="quiet", wraps=True)
        self.column.addWidget(self.title)
        self.column.addWidget(self.where)
        self.buttons: dict[str, Button] = {}
        self.sentences: dict[str, Label] = {}
        for kind, segment in OFFERED:
            says, does = (
                QCoreApplication.translate("segments", text) for text in (segment.says, segment.does)
            )
            named = self.tr("{name}: {what}").format(name=says, what=does)
            button = Button(says, theme, ButtonKind.LINK, says=named)
            button.setToolTip("")
            button.clicked.connect(partial(self.kind_chosen.emit, kind))
            self.buttons[kind] = button
            pair = QVBoxLayout()
            pair.setSpacing(0)
            pair.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
            self.sentences[kind] = _Sentence(does, button)
            pair.addWidget(self.sentences[kind])
            self.column.addLayout(pair)
        self.away = Button(self.tr("None after all"), theme, ButtonKind.CHIP)
        self.away.clicked.connect(self.put_away)
        self.column.addWidget(self.away, 0, Qt.AlignmentFlag.AlignLeft)

    def ask(self, where: str, likely: str) -> None:
        """Say where the part would stand, and put the keyboard on the likeliest kind."""
        self.where.setText(where)
        self.setFocusProxy(self.buttons[likely])
        self.buttons[likely].setFocus(Qt.FocusReason.TabFocusReason)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        turn = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        buttons = list(self.buttons.values())
        focused = next((place for place, button in enumerate(buttons) if button.hasFocus()), None)
        if event.key() == Qt.Key.Key_Escape:
            self.put_away.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and focused is not None:
            buttons[focused].click()
        elif turn and focused is not None:
            buttons[(focused + turn) % len(buttons)].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)


class _Sentence(Label):
    """What a kind does; a press on it chooses the kind as well."""

    def __init__(self, text: str, button: Button) -> None:
        super().__init__(text, "small", "quiet", wraps=True)
        self._button = button
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self._button.click()
