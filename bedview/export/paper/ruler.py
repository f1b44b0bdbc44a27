"""A ruler on the page: whoever prints checks with it that nothing was shrunk to fit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from bedview.export.paper.pages import INK, MM
from bedview.picture.marks import Lines, Mark, Pen, Text

LENGTH_MM: Final = 100.0
_INCH_MM: Final = 25.4
TALL: Final = 13.0 * MM
_PEN: Final = Pen(INK.ink, 0.2 * MM, "flat")


def ruler(x: float, y: float, words: str) -> Iterator[Mark]:
    """100 mm in millimetres above a line, and three inches below it.

    Args:
        x: its left end, in the page's units.
        y: its upper edge.
        words: what to do with it, written beside it.
    """
    line = y + 6 * MM
    ends = [[x, line, x + LENGTH_MM * MM, line]]
    for mm in range(int(LENGTH_MM) + 1):
        tall = 3.2 if mm % 10 == 0 else 2.2 if mm % 5 == 0 else 1.4
        ends.append([x + mm * MM, line - tall * MM, x + mm * MM, line])
    for quarter in range(13):
        tall = 2.6 if quarter % 4 == 0 else 1.4
        at = x + quarter * _INCH_MM / 4 * MM
        ends.append([at, line, at, line + tall * MM])
    yield Lines(_PEN, np.array(ends))
    size = 2.6 * MM
    for mm in range(0, int(LENGTH_MM) + 1, 20):
        yield Text(x + mm * MM, y + 2.3 * MM, f"{mm}" if mm else "mm", size, INK.ink, "middle")
    for inch in range(4):
        at = x + inch * _INCH_MM * MM
        yield Text(at, line + 5.6 * MM, f"{inch} in" if inch else "in", size, INK.ink, "middle")
    yield Text(x + LENGTH_MM * MM + 5 * MM, line + 1 * MM, words, 3.2 * MM, INK.quiet_ink)
