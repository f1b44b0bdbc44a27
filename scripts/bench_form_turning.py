"""Measure turning a foot of 15,000 loops without a graphics card: milliseconds and pictures a second.

From the question to the picture on its ground, through the process that paints: at two sizes of the window,
and on a screen with four pixels to one of the window. 20 pictures a second are promised.
"""

from __future__ import annotations

import os
import sys
from multiprocessing import get_context
from pathlib import Path
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np
from PySide6.QtGui import QGuiApplication, QImage, QPainter

from bedview.picture.look import LIGHT
from bedview.ui.finish.messages import Marks, Picture, PictureWanted, Shaped
from bedview.ui.finish.shape_process import work
from bedview.ui.finish.turning import Turning
from tests.form.fabrics import heel_cup

SIZES = ((900, 600, 1.0), (1400, 900, 1.0), (1400, 900, 2.0))
PICTURES = 60


def put_on(ground: QImage, picture: Picture) -> None:
    """Paint a picture as the window does."""
    form = QImage.Format.Format_ARGB32_Premultiplied
    image = QImage(picture.pixels, picture.width, picture.height, 4 * picture.width, form)
    image.setDevicePixelRatio(picture.ratio)
    painter = QPainter(ground)
    painter.drawImage(0, 0, image)
    painter.end()


def main() -> None:
    """Measure and print a line for each size."""
    context = get_context("spawn")
    here, there = context.Pipe()
    document = heel_cup(88, 30, 46).model_dump(mode="json", exclude_none=True)
    process = context.Process(target=work, args=(there, document), daemon=True)
    process.start()
    frames = next(news.frames for news in iter(here.recv, None) if isinstance(news, Shaped))
    for width, height, ratio in SIZES:
        ground = QImage(int(width * ratio), int(height * ratio), QImage.Format.Format_RGB32)
        ground.setDevicePixelRatio(ratio)
        taken = []
        for number in range(PICTURES):
            turning = Turning.from_view("corner").turned(3 * number, number)
            start = perf_counter()
            here.send(
                PictureWanted(
                    frames - 1.0, turning, width, height, ratio, "segment", Marks(), False, LIGHT, True
                )
            )
            put_on(ground, here.recv())
            taken.append(perf_counter() - start)
        middle, slow = np.quantile(taken, (0.5, 0.9)) * 1000
        print(
            f"{width} x {height} at {ratio:g}  {middle:5.1f} ms at the median, {1000 / middle:.0f} a second; "
            f"nine of ten under {slow:5.1f} ms"
        )
    process.terminate()


if __name__ == "__main__":
    application = QGuiApplication(sys.argv)
    main()
