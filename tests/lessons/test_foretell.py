"""Foretelling, with answers counted by hand from the rules of a pass."""

import pytest

from bedview.bed.actions import CastOn, HoldCams, Knit, Place, Thread, Wrap, YarnRole
from bedview.bed.needles import Bed, Position, Side
from bedview.bed.timeline import Timeline
from bedview.lessons.foretell import Asks, answer, ask, worth_asking
from bedview.plan.piece import Yarn
from bedview.plan.words import Words

WORDS = Words(8, [Yarn(id="main", role="fabric")])
L4, L3, L2, R3, R4 = 0, 1, 2, 6, 7


def four_rows(carriage: Side = Side.RIGHT) -> Timeline:
    """L4 to R4 knitted four rows; the carriage is where it began."""
    timeline = Timeline(Bed(8, 9.0, carriage), [("main", YarnRole.FABRIC)])
    for action in (Thread("main"), CastOn(tuple(range(8))), Knit(4), HoldCams(on=True)):
        timeline.append(action)
    return timeline


def held(needle: int) -> Timeline:
    timeline = four_rows()
    timeline.append(Place((needle,), Position.HOLD))
    return timeline


def test_all_but_the_held_needle_will_knit() -> None:
    question = ask(held(R4), Asks.KNIT, WORDS)
    assert question.answer == set(range(7))
    assert "to the left" in question.text
    assert answer(question, range(7), WORDS).right


def test_a_needle_on_the_carriages_side_will_be_wrapped() -> None:
    question = ask(held(R4), Asks.WRAPPED, WORDS)
    assert question.answer == {R4}
    result = answer(question, [], WORDS)
    assert not result.right
    assert result.missed == (R4,)
    assert result.says == "R4 is in hold where the yarn comes from, so the row wraps it."


def test_a_needle_on_the_far_side_will_not() -> None:
    question = ask(held(L4), Asks.WRAPPED, WORDS)
    assert question.answer == set()
    result = answer(question, [L4], WORDS)
    assert result.wrong == (L4,)
    assert "L4 is in hold on the far side" in result.says


def test_a_needle_wrapped_by_hand_gets_no_second_wrap() -> None:
    timeline = held(L4)
    timeline.append(Knit(1))
    timeline.append(Wrap(L4))
    question = ask(timeline, Asks.WRAPPED, WORDS)
    assert question.answer == set()
    assert "no second wrap" in answer(question, [L4], WORDS).says


def test_a_gap_will_come_on_the_far_side() -> None:
    question = ask(held(L4), Asks.GAP, WORDS)
    assert question.answer == {L4}
    result = answer(question, [], WORDS)
    assert "A gap shows between L4 and L3" in result.says
    assert "far side" in result.says


def test_no_gap_will_come_where_the_row_wraps() -> None:
    question = ask(held(R4), Asks.GAP, WORDS)
    assert question.answer == set()
    assert answer(question, [], WORDS).right
    assert "No gap" in answer(question, [R3], WORDS).says


def test_with_the_hold_cams_off_held_needles_knit_too() -> None:
    timeline = held(R4)
    timeline.append(HoldCams(on=False))
    question = ask(timeline, Asks.KNIT, WORDS)
    assert question.answer == set(range(8))
    assert "hold cams are off" in answer(question, range(7), WORDS).says


def test_a_right_none_is_told_why() -> None:
    wrapped = ask(held(L4), Asks.WRAPPED, WORDS)
    assert "L4 is in hold on the far side" in answer(wrapped, [], WORDS).says
    gap = ask(held(R4), Asks.GAP, WORDS)
    assert answer(gap, [], WORDS).says == "R4 is in hold where the yarn comes from, so the row wraps it."


def test_asking_leaves_the_bed_as_it_is() -> None:
    timeline = held(L4)
    lines, passes = timeline.lines, timeline.passes
    for asks in Asks:
        ask(timeline, asks, WORDS)
    assert (timeline.lines, timeline.passes) == (lines, passes)


@pytest.mark.parametrize(("needle", "asked"), [(None, ()), (R4, tuple(Asks))])
def test_a_plain_row_is_not_worth_asking(needle: int | None, asked: tuple[Asks, ...]) -> None:
    assert worth_asking(four_rows() if needle is None else held(needle)) == asked
