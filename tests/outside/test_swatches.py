"""Widths on screen and weighed swatches, held against published figures; the source stands at each."""

import pytest

from bedview.plan.gauge import EVEN
from bedview.plan.piece import Gauge
from bedview.plan.swatch import KnittedSwatch, Measured, weigh
from bedview.session.part_figures import Widths


def width(stitches: float, over_mm: float) -> Widths:
    gauge = Gauge(yarn="main", tension=6, stitches=stitches, rows=40, over_mm=over_mm)
    return Widths(gauge, EVEN, 400)


@pytest.mark.parametrize(
    ("stitches", "over_mm", "width_mm", "exact", "count"),
    [
        # designyourownsweater 2007/01, 28 stitches to 10 cm.
        (28, 100, 260, 72.8, 72),
        (28, 100, 560, 156.8, 156),
        # kristentendyke 2014/02: 7¾ in at 5 stitches to the inch, an even number.
        (5, 25.4, 7.75 * 25.4, 38.75, 38),
    ],
)
def test_needles_of_a_width(
    stitches: float, over_mm: float, width_mm: float, exact: float, count: int
) -> None:
    figure = width(stitches, over_mm).figure(width_mm)
    assert figure.exact == pytest.approx(exact)
    assert figure.count == count


def test_what_a_swatch_of_a_known_fabric_weighs() -> None:
    # 8 stitches × 11 rows to the inch, dry relaxed, 238 tex, loops of 11.8 mm: 383.07 g to the square metre
    # (mass by loops, Texcoms textile handbook p. 150; Munden's dry constants from memory, the text not seen).
    # Ten inches square of it, off the machine and hung in waste, so without closed edges.
    side_mm = 10 * 25.4
    swatch = KnittedSwatch(
        yarn="main",
        tension=6,
        needles=80,
        rows=110,
        marked_stitches=80,
        marked_rows=110,
        before=Measured(width_mm=side_mm, height_mm=side_mm),
        closed_edges=0,
        grams=383.07 * (side_mm / 1000) ** 2,
    )
    found = weigh(swatch, 238)
    assert found is not None
    assert found.ratio == pytest.approx(1, abs=0.005)
    assert found.caution() is None
    # By the scale a stitch takes what the theory says: 11.80 mm.
    assert swatch.loop_mm_by_scale(238) == pytest.approx(11.8, abs=0.03)
