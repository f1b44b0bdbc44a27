"""Pages and pictures put to paper and into images: the only file here with Qt. Needs no window."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QImageWriter, QPageLayout, QPageSize, QPainter, QPdfWriter

from bedview.export.paper.pages import MM, Page, Paper
from bedview.painting.application import painting_application
from bedview.painting.fonts import text_width
from bedview.painting.on_paper import draw, draw_mark
from bedview.painting.render import render_image
from bedview.picture.marks import DisplayList, MeasureText

_DOTS_AN_INCH: Final = 1200
MM_AN_INCH: Final = 25.4


def paper_measure() -> MeasureText:
    """How wide texts are in the font that is printed."""
    painting_application()
    return text_width


def pdf_of(pages: Sequence[Page], title: str) -> bytes:
    """Pages as a PDF document.

    Args:
        pages: one or more.
        title: of the document.
    """
    painting_application()
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_DOTS_AN_INCH)
    writer.setTitle(title)
    writer.setCreator("bedview")
    writer.setPageLayout(page_layout(pages[0].paper))
    with QPainter(writer) as painter:
        for number, page in enumerate(pages):
            if number:
                writer.setPageLayout(page_layout(page.paper))
                writer.newPage()
            paint_page(page, painter, _DOTS_AN_INCH)
    buffer.close()
    return bytes(data.data())


def page_layout(paper: Paper) -> QPageLayout:
    """The whole sheet: margins are the page's own business."""
    size = QSizeF(min(paper.width_mm, paper.height_mm), max(paper.width_mm, paper.height_mm))
    upright = paper.width_mm <= paper.height_mm
    orientation = QPageLayout.Orientation.Portrait if upright else QPageLayout.Orientation.Landscape
    page_size = QPageSize(size, QPageSize.Unit.Millimeter, paper.name, QPageSize.SizeMatchPolicy.ExactMatch)
    layout = QPageLayout(page_size, orientation, QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
    layout.setMode(QPageLayout.Mode.FullPageMode)
    return layout


def paint_page(page: Page, painter: QPainter, dots_an_inch: float) -> None:
    """Paint a page with its corner at the painter's origin: pictures first, its own marks on top.

    Args:
        page: the page.
        painter: paints it.
        dots_an_inch: how many of the painter's units are an inch of paper.
    """
    dots = dots_an_inch / MM_AN_INCH / MM
    painter.save()
    painter.scale(dots, dots)
    for placed in page.pictures:
        painter.save()
        painter.translate(placed.x, placed.y)
        painter.scale(placed.scale, placed.scale)
        draw(placed.picture, painter)
        painter.restore()
    for mark in page.marks:
        draw_mark(mark, painter)
    painter.restore()


def png_of(picture: DisplayList, ratio: float) -> bytes:
    """A picture as PNG, ``ratio`` times its size."""
    painting_application()
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(render_image(picture, ratio=ratio))
    buffer.close()
    return bytes(data.data())
