"""Single actions, one a line, to be read and written as text."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QPlainTextEdit, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.plan.segments.actions import ActionsSegment
from bedview.session.action_lines import read_actions, say_action
from bedview.session.editing import EditError
from bedview.session.parts_editor import PartsEditor
from bedview.ui.parts.labels import Label
from bedview.ui.plan.entries import is_undo
from bedview.ui.theme import Theme

MOST_SHOWN: Final = 500
"""Actions that are shown; a program wrote more than these, and nobody looks for one among them."""
_LINES: Final = (4, 12)
"""Height of the entry in lines, at least and at most."""


class _Lines(QPlainTextEdit):
    """The text; undo is the piece's here too, and Tab leads on."""

    def __init__(self, editor: PartsEditor) -> None:
        super().__init__()
        self._editor = editor
        self.setTabChangesFocus(True)
        self.setUndoRedoEnabled(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setLineWrapMode(QPlainTextEdit.LineWrapMode.WidgetWidth)

    @override
    def event(self, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and is_undo(event) and event.type() == QEvent.Type.ShortcutOverride:
            event.ignore()
            return False
        return super().event(event)

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._editor.opened.end_gesture()


class ActionLinesEntry(QWidget):
    """The lines, and what is wrong with the first that cannot be read.

    Args:
        editor: what they belong to.
        theme: how they look.
        parent: as ever.
    """

    def __init__(self, editor: PartsEditor, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._editor = editor
        self.text = _Lines(editor)
        self.text.setProperty("part", "lines")
        self.text.setAccessibleName(self.tr("Actions, one a line"))
        self.wrong = Label(size="small", tone="warning", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.px(4))
        column.addWidget(self.text)
        column.addWidget(self.wrong)
        self.wrong.hide()
        self.text.textChanged.connect(self._take)

    def refresh(self, part: ActionsSegment) -> None:
        """Show the actions of a part, unless what stands there says the same."""
        many = len(part.actions) > MOST_SHOWN
        self.text.setReadOnly(many)
        if many:
            said = self.tr("{count} actions, too many to show").format(count=len(part.actions))
        else:
            said = "\n".join(say_action(item) for item in part.actions)
        if not self._says(part):
            self.text.blockSignals(True)
            self.text.setPlainText(said)
            self.text.blockSignals(False)
            self._say("")
        lines = max(_LINES[0], min(_LINES[1], said.count("\n") + 2))
        self.text.setFixedHeight(lines * self.text.fontMetrics().lineSpacing() + 16)

    def _says(self, part: ActionsSegment) -> bool:
        if not self.text.hasFocus():
            return False
        try:
            return read_actions(self.text.toPlainText()) == [dict(item) for item in part.actions]
        except EditError:
            return bool(self.wrong.text()) and self.text.hasFocus()

    def _take(self) -> None:
        if self.text.isReadOnly():
            return
        try:
            actions = read_actions(self.text.toPlainText())
            self._say("")
            gesture = f"{self._editor.place} actions"
            self._editor.put_fields({"actions": actions}, self.tr("Actions"), gesture)
        except EditError as error:
            self._say(error.message)

    def _say(self, why: str) -> None:
        self.wrong.setText(f"{why[:1].upper()}{why[1:]}." if why else "")
        self.wrong.setVisible(bool(why))
