"""Looking back and editing: what a timeline says never depends on how one came there."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.bed import openings
from bedview.bed.actions import Action, CastOn, HoldCams, Knit, Place, Thread, YarnRole
from bedview.bed.needles import Bed, Position
from bedview.bed.openings import OpeningScan
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from tests.property.procedures import Procedure, known, known_state, procedures, run, with_rows_apart


def going_on(procedure: Procedure, tail: tuple[Action, ...], start: int) -> tuple[Action, ...]:
    """The first ``start`` actions and as many of another procedure's as the bed takes there."""
    timeline = run(procedure.bed, procedure.yarns, procedure.actions[:start])
    for action in tail:
        try:
            timeline.append(action)
        except Refused:
            continue
        except IndexError:
            # A needle beyond this bed: never from a file, which is read first. It may have been half done.
            timeline = run(procedure.bed, procedure.yarns, tuple(timeline.actions))
    return tuple(timeline.actions)


def first_lines(actions: tuple[Action, ...], lines: int) -> tuple[Action, ...]:
    """The actions that make the first lines, the last of them perhaps with fewer rows."""
    begun: list[Action] = []
    for action in actions:
        if lines <= 0:
            break
        rows = action.rows if isinstance(action, Knit) else 1
        begun.append(Knit(min(rows, lines), action.start) if isinstance(action, Knit) else action)
        lines -= rows
    return tuple(begun)


@settings(deadline=None, max_examples=40)
@given(procedures(), st.randoms(use_true_random=False))
def test_any_state_is_the_one_walked_through(procedure: Procedure, order: Random) -> None:
    timeline = procedure.run()
    walked = [known_state(state) for _, _, state in timeline.walk()]
    lines = list(range(timeline.lines))
    order.shuffle(lines)
    for line in lines:
        assert known_state(timeline.state_at(line)) == walked[line]
    assert known_state(timeline.state_at(-1)) == known_state(Timeline(procedure.bed, procedure.yarns).state)
    for beyond in (-2, timeline.lines):
        with pytest.raises(IndexError):
            timeline.state_at(beyond)


@settings(deadline=None, max_examples=40)
@given(procedures())
def test_lines_actions_and_passes_find_each_other(procedure: Procedure) -> None:
    timeline = procedure.run()
    line = passes = 0
    for number, action in enumerate(procedure.actions):
        assert timeline.line_of_action(number) == line
        for _ in range(action.rows if isinstance(action, Knit) else 1):
            assert timeline.action_of_line(line) == number
            passes += isinstance(action, Knit)
            assert timeline.pass_of_line(line) == passes
            if isinstance(action, Knit):
                assert timeline.line_of_pass(passes) == line
            line += 1
    assert (timeline.lines, timeline.passes) == (line, passes)
    assert timeline.line_of_action(len(procedure.actions)) == line


@settings(deadline=None, max_examples=50)
@given(procedures(), procedures(), st.data())
def test_an_edit_equals_a_fresh_run(one: Procedure, other: Procedure, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(one.actions)), label="edited from")
    edited = going_on(one, other.actions, start)
    timeline = one.run()
    if data.draw(st.booleans(), label="looked at before"):
        known(timeline)
    timeline.rewind(data.draw(st.integers(0, start), label="rewound to"))
    for action in edited[len(timeline.actions) :]:
        timeline.append(action)
    timeline.finish()
    assert known(timeline) == known(run(one.bed, one.yarns, edited))


@settings(deadline=None, max_examples=40)
@given(procedures(), st.data())
def test_the_same_again_does_nothing(procedure: Procedure, data: st.DataObject) -> None:
    timeline = procedure.run()
    events, before = timeline.events[:], known(timeline)
    start = data.draw(st.integers(0, len(procedure.actions)))
    timeline.rewind(start)
    assert list(timeline.actions) == list(procedure.actions[:start])
    shorter = run(procedure.bed, procedure.yarns, procedure.actions[:start])
    assert known_state(timeline.state) == known_state(shorter.state)
    for action in procedure.actions[start:]:
        timeline.append(action)
    timeline.finish()
    assert len(timeline.events) == len(events)
    assert all(now is then for now, then in zip(timeline.events, events, strict=True))
    assert known(timeline) == before


@settings(deadline=None, max_examples=40)
@given(procedures(), procedures(), st.data())
def test_a_fork_is_the_beginning_run_alone(one: Procedure, other: Procedure, data: st.DataObject) -> None:
    timeline = one.run()
    before = known(timeline)
    line = data.draw(st.integers(-1, timeline.lines - 1), label="line")
    begun = first_lines(one.actions, line + 1)
    fork, alone = timeline.fork(line), run(one.bed, one.yarns, begun)
    assert known(fork) == known(alone)
    for action in going_on(replace(one, actions=begun), other.actions, len(begun))[len(begun) :]:
        fork.append(action)
        alone.append(action)
    assert known(fork) == known(alone)
    assert known(timeline) == before


@settings(deadline=None, max_examples=40)
@given(procedures(), st.data())
def test_openings_found_bit_by_bit(procedure: Procedure, data: st.DataObject) -> None:
    """However often one looks, however far an edit cuts back, and wherever the stretches end."""
    sizes = st.integers(1, 40)
    loops, places = data.draw(sizes, label="loops a stretch"), data.draw(sizes, label="places a stretch")
    fabric = procedure.run().fabric
    bed = procedure.bed
    whole = OpeningScan(fabric, bed.needles, bed.float_columns)
    whole.run()
    timeline = Timeline(bed, procedure.yarns)
    with (
        patch.object(openings, "LOOPS_A_STRETCH", loops),
        patch.object(openings, "PLACES_A_STRETCH", places),
    ):
        for action in procedure.actions:
            timeline.append(action)
            if data.draw(st.booleans()):
                _ = timeline.openings
        if procedure.actions:
            timeline.rewind(data.draw(st.integers(0, len(procedure.actions))))
            timeline.finish()
            if data.draw(st.booleans()):
                _ = timeline.openings
        for action in procedure.actions[len(timeline.actions) :]:
            timeline.append(action)
        scan = timeline.openings
        assert scan.openings() == whole.openings()
        assert scan.floats() == whole.floats()
        assert scan.sizes() == whole.sizes()


@settings(deadline=None, max_examples=40)
@given(procedures(), st.integers(2, 40))
def test_many_rows_are_rows_one_by_one(procedure: Procedure, rows: int) -> None:
    at_once = (*procedure.actions, Knit(rows))
    timeline = run(procedure.bed, procedure.yarns, at_once)
    apart = run(procedure.bed, procedure.yarns, with_rows_apart(at_once))
    one, other = known(timeline), known(apart)
    assert [{**line, "action": 0} for line in one.trace] == [{**line, "action": 0} for line in other.trace]
    assert one.loops == other.loops
    assert {**one.courses, "action": []} == {**other.courses, "action": []}
    assert (one.counts, one.faces, one.floats) == (other.counts, other.faces, other.floats)
    assert [(each.rule, each.pass_number, each.needles) for each in one.findings] == [
        (each.rule, each.pass_number, each.needles) for each in other.findings
    ]


def test_as_many_rows_as_can_be_are_rows_one_by_one() -> None:
    yarns, bed = (("main", YarnRole.FABRIC),), Bed(6, 9.0)
    start = (Thread("main"), CastOn((0, 1, 2, 4)), HoldCams(on=True), Place((3,), Position.UPPER))
    at_once = run(bed, yarns, (*start, Knit(9999)))
    apart = run(bed, yarns, (*start, *[Knit(1)] * 9999))
    assert at_once.passes == 9999
    assert known(at_once).loops == known(apart).loops
    assert known_state(at_once.state) == known_state(apart.state)
    assert at_once.openings.sizes() == apart.openings.sizes()
    for line in (3, 4, 5, 6, 5000, 10_002):
        assert known_state(at_once.state_at(line)) == known_state(apart.state_at(line))
