"""A new piece: from a starter with its few measures, or empty; it is seen before it is made."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.chart import ChartScene
from bedview.picture.chart_drawing import draw_chart
from bedview.plan.fit import fit
from bedview.plan.piece import Piece
from bedview.plan.starters import STARTERS, StarterError
from bedview.plan.starters.parameter import Given
from bedview.plan.yarn import yarn_needs
from bedview.session.new_parts import blank_piece
from bedview.session.open_piece import OpenPiece
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.cards import Card
from bedview.ui.parts.counting import counted
from bedview.ui.parts.labels import Label
from bedview.ui.parts.piece_pictures import piece_chart
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.plan.empty_form import EmptyForm
from bedview.ui.plan.fit_table import FitTable
from bedview.ui.plan.measures import Measures, of_locale
from bedview.ui.plan.starter_form import StarterForm
from bedview.ui.plan.totals import yarn_line
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme

_MOST_MEASURES = 4
_AFTER_MS = 120
"""How long after a letter the preview is worked out: measures come in bursts."""


class Preview(QWidget):
    """The rows of a piece, alone.

    Args:
        theme: how they look.
        parent: as ever.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._cache = TileCache(self.devicePixelRatio())
        self.scene: ChartScene | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(theme.px(160))
        self.setAccessibleName(self.tr("What the piece will be"))
        theme.look_changed.connect(self.update)

    def show_scene(self, scene: ChartScene | None) -> None:
        """Show another piece, or none."""
        self.scene = scene
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.scene is None or not self.scene.passes:
            return
        picture = draw_chart(self.scene, self.width(), self.height(), self._theme.look, cards=False)
        with QPainter(self) as painter:
            paint(picture, painter, self._cache)


class NewPage(QWidget):
    """The page.

    Args:
        remembered: centimetres or inches.
        theme: how it looks.
        parent: as ever.
    """

    piece_made = Signal(object)
    """This piece is to be opened."""
    put_away = Signal()
    """None after all."""

    def __init__(self, remembered: Remembered, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("New piece"))
        self._theme = theme
        self._measures: Measures = of_locale(remembered.length_unit)
        self._machine = remembered.machine
        self._piece: Piece | None = None
        self.form: StarterForm | EmptyForm | None = None
        self.choices: dict[str, Button] = {}
        self.title = Label(size="title", bold=True, wraps=True)
        self.says = Label(tone="quiet", wraps=True)
        self.wrong = Label(tone="warning", wraps=True)
        self.make = Button(self.tr("Make it"), theme, ButtonKind.PRIMARY)
        self.away = Button(self.tr("Back"), theme, ButtonKind.PLAIN)
        self.preview = Preview(theme)
        self.figures = Label(wraps=True)
        self.fits = FitTable(theme, self._measures)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(_AFTER_MS)
        self._soon.timeout.connect(self.reckon)
        self._lay_out()
        self.make.clicked.connect(self._make)
        self.away.clicked.connect(self.put_away)
        self.choose(STARTERS[0].name)

    def _lay_out(self) -> None:
        px = self._theme.px
        kinds = QWidget()
        kinds.setProperty("part", "plain")
        list_of = QVBoxLayout(kinds)
        list_of.setContentsMargins(0, 0, px(6), 0)
        list_of.setSpacing(px(4))
        list_of.addWidget(Label(self.tr("New piece"), size="headline", bold=True))
        for starter in STARTERS:
            self._offer(list_of, starter.name, self.tr(starter.title), self.tr(starter.says))
        self._offer(
            list_of, "", self.tr("Empty piece"), self.tr("A bed and a yarn; put it together part by part.")
        )
        list_of.addStretch(1)
        self._asked = Card(self._theme)
        for widget in (self.title, self.says, self.wrong):
            self._asked.column.addWidget(widget)
        self._asked.column.addStretch(1)
        buttons = QHBoxLayout()
        buttons.addWidget(self.make)
        buttons.addWidget(self.away)
        buttons.addStretch(1)
        asked = QVBoxLayout()
        asked.addWidget(ScrollingArea(self._asked), 1)
        asked.addLayout(buttons)
        seen = QVBoxLayout()
        seen.addWidget(self.preview, 1)
        seen.addWidget(self.figures)
        seen.addWidget(self.fits)
        row = QHBoxLayout(self)
        row.setContentsMargins(px(24), px(6), px(24), px(16))
        row.setSpacing(px(20))
        row.addWidget(ScrollingArea(kinds), 3)
        row.addLayout(asked, 4)
        row.addLayout(seen, 4)

    def _offer(self, column: QVBoxLayout, name: str, title: str, says: str) -> None:
        named = self.tr("{name}: {what}").format(name=title, what=says)
        button = Button(title, self._theme, ButtonKind.TAB, says=named)
        button.setCheckable(True)
        button.setAutoExclusive(True)
        button.setStyleSheet(f"text-align: left; padding-left: {self._theme.px(14)}px;")
        button.setToolTip("")
        button.clicked.connect(partial(self._begin, name))
        self.choices[name] = button
        column.addWidget(button)

    # -- choosing -----------------------------------------------------------------------------------------

    def choose(self, name: str) -> None:
        """Ask for the measures of a starter; "" is the empty piece."""
        self.choices[name].setChecked(True)
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
        starter = next((each for each in STARTERS if each.name == name), None)
        if starter is None:
            self.title.setText(self.tr("Empty piece"))
            self.says.setText(
                self.tr("A bed and two yarns to begin with. You put in the parts, one after the other.")
            )
            self._ask(EmptyForm(self._theme, self._measures))
        else:
            self.title.setText(self.tr(starter.title))
            self.says.setText(self.tr(starter.says))
            self._ask(StarterForm(starter, self._begin_with(), self._theme, self._measures))
        self.reckon()

    def _begin(self, name: str) -> None:
        """Choose, and begin to write."""
        self.choose(name)
        if self.form is not None:
            self.form.first_entry().setFocus(Qt.FocusReason.TabFocusReason)

    def _ask(self, form: StarterForm | EmptyForm) -> None:
        self.form = form
        form.changed.connect(self._soon.start)
        self._asked.column.insertWidget(2, form)
        # Qt would show it only later, and what is not shown takes no keyboard.
        form.show()
        self._tab_to_buttons_after(form)

    def _tab_to_buttons_after(self, form: StarterForm | EmptyForm) -> None:
        """The form is made later than the buttons below it, and would be reached after them."""
        last: QWidget = self.make
        each = form.nextInFocusChain()
        while each is not None and form.isAncestorOf(each):
            last = each if each.focusPolicy() & Qt.FocusPolicy.TabFocus else last
            each = each.nextInFocusChain()
        QWidget.setTabOrder(last, self.make)
        QWidget.setTabOrder(self.make, self.away)

    def _begin_with(self) -> dict[str, Given]:
        """The bed of the user's machine, as far as it was described."""
        names = {"needles": "needles", "pitch_mm": "pitch"}
        return {names[key]: value for key, value in self._machine.bed.items()}

    def reckon(self) -> None:
        """Make the piece now, to show it."""
        self._soon.stop()
        self._piece = None
        self.wrong.hide()
        if isinstance(self.form, EmptyForm):
            self._piece = self.form.put_into(blank_piece(self._machine.bed))
        elif self.form is not None:
            try:
                self._piece = self.form.starter.make(self.form.given)
            except StarterError as error:
                if not self.form.say_wrong(error):
                    self.wrong.setText(f"{str(error)[:1].upper()}{str(error)[1:]}.")
                    self.wrong.show()
        if self._piece is not None:
            self._show(OpenPiece(self._piece))
        if self.form is not None and self.form.refuses:
            # What stands in the form is not what would be made.
            self._piece = None
        self.make.setEnabled(self._piece is not None)

    def _show(self, opened: OpenPiece) -> None:
        scene = piece_chart(opened)
        self.preview.show_scene(scene)
        first, last = scene.used()
        if not scene.passes:
            self.figures.setText("")
            self.fits.show_lines(())
            return
        needles = counted(self.tr("{count} needle"), self.tr("{count} needles"), last - first + 1)
        rows = counted(self.tr("{count} row"), self.tr("{count} rows"), scene.passes)
        takes = yarn_line(yarn_needs(opened.piece, opened.procedure), opened.piece, self._measures)
        yarn = self.tr("yarn: {figures}").format(figures=takes) if takes else ""
        self.figures.setText(", ".join(each for each in (needles, rows, yarn) if each))
        self.fits.show_lines(fit(opened.piece, opened.procedure).lines[:_MOST_MEASURES])

    def _make(self) -> None:
        if self._soon.isActive():
            self.reckon()
        if self._piece is not None:
            self.piece_made.emit(self._piece)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        turn = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        buttons = list(self.choices.values())
        focused = next((place for place, button in enumerate(buttons) if button.hasFocus()), None)
        if event.key() == Qt.Key.Key_Escape:
            self.put_away.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._make()
        elif turn and focused is not None:
            place = (focused + turn) % len(buttons)
            buttons[place].setFocus(Qt.FocusReason.TabFocusReason)
            self.choose(list(self.choices)[place])
        else:
            super().keyPressEvent(event)
