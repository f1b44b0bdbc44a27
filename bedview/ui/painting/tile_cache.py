"""Tiles kept as images, so that a picture of ten thousand loops is a few hundred copies of pixels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter, QPixmap

from bedview.picture.marks import Tile
from bedview.ui.painting.strokes import paint_shape

LONGEST = 512
"""Tiles in one strip at most; longer runs are laid down in parts."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A run of one tile as an image.

    Attributes:
        pixmap: the image, with the device's ratio set to 1: one of its pixels is one device pixel.
        count: tiles in it.
        left, top: of the image about the first tile's anchor, in device pixels.
        advance: from tile to tile, in device pixels.
        runs_on: whether a part of it stands for a shorter run.
    """

    pixmap: QPixmap
    count: int
    left: int
    top: int
    advance: int
    runs_on: bool


class TileCache:
    """Images of tiles for one device ratio.

    Args:
        ratio: device pixels to a pixel.
        most_bytes: when the images take more than this, all are forgotten and made again as needed.
    """

    def __init__(self, ratio: float = 1.0, most_bytes: int = 96 << 20) -> None:
        self.ratio = ratio
        self._most_bytes = most_bytes
        self._bytes = 0
        self._strips: dict[tuple[int, float], tuple[Tile, Strip]] = {}

    def strip(self, tile: Tile, advance: float, longest: int) -> Strip:
        """A strip of the tile, long enough for a run of ``longest`` (at most :data:`LONGEST`)."""
        # Tiles come out of a memo, so one picture is one object; the tile is kept, so its id stays its own.
        key = (id(tile), advance)
        kept = self._strips.get(key)
        wanted = min(longest, LONGEST)
        if kept is not None and (kept[1].count >= wanted or not kept[1].runs_on):
            return kept[1]
        strip = self._painted(tile, advance, wanted)
        self._bytes += strip.pixmap.width() * strip.pixmap.height() * 4
        if self._bytes > self._most_bytes:
            self._strips.clear()
            self._bytes = strip.pixmap.width() * strip.pixmap.height() * 4
        self._strips[key] = (tile, strip)
        return strip

    def _painted(self, tile: Tile, advance: float, wanted: int) -> Strip:
        step = round(advance * self.ratio)
        left, top = math.floor(tile.left * self.ratio), math.floor(tile.top * self.ratio)
        right, bottom = math.ceil(tile.right * self.ratio), math.ceil(tile.bottom * self.ratio)
        runs_on = right - left <= step + 1
        count = 1 << (wanted - 1).bit_length() if runs_on else 1
        one = self._one(tile, (left, top, right, bottom))
        image = QImage(
            step * (count - 1) + right - left, bottom - top, QImage.Format.Format_ARGB32_Premultiplied
        )
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.drawImage(0, 0, one)
        painter.end()
        done = 1
        while done < count:
            # Twice as long each time: a strip of 512 is nine copies.
            part = image.copy(0, 0, step * (done - 1) + right - left, bottom - top)
            painter = QPainter(image)
            painter.drawImage(step * done, 0, part)
            painter.end()
            done *= 2
        return Strip(QPixmap.fromImage(image), count, left, top, step, runs_on)

    def _one(self, tile: Tile, bounds: tuple[int, int, int, int]) -> QImage:
        """One tile as an image of its bounds, in device pixels."""
        left, top, right, bottom = bounds
        image = QImage(right - left, bottom - top, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(-left, -top)
        painter.scale(self.ratio, self.ratio)
        painter.setClipRect(QRectF(tile.left, tile.top, tile.right - tile.left, tile.bottom - tile.top))
        for shape in tile.shapes:
            paint_shape(painter, shape)
        painter.end()
        return image
