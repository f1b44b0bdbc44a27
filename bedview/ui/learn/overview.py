"""All lessons with how far one has come, foretelling, the free bench, and whose progress it is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QMenu, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.store.learners import LONGEST_NAME
from bedview.ui.learn.lesson_tile import LessonSeen, LessonTile
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.labels import Label
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.theme import Theme


class Overview(QWidget):
    """The first view of the page.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    lesson_wanted = Signal(str)
    """A lesson, by its name."""
    foretell_wanted = Signal(bool)
    """Rows are to be foretold: those of the lessons, or (True) of the open piece."""
    bench_wanted = Signal()
    """To the free bench."""
    learner_chosen = Signal(str)
    """Whose progress it is; empty for nobody's."""
    wipe_wanted = Signal(str)
    """A learner is to be forgotten."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.tiles: list[LessonTile] = []
        self.learner = Button("", theme)
        self._learners = QMenu(self)
        self.learner.setMenu(self._learners)
        self.new_name = QLineEdit()
        self.new_name.setMaxLength(LONGEST_NAME)
        self.new_name.setPlaceholderText(self.tr("A name, then Return"))
        self.new_name.setAccessibleName(self.tr("Name of the learner"))
        self.new_name.setFixedWidth(theme.px(230))
        self.new_name.hide()
        self._not_kept = Label(self.tr("With a name, your progress is kept."), tone="quiet")
        self.go_on = Button("", theme, ButtonKind.PRIMARY)
        self.go_on_words = Label(wraps=True, bold=True, size="lead")
        self.foretell = Button(self.tr("Foretell"), theme)
        self.foretell_piece = Button("", theme)
        self.foretell_words = Label(tone="quiet", wraps=True)
        self.bench = Button(self.tr("To the bench"), theme)
        self._lay_out()
        self.new_name.returnPressed.connect(self._take_name)
        self.new_name.editingFinished.connect(self.new_name.hide)
        self.foretell.clicked.connect(lambda: self.foretell_wanted.emit(False))
        self.foretell_piece.clicked.connect(lambda: self.foretell_wanted.emit(True))
        self.bench.clicked.connect(self.bench_wanted)
        self.go_on.clicked.connect(self._go_on)

    def _lay_out(self) -> None:
        px = self._theme.px
        top = QHBoxLayout()
        top.addWidget(Label(self.tr("What shall we learn?"), size="headline", bold=True), 1)
        top.addWidget(self._not_kept)
        top.addSpacing(px(8))
        top.addWidget(self.new_name)
        top.addWidget(self.learner)
        self._grid = QGridLayout()
        self._grid.setSpacing(px(10))
        body = QHBoxLayout()
        body.setSpacing(px(24))
        body.addLayout(self._grid, 5)
        side = QWidget()
        side.setLayout(self._side())
        body.addWidget(side, 3)
        inner = QWidget()
        inner.setProperty("part", "plain")
        column = QVBoxLayout(inner)
        column.setContentsMargins(px(24), px(6), px(24), px(20))
        column.setSpacing(px(14))
        column.addLayout(top)
        column.addLayout(body, 1)
        scroll = ScrollingArea(inner, sideways=True)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)

    def _side(self) -> QVBoxLayout:
        side = QVBoxLayout()
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(self._theme.px(14))
        for title, widgets in (
            (self.tr("Go on"), (self.go_on_words, self.go_on)),
            (self.tr("Foretell"), (self.foretell_words, self.foretell, self.foretell_piece)),
            (
                self.tr("Free bench"),
                (
                    Label(
                        self.tr("A bed, yarn, and nobody who asks anything. What you make can be rehearsed."),
                        tone="quiet",
                        wraps=True,
                    ),
                    self.bench,
                ),
            ),
        ):
            card = Card(self._theme)
            card.column.addWidget(Label(title, "small", "quiet", bold=True))
            for widget in widgets:
                at = Qt.AlignmentFlag.AlignLeft if isinstance(widget, Button) else Qt.AlignmentFlag(0)
                card.column.addWidget(widget, 0, at)
            side.addWidget(card)
        side.addStretch(1)
        return side

    # -- what is shown ------------------------------------------------------------------------------------

    def show_lessons(self, seen: Sequence[LessonSeen]) -> None:
        """Show the lessons and how far one has come."""
        if [tile.seen.name for tile in self.tiles] != [each.name for each in seen]:
            for tile in self.tiles:
                tile.deleteLater()
            self.tiles = [LessonTile(each, self._theme) for each in seen]
            for tile in self.tiles:
                tile.clicked.connect(partial(self._open, tile))
            self._arrange()
        for tile, each in zip(self.tiles, seen, strict=True):
            tile.show_seen(each)
        coming = next((each for each in seen if each.next), None)
        self.go_on.setVisible(bool(seen))
        if coming is not None:
            self.go_on_words.setText(f"{coming.number} · {coming.title}")
            self.go_on.say(self.tr("Go on here") if coming.state else self.tr("Begin"))
        elif seen:
            self.go_on_words.setText(self.tr("All lessons are done."))
            self.go_on.hide()

    def show_foretelling(self, words: str, piece: str) -> None:
        """Say what is due, and offer the rows of the open piece if there is one."""
        self.foretell_words.setText(words)
        self.foretell_piece.say(self.tr("Foretell “{piece}”").format(piece=piece))
        self.foretell_piece.setVisible(bool(piece))

    def show_learners(self, names: Sequence[str], learner: str | None) -> None:
        """Say whose progress it is, and who else there is."""
        text = self.tr("Learner: {name} ▾").format(name=learner) if learner else self.tr("Who learns? ▾")
        self.learner.say(text)
        self.learner.setToolTip(self.tr("Whose progress is kept on this machine"))
        self._not_kept.setVisible(learner is None)
        menu = self._learners
        menu.clear()
        for name in names:
            action = menu.addAction(name.replace("&", "&&"))
            action.setCheckable(True)
            action.setChecked(name == learner)
            action.triggered.connect(partial(self._choose, name))
        nobody = menu.addAction(self.tr("Nobody: keep nothing"))
        nobody.setCheckable(True)
        nobody.setChecked(learner is None)
        nobody.triggered.connect(partial(self._choose, ""))
        menu.addSeparator()
        menu.addAction(self.tr("Another learner…")).triggered.connect(self._ask_name)
        if learner:
            text = self.tr("Forget {name} and all progress").format(name=learner)
            menu.addAction(text.replace("&", "&&")).triggered.connect(partial(self._wipe, learner))

    def _open(self, tile: LessonTile, _checked: bool = False) -> None:
        self.lesson_wanted.emit(tile.seen.name)

    def _go_on(self) -> None:
        coming = next((tile.seen.name for tile in self.tiles if tile.seen.next), "")
        if coming:
            self.lesson_wanted.emit(coming)

    # -- learners -----------------------------------------------------------------------------------------

    def _choose(self, name: str, _checked: bool = False) -> None:
        self.learner_chosen.emit(name)

    def _wipe(self, name: str, _checked: bool = False) -> None:
        self.wipe_wanted.emit(name)

    def _ask_name(self) -> None:
        self.new_name.clear()
        self.new_name.show()
        self.new_name.setFocus()

    def _take_name(self) -> None:
        name = " ".join(self.new_name.text().split())
        self.new_name.hide()
        if name:
            self.learner_chosen.emit(name)

    # -- Qt's calls ---------------------------------------------------------------------------------------

    def take_focus(self) -> None:
        """Put the keyboard on what comes next."""
        coming = [tile for tile in self.tiles if tile.seen.next] or self.tiles[:1]
        if coming:
            coming[0].setFocus()
        else:
            self.setFocus()

    def _arrange(self) -> None:
        """In two columns, read downwards; in one where there is little room."""
        across = 2 if self.width() >= self._theme.px(1000) else 1
        down = -(-len(self.tiles) // across)
        for place, tile in enumerate(self.tiles):
            self._grid.addWidget(tile, place % down, place // down)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.tiles:
            self._arrange()
