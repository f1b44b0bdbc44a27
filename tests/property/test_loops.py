"""No loop is lost or made twice, and each has the level that the rules give it."""

from __future__ import annotations

from dataclasses import replace
from itertools import takewhile

import numpy as np
from hypothesis import given, settings

from bedview.bed.actions import Hang, Transfer
from bedview.bed.fabric import LoopKind
from bedview.bed.ledger import stacked
from bedview.bed.timeline import Timeline
from tests.property.procedures import Procedure, procedures


def standing(timeline: Timeline) -> list[int]:
    """All loops on needles now, wraps too."""
    state = timeline.state
    _, loops, _ = stacked(timeline.fabric, np.arange(state.needles), state.top)
    return [int(loop) for loop in loops]


@settings(deadline=None, max_examples=80)
@given(procedures())
def test_every_loop_is_somewhere(procedure: Procedure) -> None:
    """On a needle, drawn through, dropped, or itself the end of a bind-off; in one place only unless hung."""
    timeline = procedure.run()
    fabric, ledger = timeline.fabric, timeline.machine.ledger
    on_needles = standing(timeline)
    drawn_through = [
        below
        for loop in range(len(fabric))
        if not fabric.is_wrap(loop)
        for below in fabric.stack(int(fabric.under[loop]))
    ]
    dropped = [loop for drop in ledger.drops for loop in fabric.stack(drop.node)]
    bound = np.flatnonzero(fabric.kind == LoopKind.BIND).tolist()
    places = on_needles + drawn_through + dropped + bound
    assert set(places) == set(range(len(fabric)))
    assert len(set(on_needles)) == len(on_needles)
    hung_again = sum(len(action.needles) for action in procedure.actions if isinstance(action, Hang))
    assert len(places) == len(fabric) + hung_again


@settings(deadline=None, max_examples=80)
@given(procedures())
def test_stacks_are_as_high_as_told(procedure: Procedure) -> None:
    timeline = procedure.run()
    fabric, state = timeline.fabric, timeline.state
    for needle in range(state.needles):
        stack = fabric.stack(int(state.top[needle]))
        real = [loop for loop in stack if not fabric.is_wrap(loop)]
        assert len(stack) == state.height[needle]
        assert len(stack) - len(real) == state.wraps[needle]
        assert state.level[needle] == (fabric.level[real[0]] if real else 0)
        assert state.highest[needle] == max((int(fabric.level[loop]) for loop in stack), default=-1)


@settings(deadline=None, max_examples=80)
@given(procedures())
def test_levels(procedure: Procedure) -> None:
    fabric = procedure.run().fabric
    for loop in range(len(fabric)):
        below = fabric.stack(int(fabric.under[loop]))
        if fabric.is_wrap(loop):
            real = [each for each in below if not fabric.is_wrap(each)]
            expected = int(fabric.level[real[0]]) if real else 0
        else:
            expected = 1 + max((int(fabric.level[each]) for each in below), default=-1)
        assert fabric.level[loop] == expected
        assert all(each < loop for each in below)


@settings(deadline=None, max_examples=60)
@given(procedures())
def test_a_loop_hangs_in_its_column_unless_moved(procedure: Procedure) -> None:
    kept = takewhile(lambda action: not isinstance(action, Transfer | Hang), procedure.actions)
    procedure = replace(procedure, actions=tuple(kept))
    fabric = procedure.run().fabric
    drawn = np.flatnonzero(fabric.under >= 0)
    below = fabric.loops_of(fabric.under[drawn])
    assert np.array_equal(fabric.needle[drawn], fabric.needle[below])
