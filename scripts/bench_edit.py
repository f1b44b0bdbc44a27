"""Measure editing: type in a field of the page Plan, and time all that follows until it is painted.

A frame is all that one changed field costs on the window's thread, in that thread's own time: compiling,
judging, the chart, the fields, the findings, then the yarn and the fit, and the painting of it all. Fields
change near the beginning, in the middle and near the end of the piece, by two rows, after which the carriage
stands where it stood, and by one, after which all that follows is another way round. In turns with them the
page is painted unchanged: the floor. As in the desktop, garbage is collected between frames. Fails where the
median of a place is over its limit: 16 ms for the demo bootee, 50 ms for a piece of about 2,000 passes.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from statistics import median
from time import thread_time
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from bedview.plan.piece import Piece
from bedview.plan.segments.plain import PlainSegment
from bedview.session.open_piece import OpenPiece
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from bedview.ui.garbage import Collector
from bedview.ui.pages.plan_page import PlanPage
from bedview.ui.theme import LookChoice, Theme

SIZE = (1280, 656)
ROUNDS = 12
PASSES = 2_000


def long_piece() -> Piece:
    """A scarf of about 2,000 passes over 60 needles, with a dart every 90 rows."""
    segments: list[dict[str, Any]] = [{"kind": "cast_on", "needles": "L30-R30", "tension": 6}]
    rows = 0
    while rows < PASSES:
        segments.append({"kind": "plain", "rows": 70})
        segments.append({"kind": "short_rows", "down_to": 50, "back": {}})
        rows += 70 + 2 * (60 - 50)
    segments.append({"kind": "bind_off", "tail_cm": 40})
    return Piece.read(
        {
            "format": 1,
            "bed": {"needles": 200, "pitch_mm": 4.5},
            "yarns": [{"id": "main", "role": "fabric", "tex": 300}],
            "gauges": [{"yarn": "main", "tension": 6, "stitches": 28, "rows": 40, "over_mm": 100}],
            "segments": segments,
        }
    )


def places(piece: Piece) -> Iterator[tuple[str, int]]:
    """Parts of plain rows near the beginning, in the middle and near the end."""
    plain = [
        place for place, part in enumerate(piece.segments) if isinstance(part, PlainSegment) and part.rows
    ]
    yield "beginning", plain[0]
    yield "middle", plain[len(plain) // 2]
    yield "end", plain[-1]


def frames(page: PlanPage, app: QApplication, place: int, more: int) -> tuple[list[float], list[float]]:
    """Make a part ``more`` rows longer and shorter again and again.

    Returns:
        The milliseconds each change took, and those in which the page is painted unchanged in between.
    """
    page.choose(place)
    app.processEvents()
    line = next(line for line in page.part.lines if line.spec.key == "rows")
    part = page.editor.part
    assert isinstance(part, PlainSegment)
    rows = part.rows or 1
    taken, floor = [], []
    for number in range(ROUNDS):
        start = thread_time()
        line.put.emit(rows + more * (1 - number % 2))
        # What waits for the chart to be painted is done, and all is painted, before this returns.
        app.processEvents()
        app.processEvents()
        changed = thread_time()
        page.update()
        page.chart.update()
        app.processEvents()
        taken.append((changed - start) * 1000)
        floor.append((thread_time() - changed) * 1000)
    return taken[2:], floor[2:]


def bench(name: str, piece: Piece, limit_ms: float, app: QApplication) -> bool:
    """Print a line a place and change, and tell whether all are within the limit."""
    theme = Theme(LookChoice.LIGHT)
    page = PlanPage(OpenPiece(piece), theme)
    theme.dress(page)
    page.resize(*SIZE)
    page.show()
    app.processEvents()
    good = True
    for where, place in places(piece):
        for more in (2, 1):
            taken, floor = frames(page, app, place, more)
            good = good and median(taken) <= limit_ms
            print(
                f"{name:14} {where:9} +{more}  median {median(taken):5.1f} ms  best {min(taken):5.1f} ms  "
                f"worst {max(taken):5.1f} ms  {median(taken) / median(floor):4.1f} x floor  "
                f"limit {limit_ms:.0f} ms"
            )
    page.close()
    return good


def main() -> int:
    """Run all of it."""
    app = QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    collector = Collector(app)
    short = bench("harbour-bootee", read_piece(demo_paths()["harbour-bootee"]), 16, app)
    long = bench("2,000 passes", long_piece(), 50, app)
    collector.stop()
    return 0 if short and long else 1


if __name__ == "__main__":
    sys.exit(main())
