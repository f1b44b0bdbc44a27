"""Measure a sheet of 500 rows as PDF against the same pages of bare text.

The work is all that follows on a piece that is compiled: findings, chart, rows, pictures of the bed, making
up, layout and the document. The floor is what any program must do for it: the same words at the same places
on as many pages, set in the same typeface by the same writer, with no line, box or picture besides. Both are
measured in turns. Two pieces: plain rows with a heel in every hundred, and hands in every other row. A
sheet is laid out anew each time; fonts and pictures of a needle are there already, as in a window. Fails
where it takes more than 10 times the floor.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from statistics import median
from time import thread_time
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from bedview.export.paper.documents import sheet_pages
from bedview.export.paper.pages import PAPERS, Page
from bedview.export.printing import paper_measure, pdf_of
from bedview.picture.marks import Text
from bedview.plan.piece import Piece
from bedview.plan.procedure import compile_piece

ROWS = 500
RUNS = 7
LIMIT = 10.0
_PAPER = PAPERS["a4"]


def _piece(segments: list[dict[str, Any]]) -> Piece:
    return Piece.read(
        {
            "format": 1,
            "title": "Harbour length",
            "bed": {"needles": 120, "pitch_mm": 9},
            "yarns": [{"id": "main", "role": "fabric", "name": "blue wool", "tex": 400}],
            "gauges": [{"yarn": "main", "tension": 6, "stitches": 16, "rows": 22, "over_mm": 100}],
            "segments": [{"kind": "cast_on", "needles": "L20-R20", "tension": 6}, *segments],
        }
    )


def plain_with_heels() -> Piece:
    """Five times 60 plain rows, and a heel of 40."""
    heel = {"kind": "short_rows", "down_to": 20, "back": {}}
    return _piece([{"kind": "plain", "rows": 60}, heel] * 5)


def hands_in_every_other_row() -> Piece:
    """Narrowed by a stitch at both ends every other row and widened again, twelve times."""
    in_and_out = [
        {"kind": "narrow", "stitches": 10, "every": 2},
        {"kind": "widen", "stitches": 10, "every": 2},
    ]
    return _piece([*in_and_out * 12, {"kind": "plain", "rows": 20}])


PIECES: dict[str, Callable[[], Piece]] = {
    "plain with heels": plain_with_heels,
    "hands every other row": hands_in_every_other_row,
}


def bare(page: Page) -> Page:
    """The words of a page and nothing else."""
    return Page(page.paper, tuple(mark for mark in page.marks if isinstance(mark, Text)))


def measure(name: str) -> bool:
    """Measure one piece and print a line; whether it is within the limit."""
    piece = PIECES[name]()
    procedure = compile_piece(piece)
    assert procedure.timeline.passes == ROWS, procedure.timeline.passes
    text_alone = [bare(page) for page in sheet_pages(piece, procedure, _PAPER, paper_measure())]
    taken, floor = [], []
    for _turn in range(RUNS):
        start = thread_time()
        pdf_of(sheet_pages(piece, procedure, _PAPER, paper_measure()), piece.title)
        middle = thread_time()
        pdf_of(text_alone, piece.title)
        taken.append(middle - start)
        floor.append(thread_time() - middle)
    ratio = median(taken) / median(floor)
    print(
        f"pdf, {name:22} {len(text_alone):3} pages  {median(taken) * 1000:6.0f} ms  "
        f"{ratio:5.2f} x {median(floor) * 1000:.0f} ms of bare text"
    )
    return ratio <= LIMIT


if __name__ == "__main__":
    sys.exit(not min([measure(each) for each in PIECES]))
