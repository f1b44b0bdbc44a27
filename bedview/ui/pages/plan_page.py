"""Plan: the piece as its parts and its chart, each to be changed where it stands, and what comes of it."""

from __future__ import annotations

from functools import partial

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from bedview.checks.folding import Folded
from bedview.plan.segments.repeat import RepeatSegment
from bedview.session.editing import EditError, Place
from bedview.session.grips import Bars, Grip, dragged, grips
from bedview.session.open_piece import OpenPiece
from bedview.session.parts_editor import PartsEditor
from bedview.session.swatch_shelf import SwatchShelf
from bedview.ui.parts.buttons import Button, ButtonKind
from bedview.ui.parts.labels import Label, ShortenedLabel
from bedview.ui.parts.scrolling import ScrollingArea
from bedview.ui.plan.findings_column import FindingsColumn, MendingCard
from bedview.ui.plan.fit_panel import FitPanel
from bedview.ui.plan.further import Further
from bedview.ui.plan.kinds_panel import KindsPanel
from bedview.ui.plan.machine_panel import MachinePanel
from bedview.ui.plan.measures import of_locale
from bedview.ui.plan.part_panel import PartPanel
from bedview.ui.plan.plan_chart import PlanChart
from bedview.ui.plan.plan_scene import plan_scene
from bedview.ui.plan.side_tabs import PART, SideTabs
from bedview.ui.plan.sizes_panel import SizesPanel
from bedview.ui.plan.totals import Totals
from bedview.ui.plan.yarn_panel import YarnPanel
from bedview.ui.remembered import Remembered
from bedview.ui.theme import Theme


class PlanPage(QWidget):
    """The page.

    Args:
        opened: the piece.
        theme: how it looks.
        remembered: centimetres or inches, and the machine; as the system has it if left out.
        shelf: swatches and yarn at hand; one that keeps nothing if left out.
        parent: as ever.
    """

    print_wanted = Signal()
    """The piece is to be seen as it will be printed."""
    step_wanted = Signal(int)
    """The bed is to be seen before this step."""
    piece_wanted = Signal(object)
    """Another piece is to be opened, as a :class:`~bedview.plan.piece.Piece`: a swatch to knit."""

    def __init__(
        self,
        opened: OpenPiece,
        theme: Theme,
        remembered: Remembered | None = None,
        shelf: SwatchShelf | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setProperty("part", "page")
        self.setAccessibleName(self.tr("Plan"))
        self._shelf = shelf or SwatchShelf()
        self._opened, self._theme = opened, theme
        self._remembered = remembered
        self.editor = PartsEditor(opened)
        self._measures = of_locale(remembered.length_unit if remembered else None)
        self._drag_from: tuple[Grip, Bars] | None = None
        self._gap: Place | None = None
        self.chart = PlanChart(plan_scene(opened, None), theme)
        self.tabs = SideTabs(theme)
        self._make_panels()
        self.hint = ShortenedLabel(size="small", tone="quiet")
        self.told = Label(tone="warning", wraps=True)
        self.told.hide()
        self.add = Button(
            self.tr("+ Add a part"), theme, ButtonKind.CHIP, says=self.tr("Add a part (Insert)")
        )
        self.print = Button(
            self.tr("Print…"), theme, ButtonKind.CHIP, says=self.tr("Print and sheets (Ctrl+P)")
        )
        self._lay_out()
        self._connect()
        folded = opened.folded
        if folded and folded[0].stretch >= 0:
            self.editor.choose((folded[0].stretch,))
        self.refresh()
        if not opened.piece.segments:
            self.ask_for_kind()

    def _make_panels(self) -> None:
        self.part = PartPanel(self.editor, self._theme, self._measures)
        self.findings = FindingsColumn(self.editor, self._theme)
        self.kinds = KindsPanel(self._theme)
        self.totals = Totals(self._opened, self._theme, self._measures, self._shelf)
        self.yarn = YarnPanel(self.editor, self._theme, self._measures, self._shelf)
        self.machine = MachinePanel(self.editor, self._theme, self._measures, self._remembered)
        self.sizes = SizesPanel(self.editor, self._theme, self._measures, self._shelf)
        self.fit = FitPanel(self.editor, self._theme, self._measures)
        self._panels: dict[str, YarnPanel | MachinePanel | SizesPanel | FitPanel] = {
            "yarn": self.yarn,
            "machine": self.machine,
            "sizes": self.sizes,
            "fit": self.fit,
        }
        self._tab = PART

    def _lay_out(self) -> None:
        px = self._theme.px
        inner = QWidget()
        inner.setProperty("part", "plain")
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, px(6), 0)
        self._column.setSpacing(px(12))
        beside_chart = (self.told, self.part, self.kinds, self.findings, *self._panels.values())
        for widget in beside_chart:
            self._column.addWidget(widget)
        for panel in self._panels.values():
            panel.hide()
        self._column.addStretch(1)
        self.kinds.hide()
        self.side = ScrollingArea(inner)
        beside = QVBoxLayout()
        beside.setSpacing(px(8))
        beside.addWidget(self.tabs)
        beside.addWidget(self.side, 1)
        self.further = Further(self.side, self.findings, self._theme)
        beside.addWidget(self.further, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addWidget(self.totals)
        below = QHBoxLayout()
        below.addWidget(self.add)
        below.addWidget(self.hint, 1)
        below.addWidget(self.print)
        document = QVBoxLayout()
        document.setSpacing(px(6))
        document.addWidget(self.chart, 1)
        document.addLayout(below)
        row = QHBoxLayout(self)
        row.setContentsMargins(px(22), px(4), px(18), px(12))
        row.setSpacing(px(20))
        row.addLayout(document, 1)
        row.addLayout(beside)

    def _connect(self) -> None:
        editor, chart = self.editor, self.chart
        chart.part_pressed.connect(self.choose)
        chart.extended.connect(editor.extend)
        chart.parts_dropped.connect(self._drop_parts)
        chart.gap_pressed.connect(self._ask_in_gap)
        chart.edge_dragged.connect(self._drag_edge)
        chart.edge_dropped.connect(self._end_drag)
        chart.mark_pressed.connect(self._choose_mark)
        self.print.clicked.connect(self.print_wanted)
        self.add.clicked.connect(partial(self.ask_for_kind, None))
        self.kinds.kind_chosen.connect(self._insert)
        self.kinds.put_away.connect(self._put_kinds_away)
        self.part.rehearse_wanted.connect(self._show_part_on_bed)
        self.findings.show_wanted.connect(self._show_on_bed)
        self.findings.part_wanted.connect(self.choose)
        self.tabs.tab_chosen.connect(self.show_tab)
        self.machine.unit_changed.connect(self._change_unit)
        self.yarn.piece_wanted.connect(self.piece_wanted)
        self._shelf.told.connect(self._tell)
        self._shelf.changed.connect(self.totals.reckon)
        editor.chosen_changed.connect(self._show_chosen)
        editor.told.connect(self._tell)
        self._opened.changed.connect(self.refresh)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def chosen(self) -> int:
        """Place of the chosen part in the piece."""
        return self.editor.place[0]

    @property
    def finding_cards(self) -> list[MendingCard]:
        """Cards of what was found in the chosen part."""
        return list(self.findings.cards)

    def refresh(self) -> None:
        """The piece says something new: show all of it."""
        self.chart.show_scene(plan_scene(self._opened, self.chosen if self.editor.count else None))
        self.totals.refresh(self.chart.scene.used())
        if self._tab in self._panels:
            self._panels[self._tab].refresh()
        self._tell("")
        self._show_chosen()

    def choose(self, part: int) -> None:
        """Show what a part holds."""
        self._put_kinds_away()
        if self._tab != PART:
            self.show_tab(PART)
        self.editor.choose((part,))

    def _show_chosen(self) -> None:
        there = self.editor.count > 0
        if there:
            self.chart.choose(self.chosen)
        self.chart.choose_count(self.editor.count if len(self.editor.place) == 1 else 1)
        self.chart.show_edges(self._edges())
        self.part.refresh()
        self.findings.refresh()
        self._show_side()
        self.hint.setText(self._hint())

    def show_tab(self, name: str) -> None:
        """Show the part, or another thing, beside the chart."""
        self._tab = name
        self.tabs.show_tab(name)
        self.kinds.hide()
        if name in self._panels:
            self._panels[name].refresh()
        self._show_side()

    def _show_side(self) -> None:
        part = self._tab == PART and self.kinds.isHidden()
        self.part.setVisible(part and self.editor.count > 0)
        self.findings.setVisible(part)
        for name, panel in self._panels.items():
            panel.setVisible(name == self._tab)
        # Whoever comes to the page comes to what is asked.
        self.setFocusProxy(self.chart if self.kinds.isHidden() else self.kinds)
        self.further.reckon()

    def _change_unit(self) -> None:
        unit = self._remembered.length_unit if self._remembered else None
        self._measures.write_in(unit or self._measures.unit)
        self.refresh()

    def _hint(self) -> str:
        if not self.editor.count:
            return self.tr("Begin with a cast-on.")
        if self.editor.count > 1:
            return self.tr("Drag moves them, Ctrl+D copies, Ctrl+R repeats, Delete takes them out.")
        return self.tr(
            "Drag a part to move it, press Insert for a new one, Delete to take it out. "
            "Everything can be undone."
        )

    def _tell(self, sentence: str) -> None:
        self.told.setText(sentence)
        self.told.setVisible(bool(sentence))

    # -- parts come and go --------------------------------------------------------------------------------

    def ask_for_kind(self, place: Place | None = None) -> None:
        """Show the kinds of part for a place; behind the chosen one if left out."""
        self._gap = place or self.editor.behind()
        first = self._gap[-1] == 0
        if first:
            where = self.tr("It comes first.")
        else:
            before = (*self._gap[:-1], self._gap[-1] - 1)
            where = self.tr("It follows {title}.").format(title=self.editor.title_of(before))
        self.show_tab(PART)
        self.kinds.show()
        self._show_side()
        self.kinds.ask(where, "cast_on" if first else "plain")
        self.side.ensureVisible(0, 0)

    def _ask_in_gap(self, gap: int) -> None:
        self.ask_for_kind((gap,))

    def _insert(self, kind: str) -> None:
        gap = self._gap
        self._put_kinds_away()
        self.editor.insert(kind, gap)
        entry = self.part.lines[0].entry if self.part.lines else self.part.title
        entry.setFocus(Qt.FocusReason.TabFocusReason)

    def _put_kinds_away(self) -> None:
        if self.kinds.isHidden():
            return
        self.kinds.hide()
        self._show_side()
        self.chart.setFocus()

    def _drop_parts(self, gap: int, copies: bool) -> None:
        first, count = self.chosen, self.editor.count
        if copies:
            self.editor.copy()
            gap += count if gap > first else 0
            first += count
        if not first <= gap <= first + count:
            self.editor.move_to(gap if gap < first else gap - count)

    # -- edges --------------------------------------------------------------------------------------------

    def _bars(self) -> Bars:
        bars: Bars = self.chart.scene.bars[self.chart.scene.bars[:, 3] == self.chosen]
        return bars

    def _edges(self) -> tuple[Grip, ...]:
        part = self.editor.part
        alone = self.editor.count == 1 and len(self.editor.place) == 1
        if part is None or not alone or isinstance(part, RepeatSegment):
            return ()
        return grips(part, self._bars())

    def _drag_edge(self, grip: Grip, needles: int, rows: int) -> None:
        part = self.editor.part
        if part is None:
            return
        if self._drag_from is None:
            self._drag_from = (grip, np.copy(self._bars()))
            self._dragged_part = part
        try:
            new = dragged(
                self._dragged_part, grip, self._drag_from[1], needles, rows, self._opened.piece.bed.needles
            )
        except EditError as error:
            self._tell(f"{error.message[:1].upper()}{error.message[1:]}.")
            return
        what = self.tr("Drag {part}").format(part=self.editor.title_of(self.editor.place))
        self.editor.put_part(new, what, f"{self.editor.place} drag")

    def _end_drag(self) -> None:
        self._drag_from = None
        self._opened.end_gesture()

    # -- what is wanted -----------------------------------------------------------------------------------

    def _choose_mark(self, mark: int) -> None:
        """Choose the part in which the finding of a sign lies."""
        owners = [each.stretch for each in self._opened.folded for _ in each.findings]
        trouble = self._opened.trouble
        part = owners[mark] if mark < len(owners) else trouble.segment if trouble else -1
        if part >= 0:
            self.choose(part)

    def _show_part_on_bed(self) -> None:
        steps = self._opened.steps
        found = next((step.number for step in steps if step.segment == self.chosen), None)
        if found is not None:
            self.step_wanted.emit(found)

    def _show_on_bed(self, folded: Folded) -> None:
        self.step_wanted.emit(self._opened.step_of_finding(folded.first))

    # -- Qt's calls ---------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, modifiers = Qt.Key(event.key()), event.modifiers()
        control = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
        alt = bool(modifiers & Qt.KeyboardModifier.AltModifier)
        editor = self.editor
        if key == Qt.Key.Key_Insert:
            self.ask_for_kind()
        elif key == Qt.Key.Key_Delete:
            editor.take_out()
        elif key == Qt.Key.Key_Up and alt:
            editor.move_by(1)
        elif key == Qt.Key.Key_Down and alt:
            editor.move_by(-1)
        elif key == Qt.Key.Key_D and control:
            editor.copy()
        elif key == Qt.Key.Key_R and control:
            editor.repeat()
        elif key == Qt.Key.Key_Escape:
            self.chart.setFocus(Qt.FocusReason.TabFocusReason)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.chart.hasFocus() and self.part.lines:
            self.part.lines[0].entry.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        px = self._theme.px
        width = max(px(270), min(px(400), round(0.27 * self.width())))
        self.side.setFixedWidth(width)
        self.tabs.setFixedWidth(width)
        self.totals.setFixedWidth(width)
        super().resizeEvent(event)
