"""Where hands stand in the making up, below the steps: how many are done, on, back, and begin again."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme


class PlaceBar(QWidget):
    """The bar.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    on_wanted = Signal()
    """The chosen step is done; on to the next."""
    back_wanted = Signal()
    """The step done last is not done after all."""
    again_wanted = Signal()
    """No step is to count as done any more; or, straight after that, those that did are to count again."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Label(size="lead", bold=True, wraps=True)
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(theme.px(8))
        self.progress.setAccessibleName(self.tr("How much of the making up is done"))
        self.on = Button(
            self.tr("Done, on"),
            theme,
            ButtonKind.PRIMARY,
            says=self.tr("This step is done, on to the next: Space"),
        )
        self.back = Button(
            self.tr("Back"), theme, says=self.tr("The step done last is not done after all: Backspace")
        )
        self.again = Button("", theme, ButtonKind.LINK)
        self.news = Label(tone="warning", wraps=True)
        self.hint = Label(self.tr("Space: done · Backspace: back · ↑ ↓: look"), "small", "quiet", wraps=True)
        self._lay_out(theme)
        self.on.clicked.connect(self.on_wanted)
        self.back.clicked.connect(self.back_wanted)
        self.again.clicked.connect(self.again_wanted)
        self.say_news("")

    def _lay_out(self, theme: Theme) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, theme.px(8), theme.px(6), 0)
        column.setSpacing(theme.px(6))
        row = QHBoxLayout()
        row.setSpacing(theme.px(8))
        row.addWidget(self.words, 1)
        row.addWidget(self.back)
        row.addWidget(self.on)
        column.addLayout(row)
        column.addWidget(self.progress)
        column.addWidget(self.news)
        column.addWidget(self.hint)
        column.addWidget(self.again, 0, Qt.AlignmentFlag.AlignLeft)

    def show_place(self, done: int, of: int, *, taken_back: bool) -> None:
        """Show how many steps are done.

        Args:
            done: so many are.
            of: there are.
            taken_back: whether all ticks were taken back just now, and may come back.
        """
        self.setVisible(of > 0)
        text = self.tr("All {of} done") if done == of else self.tr("{done} of {of} done")
        self.words.setText(text.format(done=done, of=of))
        self.progress.setRange(0, max(of, 1))
        self.progress.setValue(done)
        self.on.setEnabled(done < of)
        self.back.setEnabled(done > 0)
        self.again.setVisible(done > 0 or taken_back)
        self.again.say(
            self.tr("Bring the ticks back") if taken_back else self.tr("Begin the making up again")
        )

    def say_news(self, words: str) -> None:
        """Say what went wrong; nothing, if it is empty."""
        self.news.setText(words)
        self.news.setVisible(bool(words))
