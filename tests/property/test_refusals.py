"""A refused action changes nothing at all."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.bed.actions import (
    Action,
    BindOff,
    CastOn,
    Cut,
    Hang,
    HoldCams,
    Knit,
    MadeEdge,
    OpenEdge,
    Park,
    Resume,
    SetCounter,
    SideEdge,
    Tension,
    Thread,
    Transfer,
    Wrap,
)
from bedview.bed.needles import Bed, NeedleError, Side
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from bedview.plan.actions_file import to_action
from tests.property.procedures import Procedure, known, of_piece, procedures
from tests.reference.procedures import random_refused_piece


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 5_000))
def test_of_the_reference(seed: int) -> None:
    piece = random_refused_piece(seed)
    last = piece["segments"][-1]["actions"].pop()
    timeline = of_piece(piece).run()
    before = known(timeline)
    with pytest.raises((Refused, NeedleError)) as refused:
        timeline.append(to_action(last, timeline.bed.needles))
    if isinstance(refused.value, Refused):
        assert refused.value.action == len(timeline.actions)
    assert known(timeline) == before


def somewhat_wrong(bed: Bed) -> st.SearchStrategy[Action]:
    """Actions that a bed often refuses."""
    needle = st.integers(0, bed.needles - 1)
    some = st.lists(needle, min_size=1, max_size=4, unique=True).map(tuple)
    number = st.integers(0, 12)
    side = st.sampled_from(Side)
    edge = (
        st.builds(OpenEdge, some, st.none() | number)
        | st.builds(MadeEdge, number, st.none() | some)
        | st.builds(SideEdge, side, number, number)
    )
    return st.one_of(
        st.builds(Thread, st.sampled_from(["main", "nowhere"])),
        st.builds(Resume, st.sampled_from(["main", "contrast", "nowhere"])),
        st.just(Cut()),
        st.just(Park()),
        st.builds(CastOn, some),
        st.builds(Wrap, needle),
        st.builds(Transfer, needle, needle),
        st.builds(BindOff, some),
        st.builds(Hang, some, edge, st.booleans()),
        st.builds(HoldCams, st.booleans()),
        st.builds(Tension, st.floats(-1, 21)),
        st.builds(SetCounter, st.integers(-1, 10_000)),
        st.builds(Knit, st.sampled_from([-1, 0, 1, 10_000])),
    )


def refusal(timeline: Timeline, action: Action) -> Refused | None:
    """Why the bed will not do it; None, and it is done."""
    try:
        timeline.append(action)
    except Refused as refused:
        return refused
    return None


@settings(deadline=None, max_examples=100)
@given(procedures(), st.data())
def test_of_all_kinds(procedure: Procedure, data: st.DataObject) -> None:
    timeline = procedure.run()
    before = known(timeline)
    tried = data.draw(st.lists(somewhat_wrong(procedure.bed), min_size=1, max_size=12))
    for action in tried:
        refused = refusal(timeline, action)
        if refused is None:
            assert timeline.actions[-1] == action
            before = known(timeline)
        else:
            assert refused.action == len(timeline.actions)
            assert known(timeline) == before
            assert refused.message in str(refused)
            assert "\n" not in refused.message
