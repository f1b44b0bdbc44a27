"""Things to watch, one line each, those that come next; a press goes there."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.checks.folding import Folded
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.finding_signs import finding_sign
from bedview.picture.marks import DisplayList, Layer
from bedview.session.rehearsal import Rehearsal
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.piece_pictures import broken_off_words
from bedview.ui.theme import Theme

MOST_LINES = 4
_CLEAR = "#00000000"


class FindingSign(QWidget):
    """The sign of a finding, as it stands in the chart."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._severity = ""
        self._cache = TileCache(self.devicePixelRatio())
        size = theme.px(18)
        self.setFixedSize(QSize(size, size))

    def show_severity(self, severity: str) -> None:
        """Show the sign of another severity."""
        self._severity = severity
        self.setAccessibleName(severity)
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._severity:
            return
        rect, look = QRectF(self.rect()), self._theme.look
        marks = finding_sign(self._severity, rect.width() / 2, rect.height() / 2, 0.85 * rect.width(), look)
        picture = DisplayList(rect.width(), rect.height(), _CLEAR, (Layer("sign", marks),))
        with QPainter(self) as painter:
            paint(picture, painter, self._cache)


class WatchLine(QWidget):
    """One finding: its sign, what and where."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sign = FindingSign(theme)
        self.button = Button("", theme, ButtonKind.LINE)
        self.button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(4))
        row.addWidget(self.sign)
        row.addWidget(self.button)
        row.addStretch(1)

    def show_finding(self, folded: Folded) -> None:
        """Show a finding."""
        self.sign.show_severity(folded.severity.value)
        self.button.say(folded.title)
        self.button.setToolTip(folded.text)
        self.button.setAccessibleDescription(folded.text)


class WatchList(QWidget):
    """The list.

    Args:
        rehearsal: whose findings are listed.
        theme: how it looks.
        parent: as ever.
    """

    step_wanted = Signal(int)
    """A finding was pressed: the step it happens in."""

    def __init__(self, rehearsal: Rehearsal, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rehearsal = rehearsal
        self._shown: list[tuple[int, Folded]] = []
        self._lines_fit = 1
        self.heading = Label(size="body", tone="quiet")
        self.lines = [WatchLine(theme) for _ in range(MOST_LINES)]
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.heading, 0, Qt.AlignmentFlag.AlignTop)
        for place, line in enumerate(self.lines):
            line.button.clicked.connect(lambda _checked=False, place=place: self._choose(place))
            column.addWidget(line)
        column.addStretch(1)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())

    def make_room_for(self, lines: int) -> None:
        """Show so many findings at most."""
        self._lines_fit = max(1, min(lines, MOST_LINES))
        self.refresh()

    def refresh(self) -> None:
        """List what is to be watched from the cursor on; the last ones once all are past."""
        watched = self._rehearsal.watched
        ahead = next(
            (place for place, (step, _) in enumerate(watched) if step >= self._rehearsal.cursor), len(watched)
        )
        start = max(0, min(ahead, len(watched) - self._lines_fit))
        shown = watched[start : start + self._lines_fit]
        self._say_heading(len(watched))
        if shown == self._shown and watched:
            return
        self._shown = shown
        for place, line in enumerate(self.lines):
            if place < len(shown):
                line.show_finding(shown[place][1])
            line.setVisible(place < len(shown))

    def _say_heading(self, count: int) -> None:
        trouble = "" if self._rehearsal.outcome is not None else broken_off_words(self._rehearsal.opened)
        nothing = self.tr("Nothing to watch: no gap, no long float, no lost stitch.")
        self.heading.setText(trouble or nothing)
        self.heading.setVisible(bool(trouble) or not count)

    def _choose(self, place: int) -> None:
        if place < len(self._shown):
            self.step_wanted.emit(self._shown[place][0])
