"""Opens the class view on the projector, if there is one, and keeps it a single one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QWidget

from bedview.ui.class_view.sources import Teachable
from bedview.ui.class_view.view import ClassView
from bedview.ui.theme import Theme

Screen = TypeVar("Screen")


def screen_for_class(own: Screen, screens: Sequence[Screen]) -> Screen:
    """The first screen that is not the teacher's own; that one where there is no other."""
    return next((screen for screen in screens if screen is not own), own)


class ClassOpener(QObject):
    """Opens it for a page.

    Args:
        theme: how the other windows look.
        window: the window whose pages are shown to the class.
    """

    def __init__(self, theme: Theme, window: QWidget) -> None:
        super().__init__(window)
        self._theme = theme
        self._window = window
        self._turned = True
        self.view: ClassView | None = None

    def open_for(self, page: object) -> bool:
        """Show a page to the class; on another screen than the teacher's own where there is one.

        Returns:
            Whether there is anything on the page that a class can look at.
        """
        if not isinstance(page, Teachable):
            return False
        if self.view is None:
            self.view = ClassView(page.class_source(), self._theme, turned=self._turned, parent=self._window)
            self.view.left.connect(self._forget)
            self._put_on_screen(self.view)
        self.view.activateWindow()
        return True

    def _put_on_screen(self, view: ClassView) -> None:
        view.setGeometry(screen_for_class(self._window.screen(), QApplication.screens()).geometry())
        view.showFullScreen()
        view.setFocus()

    def _forget(self) -> None:
        if self.view is not None:
            self._turned = self.view.turned
        self.view = None
        self._window.activateWindow()
