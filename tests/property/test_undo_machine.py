"""A knitter who changes her mind: actions, undo, redo and looking back in any order."""

from __future__ import annotations

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bedview.bed.actions import Action, CastOn, HoldCams, Knit, Place, Thread, Transfer, Wrap, YarnRole
from bedview.bed.needles import Bed, Position
from bedview.bed.rules import Refused
from bedview.bed.timeline import Timeline
from tests.property.procedures import known, known_state, run
from tests.property.test_refusals import somewhat_wrong

BED = Bed(8, 4.5)
YARNS = (("main", YarnRole.FABRIC), ("contrast", YarnRole.FABRIC), ("scrap", YarnRole.WASTE))
NEEDLE = st.integers(0, BED.needles - 1)
SOME = st.lists(NEEDLE, min_size=1, max_size=4, unique=True).map(lambda needles: tuple(sorted(needles)))
LIKELY: st.SearchStrategy[Action] = st.one_of(
    st.builds(Place, SOME, st.sampled_from(Position)),
    st.builds(Knit, st.integers(1, 6)),
    st.builds(HoldCams, st.booleans()),
    st.builds(Wrap, NEEDLE),
    st.builds(Transfer, NEEDLE, NEEDLE),
)


class Knitter(RuleBasedStateMachine):
    """The timeline under test beside the plain list of actions it should stand for."""

    def __init__(self) -> None:
        super().__init__()
        self.timeline = Timeline(BED, YARNS)
        self.done: list[Action] = []
        self.undone: list[Action] = []
        for action in (Thread("main"), CastOn(tuple(range(8))), HoldCams(on=True)):
            self.do(action)

    @rule(action=LIKELY | somewhat_wrong(BED))
    def do(self, action: Action) -> None:
        """Something new ends what could be redone, even where the bed then refuses it."""
        if self.undone and self.undone[-1] == action:
            self.undone.pop()
        else:
            self.undone.clear()
        try:
            self.timeline.append(action)
        except Refused:
            return
        self.done.append(action)

    @precondition(lambda self: self.done)
    @rule(steps=st.integers(1, 5))
    def undo(self, steps: int) -> None:
        for _ in range(min(steps, len(self.done))):
            self.undone.append(self.done.pop())
        self.timeline.rewind(len(self.done))

    @precondition(lambda self: self.undone)
    @rule()
    def redo(self) -> None:
        action = self.undone.pop()
        self.done.append(action)
        self.timeline.append(action)

    @precondition(lambda self: self.undone)
    @rule()
    def forget_what_was_undone(self) -> None:
        self.timeline.finish()
        self.undone.clear()
        assert known(self.timeline) == known(run(BED, YARNS, tuple(self.done)))

    @rule(place=st.floats(0, 1))
    def look_back(self, place: float) -> None:
        """Any line of what stands, also behind the pen."""
        line = int(place * self.timeline.lines) - 1
        fresh = run(BED, YARNS, (*self.done, *reversed(self.undone)))
        assert known_state(self.timeline.state_at(line)) == known_state(fresh.state_at(line))

    @rule()
    def what_if(self) -> None:
        """A fork goes its own way, and the timeline stays."""
        line = self.timeline.line_of_action(len(self.done)) - 1
        fork = self.timeline.fork(line)
        fork.append(Knit(2))
        assert known(fork) == known(run(BED, YARNS, (*self.done, Knit(2))))

    @invariant()
    def the_pen_stands_where_it_should(self) -> None:
        assert list(self.timeline.actions) == self.done
        fresh = run(BED, YARNS, tuple(self.done))
        assert known_state(self.timeline.state) == known_state(fresh.state)


TestKnitter = Knitter.TestCase
TestKnitter.settings = settings(deadline=None, max_examples=40, stateful_step_count=25)
