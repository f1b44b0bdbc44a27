"""Text that is as large as the window allows, painted; to a screen reader it is a label like any other."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QWidget
from typing_extensions import override

from bedview.painting.fonts import font, text_width
from bedview.picture.look import Palette
from bedview.ui.knit.text_fitting import LINE_HEIGHT, fit_lines
from bedview.ui.theme import Theme

SMALLEST_SHARE = 0.72
"""How much smaller than wanted a text may become before it is cut short."""


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text in one colour and weight.

    Attributes:
        text: as it stands.
        tone: a colour of the look, by its name.
        bold: weight.
    """

    text: str
    tone: str = "ink"
    bold: bool = False


class ScaledText(QLabel):
    """A text of one or a few lines; it shrinks a little and then ends in "…" where there is no room.

    Args:
        theme: colours.
        tone: a colour of the look, by its name.
        bold: weight.
        lines: how many lines it may have.
        right: whether it ends at the right edge.
        at_top: whether it begins at the top of its place, instead of standing in the middle.
        parent: as ever.
    """

    def __init__(
        self,
        theme: Theme,
        tone: str = "ink",
        *,
        bold: bool = False,
        lines: int = 1,
        right: bool = False,
        at_top: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._theme = theme
        self._usual = Run("", tone, bold)
        self._lines = lines
        self._right = right
        self._at_top = at_top
        self._px = 16.0
        self._runs: tuple[Run, ...] = ()
        theme.look_changed.connect(self.update)

    def say(self, text: str) -> None:
        """Show a text."""
        self.show_runs((Run(text, self._usual.tone, self._usual.bold),))

    def show_runs(self, runs: tuple[Run, ...]) -> None:
        """Show stretches of text side by side, on one line."""
        self._runs = runs
        self.setText("".join(run.text for run in runs))

    def set_px(self, px: float) -> None:
        """Its size where there is room."""
        self._px = px
        self.update()

    def height_for(self, width: float) -> float:
        """How high the text is in a width."""
        if not self._runs or not self._runs[0].text:
            return 0.0
        run = self._runs[0]
        room = (width, self._lines)
        lines, px = fit_lines(
            run.text, *room, self._px, run.bold, text_width, smallest=self._px * SMALLEST_SHARE
        )
        return len(lines) * px * LINE_HEIGHT

    @override
    def sizeHint(self) -> QSize:
        wide = sum(text_width(run.text, self._px, run.bold) for run in self._runs)
        return QSize(round(wide) + 2, round(self._px * LINE_HEIGHT * self._lines))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(0, round(self._px * LINE_HEIGHT))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
            if len(self._runs) == 1:
                self._paint_lines(painter, self._runs[0])
            else:
                self._paint_runs(painter)

    def _paint_lines(self, painter: QPainter, run: Run) -> None:
        room = (self.width(), self._lines)
        lines, px = fit_lines(
            run.text, *room, self._px, run.bold, text_width, smallest=self._px * SMALLEST_SHARE
        )
        whole = " ".join(run.text.split())
        tip = run.text if " ".join(lines) != whole else ""
        if tip != self.toolTip():
            self.setToolTip(tip)
        painter.setFont(font(px, run.bold))
        painter.setPen(colour(self._theme.look, run.tone))
        side = Qt.AlignmentFlag.AlignRight if self._right else Qt.AlignmentFlag.AlignLeft
        flags = side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        spare = self.height() - len(lines) * px * LINE_HEIGHT
        top = 0.0 if self._at_top else spare / 2
        for number, line in enumerate(lines):
            box = QRectF(0, top + number * px * LINE_HEIGHT, self.width(), px * LINE_HEIGHT)
            painter.drawText(box, int(flags), line)

    def _paint_runs(self, painter: QPainter) -> None:
        px = self._px
        wide = sum(text_width(run.text, px, run.bold) for run in self._runs)
        if wide > self.width() > 0:
            px *= self.width() / wide
            wide = self.width()
        x = self.width() - wide if self._right else 0.0
        for run in self._runs:
            painter.setFont(font(px, run.bold))
            painter.setPen(colour(self._theme.look, run.tone))
            box = QRectF(x, 0, wide + 4, self.height())
            flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
            painter.drawText(box, int(flags), run.text)
            x += text_width(run.text, px, run.bold)


def colour(look: Palette, tone: str) -> QColor:
    """A colour of a look by its name."""
    return QColor(getattr(look, tone))
