"""A paint call gives back nothing, and must not lose a reference to ``None`` in doing so.

With PySide6 6.12.0 and Python 3.11 each such call lost one, and the process was aborted after some thousands.
"""

import sys

import pytest
from PySide6.QtGui import QImage, QPainter

CALLS = 20_000
# What else comes and goes meanwhile.
SLACK = 100


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None counts no references from Python 3.12 on")
def test_paint_calls_keep_their_references_to_none() -> None:
    # A thousand calls first: were references lost, that many still leaves None alive to tell.
    assert lost_references(calls=1_000) < SLACK
    assert lost_references(calls=CALLS) < SLACK


def lost_references(calls: int) -> int:
    image = QImage(8, 8, QImage.Format.Format_ARGB32_Premultiplied)
    painter = QPainter(image)
    before = sys.getrefcount(None)
    for _ in range(calls):
        painter.drawLine(0, 0, 7, 7)
    after = sys.getrefcount(None)
    painter.end()
    return before - after
