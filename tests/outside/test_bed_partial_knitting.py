"""Partial knitting done by plain actions, against published counts and common practice.

T: number read in the text of the source. D: derived from such numbers. C: common practice, no source.
"""

from __future__ import annotations

from collections import Counter

import pytest

from bedview.bed.actions import (
    Action,
    CastOn,
    Cut,
    HoldCams,
    Knit,
    Place,
    Thread,
    Transfer,
    Wrap,
    YarnRole,
)
from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Bed, Position, Side, needle_index
from bedview.bed.timeline import Timeline
from bedview.checks.judge import judge

YARNS = [("main", YarnRole.FABRIC), ("scrap", YarnRole.WASTE)]


class Knitter:
    """Works by hand at a bed: ``first`` and ``last`` are the outermost needles not in hold."""

    def __init__(self, needles: int, cast_on: int | None = None, pitch_mm: float = 4.5) -> None:
        self.timeline = Timeline(Bed(needles, pitch_mm, Side.RIGHT), YARNS)
        self.first, self.last = 0, (cast_on or needles) - 1
        self.do(Thread("main"), CastOn(tuple(range(self.last + 1))), HoldCams(on=True))

    def do(self, *actions: Action) -> None:
        for action in actions:
            self.timeline.append(action)

    @property
    def at_work(self) -> int:
        """How many needles will knit."""
        return self.last - self.first + 1

    @property
    def far_is_left(self) -> bool:
        return self.timeline.state.carriage is Side.RIGHT

    def hold(self, count: int, *, left: bool) -> None:
        """The next needles at one end to hold."""
        start = self.first if left else self.last - count + 1
        self.first, self.last = (self.first + count, self.last) if left else (self.first, self.last - count)
        self.do(Place(tuple(range(start, start + count)), Position.HOLD))

    def bring_back(self, count: int, *, left: bool) -> None:
        """The nearest held needles at one end to upper working, so that they knit."""
        start = self.first - count if left else self.last + 1
        self.first, self.last = (self.first - count, self.last) if left else (self.first, self.last + count)
        self.do(Place(tuple(range(start, start + count)), Position.UPPER))

    def hold_each_row(self, fewest: int, *, carriage_side: bool = True) -> None:
        """One needle to hold before each row, down to the fewest."""
        while self.at_work > fewest:
            self.hold(1, left=self.far_is_left ^ carriage_side)
            self.do(Knit(1))

    def return_each_row(self, most: int, *, hand_wraps: bool = False) -> None:
        """One needle back on the far side before each row."""
        while self.at_work < most:
            self.bring_back(1, left=self.far_is_left)
            nearest_held = self.last + 1 if self.far_is_left else self.first - 1
            if hand_wraps and nearest_held in self.timeline.state.held:
                self.do(Wrap(nearest_held))
            self.do(Knit(1))

    @property
    def stitches(self) -> int:
        """Loops knitted by passes so far."""
        return int((self.timeline.fabric.kind == LoopKind.KNIT).sum())

    @property
    def said(self) -> Counter[tuple[str, str]]:
        """Findings by rule and severity, but for the loops left at the end."""
        found = Counter((each.rule, str(each.severity)) for each in judge(self.timeline))
        del found["stitches-left", "warning"]
        return found


# -- how many at a time -------------------------------------------------------------------------------------


@pytest.mark.parametrize("count", [1, 2, 3, 8])
def test_any_number_on_the_far_side_but_one_on_the_carriages(count: int) -> None:
    # T: University of Brighton machine-knitting notes: any number away from the carriage, one only beside it.
    far, near = Knitter(20), Knitter(20)
    for knitter, left in ((far, True), (near, False)):
        knitter.hold(count, left=left)
        knitter.do(Knit(1))
    assert not far.said
    assert far.timeline.events[-1].wrapped.tolist() == []
    assert near.timeline.events[-1].wrapped.tolist() == list(range(20 - count, 20))
    assert near.said == ({("group-wrapped", "warning"): 1} if count > 1 else {})


@pytest.mark.parametrize("count", [2, 3, 8])
def test_several_with_an_automatic_wrap(count: int) -> None:
    # T: class notes on the hold position: to hold k, hold k - 1, knit, hold one more.
    knitter = Knitter(20)
    knitter.do(Knit(1))
    knitter.hold(count - 1, left=False)
    knitter.do(Knit(1))
    knitter.hold(1, left=False)
    knitter.do(Knit(1))
    assert not knitter.said
    assert knitter.timeline.state.wraps.tolist() == [0] * (20 - count) + [1] + [0] * (count - 1)


def test_steepest_slope_is_one_needle_every_two_rows_a_side() -> None:
    # T: University of Brighton machine-knitting notes.
    knitter = Knitter(30)
    knitter.hold_each_row(10)
    fabric = knitter.timeline.fabric
    rows = Counter(fabric.needle[fabric.kind == LoopKind.KNIT].tolist())
    assert {rows[needle + 1] - rows[needle] for needle in range(9)} == {2}
    assert {rows[needle - 1] - rows[needle] for needle in range(29, 20, -1)} == {2}


# -- how many rows and stitches -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("most", "fewest", "rows"),
    [
        (30, 8, 22),  # C: m - k rows down, as many back
        (32, 14, 18),  # T: 2009/09 sock notes: one needle a row in 18 rows, 9 each end
        (27, 11, 16),  # T: 2011 notes
        (24, 8, 16),  # T: socknitters archive: until 8 remain, a third of them
        (30, 12, 18),  # T: notes after Gibson-Roberts: to 40 % of the heel
        (36, 20, 16),  # T: class handout of 1979, clearwaterknits
    ],
)
def test_rows_down_and_back(most: int, fewest: int, rows: int) -> None:
    knitter = Knitter(most + most % 2, most)
    knitter.hold_each_row(fewest)
    assert knitter.timeline.passes == rows
    held = knitter.timeline.state.held
    assert sum(held < most // 2) == sum(held >= most // 2) == rows // 2
    knitter.return_each_row(most)
    assert knitter.timeline.passes == 2 * rows


def test_stitches_of_a_heel_from_27_to_11() -> None:
    # T: 2011 notes, 32 rows; D: 608 stitches.
    knitter = Knitter(28, 27)
    knitter.hold_each_row(11)
    knitter.return_each_row(27)
    assert (knitter.timeline.passes, knitter.stitches) == (32, 608)


@pytest.mark.parametrize(("most", "fewest"), [(30, 8), (48, 16), (60, 24)])
def test_decreasing_at_each_end_every_row(most: int, fewest: int) -> None:
    # C: from m to k takes (m - k)/2 rows.
    knitter = Knitter(most)
    while knitter.at_work > fewest:
        first, last = knitter.first, knitter.last
        knitter.do(Transfer(first, first + 1), Transfer(last, last - 1))
        knitter.do(Place((first, last), Position.OUT), Knit(1))
        knitter.first, knitter.last = first + 1, last - 1
    assert knitter.timeline.passes == (most - fewest) / 2
    assert len(knitter.timeline.state.bearing) == fewest


def test_one_sided_wedges_held_three_at_a_time() -> None:
    # D: L20-R20, R20 to R3 held three at a time, each followed by two rows, then two rows across all.
    knitter = Knitter(40)
    knitter.do(Knit(1))
    before, start = knitter.stitches, knitter.timeline.passes
    for wedge in range(1, 11):
        while knitter.last >= needle_index("R3", 40):
            knitter.hold(3, left=False)
            knitter.do(Knit(2))
        knitter.bring_back(18, left=False)
        knitter.do(Knit(2))
        assert knitter.timeline.passes - start == 14 * wedge
        assert knitter.stitches - before == 434 * wedge
    assert knitter.timeline.passes - start == 140


@pytest.mark.parametrize(("foot_rows", "stitches"), [(93, 14_678), (97, 14_966), (103, 15_398)])
def test_a_flat_sock(foot_rows: int, stitches: int) -> None:
    """A whole one for US men 7-8, 9-10 and 11-12; at each turn a stitch by hand brings two needles back."""
    # T: class handout of 1979, clearwaterknits, "men's socks" (counts only); D: the stitches.
    knitter = Knitter(74, 73)
    knitter.do(Knit(36), Transfer(72, 71), Place((72,), Position.OUT), Knit(48))
    knitter.first, knitter.last = 0, 71

    def cup(fewest: int) -> tuple[int, int]:
        """One half, down to the fewest and back: its rows and stitches."""
        rows, before = knitter.timeline.passes, knitter.stitches
        left_half = not knitter.far_is_left
        knitter.hold(36, left=not left_half)
        knitter.hold_each_row(fewest)
        for left in (True, False):
            knitter.bring_back(1, left=left)
        knitter.do(Knit(1))
        knitter.return_each_row(36)
        knitter.bring_back(36, left=not left_half)
        return knitter.timeline.passes - rows, knitter.stitches - before

    assert cup(20) == (31, 875)
    knitter.do(Knit(foot_rows))
    assert cup(16) == (39, 1_023)
    assert knitter.stitches == stitches


# -- what shows ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("carriage_side", "hand_wraps", "sizes", "said"),
    [
        (True, False, {1: 22, 2: 1003, 4: 1, 5: 20}, {("opening", "note"): 21}),
        (True, True, {1: 44, 2: 1044}, {}),
        (False, False, {2: 1002, 4: 2, 6: 20}, {("opening", "warning"): 22}),
    ],
)
def test_a_heel_three_ways(
    *,
    carriage_side: bool,
    hand_wraps: bool,
    sizes: dict[int, int],
    said: dict[tuple[str, str], int],
) -> None:
    # C: 30 needles, 4 plain rows, down to 8 and back one a row, 4 plain rows; counted by hand from the rules.
    knitter = Knitter(30)
    knitter.do(Knit(4))
    knitter.hold_each_row(8, carriage_side=carriage_side)
    knitter.return_each_row(30, hand_wraps=hand_wraps)
    knitter.do(Knit(4))
    assert knitter.timeline.passes == 4 + 44 + 4
    assert int((knitter.timeline.fabric.kind == LoopKind.CAST_ON).sum()) == 30
    assert knitter.timeline.openings.sizes() == sizes
    assert knitter.said == said


@pytest.mark.parametrize(
    ("wraps", "sizes", "said"),
    [
        ("none", {2: 312, 4: 5}, {("opening", "warning"): 5}),
        ("hand", {1: 10, 2: 317}, {}),
        ("automatic", {1: 5, 2: 317, 3: 5}, {}),
    ],
)
def test_a_shoulder_slope_three_ways(
    wraps: str, sizes: dict[int, int], said: dict[tuple[str, str], int]
) -> None:
    # C: 24 needles, five times 4 more held on the right and two rows; counted by hand from the rules.
    knitter = Knitter(24)
    knitter.do(Knit(4), Knit(1))
    for _ in range(5):
        knitter.hold(3 if wraps == "automatic" else 4, left=False)
        knitter.do(Knit(1))
        if wraps == "hand":
            knitter.do(Wrap(knitter.last + 1))
        elif wraps == "automatic":
            knitter.hold(1, left=False)
        knitter.do(Knit(1))
    knitter.bring_back(20, left=False)
    knitter.do(Knit(4))
    assert knitter.timeline.openings.sizes() == sizes
    assert knitter.said == said


# -- floats and waste ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pitch_mm", "columns"),
    [(4.5, 6), (5.0, 5), (6.5, 4), (7.0, 4), (9.0, 3)],  # T: pitches from a yarn shop's table; C: 25 mm
)
def test_how_far_a_float_may_reach(pitch_mm: float, columns: int) -> None:
    for apart in (columns - 1, columns):
        knitter = Knitter(20, pitch_mm=pitch_mm)
        out = tuple(range(5, 5 + apart - 1))
        knitter.do(*[Transfer(needle, needle - 1) for needle in reversed(out)], Place(out, Position.OUT))
        knitter.do(Knit(1))
        assert knitter.said["long-float", "warning"] == (apart == columns)


@pytest.mark.parametrize("rows", [7, 8])
def test_seven_or_eight_rows_of_waste_are_enough(rows: int) -> None:
    # T: class notes on waste yarn: seven or eight rows.
    knitter = Knitter(20)
    knitter.do(Knit(2), Cut(40), Thread("scrap"), Knit(rows), Cut(), Knit(1))
    assert not knitter.said
    assert knitter.timeline.machine.ledger.unsecured() == 0
