"""Reads a PDF with a reader that did not write it: pages, their size, their text, their pixels."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize
from PySide6.QtGui import QImage
from PySide6.QtPdf import QPdfDocument

_MM_A_POINT = 25.4 / 72


@dataclass(frozen=True)
class Pdf:
    """An open document; pages count from 0."""

    document: QPdfDocument

    @property
    def pages(self) -> int:
        return self.document.pageCount()

    def size_mm(self, page: int) -> tuple[float, float]:
        size = self.document.pagePointSize(page)
        return size.width() * _MM_A_POINT, size.height() * _MM_A_POINT

    def text(self, page: int) -> str:
        return self.document.getAllText(page).text()

    def grey(self, page: int, dots_a_mm: float) -> npt.NDArray[np.uint8]:
        """A page as grey values, rows by columns; white is 255."""
        wide, tall = (round(side * dots_a_mm) for side in self.size_mm(page))
        rendered = self.document.render(page, QSize(wide, tall))
        grey = rendered.convertToFormat(QImage.Format.Format_ARGB32)
        pixels = np.frombuffer(grey.constBits(), np.uint8).reshape(tall, grey.bytesPerLine() // 4, 4)[
            :, :wide
        ]
        alpha = pixels[..., 3:].astype(np.float64) / 255
        on_white = pixels[..., :3] * alpha + 255 * (1 - alpha)
        found: npt.NDArray[np.uint8] = on_white.mean(axis=2).astype(np.uint8)
        return found


@contextmanager
def read_pdf(data: bytes) -> Iterator[Pdf]:
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    document = QPdfDocument()
    document.load(buffer)
    assert document.error() == QPdfDocument.Error.None_
    try:
        yield Pdf(document)
    finally:
        document.close()
