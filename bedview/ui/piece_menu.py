"""The menu of the piece, and all that is reached by a shortcut anywhere in the window."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from bedview.catalogue import languages
from bedview.ui.desk import Desk
from bedview.ui.remembered import Remembered
from bedview.ui.theme import TEXT_SCALES, LookChoice, Theme

Shortcut = QKeySequence.StandardKey | str


class PieceMenu(QMenu):
    """The menu.

    Args:
        window: whose shortcuts its actions are.
        desk: what undo, save and the demos act on.
        theme: what the look is chosen for.
        remembered: where recent pieces and the look are kept.
    """

    new_wanted = Signal()
    """A new piece is to be begun."""
    open_wanted = Signal()
    """A file dialog to open a piece is wanted."""
    save_wanted = Signal()
    """The piece is to be saved where it lies, or to a place yet to be named."""
    save_as_wanted = Signal()
    """The piece is to be saved to another place."""
    print_wanted = Signal()
    """The piece is to be seen as it will be printed."""
    measure_wanted = Signal()
    """What is being knitted was measured again, and the rows ahead are to be planned anew."""
    other_wanted = Signal()
    """The other one of the pair is wanted."""
    full_screen_wanted = Signal()
    """The window is to fill the screen, or no longer."""
    class_view_wanted = Signal()
    """The page is to be shown to a class, or no longer."""
    turn_wanted = Signal()
    """The bed is to be seen from the other side of the table."""
    quit_wanted = Signal()
    """That was all for today."""

    def __init__(self, window: QWidget, desk: Desk, theme: Theme, remembered: Remembered) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self._theme = theme
        self._remembered = remembered
        keys = QKeySequence.StandardKey
        self._add(self.tr("New…"), keys.New, self.new_wanted.emit)
        self._add(self.tr("Open…"), keys.Open, self.open_wanted.emit)
        self._recent = self._add_list(self.tr("Open again"))
        self._demos = self._add_list(self.tr("Demos"))
        self._all = self._add(self.tr("All pieces"), keys.Close, desk.close_piece)
        self.addSeparator()
        self.save = self._add(self.tr("Save"), keys.Save, self.save_wanted.emit)
        self.save_as = self._add(self.tr("Save as…"), "Ctrl+Shift+S", self.save_as_wanted.emit)
        self.print = self._add(self.tr("Print and sheets…"), keys.Print, self.print_wanted.emit)
        self.addSeparator()
        self.undo = self._add(self.tr("Undo"), keys.Undo, desk.undo)
        self.redo = self._add(self.tr("Redo"), keys.Redo, desk.redo)
        self.other = self._add(self.tr("The other one of the pair"), "Ctrl+Shift+P", self.other_wanted.emit)
        self.measure = self._add(self.tr("Measure again while knitting…"), "Ctrl+M", self.measure_wanted.emit)
        self.addSeparator()
        self._add_look()
        self._add_text_size()
        self._add_language()
        self._add(self.tr("Full screen"), keys.FullScreen, self.full_screen_wanted.emit)
        self.class_view = self._add(self.tr("Class view"), "F9", self.class_view_wanted.emit)
        self.turn = self._add(self.tr("Turn the bed round"), "Ctrl+T", self.turn_wanted.emit)
        self.addSeparator()
        self._add(self.tr("Quit"), keys.Quit, self.quit_wanted.emit)
        self._recent.aboutToShow.connect(self._list_recent)
        self._demos.aboutToShow.connect(self._list_demos)
        self.refresh()

    def refresh(self) -> None:
        """Say what can be undone and whether there is something to save."""
        opened = self._desk.opened
        for action, usual, what in (
            (self.undo, self.tr("Undo"), opened.undo_words if opened else ""),
            (self.redo, self.tr("Redo"), opened.redo_words if opened else ""),
        ):
            action.setEnabled(bool(what))
            said = self.tr("{name}: {what}").format(name=usual, what=what) if what else usual
            action.setText(said.replace("&", "&&"))
        self.save.setEnabled(opened is not None and (opened.unsaved or opened.path is None))
        self.save_as.setEnabled(opened is not None)
        self.print.setEnabled(opened is not None)
        self._all.setEnabled(opened is not None)
        self.measure.setEnabled(opened is not None)
        self.other.setEnabled(opened is not None)
        self._recent.setEnabled(bool(self._remembered.recent))

    # -- building -----------------------------------------------------------------------------------------

    def _add(self, text: str, shortcut: Shortcut, act: Callable[[], object]) -> QAction:
        action = QAction(text, self)
        if isinstance(shortcut, str):
            action.setShortcut(QKeySequence(shortcut))
        else:
            action.setShortcuts(shortcut)
        action.triggered.connect(lambda _checked=False: act())
        self.addAction(action)
        # A closed menu's shortcuts sleep; the window's do not.
        self._window.addAction(action)
        return action

    def _add_list(self, text: str) -> QMenu:
        # What addMenu(text) gives can lose its Qt object while threads import; what Python made cannot.
        menu = QMenu(text, self)
        self.addMenu(menu)
        return menu

    def _add_look(self) -> None:
        menu = self.addMenu(self.tr("Look"))
        group = QActionGroup(menu)
        for choice, words in (
            (LookChoice.SYSTEM, self.tr("As the system")),
            (LookChoice.LIGHT, self.tr("Light")),
            (LookChoice.DARK, self.tr("Dark")),
            (LookChoice.CONTRAST, self.tr("High contrast")),
        ):
            action = menu.addAction(words)
            action.setCheckable(True)
            action.setChecked(choice is self._theme.choice)
            action.triggered.connect(partial(self._choose_look, choice))
            group.addAction(action)

    def _add_language(self) -> None:
        said = self.tr("Language")
        # Whoever cannot read the language that was chosen by mistake finds the way back.
        menu = self.addMenu(said if said == "Language" else f"{said} (Language)")
        group = QActionGroup(menu)
        for code, name in {"": self.tr("As the system"), **languages()}.items():
            action = menu.addAction(name)
            action.setCheckable(True)
            action.setChecked(code == self._remembered.language)
            action.triggered.connect(partial(setattr, self._remembered, "language", code))
            group.addAction(action)
        menu.addSeparator()
        menu.addAction(self.tr("Spoken when bedview starts next")).setEnabled(False)

    def _add_text_size(self) -> None:
        menu = self.addMenu(self.tr("Text size"))
        keys = QKeySequence.StandardKey
        for text, shortcut, by in (
            (self.tr("Larger"), keys.ZoomIn, 1),
            (self.tr("Smaller"), keys.ZoomOut, -1),
            (self.tr("Usual"), "Ctrl+0", 0),
        ):
            action = self._add(text, shortcut, partial(self._step_text_size, by))
            self.removeAction(action)
            menu.addAction(action)

    def _choose_look(self, choice: LookChoice) -> None:
        self._remembered.look = choice
        self._theme.choose_look(choice)

    def _step_text_size(self, by: int) -> None:
        place = TEXT_SCALES.index(self._theme.text_scale) + by if by else TEXT_SCALES.index(1.0)
        scale = TEXT_SCALES[max(0, min(place, len(TEXT_SCALES) - 1))]
        self._remembered.text_scale = scale
        self._theme.choose_text_scale(scale)

    # -- lists --------------------------------------------------------------------------------------------

    def _list_recent(self) -> None:
        self._recent.clear()
        for path in self._remembered.recent:
            self._list(self._recent, path.name.removesuffix(".piece.json"), str(path))

    def _list_demos(self) -> None:
        from bedview.store.demos import demo_paths

        self._demos.clear()
        for name in demo_paths():
            self._list(self._demos, name.replace("-", " ").capitalize(), name)

    def _list(self, menu: QMenu, text: str, name: str) -> None:
        action = menu.addAction(text.replace("&", "&&"))
        action.setToolTip(str(Path(name)))
        action.triggered.connect(partial(self._desk.open, name))
