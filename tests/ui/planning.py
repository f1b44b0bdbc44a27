"""A page Plan to work with, and hands that press and drag on it."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from bedview.plan.piece import Piece
from bedview.session.open_piece import OpenPiece
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.plan.entries import TextEntry
from bedview.ui.plan.field_line import FieldLine
from bedview.ui.remembered import Remembered
from bedview.ui.theme import LookChoice, Theme

# A buoy's bag: 20 needles; cast on, 4 rows, a dart down to 8 and back with hand wraps, 6 rows, bound off.
# The dart takes 20 - 8 rows each way.
BAG: dict[str, Any] = {
    "format": 1,
    "title": "Buoy bag",
    "bed": {"needles": 60, "pitch_mm": 4.5},
    "yarns": [
        {"id": "main", "name": "rope wool", "role": "fabric", "tex": 400},
        {"id": "scrap", "role": "waste"},
    ],
    "gauges": [{"yarn": "main", "tension": 6, "stitches": 20, "rows": 30, "over_mm": 100}],
    "segments": [
        {"kind": "cast_on", "title": "Start", "needles": "L10-R10", "tension": 6},
        {"kind": "plain", "title": "Below", "rows": 4},
        {"kind": "short_rows", "title": "Dart", "down_to": 8, "back": {}},
        {"kind": "plain", "title": "Above", "rows": 6},
        {"kind": "bind_off", "title": "Close", "tail_cm": 40},
    ],
}


def bag() -> OpenPiece:
    return OpenPiece(Piece.read(BAG))


def shown(qtbot: QtBot, piece: OpenPiece, remembered: Remembered | None = None) -> PlanPage:
    theme = Theme(LookChoice.LIGHT)
    page = PlanPage(piece, theme, remembered)
    theme.setParent(page)
    qtbot.addWidget(page)
    theme.dress(page)
    page.resize(1280, 656)
    page.show()
    qtbot.waitExposed(page)
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    return page


def titles(piece: OpenPiece) -> list[str]:
    return [part.title or part.says for part in piece.piece.segments]


def line_of(page: PlanPage, key: str) -> FieldLine:
    return next(line for line in page.part.lines if line.spec.key == key)


def write(entry: QWidget, text: str) -> None:
    """Type a text over what stands in an entry, letter by letter."""
    assert isinstance(entry, TextEntry)
    entry.setFocus()
    entry.selectAll()
    QTest.keyClicks(entry, text)


def drag(widget: QWidget, start: QPointF, end: QPointF, keys: Qt.KeyboardModifier | None = None) -> None:
    """Press, move in a few steps, let go."""
    held = keys or Qt.KeyboardModifier.NoModifier
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    way = [start + (end - start) * share for share in (0.25, 0.5, 0.75, 1.0)]
    _send(widget, QEvent.Type.MouseButtonPress, start, left, left, Qt.KeyboardModifier.NoModifier)
    for place in way:
        _send(widget, QEvent.Type.MouseMove, place, none, left, held)
    _send(widget, QEvent.Type.MouseButtonRelease, end, left, none, held)


def _send(
    widget: QWidget,
    kind: QEvent.Type,
    place: QPointF,
    button: Qt.MouseButton,
    buttons: Qt.MouseButton,
    keys: Qt.KeyboardModifier,
) -> None:
    QApplication.sendEvent(widget, QMouseEvent(kind, place, widget.mapToGlobal(place), button, buttons, keys))


def middle_of_card(page: PlanPage, part: int) -> QPoint:
    layout = page.chart.places()
    top, bottom = layout.cards[part]
    return QPoint(round((layout.cards_left + layout.cards_right) / 2), round((top + bottom) / 2))
