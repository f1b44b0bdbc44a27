"""The free bench: hands, undo, why, and out again as a piece; on eight needles, counted by hand."""

import pytest

from bedview.bed.actions import CastOn, Cut, HoldCams, Knit, Place, Thread, Wrap
from bedview.bed.fabric import LoopKind
from bedview.bed.needles import Bed, Position
from bedview.lessons.hands import Unpick
from bedview.plan.procedure import compile_piece
from bedview.session.bench_run import BenchRun
from bedview.store.piece_file import parse_piece
from bedview.store.piece_text import piece_text

ALL = tuple(range(8))
L4, R3, R4 = 0, 6, 7


@pytest.fixture
def bench() -> BenchRun:
    """L4 to R4 cast on, four rows, the carriage on the right."""
    bench = BenchRun(Bed(8))
    assert bench.do(Thread("main"), CastOn(ALL)) == ""
    for _ in range(4):
        assert bench.do(Knit(1)) == ""
    return bench


def test_every_gesture_can_be_undone_and_done_again(bench: BenchRun) -> None:
    bench.do(HoldCams(on=True), Place((R4,), Position.HOLD))
    bench.do(Knit(1))
    loops = bench.state.next_loop
    for _ in range(7):
        assert bench.can_undo
        bench.undo()
    assert not bench.can_undo
    assert bench.timeline.lines == 0
    assert len(bench.timeline.fabric) == 0
    while bench.can_redo:
        bench.redo()
    assert bench.state.next_loop == loops
    assert bench.state.wraps[R4] == 1


def test_a_new_gesture_drops_what_was_undone(bench: BenchRun) -> None:
    bench.undo()
    bench.do(Cut())
    assert not bench.can_redo
    assert bench.timeline.passes == 3


def test_a_gesture_is_done_whole_or_not_at_all(bench: BenchRun) -> None:
    told: list[None] = []
    bench.changed.connect(lambda: told.append(None))
    assert bench.do(Place((L4,), Position.HOLD), Wrap(R4)) == "R4 is not in hold, so it cannot be wrapped."
    assert bench.state.position[L4] == Position.WORK
    assert told == []
    bench.undo()
    assert bench.timeline.passes == 3


def test_a_refused_gesture_leaves_what_was_undone(bench: BenchRun) -> None:
    bench.undo()
    assert bench.do(Wrap(R4))
    assert bench.can_redo
    bench.redo()
    assert bench.timeline.passes == 4


def test_rows_taken_back_come_again_with_undo(bench: BenchRun) -> None:
    assert bench.do(Unpick(3)) == ""
    assert bench.timeline.passes == 1
    bench.do(Knit(1))
    bench.undo()
    bench.undo()
    assert bench.timeline.passes == 4
    bench.redo()
    assert bench.timeline.passes == 1


def test_why_is_said_for_every_loop_and_wrap(bench: BenchRun) -> None:
    bench.do(HoldCams(on=True), Place((L4, R4), Position.HOLD))
    bench.do(Knit(1))
    bench.do(Wrap(L4))
    bench.do(Knit(1))
    fabric = bench.timeline.fabric
    told = [bench.why_loop(loop) for loop in range(len(fabric))]
    assert all(told)
    assert told[0].startswith("A closed loop")
    by_row = [told[loop] for loop in range(len(fabric)) if fabric.kind[loop] == LoopKind.WRAP]
    assert by_row == ["Row 5: R4 is in hold where the yarn comes from, so the row wraps it."]
    by_hand = [told[loop] for loop in range(len(fabric)) if fabric.kind[loop] == LoopKind.HAND_WRAP]
    assert by_hand == ["A wrap laid on L4 by hand after row 5, while it was in hold."]
    assert "no second wrap" in bench.why_needle(L4)


def test_why_is_said_for_every_drop(bench: BenchRun) -> None:
    bench.do(Cut())
    bench.do(Knit(1))
    assert bench.why_needle(R3) == ("Row 5 ran with an empty feeder, so R3 fell off with nothing to hold it.")
    assert [finding.rule for finding in bench.findings] == ["unsecured-stitches"]


def test_what_falls_in_waste_is_safe(bench: BenchRun) -> None:
    bench.do(Cut(), Thread("waste"), Knit(4), Cut())
    bench.do(Knit(1))
    assert "safe in the waste" in bench.why_needle(R3)
    assert bench.findings == []


def test_why_a_gap_came(bench: BenchRun) -> None:
    assert bench.why_gap(L4) == ""
    bench.do(HoldCams(on=True), Place((L4,), Position.HOLD))
    bench.do(Knit(2))
    bench.do(Place((L4,), Position.UPPER))
    bench.do(Knit(2))
    assert bench.why_gap(L4) == ("L4 went to hold on the far side before row 5, and nothing was wrapped.")


def test_out_again_as_a_piece_that_can_be_rehearsed(bench: BenchRun) -> None:
    bench.do(HoldCams(on=True), Place((R4,), Position.HOLD))
    bench.do(Knit(1))
    piece = parse_piece(piece_text(bench.to_piece("From the bench")))
    assert piece.title == "From the bench"
    procedure = compile_piece(piece)
    assert len(procedure.steps) == 5
    fabric, again = bench.timeline.fabric, procedure.timeline.fabric
    for facts in ("needle", "kind", "level", "under"):
        assert (getattr(fabric, facts) == getattr(again, facts)).all()
    # The four rows that were knitted one by one are one action of four.
    assert Knit(4) in procedure.actions


def test_the_start_of_a_lesson_stays(bench: BenchRun) -> None:
    begun = BenchRun(Bed(8), bench.yarns, bench.timeline.actions)
    begun.do(Knit(1))
    begun.start_over()
    assert begun.timeline.passes == 4
    assert not begun.can_undo
    begun.redo()
    assert begun.timeline.passes == 5


def test_a_bench_made_of_its_own_piece_can_be_undone_action_by_action(bench: BenchRun) -> None:
    bench.do(HoldCams(on=True), Place((R4,), Position.HOLD))
    bench.do(Knit(1))
    again = BenchRun.from_piece(bench.to_piece())
    assert again.state.wraps[R4] == 1
    assert again.timeline.passes == 5
    passes = []
    while again.can_undo:
        again.undo()
        passes.append(again.timeline.passes)
    # The row, the needle, the cams, four rows written as one, the cast-on, the thread.
    assert passes == [4, 4, 4, 0, 0, 0]
