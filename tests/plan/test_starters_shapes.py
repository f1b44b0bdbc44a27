"""Shapes counted by hand on the compiled pieces, not by the formulas that made them."""

from __future__ import annotations

from math import hypot, pi, sqrt

import numpy as np
import pytest

from bedview.bed.fabric import LoopKind
from bedview.plan.edges_file import to_edge
from bedview.plan.fit import fit
from bedview.plan.piece import Piece
from bedview.plan.procedure import Procedure, compile_piece
from bedview.plan.segments.repeat import RepeatSegment
from bedview.plan.segments.short_rows import ShortRowsSegment
from bedview.plan.starters import find_starter
from tests.plan.making import rows_of, widths_of

BULKY = {"stitches": 15, "rows": 21, "tension": 7, "needles": 110, "pitch": 9}
SIXTEEN = {"stitches": 16, "rows": 20}


def made(name: str, **values: str | float) -> tuple[Piece, Procedure]:
    piece = find_starter(name).make(values)
    return piece, compile_piece(piece)


def at(piece: Piece, title: str) -> int:
    return next(place for place, segment in enumerate(piece.segments) if segment.title == title)


def widths(piece: Piece, procedure: Procedure, title: str) -> list[int]:
    return widths_of(procedure, at(piece, title))


def loops(piece: Piece, procedure: Procedure, edge: object) -> int:
    return len(procedure.timeline.edge_loops(to_edge(edge, piece.bed.needles)))  # type: ignore[arg-type]


def test_a_sock_counted_by_hand() -> None:
    """20 cm round at 16 stitches is 32: sole and instep of 16, and a stitch of each in the seam."""
    piece, procedure = made(
        "sock", foot_girth=20, ease=0, foot_length=25, room=0, leg_length=15, hem=0, heel_depth=5,
        toe_depth=4, **SIXTEEN,
    )  # fmt: skip
    assert set(widths(piece, procedure, "Leg")) == {34}
    # 5 cm are 10 rows, and one needle goes to hold in each; the first row holds one already.
    assert widths(piece, procedure, "Heel, narrowing") == list(range(16, 6, -1))
    assert widths(piece, procedure, "Heel, widening") == list(range(8, 18))
    assert widths(piece, procedure, "Toe, narrowing") == list(range(16, 8, -1))
    # 25 cm are 50 rows: 10 of the heel, 8 of the toe, one before and one after the foot over the sole alone.
    assert rows_of(procedure, at(piece, "Foot")) == 50 - 10 - 8 - 2
    # 15 cm are 30 rows, but the carriage must end beside the sole.
    assert rows_of(procedure, at(piece, "Leg")) in (29, 31)
    graft = piece.seams[-1]
    assert loops(piece, procedure, graft.a) == loops(piece, procedure, graft.b) == 16


def test_a_bootee_counted_by_hand() -> None:
    piece, procedure = made(
        "bootee", foot_girth=20, heel_girth=26, ease=0, foot_length=25, room=0, leg_length=8, hem=0,
        toe_depth=4, **SIXTEEN,
    )  # fmt: skip
    assert set(widths(piece, procedure, "Leg")) == {34}
    # Held at each end, a stitch of 6.25 mm becomes a slant of 6.25 across and two rows of 5 mm up: 11.79 mm.
    gained = 2 * (hypot(6.25, 10) - 6.25)
    held = round((260 - 200) / gained)
    assert widths(piece, procedure, "Heel, narrowing") == list(range(33, 33 - 2 * held, -1))
    # Two flaps of 9 stitches fit a toe of 16: the edge stitch of each lies in the seam.
    flaps = [seam for seam in piece.seams if seam.kind == "graft"]
    assert [loops(piece, procedure, seam.a) for seam in flaps] == [8, 8]
    assert [loops(piece, procedure, seam.b) for seam in flaps] == [8, 8]
    assert max(widths(piece, procedure, "Toe, widening")) == 16
    sole = 2 * held + rows_of(procedure, at(piece, "Foot")) + 2 + 8
    assert sole == 50


def test_an_odd_half_gives_one_flap_a_stitch_more() -> None:
    """18.7 cm at 16 are 29.9, so 30 stitches: a toe of 15, flaps of 8 and 9."""
    piece, procedure = made("bootee", foot_girth=18.7, heel_girth=24, ease=0, foot_length=25, **SIXTEEN)
    grafts = [seam for seam in piece.seams if seam.kind == "graft"]
    assert sorted(loops(piece, procedure, seam.a) for seam in grafts) == [7, 8]
    assert all(line.verdict == "fits" for line in fit(piece, procedure).lines if line.unit == "loops")


def test_a_hem_lies_double_and_counts_once() -> None:
    plain, plain_procedure = made("bootee", hem=0, **BULKY)
    hemmed, hemmed_procedure = made("bootee", hem=2, **BULKY)
    leg = [
        next(line for line in fit(*pair).lines if line.key == "leg_length").got
        for pair in ((plain, plain_procedure), (hemmed, hemmed_procedure))
    ]
    assert leg[0] == pytest.approx(leg[1], abs=100 / 21)
    # 2 cm are 4 rows: as many inside, one to fold at, one to close.
    assert rows_of(hemmed_procedure, at(hemmed, "Hem")) == 10


@pytest.mark.parametrize("ease", [0, 4, 10])
@pytest.mark.parametrize(("stitches", "rows"), [(15, 21), (15.6, 21.8), (20, 28), (13, 18)])
def test_a_lining_lies_inside_its_outer_whatever_its_yarn(ease: float, stitches: float, rows: float) -> None:
    piece, procedure = made(
        "lined-bootee",
        lining_ease=ease,
        lining_stitches=stitches,
        lining_rows=rows,
        lining_tension=5,
        **BULKY,
    )
    outer = max(widths(piece, procedure, "Outer: foot")) - 2
    lining = max(widths(piece, procedure, "Lining: foot")) - 2
    outer_mm, lining_mm = outer * 100 / 15, lining * 100 / stitches
    assert lining_mm == pytest.approx(outer_mm * (1 - ease / 100), abs=100 / stitches)
    lines = {line.key: line for line in fit(piece, procedure).lines}
    assert lines["lining_girth"].got == pytest.approx(lining_mm)
    assert lines["lining_inside"].asked == pytest.approx(outer_mm)
    assert lines["lining_inside"].verdict == ("fits" if lining_mm <= outer_mm + 1e-6 else "off")
    assert lines["lining_length"].verdict == "fits"


def test_a_lined_bootee_is_one_strip_in_two_yarns() -> None:
    piece, procedure = made("lined-bootee", **BULKY)
    assert [seam.kind for seam in piece.seams].count("mattress") == 1
    fabric = procedure.timeline.fabric
    loops_made = np.arange(len(fabric))
    kept = loops_made[~fabric.waste(loops_made)]
    yarns = fabric.yarn_of(kept)
    # The outer, and then the lining, with no way back.
    assert [yarn.id for yarn in piece.yarns[:2]] == ["main", "lining"]
    assert set(yarns.tolist()) == {0, 1}
    assert (np.diff(yarns) >= 0).all()
    # Its first course is drawn through waste, and each later one through the course before it.
    assert (fabric.kind[kept] != LoopKind.CAST_ON).all()


def test_a_hat_goes_round_a_head_and_shrinks_to_the_crown() -> None:
    piece, procedure = made("hat", head_girth=56, ease=0, depth=20, **BULKY)
    wedges = [place for place, segment in enumerate(piece.segments) if segment.kind == "repeat"]
    knitted = [width for place in wedges for width in widths_of(procedure, place)]
    whole = max(knitted)
    assert whole == 30  # 20 cm at 15
    # Every pass reaches the rim; the last needle of the crown knits only in the plain rows of each wedge.
    assert len(knitted) + 1 == pytest.approx(56 * 2.1, abs=1)
    assert knitted.count(whole) < len(knitted) / 3
    (graft,) = piece.seams
    assert loops(piece, procedure, graft.a) == loops(piece, procedure, graft.b) == 30


def test_a_mitt_sets_its_thumb_aside_and_brings_it_back() -> None:
    piece, procedure = made("mitt", hand_girth=20, ease=0, thumb_girth=8, hem=0, **SIXTEEN)
    assert set(widths(piece, procedure, "Hand below the thumb")) == {34}
    assert set(widths(piece, procedure, "Hand above the thumb")) == {34}
    # 8 cm at 16 are 12.8: 12 or 14 stitches, half of them a side, and one at each edge in a seam.
    thumb = widths(piece, procedure, "Thumb, front")
    assert set(thumb) == {6 + 2} or set(thumb) == {7 + 2}
    root = piece.seams[2]
    assert root.kind == "graft"
    assert loops(piece, procedure, root.a) == loops(piece, procedure, root.b) == thumb[0]
    mattresses = [seam for seam in piece.seams if seam.kind == "mattress"]
    assert len(mattresses) == 3


def test_the_yarn_of_a_mitt_waits_at_its_edge_while_the_thumb_is_set_aside() -> None:
    """No yarn lies loose across the hand: the judge would call it a long float."""
    piece, procedure = made("mitt", **BULKY)
    assert procedure.timeline.openings.floats() == []
    assert sum(len(event.dropped) > 0 for event in procedure.timeline.events) == 4
    assert piece.yarns[0].role == "fabric"


def test_shoulders_are_mirror_images_and_as_high_as_each_other() -> None:
    piece, procedure = made("shoulders", size="4y", **BULKY)
    for part in ("of the neck", "side", "shoulder", "shoulder across"):
        titles = [segment.title for segment in piece.segments]
        left, right = f"Front: left {part}", f"Front: right {part}"
        assert (left in titles) == (right in titles)
        if left in titles:
            assert widths(piece, procedure, left) == widths(piece, procedure, right)
    grafts = [seam for seam in piece.seams if seam.kind == "graft"]
    assert len({loops(piece, procedure, edge) for seam in grafts for edge in (seam.a, seam.b)}) == 1
    lines = {line.key: line for line in fit(piece, procedure).lines}
    assert lines["back_length"].got == pytest.approx(lines["front_length"].got)


@pytest.mark.parametrize("height", [0, 5, 12, 30])
def test_a_cone_is_the_one_asked_for(height: float) -> None:
    """Base radius = slant × part of the full circle (plane geometry)."""
    piece, procedure = made("cone", across=16, height=height, **BULKY)
    rows = sum(len(widths_of(procedure, at(piece, part.title))) for part in piece.segments
               if part.kind == "repeat") + 1  # fmt: skip
    needles = max(widths_of(procedure, next(p for p, s in enumerate(piece.segments) if s.kind == "repeat")))
    radius, slant = rows / 2.1 / (2 * pi), needles / 1.5
    assert radius == pytest.approx(8, abs=1 / 2.1 / (2 * pi))
    assert slant == pytest.approx(hypot(8, height), abs=1 / 1.5)
    if height >= 12:
        assert sqrt(slant**2 - radius**2) == pytest.approx(height, abs=0.8)


def test_each_wedge_of_a_cone_narrows_by_equal_steps() -> None:
    piece, procedure = made("cone", across=16, height=12, **BULKY)
    place = next(place for place, segment in enumerate(piece.segments) if segment.kind == "repeat")
    repeat = piece.segments[place]
    assert isinstance(repeat, RepeatSegment)
    turn = repeat.segments[1]
    assert isinstance(turn, ShortRowsSegment)
    knitted = widths_of(procedure, place)
    one = knitted[: len(knitted) // repeat.rounds()]
    # Each step takes two rows; the first of them still knits the needle that is wrapped.
    step, plain_rows = turn.needles_a_step, one.count(max(one))
    steps = one[plain_rows + 1 :: 2]
    assert steps == list(range(max(one) - step, turn.down_to - 1, -step))
    assert one[-1] == turn.down_to == step


@pytest.mark.parametrize("across", [8, 12, 20])
def test_rounds_of_a_ball_follow_the_sine(across: float) -> None:
    piece, procedure = made("ball", across=across, **BULKY)
    fabric = procedure.timeline.fabric
    loops_made = np.arange(len(fabric))
    stitch = (fabric.kind == LoopKind.KNIT) & ~fabric.waste(loops_made)
    rows = np.unique(fabric.needle[stitch], return_counts=True)[1] + 1
    gores = sum(segment.rounds() for segment in piece.segments if segment.kind == "repeat")
    places = np.arange(len(rows)) + 0.5
    asked = pi * across * 2.1 * np.sin(pi * places / len(rows))
    # A gore has two rows at a pole at least, and half a one on the way back; elsewhere it rounds to two rows.
    assert np.abs(rows - np.maximum(asked, 2.5 * gores)).max() <= 1.6 * gores
    assert np.abs(rows - asked)[len(rows) // 6 : -(len(rows) // 6)].mean() <= 0.8 * gores
