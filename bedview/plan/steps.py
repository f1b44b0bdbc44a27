"""Steps: what a knitter does between two glances, with the words for it.

A step is some hand actions and then at most one pass, all of one segment. Its words are made when they are
asked for, from the state the bed is in there: a piece has thousands of steps, and a screen shows two.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from bedview.bed.actions import HandAction, Knit
from bedview.bed.events import Event
from bedview.bed.fabric import NOTHING, LoopKind
from bedview.bed.needles import PassNumber
from bedview.bed.state import BedState
from bedview.bed.timeline import Timeline
from bedview.plan.reasons import Pass, why
from bedview.plan.segments.span import Span
from bedview.plan.transfers import TogetherMove, in_one_go
from bedview.plan.words import Words


@dataclass(frozen=True, slots=True)
class Step:
    """Hand actions, then at most one pass.

    Attributes:
        number: of the step, from 0.
        span: index of the innermost segment it belongs to, in the procedure's spans.
        segment: index of the segment in the piece that holds it.
        actions: numbers of its actions; a pass out of many rows belongs to the same action as the others.
        first_line: first line of the timeline it does.
        last_line: its last line; that of the pass, if there is one.
        makes_pass: whether it ends with a pass.
        passes: passes made after it.
        group: number of the run of like steps it is in: passes one after another, hands before the first.
        in_group: its place in that run, from 1.
        of_group: how many steps the run has.
    """

    number: int
    span: int
    segment: int
    actions: range
    first_line: int
    last_line: int
    makes_pass: bool
    passes: PassNumber
    voice: Voice = field(compare=False, repr=False)
    group: int
    in_group: int
    of_group: int

    @property
    def hands(self) -> tuple[str, ...]:
        """What hands do first, sentence by sentence: "Bring R10 to hold"."""
        return self.voice.hands(self)

    @property
    def carriage(self) -> str | None:
        """What the carriage does then: "Knit to the left"; None if it stays."""
        return self.voice.carriage(self)

    @property
    def why(self) -> str:
        """One short sentence, true of this very pass; empty where nothing needs saying."""
        return self.voice.why(self)

    @property
    def brief(self) -> str:
        """The whole step in few words: "L10 to hold, knit to the right"."""
        return self.voice.brief(self)


@dataclass(frozen=True, slots=True)
class Voice:
    """Speaks about steps of one procedure.

    Attributes:
        timeline: the procedure as it runs on the bed.
        words: the language.
        reasons: why an action is done, by its number, where a segment said so.
    """

    timeline: Timeline
    words: Words
    reasons: Mapping[int, str]

    def hands(self, step: Step) -> tuple[str, ...]:
        """Sentences for the hand actions of a step."""
        sentences: list[str] = []
        for line, action in in_one_go(self._hand_actions(step)):
            before = self.timeline.state_at(line - 1)
            if isinstance(action, TogetherMove):
                sentences.append(self.words.together(action, before))
            else:
                sentences.extend(self.words.hand(action, before))
        return tuple(sentences)

    def carriage(self, step: Step) -> str | None:
        """The sentence for its pass."""
        return self.words.carriage(self.timeline.state_at(step.last_line - 1)) if step.makes_pass else None

    def why(self, step: Step) -> str:
        """Why its pass, or else its last action, does what it does."""
        reason = self.reasons.get(step.actions.stop - 1, "") if step.in_group == 1 else ""
        reason = self.words.gettext(reason) if reason else ""
        if step.makes_pass:
            before = self.timeline.state_at(step.last_line - 1)
            event = self.timeline.event_of(step.last_line)
            made = Pass(
                before,
                event,
                step.actions.start,
                self._hand_wrap_at_tip(before),
                self._on_waste(before, event),
            )
            # In a run of rows only the first meets what hands have just done.
            return why(self.words, made, reason) if event.line == step.last_line else reason
        return reason

    def brief(self, step: Step) -> str:
        """The step in few words."""
        parts: list[str] = []
        for line, action in in_one_go(self._hand_actions(step)):
            before = self.timeline.state_at(line - 1)
            if isinstance(action, TogetherMove):
                parts.append(self.words.brief_together(action, before))
            else:
                parts.extend(self.words.brief(action, before))
        if step.makes_pass:
            before = self.timeline.state_at(step.last_line - 1)
            parts.extend(self.words.brief(self.timeline.actions[step.actions.stop - 1], before))
        return ", ".join(parts)

    def _hand_actions(self, step: Step) -> list[tuple[int, HandAction]]:
        """Line and action of each hand action of a step."""
        found: list[tuple[int, HandAction]] = []
        for number in step.actions:
            action = self.timeline.actions[number]
            if not isinstance(action, Knit):
                found.append((step.first_line + len(found), action))
        return found

    def _hand_wrap_at_tip(self, before: BedState) -> int:
        """The needle that bears the tip of the yarn as a hand wrap; -1 if the tip is none."""
        fabric, tip = self.timeline.fabric, before.tip
        if tip == NOTHING or fabric.kind[tip] != LoopKind.HAND_WRAP:
            return NOTHING
        needle = int(fabric.needle[tip])
        return needle if before.top[needle] == tip else NOTHING

    def _on_waste(self, before: BedState, event: Event) -> bool:
        """Whether what a pass drops hangs in waste."""
        fabric = self.timeline.fabric
        return bool(fabric.waste(fabric.loops_of(before.top[event.dropped])).all())


@dataclass(frozen=True, slots=True)
class RememberingVoice(Voice):
    """Keeps what it said about each step, and says the same when it is asked again."""

    _hands: dict[int, tuple[str, ...]] = field(default_factory=dict, repr=False)
    _carriages: dict[int, str | None] = field(default_factory=dict, repr=False)
    _reasons: dict[int, str] = field(default_factory=dict, repr=False)

    def hands(self, step: Step) -> tuple[str, ...]:
        """Sentences for the hand actions of a step."""
        if step.number not in self._hands:
            self._hands[step.number] = Voice.hands(self, step)
        return self._hands[step.number]

    def carriage(self, step: Step) -> str | None:
        """The sentence for its pass."""
        if step.number not in self._carriages:
            self._carriages[step.number] = Voice.carriage(self, step)
        return self._carriages[step.number]

    def why(self, step: Step) -> str:
        """Why its pass, or else its last action, does what it does."""
        if step.number not in self._reasons:
            self._reasons[step.number] = Voice.why(self, step)
        return self._reasons[step.number]


def owners(spans: Sequence[Span], actions: int) -> list[int]:
    """For each action, the innermost span it belongs to."""
    owner = np.zeros(actions, np.int32)
    for index, span in enumerate(spans):
        owner[span.start : span.stop] = index
    found: list[int] = owner.tolist()
    return found


@dataclass(frozen=True, slots=True)
class _Cut:
    """A step as it is found, before it is known how many like ones follow."""

    span: int
    actions: range
    first_line: int
    makes_pass: bool
    group: int
    in_group: int


class _Cutter:
    """Cuts the actions of a procedure into steps."""

    def __init__(self, spans: Sequence[Span], voice: Voice) -> None:
        self._spans = spans
        self._voice = voice
        self._open: list[int] = []
        self._line = 0
        self._cuts: list[_Cut] = []
        self._group_sizes: list[int] = []

    def run(self) -> tuple[Step, ...]:
        actions = self._voice.timeline.actions
        owner = owners(self._spans, len(actions))
        for number, action in enumerate(actions):
            if self._open and owner[number] != owner[number - 1]:
                self._close(owner[number - 1], makes_pass=False)
            self._open.append(number)
            if isinstance(action, Knit):
                for _ in range(action.rows):
                    self._close(owner[number], makes_pass=True, knit=number)
        if self._open:
            self._close(owner[-1], makes_pass=False)
        return tuple(self._steps())

    def _close(self, span: int, *, makes_pass: bool, knit: int = -1) -> None:
        numbers = range(self._open[0], self._open[-1] + 1) if self._open else range(knit, knit + 1)
        before = self._cuts[-1] if self._cuts else None
        goes_on = makes_pass and len(numbers) == 1 and before and before.makes_pass and before.span == span
        if goes_on:
            self._group_sizes[-1] += 1
        else:
            self._group_sizes.append(1)
        group, place = len(self._group_sizes) - 1, self._group_sizes[-1]
        self._cuts.append(_Cut(span, numbers, self._line, makes_pass, group, place))
        self._line += len(numbers)
        self._open = []

    def _steps(self) -> Iterator[Step]:
        passes = 0
        for number, cut in enumerate(self._cuts):
            passes += cut.makes_pass
            yield Step(
                number=number,
                span=cut.span,
                segment=self._spans[cut.span].path[0],
                actions=cut.actions,
                first_line=cut.first_line,
                last_line=cut.first_line + len(cut.actions) - 1,
                makes_pass=cut.makes_pass,
                passes=PassNumber(passes),
                voice=self._voice,
                group=cut.group,
                in_group=cut.in_group,
                of_group=self._group_sizes[cut.group],
            )


def cut_into_steps(spans: Sequence[Span], voice: Voice) -> tuple[Step, ...]:
    """All steps of a procedure.

    Args:
        spans: which actions belong to which segment.
        voice: who speaks about them; its timeline is what is cut.
    """
    return _Cutter(spans, voice).run()
