"""How much of a processor pictures of the bed take, beside a floor measured in the same run.

Every frame shows another moment, so nothing is merely painted again. The floor is Qt's own ``drawLines`` of
as many antialiased segments as the picture has: four a loop (two legs, head, sinker), the least there is.
"""

from __future__ import annotations

import os
import statistics
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from time import process_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QLineF
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter, QPen

from bedview.bed.actions import CastOn, HoldCams, Knit, Place, Thread, YarnRole
from bedview.bed.needles import Bed, Position, Side
from bedview.bed.timeline import Timeline
from bedview.painting.fonts import text_width
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.bed_drawing import draw_bed
from bedview.picture.bed_scene import BedScene
from bedview.picture.look import LIGHT
from bedview.picture.scene_building import scene_at

SEGMENTS_A_LOOP = 4
_DRAWN = QImage.Format.Format_ARGB32_Premultiplied


@dataclass(frozen=True, slots=True)
class FrameTimes:
    """Milliseconds: median, and worst, of frames that each show another moment.

    Attributes:
        first_ms: the first frame, with every tile painted for the first time.
        scene_ms: from timeline to scene, median.
        draw_ms: from scene to display list, median.
        paint_ms: the display list painted, median.
        frame_ms: all three together, median.
        worst_ms: all three together, the slowest but the first.
        floor_ms: ``drawLines`` of as many segments, median.
    """

    first_ms: float
    scene_ms: float
    draw_ms: float
    paint_ms: float
    frame_ms: float
    worst_ms: float
    floor_ms: float

    @property
    def share_of_floor(self) -> float:
        """Painting as a share of the floor."""
        return self.paint_ms / self.floor_ms


def slope(needles: int, rows: int) -> Timeline:
    """``rows`` plain ones, then a needle held at each end in turn, every row, until a quarter is left."""
    timeline = Timeline(Bed(needles), [("main", YarnRole.FABRIC)])
    everywhere = tuple(range(needles))
    for action in (
        Place(everywhere, Position.WORK),
        Thread("main"),
        CastOn(everywhere),
        Knit(rows),
        HoldCams(True),
    ):
        timeline.append(action)
    left, right = 0, needles - 1
    while right - left >= needles // 4:
        if timeline.state.carriage is Side.RIGHT:
            timeline.append(Place((right,), Position.HOLD))
            right -= 1
        else:
            timeline.append(Place((left,), Position.HOLD))
            left += 1
        timeline.append(Knit(1))
    return timeline


def measure(needles: int = 400, width: int = 1920, height: int = 1080, frames: int = 40) -> FrameTimes:
    """Time ``frames`` different frames of a sloped piece, from its end backwards."""
    timeline = slope(needles, 45)
    image = QImage(width, height, _DRAWN)
    cache = TileCache(1.0)
    lines = range(timeline.lines - 1, timeline.lines - 1 - 3 * frames, -3)
    times = [_frame(timeline, line, image, cache) for line in lines]
    totals = [sum(each) for each in times]
    scene, draw, painted = (statistics.median(column) for column in zip(*times[1:], strict=True))
    shown = scene_at(timeline, timeline.lines - 1)
    return FrameTimes(
        totals[0], scene, draw, painted, statistics.median(totals[1:]), max(totals[1:]), _floor(shown, image)
    )


def _frame(timeline: Timeline, line: int, image: QImage, cache: TileCache) -> tuple[float, float, float]:
    """Milliseconds for scene, display list and painting of one line."""
    start = process_time()
    scene = scene_at(timeline, line)
    seen = process_time()
    picture = draw_bed(scene, image.width(), image.height(), LIGHT, measure=text_width)
    drawn = process_time()
    with QPainter(image) as painter:
        paint(picture, painter, cache)
    done = process_time()
    return (seen - start) * 1000, (drawn - seen) * 1000, (done - drawn) * 1000


def _floor(scene: BedScene, image: QImage) -> float:
    """Milliseconds for ``drawLines`` of as many antialiased segments as a scene has at least."""
    count = int((scene.fabric.loops >= 0).sum()) * SEGMENTS_A_LOOP
    segments = list(_segments(count, scene.needles, image.width()))
    runs = [_timed(lambda: _lines(image, segments)) for _ in range(5)]
    return statistics.median(runs)


def _segments(count: int, needles: int, width: int) -> Iterator[QLineF]:
    """Segments of the size of a loop's parts, row below row."""
    step = width / needles / 2
    for place in range(count):
        row, column = divmod(place, needles * 2)
        x, y = column * step, 200 + row * step
        yield QLineF(x, y, x + step, y + (step if column % 2 else -step))


def _lines(image: QImage, segments: list[QLineF]) -> None:
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor("#3b6ea5"), 1.5))
        painter.drawLines(segments)


def _timed(work: Callable[[], None]) -> float:
    start = process_time()
    work()
    return (process_time() - start) * 1000


def main() -> None:
    """Print the times for some sizes of bed."""
    app = QGuiApplication.instance() or QGuiApplication([])
    print("needles  first  scene   draw  paint  frame  worst  floor  paint/floor   (ms, 1920 x 1080)")
    for needles in (60, 200, 400):
        times = measure(needles)
        parts = (
            times.first_ms,
            times.scene_ms,
            times.draw_ms,
            times.paint_ms,
            times.frame_ms,
            times.worst_ms,
        )
        figures = "  ".join(f"{part:5.1f}" for part in (*parts, times.floor_ms))
        print(f"{needles:7d}  {figures}  {times.share_of_floor:11.2f}")
    app.processEvents()


if __name__ == "__main__":
    main()
