"""Find my place: say how the bed stands, and see which rows that can be."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QLineEdit, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.bed.needles import NeedleError, Side, format_needles, parse_needles
from bedview.picture.bed_scene import BedScene
from bedview.session.knitting_run import KnittingRun
from bedview.session.place_finding import FoundPlace, PlaceFinder
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.sheet_view import Choice, PressedButton, SheetView, side_by_side
from bedview.ui.parts.buttons import ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.layouts import clear
from bedview.ui.theme import Theme

_MOST = 5
"""Places offered at a time."""


class FindPlaceView(SheetView):
    """The question, and the places."""

    place_chosen = Signal(int)
    """The knitter stands before this step."""

    def __init__(self, run: KnittingRun, scenes: BedScenes, theme: Theme) -> None:
        super().__init__(self.tr("Find my place"), theme)
        self._run = run
        self._scenes = scenes
        self._finder: PlaceFinder | None = None
        self._held: set[int] = set()
        self._carriage = Side.RIGHT
        self._say_which()
        self._found = QVBoxLayout()
        self._found.setSpacing(theme.px(8))
        self.column.addLayout(self._found)
        self.column.addStretch(1)

    def _say_which(self) -> None:
        theme = self.theme
        self.column.addWidget(
            Label(
                self.tr("Which needles with a stitch stand in hold? Click them on the bed, or write:"),
                "lead",
                wraps=True,
            )
        )
        self.needles = QLineEdit()
        self.needles.setPlaceholderText(self.tr("none, or L15-L11,R11"))
        self.needles.setAccessibleName(self.tr("Needles in hold"))
        self.needles.textEdited.connect(self._needles_written)
        self.column.addWidget(self.needles)
        self._wrong = Label("", tone="warning", wraps=True)
        self._wrong.hide()
        self.column.addWidget(self._wrong)
        self._sides = QButtonGroup(self)
        self.sides: dict[Side, PressedButton] = {}
        for side, words in ((Side.LEFT, self.tr("left")), (Side.RIGHT, self.tr("right"))):
            says = self.tr("The carriage stands on the {side}").format(side=words)
            button = PressedButton(words, theme, ButtonKind.PILL, says=says)
            button.setCheckable(True)
            button.clicked.connect(partial(self._side_chosen, side))
            self._sides.addButton(button)
            self.sides[side] = button
        label = Label(self.tr("The carriage is on the"), "lead")
        self.column.addWidget(side_by_side(theme, label, *self.sides.values()))

    @override
    def enter(self) -> None:
        state = self._run.procedure.timeline.state_at(self._run.line)
        held = state.held[state.height[state.held] > 0]
        self._held = set(held.tolist())
        self._carriage = state.carriage
        self.sides[self._carriage].setChecked(True)
        self._write_needles()
        self._search()

    @override
    def first_field(self) -> QWidget:
        return self.needles

    @override
    def scene(self) -> BedScene:
        return self._scenes.asked(sorted(self._held), self._carriage)

    @override
    def caption(self) -> str:
        return self.tr("Click every needle that stands in hold before you")

    @override
    def press_needle(self, needle: int) -> None:
        self._held ^= {needle}
        self._write_needles()
        self._search()

    def _write_needles(self) -> None:
        self._wrong.hide()
        self.needles.setText(format_needles(self._held, self._run.procedure.timeline.bed.needles))

    def _needles_written(self, text: str) -> None:
        plain = text.upper().replace(" ", "").replace("–", "-").replace(";", ",").strip(",")
        try:
            self._held = set(parse_needles(plain, self._run.procedure.timeline.bed.needles, empty=True))
        except NeedleError as error:
            self._wrong.setText(f"{error}.")
            self._wrong.show()
            return
        self._wrong.hide()
        self._search()

    def _side_chosen(self, side: Side) -> None:
        self._carriage = side
        self._search()

    def _search(self) -> None:
        if self._finder is None or self._finder.procedure is not self._run.procedure:
            self._finder = PlaceFinder(self._run.procedure)
        found = self._finder.find(self._held, self._carriage)
        clear(self._found)
        places = found.nearest_to(self._run.passes_done + 1, _MOST)
        count = len(found.places)
        self._found.addWidget(Label(self._heading(count, exact=found.exact), "body", "quiet", wraps=True))
        for place in places:
            self._found.addWidget(self._offer(place))
        self.bed_changed.emit()

    def _heading(self, count: int, *, exact: bool) -> str:
        if not count:
            return self.tr("Nothing in this piece looks like that.")
        if not exact:
            return self.tr("No row looks quite like that. Nearest:")
        if count == 1:
            return self.tr("Only one row looks like that:")
        if count <= _MOST:
            return self.tr("{count} rows look like that:").format(count=count)
        return self.tr("{count} rows look like that; these are nearest to where you were:").format(
            count=count
        )

    def _offer(self, place: FoundPlace) -> Choice:
        rows = self._run.procedure.timeline.passes
        title = self.tr("Before row {row}") if place.row <= rows else self.tr("After row {row}")
        parts = [place.part, self.tr("counter {count}").format(count=place.counter)]
        if place.differ:
            names = self._run.procedure.words.needles(place.differ)
            parts.append(self.tr("but for {needles}").format(needles=names))
        if place.other_side:
            parts.append(self.tr("carriage on the other side"))
        offer = Choice(title.format(row=min(place.row, rows)), " · ".join(parts), self.theme)
        offer.clicked.connect(partial(self.place_chosen.emit, place.step))
        return offer
