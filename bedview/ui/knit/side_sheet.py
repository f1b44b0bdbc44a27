"""The sheet beside the page, for when something went wrong: large plain choices, and what they lead to."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.picture.bed_scene import BedScene
from bedview.session.knitting_run import KnittingRun
from bedview.ui.knit.bed_scenes import BedScenes
from bedview.ui.knit.changed_view import ChangedView
from bedview.ui.knit.find_place_view import FindPlaceView
from bedview.ui.knit.preferences import KnitPreferences
from bedview.ui.knit.set_up_view import SetUpView
from bedview.ui.knit.sheet_view import Choice, PressedButton, SheetView, rule, side_by_side
from bedview.ui.knit.trouble_view import TroubleView
from bedview.ui.knit.unpick_view import UnpickView
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.sounds import Sounds
from bedview.ui.theme import Theme
from bedview.ui.voice import Voice


class MenuView(SheetView):
    """The choices."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(self.tr("Something went wrong?"), theme)
        self.choices: list[Choice] = []

    def offer(self, text: str, says: str) -> Choice:
        """Add a choice."""
        choice = Choice(text, says, self.theme)
        self.choices.append(choice)
        self.column.addWidget(choice)
        return choice

    @override
    def first_field(self) -> QWidget | None:
        return self.choices[0] if self.choices else None


class SideSheet(QFrame):
    """The sheet; hidden until it is asked for.

    Args:
        run: where the knitter stands.
        scenes: makes the beds that its views show.
        theme: how it looks.
        voice: switched on and off at its foot.
        sounds: likewise.
        preferences: where that is kept.
        parent: as ever.
    """

    closed = Signal()
    bed_changed = Signal()
    step_chosen = Signal(int)
    second_wanted = Signal(object)

    def __init__(
        self,
        run: KnittingRun,
        scenes: BedScenes,
        theme: Theme,
        voice: Voice,
        sounds: Sounds,
        preferences: KnitPreferences,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "card")
        self._theme = theme
        self._heading = Label("", "title", bold=True, wraps=True)
        self.to_menu = Button("←", theme, ButtonKind.QUIET, says=self.tr("Back to the choices"), large=True)
        self.away = Button("×", theme, ButtonKind.QUIET, says=self.tr("Close, Escape"), large=True)
        self.menu = MenuView(theme)
        self.set_up = SetUpView(run, scenes, theme)
        self.find_place = FindPlaceView(run, scenes, theme)
        self.unpick = UnpickView(run, scenes, theme)
        self.changed = ChangedView(run, theme)
        self.trouble = TroubleView(run, scenes, theme)
        self._stack = QStackedWidget()
        self._lay_out()
        self._fill_menu()
        self._add_switches(voice, sounds, preferences)
        self._connect()
        self.hide()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        edge = self._theme.px(18)
        column.setContentsMargins(edge, self._theme.px(8), self._theme.px(10), self._theme.px(10))
        column.setSpacing(self._theme.px(8))
        top = QHBoxLayout()
        top.setSpacing(self._theme.px(4))
        top.addWidget(self.to_menu)
        top.addWidget(self._heading, 1)
        top.addWidget(self.away)
        column.addLayout(top)
        column.addWidget(self._stack, 1)
        for button in (self.to_menu, self.away):
            button.setFixedSize(52, 52)
            button.setStyleSheet("padding: 0px; min-height: 40px;")
        for view in self.views:
            scroll = ScrollingArea(view)
            self._stack.addWidget(scroll)

    @property
    def views(self) -> tuple[SheetView, ...]:
        """All views, the choices first."""
        return self.menu, self.trouble, self.set_up, self.find_place, self.unpick, self.changed

    @property
    def shown(self) -> SheetView | None:
        """The view that is shown; None while the sheet is hidden."""
        return None if self.isHidden() else self.views[self._stack.currentIndex()]

    def _fill_menu(self) -> None:
        for view, says in (
            (
                self.trouble,
                self.tr("Carriage stuck, stitch dropped, cams or needle forgotten, counter wrong"),
            ),
            (self.set_up, self.tr("For any row: needles, carriage, cams, dial, yarn and counter")),
            (self.find_place, self.tr("By the needles in hold and the carriage")),
            (self.unpick, self.tr("Back to an earlier row, pass by pass")),
            (self.changed, self.tr("Rows, dial or a remark as really knitted; the second piece")),
        ):
            choice = self.menu.offer(view.title, says)
            choice.clicked.connect(lambda _checked=False, view=view: self.show_view(view))

    def _add_switches(self, voice: Voice, sounds: Sounds, preferences: KnitPreferences) -> None:
        theme = self._theme
        self.sounds_switch = PressedButton("", theme, ButtonKind.CHIP)
        self.voice_switch = PressedButton("", theme, ButtonKind.CHIP)
        self._switches_words = Label("", "small", "quiet", wraps=True)

        def name() -> None:
            self.sounds_switch.say(self.tr("Sounds: on") if sounds.is_on else self.tr("Sounds: off"))
            self.voice_switch.say(self.tr("Voice: on") if voice.is_on else self.tr("Voice: off"))

        def switch(part: Sounds | Voice, absent: str) -> bool:
            wanted = not part.is_on
            there = part.switch(wanted)
            self._switches_words.setText(absent if wanted and not there else "")
            name()
            return there

        def switch_sounds() -> None:
            preferences.sounds = switch(sounds, self.tr("This computer has no sound to play them with."))

        def switch_voice() -> None:
            preferences.voice = switch(voice, self.tr("This computer has no voice."))

        self.sounds_switch.clicked.connect(switch_sounds)
        self.voice_switch.clicked.connect(switch_voice)
        self.menu.column.addWidget(rule())
        self.menu.column.addWidget(side_by_side(theme, self.sounds_switch, self.voice_switch))
        self.menu.column.addWidget(self._switches_words)
        self.menu.column.addStretch(1)
        name()

    def _connect(self) -> None:
        self.away.clicked.connect(self.close_sheet)
        self.to_menu.clicked.connect(lambda: self.show_view(self.menu))
        for view in self.views:
            view.bed_changed.connect(self._pass_on_bed)
        self.find_place.place_chosen.connect(self.step_chosen)
        self.unpick.unpicked.connect(self.step_chosen)
        self.changed.second_wanted.connect(self.second_wanted)
        self.trouble.place_wanted.connect(lambda: self.show_view(self.find_place))
        self.trouble.unpick_wanted.connect(self._unpick_to)

    def _unpick_to(self, row: int) -> None:
        self.show_view(self.unpick)
        self.unpick.aim_at(row)

    def _pass_on_bed(self) -> None:
        if self.sender() is self.shown:
            self.bed_changed.emit()

    # -- showing ------------------------------------------------------------------------------------------

    def show_view(self, view: SheetView) -> None:
        """Show a view, and the sheet if it is hidden."""
        self._stack.setCurrentIndex(self.views.index(view))
        self._heading.setText(view.title)
        self.to_menu.setVisible(view is not self.menu)
        self.show()
        view.enter()
        # The keyboard stays in the sheet: elsewhere Return would confirm a row that nobody meant.
        (view.first_field() or self.away).setFocus(Qt.FocusReason.OtherFocusReason)
        self.bed_changed.emit()

    def close_sheet(self) -> None:
        """Put it away."""
        self.hide()
        self.closed.emit()

    def step_back(self) -> None:
        """What Escape does: to the choices, or away."""
        if self.shown is self.menu:
            self.close_sheet()
        else:
            self.show_view(self.menu)

    def move_view(self, by_px: int) -> None:
        """Move the shown view up or down."""
        scroll = self._stack.currentWidget()
        assert isinstance(scroll, QScrollArea)
        bar = scroll.verticalScrollBar()
        bar.setValue(bar.value() + by_px)

    def refresh(self) -> None:
        """The knitter stands elsewhere, or the piece is another."""
        shown = self.shown
        if shown is not None:
            shown.refresh()

    def scene(self) -> BedScene | None:
        """The bed that the shown view wants to be seen; None for the row at hand."""
        return self.shown.scene() if self.shown is not None else None
