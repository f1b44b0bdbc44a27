"""Published answers to spaced decreases and increases, as a shaping knits them.

Marks beside each check: T, the numbers were read in the text of the source; D, derived from cited numbers.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest

from bedview.checks.judge import judge
from bedview.plan.gauge import EVEN, width_in_stitches
from tests.outside.test_gauge import INCH, to_the_inch
from tests.plan.making import PLAIN_4, compiled, widths_of


def gaps_of(widths: list[int]) -> Counter[int]:
    """Rows from one change of width to the next, and how often; the first counted from the first row."""
    changes = [row for row, (before, after) in enumerate(pairwise(widths), 1) if before != after]
    return Counter(after - before for before, after in pairwise([0, *changes]))


@pytest.mark.parametrize("carriage", ["left", "right"])
@pytest.mark.parametrize(("kind", "ends"), [("narrow", "left"), ("narrow", "both"), ("widen", "both")])
@pytest.mark.parametrize(("rows", "times", "printed"), [
    (140, 36, {3: 4, 4: 32}),   # T: apparel-analysis 2013/06
    (176, 42, {4: 34, 5: 8}),   # T: designyourownsweater 2007/01
    (124, 14, {8: 2, 9: 12}),   # T: Budd 2010, of stitches
    (216, 142, {1: 68, 2: 74}),  # D: q and r of 216 / 142
    (8, 5, {1: 2, 2: 3}),       # T: local-guru, 5 in 8
])  # fmt: skip
def test_so_many_times_over_so_many_rows(
    kind: str, ends: str, carriage: str, rows: int, times: int, printed: dict[int, int]
) -> None:
    count = 300 if kind == "narrow" else 100
    start = {"kind": "cast_on", "needles": f"L{count // 2}-R{count // 2}"}
    shaping = {"kind": kind, "stitches": times, "rows": rows, "ends": ends, "tool": 3}
    made = compiled(400, start, PLAIN_4, shaping, carriage=carriage)
    widths = [count, *widths_of(made, 2)]
    assert len(widths) == rows + 1
    assert abs(widths[-1] - count) == times * (2 if ends == "both" else 1)
    assert gaps_of(widths) == printed
    assert [finding.rule for finding in judge(made.timeline)] == ["stitches-left"]


def test_a_sleeve_from_the_cuff_to_an_even_body() -> None:
    """T: kristentendyke 2014/02: 7¾ in × 5 to the inch are 38, to match 60, with 11 widening rows between."""
    cuff = width_in_stitches(7.75 * INCH, to_the_inch(5), EVEN).count
    start = {"kind": "cast_on", "needles": f"L{cuff // 2}-R{cuff // 2}"}
    made = compiled(80, start, PLAIN_4, {"kind": "widen", "stitches": 11, "every": 6}, PLAIN_4)
    widths = [cuff, *widths_of(made, 2)]
    assert (widths[0], widths[-1]) == (38, 60)
    assert sum(before != after for before, after in pairwise(widths)) == 11
    assert len(widths) - 1 == 11 * 6
