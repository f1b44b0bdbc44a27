"""The first page: pieces to try, pieces of late, and a way to open any other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from itertools import islice
from pathlib import Path

from PySide6.QtCore import QCoreApplication, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.plan.problems import PieceError
from bedview.plan.procedure import PlanError
from bedview.session.open_piece import OpenPiece
from bedview.store.demos import demo_paths, spoken
from bedview.store.piece_file import read_piece
from bedview.store.recovery import Recovered
from bedview.ui.in_background import Errand
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.piece_pictures import piece_chart
from bedview.ui.parts.piece_tile import PieceSeen, PieceTile
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

_TILE_PX = 330
_MOST_RECENT = 4
_MOST_UNSAVED = 3


class StartPage(QWidget):
    """The page.

    Args:
        remembered: pieces of late.
        theme: how it looks.
        without_file: pieces begun and never saved.
        parent: as ever.
    """

    piece_wanted = Signal(str)
    """A piece is to be opened: its path, or the name of a demo."""
    file_wanted = Signal()
    """A file is to be chosen."""
    throwing_away_wanted = Signal(str)
    """A piece that has no file is not wanted any more: the name of its copy."""
    new_wanted = Signal()
    """A new piece is to be begun."""

    def __init__(
        self,
        remembered: Remembered,
        theme: Theme,
        without_file: Iterable[Recovered] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Pieces"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._theme = theme
        self.tiles: list[PieceTile] = []
        self.recent: list[Button] = []
        self.unsaved: list[tuple[Button, Button]] = []
        """For each piece without a file: what opens it, and what throws it away."""
        self.new_piece = Button(
            self.tr("New piece…"), theme, ButtonKind.PRIMARY, says=self.tr("Begin a new piece (Ctrl+N)")
        )
        self.new_piece.clicked.connect(self.new_wanted)
        self.open_file = Button(self.tr("Open a piece…"), theme, says=self.tr("Open a piece from a file"))
        self.open_file.clicked.connect(self.file_wanted)
        self._lay_out(remembered.recent[:_MOST_RECENT], list(islice(without_file, _MOST_UNSAVED)))
        self._reading: Errand[list[PieceSeen]] = Errand(self._show_demos, self._show_none, self)
        self._reading.start(demos_seen)

    def _lay_out(self, recent: Sequence[Path], unsaved: Sequence[Recovered]) -> None:
        px = self._theme.px
        inner = QWidget()
        inner.setProperty("part", "plain")
        column = QVBoxLayout(inner)
        column.setContentsMargins(px(24), px(6), px(24), px(20))
        column.setSpacing(px(14))
        top = QHBoxLayout()
        top.addWidget(Label(self.tr("What shall it be?"), size="headline", bold=True), 1)
        top.addWidget(self.new_piece, 0, Qt.AlignmentFlag.AlignVCenter)
        top.addWidget(self.open_file, 0, Qt.AlignmentFlag.AlignVCenter)
        column.addLayout(top)
        if unsaved:
            column.addLayout(self._unsaved_line(unsaved))
        if recent:
            column.addLayout(self._recent_line(recent))
        column.addWidget(
            Label(
                self.tr("Pieces to try. Look, change, rehearse: the demo itself stays as it is."),
                tone="quiet",
                wraps=True,
            )
        )
        self._grid = QGridLayout()
        self._grid.setSpacing(px(16))
        column.addLayout(self._grid, 1)
        column.addWidget(
            Label(self.tr("A piece's file can also be dropped anywhere in this window."), "small", "quiet")
        )
        scroll = ScrollingArea(inner, sideways=True)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)

    def _recent_line(self, recent: Sequence[Path]) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setSpacing(self._theme.px(8))
        line.addWidget(Label(self.tr("Of late:"), tone="quiet"))
        for path in recent:
            says = self.tr("Open {path}").format(path=path)
            button = Button(path.name.removesuffix(".piece.json"), self._theme, ButtonKind.CHIP, says=says)
            button.clicked.connect(partial(self.piece_wanted.emit, str(path)))
            self.recent.append(button)
            line.addWidget(button)
        line.addStretch(1)
        return line

    def _unsaved_line(self, unsaved: Sequence[Recovered]) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setSpacing(self._theme.px(8))
        line.addWidget(Label(self.tr("Not saved yet:"), tone="quiet"))
        for copy in unsaved:
            title = copy.piece.title or self.tr("Untitled")
            says = self.tr("Go on with {title}, which has no file yet").format(title=title)
            button = Button(title, self._theme, ButtonKind.CHIP, says=says)
            button.clicked.connect(partial(self.piece_wanted.emit, copy.name))
            away = Button(
                "×", self._theme, ButtonKind.QUIET, says=self.tr("Throw {title} away").format(title=title)
            )
            away.setFixedWidth(self._theme.px(40))
            away.clicked.connect(partial(self.throwing_away_wanted.emit, copy.name))
            self.unsaved.append((button, away))
            line.addWidget(button)
            line.addWidget(away)
        line.addStretch(1)
        return line

    def _show_demos(self, seen: list[PieceSeen]) -> None:
        for each in seen:
            tile = PieceTile(each, self._theme)
            tile.clicked.connect(partial(self.piece_wanted.emit, each.name))
            self.tiles.append(tile)
        self._arrange()

    def _show_none(self, error: Exception) -> None:
        raise error

    def _arrange(self) -> None:
        """As many tiles in a row as there is room for."""
        across = max(1, min(len(self.tiles), self.width() // self._theme.px(_TILE_PX)))
        for place, tile in enumerate(self.tiles):
            self._grid.addWidget(tile, place // across, place % across)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()


def demos_seen() -> list[PieceSeen]:
    """The demos as tiles tell of them."""
    found = []
    for name, path in demo_paths().items():
        try:
            opened = OpenPiece(spoken(read_piece(path)))
        except (PieceError, PlanError):
            continue
        chart = piece_chart(opened)
        found.append(PieceSeen(name, opened.title, demo_says(name) or _counted(opened), chart))
    return found


def demo_says(name: str) -> str:
    """One sentence about a demo; empty for one that nobody described."""

    def tr(text: str) -> str:
        return QCoreApplication.translate("demos", text)

    return {
        "harbour-bootee": tr("Cuff to toe in one go: heel and toe by short rows, flaps grafted at the end."),
        "harbour-heel": tr("The pass wraps each held needle by itself. See where small gaps stay."),
        "allotment-heel": tr("Every wrap laid by hand, in a second yarn while the first one waits."),
        "allotment-vest-shoulders": tr(
            "Six needles to hold at a time, and both shoulders scrapped off open."
        ),
        "mountain-hut-hat": tr("Eleven wedges round, knitted sideways and closed by grafting."),
    }.get(name, "")


def _counted(opened: OpenPiece) -> str:
    rows = opened.procedure.timeline.passes
    return QCoreApplication.translate("demos", "{parts} parts, {rows} rows.").format(
        parts=len(opened.piece.segments), rows=rows
    )
