"""The small piece of tests/ui/desktop.py, counted by hand: six rows, six steps, R4 held before row 3."""

import pytest

from bedview.session.open_piece import OpenPiece
from bedview.session.rehearsal import Rehearsal
from bedview.session.what_if import Mistake
from bedview.store.demos import demo_paths
from bedview.store.piece_file import read_piece
from tests.ui.desktop import HOLD_R4, ROWS, STEPS, rehearsal

R4 = 13


@pytest.fixture
def small() -> Rehearsal:
    return rehearsal()


def slip(small: Rehearsal, mistake: Mistake) -> None:
    small.slip_in(next(each for each in small.slips if each.mistake is mistake))


def test_the_cursor_stays_between_the_ends(small: Rehearsal) -> None:
    moved: list[int] = []
    small.cursor_moved.connect(moved.append)
    small.back()
    small.go_to(99)
    small.on()
    assert moved == [STEPS]
    assert small.at_end
    assert (small.row, small.line) == (ROWS, small.timeline.lines - 1)


def test_a_row_is_the_step_that_makes_it(small: Rehearsal) -> None:
    for row in range(1, ROWS + 1):
        small.go_to_row(row)
        assert (small.cursor, small.row) == (row - 1, row)
    small.go_to_row(0)
    assert small.row == 1
    small.go_to_row(99)
    assert small.row == ROWS


def test_hands_alone_come_before_the_row_that_follows() -> None:
    bootee = Rehearsal(OpenPiece(read_piece(demo_paths()["harbour-bootee"])))
    cast_on = bootee.steps[0]
    assert not cast_on.makes_pass
    assert bootee.row == 1
    bootee.on()
    assert bootee.steps[bootee.cursor].makes_pass
    assert bootee.row == 1


def test_a_segment_is_gone_to_by_its_first_step(small: Rehearsal) -> None:
    for segment, step in ((1, 2), (2, 4), (0, 0)):
        small.go_to_segment(segment)
        assert small.cursor == step


def test_things_to_watch_follow_one_another_and_begin_again(small: Rehearsal) -> None:
    steps = [step for step, _ in small.watched]
    assert steps == sorted(steps)
    first = small.next_finding()
    assert first is small.watched[0][1]
    small.go_to(STEPS)
    assert small.next_finding() is first


def test_a_mistake_leaves_the_steps_before_it_as_they_were(small: Rehearsal) -> None:
    small.go_to(HOLD_R4)
    planned = [(step.first_line, step.last_line) for step in small.steps[:HOLD_R4]]
    slip(small, Mistake.NEEDLE_LEFT)
    assert [(step.first_line, step.last_line) for step in small.steps[:HOLD_R4]] == planned
    assert small.steps[-1].last_line == small.timeline.lines - 1


def test_the_bed_is_looked_at_straight_after_the_mistake(small: Rehearsal) -> None:
    small.go_to(HOLD_R4)
    slip(small, Mistake.NEEDLE_LEFT)
    assert small.cursor == HOLD_R4 + 1
    after = small.timeline.state_at(small.line)
    assert (after.passes, int(after.height[R4]), int(after.wraps[R4])) == (3, 1, 0)


def test_one_moves_in_what_follows_and_the_plan_keeps_its_place(small: Rehearsal) -> None:
    small.go_to(HOLD_R4)
    slip(small, Mistake.CAMS_FORGOTTEN)
    small.go_to(0)
    assert small.cursor == small.first == HOLD_R4
    assert small.at_start
    small.go_to(99)
    assert small.at_end
    assert small.slips == []
    small.leave_outcome()
    assert small.cursor == HOLD_R4
    assert len(small.steps) == STEPS


def test_the_mistaken_step_says_what_it_does(small: Rehearsal) -> None:
    small.go_to(HOLD_R4)
    slip(small, Mistake.CAMS_FORGOTTEN)
    assert small.steps[HOLD_R4].why == "The hold cams are off, so R4 knits too."


def test_an_edit_leads_back_to_the_plan(small: Rehearsal) -> None:
    small.go_to(HOLD_R4)
    slip(small, Mistake.FEEDER_EMPTY)
    piece = small.opened.piece
    small.opened.edit(piece.revised(segments=piece.segments[:1]), "Shorten")
    assert small.outcome is None
    assert small.cursor == len(small.steps) == 2


@pytest.mark.parametrize("name", list(demo_paths()))
def test_whatever_is_slipped_in_anywhere_can_be_stepped_through(name: str) -> None:
    demo = Rehearsal(OpenPiece(read_piece(demo_paths()[name])))
    for step in range(0, len(demo.steps), 7):
        demo.go_to(step)
        for each in demo.slips:
            demo.slip_in(each)
            assert [s.last_line for s in demo.steps[:step]] == [s.last_line for s in demo.opened.steps[:step]]
            assert demo.steps[-1].last_line == demo.timeline.lines - 1
            assert all(demo.first <= at < len(demo.steps) for at, _ in demo.watched)
            demo.leave_outcome()
