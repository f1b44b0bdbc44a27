"""The shape with what belongs to it: where to look from, what colours mean, the slider, what was pressed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QMenu,
    QProgressBar,
    QSlider,
    QStackedLayout,
    QVBoxLayout,
    QWidget,
)

from bedview.finish.body_curves import What
from bedview.ui.finish.messages import Marks, Shaped
from bedview.ui.finish.shape_canvas import ShapeCanvas
from bedview.ui.parts.buttons import Button
from bedview.ui.parts.labels import Label
from bedview.ui.theme import Theme

if TYPE_CHECKING:
    from bedview.form.colouring import ColourBy

STEPS_A_FRAME: Final = 5
"""Places of the slider from one shape to the next."""


class ShapePanel(QWidget):
    """The panel.

    Args:
        theme: how it looks.
        parent: as ever.
    """

    loop_chosen = Signal(int)
    """A loop of the shape was pressed, and nothing is being measured."""
    way_wanted = Signal(int, int, int)
    """A way is to be measured: the number of the shape, and two loops."""
    stop_wanted = Signal()
    """The shape need not be worked out."""
    begin_wanted = Signal()
    """The shape is to be worked out after all."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._measured: list[int] = []
        self._said = ""
        self._narrow = False
        self.canvas = ShapeCanvas(theme)
        self.views = Button("", theme)
        self.colours = Button("", theme)
        self.measure = Button(self.tr("Measure"), theme)
        self.measure.setCheckable(True)
        self.body = Button("", theme)
        self.body.setCheckable(True)
        self.found = Label(wraps=True)
        self.compared = Label(size="small", wraps=True)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(self.tr("How far the seams are closed"))
        self._flat, self._closed = Label(self.tr("Flat")), Label(self.tr("Made up"))
        self.left_out = Label("", size="small", tone="quiet", wraps=True)
        self.waiting = _Waiting(theme)
        self._fill_menus()
        self._lay_out()
        self._connect()
        self.show_shape(None)

    def _fill_menus(self) -> None:
        self._view_words: dict[str, str] = {
            "corner": self.tr("From a corner"),
            "side": self.tr("From the side"),
            "other side": self.tr("From the other side"),
            "front": self.tr("From the front"),
            "back": self.tr("From behind"),
            "top": self.tr("From above"),
            "sole": self.tr("From below"),
        }
        self._colour_words: dict[ColourBy, str] = {
            "segment": self.tr("Coloured by part"),
            "row": self.tr("Coloured by row"),
            "strain": self.tr("Coloured by strain"),
            "yarn": self.tr("In the yarn’s colour"),
        }
        views, colours = QMenu(self), QMenu(self)
        for view, words in self._view_words.items():
            views.addAction(words, partial(self.look_from, view))
        for meaning, words in self._colour_words.items():
            colours.addAction(words, partial(self.colour_by, meaning))
        self.views.setMenu(views)
        self.colours.setMenu(colours)
        self.views.say(self._with_arrow(self._view_words["corner"]))
        self.colours.say(self._with_arrow(self._colour_words["segment"]))

    @staticmethod
    def _with_arrow(words: str) -> str:
        return f"{words} ▾"

    def _lay_out(self) -> None:
        px = self._theme.px
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        top, self._tools = QHBoxLayout(), QBoxLayout(QBoxLayout.Direction.LeftToRight)
        top.setSpacing(px(8))
        self._tools.setSpacing(px(8))
        for widget in (self.views, self.colours):
            top.addWidget(widget)
        self._tools.addLayout(top)
        self._tools.addWidget(self.measure, 0, Qt.AlignmentFlag.AlignLeft)
        self._tools.addStretch(1)
        column.addLayout(self._tools)
        room = QWidget()
        self._stack = QStackedLayout(room)
        self._stack.addWidget(self.waiting)
        self._stack.addWidget(self.canvas)
        column.addWidget(room, 1)
        column.addWidget(self.compared)
        column.addWidget(self.found)
        closing = QHBoxLayout()
        closing.setSpacing(px(12))
        closing.addWidget(self._flat)
        closing.addWidget(self.slider, 1)
        closing.addWidget(self._closed)
        closing.addWidget(self.body)
        column.addLayout(closing)
        column.addWidget(self.left_out)

    def _connect(self) -> None:
        self.slider.valueChanged.connect(lambda value: self.canvas.close_to(value / STEPS_A_FRAME))
        self.measure.toggled.connect(self._begin_measuring)
        self.body.toggled.connect(self._show_body)
        self.waiting.stop.clicked.connect(self.stop_wanted)
        self.waiting.begin.clicked.connect(self.begin_wanted)

    def show_narrow(self, *, narrow: bool) -> None:
        """Lay it out for little room: tools in two rows, and only what cannot be done without."""
        way = QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight
        self._tools.setDirection(way)
        self.left_out.setVisible(not narrow)
        self.found.setVisible(not narrow or bool(self._said))
        self._narrow = narrow

    # -- what is shown ------------------------------------------------------------------------------------

    def show_shape(self, shaped: Shaped | None) -> None:
        """Show the shape with its seams closed; or, with None, that there is none yet."""
        frames = 0 if shaped is None else shaped.frames
        self.measure.setChecked(False)
        self._take_body(shaped)
        for widget in (self.views, self.colours, self.measure):
            widget.setEnabled(frames > 0)
        for part in (self._flat, self.slider, self._closed):
            part.setVisible(frames > 1)
        self._stack.setCurrentWidget(self.canvas if frames else self.waiting)
        self.canvas.show_frames(frames)
        self.say_found("")
        self.slider.setRange(0, STEPS_A_FRAME * max(frames - 1, 0))
        self.slider.setPageStep(STEPS_A_FRAME)
        self.slider.setValue(self.slider.maximum())
        if shaped is not None:
            self.left_out.setText(" ".join(shaped.notes))

    def show_waiting(self, words: str, done: float | None, *, stoppable: bool) -> None:
        """Say what one waits for.

        Args:
            words: a sentence.
            done: how far it has come, 0 to 1; None for what is not under way but could be.
            stoppable: whether it is under way, and can be stopped.
        """
        self.waiting.show_state(words, done, stoppable=stoppable)

    def look_from(self, view: str) -> None:
        """Look from a named side."""
        self.views.say(self._with_arrow(self._view_words[view]))
        self.canvas.look_from(view)

    def colour_by(self, meaning: ColourBy) -> None:
        """Let colours mean something else."""
        self.colours.say(self._with_arrow(self._colour_words[meaning]))
        self.canvas.colour_by(meaning)
        if meaning == "strain":
            self.say_found(self.tr("Orange: stretched. Blue: pressed together. Full from 5 % on."))
        else:
            self.say_found("")

    def _take_body(self, shaped: Shaped | None) -> None:
        """Offer the outline of the body, if it is known for whom the piece is."""
        what = None if shaped is None else shaped.body
        words: dict[What, str] = {
            "foot": self.tr("Show the foot"),
            "head": self.tr("Show the head"),
            "hand": self.tr("Show the hand"),
            "trunk": self.tr("Show the body"),
        }
        self.body.setVisible(what is not None)
        if what is not None:
            self.body.say(words[what], self.tr("Draw the outline it is made for in the shape"))
        self.compared.setText("" if shaped is None else shaped.compared)
        if shaped is not None and what is None:
            self.body.setChecked(False)
        self.compared.setVisible(what is not None and self.body.isChecked())

    def _show_body(self, on: bool) -> None:
        if on:
            # The body is placed in the shape that is made up.
            self.slider.setValue(self.slider.maximum())
        self.compared.setVisible(on)
        self.canvas.show_body(there=on)

    def say_found(self, words: str) -> None:
        """Say what was pressed; where it is nothing, how one asks."""
        asking = self.tr("Point anywhere: needle, row and part. Keys: Shift and arrows.")
        self._said = words
        self.found.setText(words or (asking if self.canvas.frames else ""))
        self.found.setVisible(bool(words) or not self._narrow)

    def mark(self, marks: Marks) -> None:
        """Point out the edges of a step."""
        self.canvas.mark(marks)

    def point_at(self, loop: int, wale: tuple[int, ...], course: tuple[int, ...]) -> None:
        """Point out a loop with the wale and the course through it."""
        self.canvas.mark(replace(self.canvas.marks, pressed=(loop,), wale=wale, course=course))

    def _point_at(self, loops: list[int]) -> None:
        self.canvas.mark(replace(self.canvas.marks, pressed=tuple(loops), wale=(), course=()))

    # -- measuring ----------------------------------------------------------------------------------------

    def _begin_measuring(self, on: bool) -> None:
        self._measured = []
        self.canvas.show_way(there=False)
        self._point_at([])
        self.say_found(self.tr("Press two places on the shape.") if on else "")
        if on:
            # Ways are measured on a shape that was worked out, not on one between two of them.
            self.slider.setValue(self.canvas.frame * STEPS_A_FRAME)

    def take_loop(self, loop: int | None) -> None:
        """A place was pressed, and this loop lies there; None beside the shape."""
        if loop is None:
            return
        if not self.measure.isChecked():
            self.loop_chosen.emit(loop)
            return
        self._measured = [loop] if len(self._measured) != 1 else [*self._measured, loop]
        self.canvas.show_way(there=False)
        self._point_at(self._measured)
        if len(self._measured) == 1:
            self.say_found(self.tr("And the second place."))
        else:
            self.say_found(self.tr("Measuring …"))
            self.way_wanted.emit(self.canvas.frame, *self._measured)

    def take_way(self, words: str, *, there: bool) -> None:
        """A way was measured; say how long it is, and show it if there is one."""
        if self.measure.isChecked() and len(self._measured) == 2:
            self.canvas.show_way(there=there)
            self.say_found(words)


class _Waiting(QWidget):
    """What stands in the shape's place until it is there: how far it has come, and a way to stop."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Label(size="lead", wraps=True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 100)
        self.bar.setFixedWidth(theme.px(260))
        self.stop = Button(self.tr("Stop"), theme)
        self.begin = Button(self.tr("Work out the shape"), theme)
        column = QVBoxLayout(self)
        column.setSpacing(theme.px(14))
        column.addStretch(1)
        column.addWidget(self.words)
        for widget in (self.bar, self.stop, self.begin):
            column.addWidget(widget, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(1)

    def show_state(self, words: str, done: float | None, *, stoppable: bool) -> None:
        """See :meth:`ShapePanel.show_waiting`."""
        self.words.setText(words)
        self.bar.setVisible(done is not None and stoppable)
        self.bar.setValue(round(100 * (done or 0.0)))
        self.stop.setVisible(stoppable)
        self.begin.setVisible(done is None and not stoppable)
