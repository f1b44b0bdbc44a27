"""Strands that wait: threaded, parked and resumed in any order, beside a simple account of them."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedview.bed.actions import Action, CastOn, Cut, Knit, Park, Resume, Thread, YarnRole
from bedview.bed.needles import Bed
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline

YARNS = [("a", YarnRole.FABRIC), ("b", YarnRole.FABRIC), ("c", YarnRole.WASTE)]
NAMES = st.sampled_from([name for name, _ in YARNS])
DEEDS = st.lists(
    st.one_of(
        st.builds(Thread, NAMES),
        st.builds(Resume, NAMES),
        st.just(Park()),
        st.just(Cut()),
        st.just(Knit(1)),
    ),
    max_size=40,
)


class Account:
    """Which strand is in the feeder and which wait, the last parked at the end."""

    def __init__(self) -> None:
        self.begun = 0
        self.feeder: tuple[int, str] | None = None
        self.waiting: list[tuple[int, str]] = []

    def can(self, action: Action) -> bool:
        match action:
            case Park() | Cut():
                return self.feeder is not None
            case Resume(yarn=yarn):
                return any(name == yarn for _, name in self.waiting)
            case _:
                return True

    def do(self, action: Action) -> None:
        match action:
            case Thread(yarn=yarn):
                self.feeder = self.begun, yarn
                self.begun += 1
            case Cut():
                self.feeder = None
            case Park() if self.feeder is not None:
                self.waiting.append(self.feeder)
                self.feeder = None
            case Resume(yarn=yarn):
                last = max(place for place, (_, name) in enumerate(self.waiting) if name == yarn)
                resumed = self.waiting.pop(last)
                if self.feeder is not None:
                    self.waiting.append(self.feeder)
                self.feeder = resumed


def done(timeline: Timeline, account: Account, actions: Iterable[Action]) -> None:
    """Do all of them on both; what the account cannot do the bed refuses."""
    for action in actions:
        if account.can(action):
            timeline.append(action)
            account.do(action)
        else:
            with pytest.raises(Refused):
                timeline.append(action)


@settings(deadline=None, max_examples=150)
@given(DEEDS)
def test_strands(deeds: list[Action]) -> None:
    timeline, account = Timeline(Bed(4), YARNS), Account()
    done(timeline, account, (Thread("a"), CastOn((0, 1, 2, 3))))
    tips: dict[int, int] = {}
    for action in deeds:
        before = len(timeline.fabric)
        done(timeline, account, [action])
        state = timeline.state
        strand, yarn = account.feeder or (-1, "")
        assert state.strand == strand
        assert (YARNS[state.yarn][0] if state.threaded else "") == yarn
        if len(timeline.fabric) > before:
            tips[strand] = len(timeline.fabric) - 1
            made = timeline.fabric.strand_of(timeline.fabric.needle.nonzero()[0])
            assert made[-1] == strand
        assert state.tip == tips.get(strand, 3 if strand == 0 else -1)
        waiting = []
        links = list(state.waiting.values())
        while links:
            link = links.pop()
            waiting.append(link.strand)
            links += [link.before] if link.before is not None else []
        assert sorted(waiting) == sorted(number for number, _ in account.waiting)
