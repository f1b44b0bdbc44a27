"""Joins the sheet that measures again to the window: to its knitting, its undo, its line that says things."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from bedview.ui.pages.names import KNIT
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

if TYPE_CHECKING:
    from bedview.ui.main_window import MainWindow
    from bedview.ui.plan.measure_sheet import MeasureSheet


def measure_again(window: MainWindow, theme: Theme, remembered: Remembered) -> MeasureSheet | None:
    """Ask what measures now as it is knitted, and plan the rows ahead anew.

    Returns:
        The sheet; None if nothing lies open that could be knitted.
    """
    from bedview.ui.plan.measure_sheet import MeasureSheet
    from bedview.ui.plan.measures import of_locale

    if window.knitting is None:
        window.show_page(KNIT)
    run = window.knitting
    if run is None:
        return None

    def say_done() -> None:
        window.said.say(
            QCoreApplication.translate(
                "MeasureSheet", "The rows ahead are planned anew; those that are knitted stay."
            ),
            QCoreApplication.translate("MeasureSheet", "Undo"),
            window.desk.undo,
        )

    sheet = MeasureSheet(run, theme, of_locale(remembered.length_unit), window)
    sheet.accepted.connect(say_done)
    sheet.open()
    return sheet
