"""The tools beside the bed: what they act on, four positions, yarn, cams, and the carriage at the end."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QWidget
from typing_extensions import override

from bedview.bed.needles import NeedleError, Position, Side, format_needles, parse_needles
from bedview.ui.learn.hands import Hands
from bedview.ui.learn.rows import place_in_rows
from bedview.ui.learn.tool_button import ToolButton
from bedview.ui.learn.tools import KEYS, Tool
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

NEEDLES_KEY: Final = "N"
_DIGITS: Final = {Qt.Key.Key_0: 0, Qt.Key.Key_1: 1, Qt.Key.Key_2: 2, Qt.Key.Key_3: 3}


class _NeedleEntry(QLineEdit):
    """Needles by their names, for those who would rather type than point."""

    left = Signal()
    """The keyboard is to go back to the bed."""

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Down):
            self.left.emit()
        else:
            super().keyPressEvent(event)


class ToolRow(QWidget):
    """The tools, in as many rows as they need.

    Args:
        hands: what they are tools of.
        tools: which lie there.
        theme: how they look.
        parent: as ever.
    """

    bed_wanted = Signal()
    """The keyboard is to go to the bed."""
    yarns_wanted = Signal()
    """Other yarns are wanted than lie there."""

    def __init__(
        self, hands: Hands, tools: frozenset[Tool], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._hands, self._theme = hands, theme
        self.tools = tools
        self._small = False
        self.buttons: dict[Tool, ToolButton] = {}
        self.positions: dict[Position, ToolButton] = {}
        self._acts: dict[str, Callable[[], object]] = {}
        self.needles = _NeedleEntry(self)
        self._label = Label(self.tr("Needles"), "small", "quiet", parent=self)
        self._make_needles()
        if Tool.PLACE in tools:
            self._make_positions()
        self._make_tools()
        if Tool.MORE in tools:
            self._make_more()
        self.refresh()

    # -- making -------------------------------------------------------------------------------------------

    def _make_needles(self) -> None:
        self.needles.setFixedWidth(self._theme.px(112))
        self.needles.setAccessibleName(self.tr("Chosen needles, for example L6-R6"))
        says = self.tr("Type needles (key {key}): L6-R6,R9. Return chooses them.").format(key=NEEDLES_KEY)
        self.needles.setToolTip(says)
        self._label.setBuddy(self.needles)
        self.needles.returnPressed.connect(self._take_needles)
        self.needles.left.connect(self.bed_wanted)
        self._acts[NEEDLES_KEY] = self._type_needles
        shown = bool({Tool.PLACE, Tool.CAST_ON, Tool.WRAP, Tool.HANG} & self.tools)
        self.needles.setVisible(shown)
        self._label.setVisible(shown)

    def _make_positions(self) -> None:
        words = {
            Position.OUT: self.tr("out"),
            Position.WORK: self.tr("work"),
            Position.UPPER: self.tr("upper"),
            Position.HOLD: self.tr("hold"),
        }
        says = {
            Position.OUT: self.tr("Push the chosen needles out of work"),
            Position.WORK: self.tr("Bring the chosen needles to work"),
            Position.UPPER: self.tr("Bring the chosen needles to upper working"),
            Position.HOLD: self.tr("Bring the chosen needles to hold"),
        }
        for position, text in words.items():
            button = ToolButton(text, str(int(position)), self._theme, says=says[position], parent=self)
            button.clicked.connect(partial(self._hands.place, position))
            self.positions[position] = button

    def _make_tools(self) -> None:
        hands = self._hands
        for tool, text, act in (
            (Tool.THREAD, self.tr("Thread"), self._thread),
            (Tool.CUT, self.tr("Cut"), hands.cut),
            (Tool.CAST_ON, self.tr("Cast on"), hands.cast_on),
            (Tool.HOLD_CAMS, "", hands.switch_cams),
            (Tool.WRAP, self.tr("Wrap by hand"), hands.wrap),
            (Tool.HANG, self.tr("Hang open loops"), hands.hang),
            (Tool.UNPICK, self.tr("Unpick a row"), hands.unpick),
            (Tool.PUSH, "", hands.push),
        ):
            if tool not in self.tools:
                continue
            kind = ButtonKind.PRIMARY if tool is Tool.PUSH else ButtonKind.PLAIN
            button = ToolButton(text, KEYS[tool], self._theme, kind, parent=self)
            button.clicked.connect(partial(self._act, act))
            self.buttons[tool] = button
            self._acts[KEYS[tool]] = act
        if Tool.THREAD in self.buttons and self._has_yarn_menu:
            self._make_yarn_menu()

    @property
    def _has_yarn_menu(self) -> bool:
        return len(self._hands.bench.yarns) > 1 or Tool.MORE in self.tools

    def _make_yarn_menu(self) -> None:
        menu = QMenu(self)
        for yarn in self._hands.bench.yarns:
            text = (yarn.name or yarn.id).replace("&", "&&")
            menu.addAction(text).triggered.connect(partial(self._thread_one, yarn.id))
        if Tool.MORE in self.tools:
            menu.addSeparator()
            menu.addAction(self.tr("Add or rename yarns…")).triggered.connect(self.yarns_wanted)
        self.buttons[Tool.THREAD].setMenu(menu)

    def _make_more(self) -> None:
        hands = self._hands
        self.more = Button(
            self.tr("More ▾"), self._theme, says=self.tr("More that hands can do"), parent=self
        )
        menu = QMenu(self)
        for text, act in (
            (self.tr("Bind off the chosen needles"), hands.bind_off),
            (self.tr("Move their loops one needle to the left"), partial(hands.transfer, -1)),
            (self.tr("Move their loops one needle to the right"), partial(hands.transfer, 1)),
            (self.tr("Let the yarn wait, uncut"), hands.park),
            (self.tr("Lift the carriage across"), hands.lift),
        ):
            menu.addAction(text).triggered.connect(partial(self._act, act))
        for yarn in hands.bench.yarns:
            text = self.tr("Put {yarn} back that waits").format(yarn=yarn.name or yarn.id)
            menu.addAction(text).triggered.connect(partial(self._act, partial(hands.resume, yarn.id)))
        self.more.setMenu(menu)

    # -- following ----------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Say what the tools would do now."""
        hands, state = self._hands, self._hands.bench.state
        chosen = hands.chosen
        if not self.needles.hasFocus():
            self.needles.setText(format_needles(hands.meant, hands.bench.timeline.bed.needles))
            self.needles.setProperty("tone", "" if chosen else "quiet")
        if Tool.HOLD_CAMS in self.buttons:
            text = self.tr("Set hold cams off") if state.hold_cams else self.tr("Set hold cams on")
            self.buttons[Tool.HOLD_CAMS].say(text)
        if Tool.PUSH in self.buttons:
            to_left = state.carriage is Side.RIGHT
            text = self.tr("← Push the carriage") if to_left else self.tr("Push the carriage →")
            says = (
                self.tr("Push the carriage to the left")
                if to_left
                else self.tr("Push the carriage to the right")
            )
            self.buttons[Tool.PUSH].say(text, says)
        if Tool.THREAD in self.buttons:
            text = self.tr("Thread ▾") if self._has_yarn_menu else self.tr("Thread the yarn")
            self.buttons[Tool.THREAD].say(text, self.tr("Thread a yarn"))
        self._arrange()

    def _widgets(self) -> list[QWidget]:
        """What stands there, in order, but for the carriage."""
        shown: list[QWidget] = [] if self.needles.isHidden() else [self._label, self.needles]
        shown.extend(self.positions.values())
        shown.extend(button for tool, button in self.buttons.items() if tool is not Tool.PUSH)
        if Tool.MORE in self.tools:
            shown.append(self.more)
        return shown

    def make_small(self, small: bool) -> None:
        """Smaller buttons where the page is low, so that the bed keeps its room."""
        if small is self._small:
            return
        self._small = small
        for button in self.findChildren(Button):
            if button.property("part") != ButtonKind.PRIMARY.value:
                button.setProperty("part", ButtonKind.CHIP.value if small else ButtonKind.PLAIN.value)
                button.style().unpolish(button)
                button.style().polish(button)
        self._arrange()

    def _arrange(self) -> None:
        """One after the other, in a new row where there is no room; the carriage at the top right."""
        gap, high = self._theme.px(8), self._theme.px(34 if self._small else 42)
        push, taken = self.buttons.get(Tool.PUSH), 0
        if push is not None:
            wide = push.sizeHint().width() + self._theme.px(20)
            push.setGeometry(max(0, self.width() - wide), 0, wide, high)
            taken = wide + gap
        height = place_in_rows(self._widgets(), self.width(), high, gap, taken)
        if self.height() != height:
            self.setFixedHeight(height)

    # -- pressing -----------------------------------------------------------------------------------------

    def press_key(self, event: QKeyEvent) -> bool:
        """Do what a key stands for.

        Returns:
            Whether it stands for anything.
        """
        plain = event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier)
        digit = _DIGITS.get(Qt.Key(event.key()))
        if plain or not event.text():
            return False
        if digit is not None and self.positions:
            self._hands.place(Position(digit))
            return True
        act = self._acts.get(event.text().upper())
        if act is None:
            return False
        if not event.isAutoRepeat():
            act()
        return True

    def _act(self, act: Callable[[], object], _checked: bool = False) -> None:
        act()

    def _thread(self) -> None:
        if self._has_yarn_menu:
            self.buttons[Tool.THREAD].showMenu()
        else:
            self._hands.thread_yarn(self._hands.bench.yarns[0].id)

    def _thread_one(self, yarn: str, _checked: bool = False) -> None:
        self._hands.thread_yarn(yarn)

    def _type_needles(self) -> None:
        self.needles.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.needles.selectAll()

    def _take_needles(self) -> None:
        needles = self._hands.bench.timeline.bed.needles
        try:
            found = parse_needles(self.needles.text().strip().upper().replace(" ", ""), needles)
        except NeedleError as error:
            said = str(error)
            self._hands.refuse(f"{said[:1].upper()}{said[1:]}.")
            return
        self._hands.cursor = int(found[0])
        self._hands.choose(int(needle) for needle in found)
        self.bed_wanted.emit()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()
