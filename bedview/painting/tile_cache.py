"""Tiles kept as images, so that a picture of ten thousand loops is a few hundred copies of pixels."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter, QPixmap

from bedview.painting.strokes import paint_shape
from bedview.picture.marks import Tile

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
    left: float
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
        one, left, top = self._one(tile)
        runs_on = one.width() == step
        count = 1 << (wanted - 1).bit_length() if runs_on else 1
        return Strip(QPixmap.fromImage(_repeated(one, count)), count, left, top, step, runs_on)

    def _one(self, tile: Tile) -> tuple[QImage, float, int]:
        """One tile as an image, and where its left and top edges lie about its anchor, in device pixels.

        A column of an odd width has its middle, the anchor, at half a pixel; so the left edge is not rounded.
        """
        ratio = self.ratio
        left, top = tile.left * ratio, math.floor(tile.top * ratio)
        wide, high = math.ceil(tile.right * ratio - left - 1e-6), math.ceil(tile.bottom * ratio) - top
        image = QImage(wide, high, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(Qt.GlobalColor.transparent)
        with QPainter(image) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.translate(-left, -top)
            painter.scale(ratio, ratio)
            for shape in tile.shapes:
                paint_shape(painter, shape)
        return image, left, top


def _repeated(image: QImage, count: int) -> QImage:
    """An image side by side with itself."""
    if count == 1:
        return image
    wide, high = image.width(), image.height()
    pixels = np.frombuffer(image.constBits(), np.uint32).reshape(high, wide)
    row = np.ascontiguousarray(np.tile(pixels, (1, count)))
    # The copy is Qt's own; the array may go.
    return QImage(row.data, wide * count, high, wide * count * 4, image.format()).copy()
