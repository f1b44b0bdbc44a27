"""The pages as they will be printed, to leaf through: each is painted when it is seen, beside the window."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QHideEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QWidget
from typing_extensions import override

from bedview.export.paper.pages import Page
from bedview.export.printing import MM_AN_INCH, paint_page
from bedview.ui.in_background import Errand
from bedview.ui.parts.said import announce
from bedview.ui.printing.page_places import PagePlace, place_pages, whole_page_scale
from bedview.ui.theme import TextSize, Theme

ZOOMS: Final = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
"""Shares of the natural size; besides these a page can be seen whole."""
IMAGES_KEPT: Final = 24
_LONGEST_WAIT_S: Final = 1.0
_AHEAD: Final = 2
"""Pages beyond those seen that are painted in time."""


class PagesView(QAbstractScrollArea):
    """The pages.

    Args:
        theme: how the desk below them looks; the pages themselves are white.
        parent: as ever.
    """

    current_changed = Signal(int)
    """Another page is the one at hand; its number from 0."""
    zoom_changed = Signal()
    """Pages are shown larger or smaller."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._pages: tuple[Page, ...] = ()
        self._places: list[PagePlace] = []
        self._images: dict[int, QImage] = {}
        self._current = 0
        self._zoom: float | None = None
        self._painting = False
        self._done: list[threading.Event] = []
        self._work: Errand[tuple[int, QImage]] = Errand(self._take, self._fail, self)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setAutoFillBackground(False)
        self.setAccessibleName(self.tr("Pages as they will be printed"))
        self.verticalScrollBar().valueChanged.connect(self._follow_scroll)
        theme.look_changed.connect(self.viewport().update)

    # -- what is shown ------------------------------------------------------------------------------------

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    @property
    def current(self) -> int:
        """The page at hand, from 0."""
        return self._current

    @property
    def zoom(self) -> float | None:
        """Share of the natural size; None while pages are seen whole."""
        return self._zoom

    @property
    def painted(self) -> frozenset[int]:
        """The pages that are painted now, at the present size."""
        return frozenset(self._images)

    def show_pages(self, pages: Sequence[Page]) -> None:
        """Show other pages; the page at hand stays, as far as there is one."""
        self._pages = tuple(pages)
        self._current = max(0, min(self._current, self.count - 1))
        self._arrange()
        self.go_to(self._current)

    def go_to(self, page: int) -> None:
        """Bring a page into view."""
        if not self._pages:
            return
        before = self._current
        self._current = max(0, min(page, self.count - 1))
        place = self._places[self._current]
        bar = self.verticalScrollBar()
        top, bottom = bar.value(), bar.value() + self.viewport().height()
        if place.y < top or place.bottom > bottom:
            bar.blockSignals(True)
            bar.setValue(round(place.y - self._gap))
            bar.blockSignals(False)
        self._tell(before)

    def choose_zoom(self, zoom: float | None) -> None:
        """Show pages at a share of their natural size, or whole."""
        if zoom != self._zoom:
            self._zoom = zoom
            self._arrange()
            self.go_to(self._current)
            self.zoom_changed.emit()

    def step_zoom(self, by: int) -> None:
        """One step larger or smaller."""
        now = self._scale() / self._natural()
        further = [zoom for zoom in ZOOMS if (zoom > now + 1e-6 if by > 0 else zoom < now - 1e-6)]
        if further:
            self.choose_zoom(further[0 if by > 0 else -1])

    # -- places -------------------------------------------------------------------------------------------

    @property
    def _gap(self) -> float:
        return float(self._theme.px(16))

    def _natural(self) -> float:
        return self.logicalDpiX() / MM_AN_INCH

    def _scale(self) -> float:
        if self._zoom is not None:
            return self._zoom * self._natural()
        room = self.viewport()
        papers = [page.paper for page in self._pages]
        return whole_page_scale(papers, room.width(), room.height(), self._gap) if papers else 1.0

    def _arrange(self) -> None:
        self._work.drop()
        self._painting = False
        self._images.clear()
        room = self.viewport()
        papers = [page.paper for page in self._pages]
        self._places = place_pages(papers, self._scale(), room.width(), self._gap)
        wide = max((place.right for place in self._places), default=0.0) + self._gap
        tall = max((place.bottom for place in self._places), default=0.0) + self._gap
        for bar, whole, seen in (
            (self.horizontalScrollBar(), wide, room.width()),
            (self.verticalScrollBar(), tall, room.height()),
        ):
            bar.setRange(0, max(0, round(whole - seen)))
            bar.setPageStep(seen)
            bar.setSingleStep(self._theme.px(48))
        self.viewport().update()
        self._paint_next()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()
        self.go_to(self._current)

    def _follow_scroll(self, value: int) -> None:
        """The page at hand is the first of which the upper half is seen."""
        before = self._current
        seen = (number for number, place in enumerate(self._places) if place.y + place.height / 2 >= value)
        row = next(seen, self._current)
        # Whoever scrolls within a row, or to where a row is still seen, keeps the page that was chosen there.
        if self._places and self._places[self._current].y != self._places[row].y:
            self._current = row
        self._tell(before)

    def _tell(self, before: int) -> None:
        self.viewport().update()
        self._paint_next()
        words = self.tr("Page {page} of {pages}").format(page=self._current + 1, pages=self.count)
        self.setAccessibleDescription(words)
        if before != self._current:
            announce(self, words)
        self.current_changed.emit(self._current)

    # -- painting pages, one after the other, beside the window -------------------------------------------

    def seen(self) -> set[int]:
        """The pages of which something is in view."""
        return set(self._in_view())

    def _in_view(self) -> list[int]:
        top = self.verticalScrollBar().value()
        bottom = top + self.viewport().height()
        return [n for n, place in enumerate(self._places) if place.bottom > top and place.y < bottom]

    def _paint_next(self) -> None:
        seen = self._in_view()
        if self._painting or not seen:
            return
        ahead = range(seen[-1] + 1, min(seen[-1] + 1 + _AHEAD, self.count))
        missing = next((page for page in [*seen, *ahead] if page not in self._images), None)
        if missing is not None:
            self._painting = True
            page, scale, ratio = self._pages[missing], self._scale(), float(self.devicePixelRatioF())
            done = threading.Event()
            self._done = [*(each for each in self._done if not each.is_set()), done]

            def work() -> tuple[int, QImage]:
                try:
                    return missing, _painted(page, scale, ratio)
                finally:
                    done.set()

            self._work.start(work)

    def _take(self, painted: tuple[int, QImage]) -> None:
        self._painting = False
        number, image = painted
        seen = self.seen()
        while len(self._images) >= max(IMAGES_KEPT, len(seen) + _AHEAD):
            del self._images[next(page for page in self._images if page not in seen)]
        self._images[number] = image
        self.viewport().update()
        self._paint_next()

    def _fail(self, error: Exception) -> None:
        self._painting = False
        raise error

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        # The program may end now, and a thread in the middle of a page would end it badly.
        self._work.drop()
        self._painting = False
        for done in self._done:
            done.wait(_LONGEST_WAIT_S)
        super().hideEvent(event)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._paint_next()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        look, bars = self._theme.look, (self.horizontalScrollBar(), self.verticalScrollBar())
        with QPainter(self.viewport()) as painter:
            painter.fillRect(self.viewport().rect(), QColor(look.plate))
            painter.translate(-bars[0].value(), -bars[1].value())
            for number in self._in_view():
                self._paint_place(painter, number)
        if self.hasFocus():
            with QPainter(self.viewport()) as painter:
                painter.setPen(QPen(QColor(look.ink), 2))
                painter.drawRect(self.viewport().rect().adjusted(1, 1, -1, -1))

    def _paint_place(self, painter: QPainter, number: int) -> None:
        place, look = self._places[number], self._theme.look
        sheet = QRectF(place.x, place.y, place.width, place.height)
        painter.fillRect(sheet, QColor("#ffffff"))
        image = self._images.get(number)
        if image is not None:
            size = QSizeF(image.size()) / image.devicePixelRatio()
            painter.drawImage(QRectF(sheet.topLeft(), size), image)
        else:
            painter.setFont(self._theme.font(TextSize.TITLE))
            painter.setPen(QColor("#5d6269"))
            painter.drawText(sheet, Qt.AlignmentFlag.AlignCenter, str(number + 1))
        at_hand = number == self._current
        painter.setPen(QPen(QColor(look.carriage if at_hand else look.quiet_ink), 3 if at_hand else 1))
        painter.drawRect(sheet.adjusted(-1, -1, 1, 1))

    # -- keys ---------------------------------------------------------------------------------------------

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.leaf(event):
            super().keyPressEvent(event)

    def leaf(self, event: QKeyEvent) -> bool:
        """Do what a key says, if it is one of those that leaf or zoom; whether it was."""
        keys = Qt.Key
        targets = {
            keys.Key_PageDown: self._current + 1,
            keys.Key_Right: self._current + 1,
            keys.Key_PageUp: self._current - 1,
            keys.Key_Left: self._current - 1,
            keys.Key_Home: 0,
            keys.Key_End: self.count - 1,
        }
        zooms = {keys.Key_Plus: 1, keys.Key_Minus: -1}
        key = Qt.Key(event.key())
        if event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier):
            return False
        if key in targets:
            self.go_to(targets[key])
        elif key in zooms:
            self.step_zoom(zooms[key])
        elif key == keys.Key_0:
            self.choose_zoom(None)
        else:
            return False
        event.accept()
        return True


def _painted(page: Page, scale: float, ratio: float) -> QImage:
    """The picture of a page, painted on whatever thread."""
    wide, tall = (max(1, round(side * scale * ratio)) for side in (page.paper.width_mm, page.paper.height_mm))
    image = QImage(wide, tall, QImage.Format.Format_RGB32)
    image.fill(QColor("#ffffff"))
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_page(page, painter, scale * ratio * MM_AN_INCH)
    image.setDevicePixelRatio(ratio)
    return image
