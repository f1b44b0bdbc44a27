"""The parts of one list, built one after the other: what was done before is done again, not worked out anew.

A scarf is the same rows and the same dart twenty times over. Where the bed stands before a part as it stood
before a like one, but for numbers, all that came of that one and of the like parts behind it comes again
(:mod:`bedview.bed.again`); so twenty darts take five copies, each twice as long as the one before.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from bedview.bed.again import look_alike
from bedview.plan.segments.done_before import DoneBefore, can_be_done_again, moved_spans, reasons_of

if TYPE_CHECKING:
    from bedview.bed.state import BedState
    from bedview.plan.segments.base import Segment
    from bedview.plan.segments.maker import Maker

FEWEST_ACTIONS: Final = 24
"""To copy fewer takes longer than to do them."""
STATES_A_PART: Final = 4
"""So many states are kept in which like parts began: the first and the last two."""
IN_VAIN_A_PART: Final = 16
"""So many parts may have been compared in vain for each there is; else long lists could take for ever."""


@dataclass(frozen=True, slots=True)
class _Begun:
    """Where a part began: its first action, and the first of its spans."""

    action: int
    span: int


class PartsInARow:
    """Builds the parts of a list.

    Args:
        maker: the hand; it stands where the first of them begins.
        segments: the list. Its parts are numbered through all times that it is gone through.
    """

    def __init__(self, maker: Maker, segments: Sequence[Segment]) -> None:
        self._maker = maker
        self._segments = segments
        self._depth = maker.depth
        self._keys: dict[int, int] = {}
        self._doings: dict[Hashable, int] = {}
        self._begun: dict[int, _Begun] = {}
        self._states: dict[int, BedState] = {}
        self._like: dict[int, list[int]] = {}
        self._repeatable: dict[int, bool] = {}
        self._in_vain = 0

    def build(self, number: int, stop: int) -> int:
        """Build a part, or do again what like ones did before it.

        Args:
            number: of the part.
            stop: number of the part that must not be done again with it.

        Returns:
            How many parts are done.

        Raises:
            SegmentError: if it cannot be built here.
            Refused: if the bed refuses one of its actions.
            TooLong: if the procedure would grow beyond its limits.
        """
        maker = self._maker
        if maker.may_do_again:
            done = self._again(number, stop)
            if done:
                return done
            self._note(number)
        self._begun[number] = _Begun(maker.actions_done, len(maker.spans))
        turn, place = divmod(number, len(self._segments))
        maker.build(self._segments[place], place, turn)
        return 1

    def _note(self, number: int) -> None:
        """Remember how the bed stands before a part."""
        like = self._like.setdefault(self._key(number), [])
        if len(like) == STATES_A_PART:
            del self._states[like.pop(STATES_A_PART // 2)]
        like.append(number)
        self._states[number] = self._maker.state.copy()

    def _again(self, number: int, stop: int) -> int:
        """Do parts again as they were done before, if they can be; how many."""
        for earlier in self._like.get(self._key(number), ()):
            start = self._begun[earlier].action
            few = self._maker.actions_done - start < FEWEST_ACTIONS
            in_vain_again = self._in_vain > IN_VAIN_A_PART * (number + 1)
            if few or in_vain_again or not look_alike(self._states[earlier], self._maker.state):
                continue
            parts = self._alike(earlier, number, stop)
            actions = range(start, self._stop(earlier + parts, number).action)
            if len(actions) >= FEWEST_ACTIONS and self._do_again(earlier, number, parts, actions):
                return parts
            self._in_vain += 1 + parts
        return 0

    def _do_again(self, earlier: int, number: int, parts: int, actions: range) -> bool:
        maker, begun, stop = self._maker, self._begun[earlier], self._stop(earlier + parts, number)
        here = _Begun(maker.actions_done, len(maker.spans))
        spans = maker.spans[begun.span : stop.span]
        done = DoneBefore(
            parts,
            maker.timeline.stretch(actions, self._states[earlier]),
            moved_spans(spans, self._segments, self._depth, number - earlier),
            reasons_of(actions, maker.reasons),
        )
        if not maker.go_on_with(done):
            return False
        for part in range(parts):
            then = self._begun[earlier + part]
            self._begun[number + part] = _Begun(
                then.action + here.action - begun.action, then.span + here.span - begun.span
            )
            self._repeatable[number + part] = True
        return True

    def _alike(self, earlier: int, number: int, stop: int) -> int:
        """How many parts from ``earlier`` on are like those from ``number`` on, and can be done again."""
        count = 0
        while (
            earlier + count < number
            and number + count < stop
            and self._key(earlier + count) == self._key(number + count)
            and self._can_be_done_again(earlier + count, number)
        ):
            count += 1
        return count

    def _can_be_done_again(self, earlier: int, number: int) -> bool:
        known = self._repeatable.get(earlier)
        if known is None:
            begun, stop = self._begun[earlier], self._stop(earlier + 1, number)
            spans, actions = self._maker.spans[begun.span : stop.span], range(begun.action, stop.action)
            known = can_be_done_again(self._maker.timeline, spans, actions)
            self._repeatable[earlier] = known
        return known

    def _stop(self, part: int, number: int) -> _Begun:
        """Where the part ``part`` begins, which is ``number`` or one before it."""
        if part == number:
            return _Begun(self._maker.actions_done, len(self._maker.spans))
        return self._begun[part]

    def _key(self, number: int) -> int:
        """A number that is the same for parts that do the same where the bed stands alike."""
        place = number % len(self._segments)
        key = self._keys.get(place)
        if key is None:
            key = self._keys[place] = self._doings.setdefault(self._segments[place].doing, len(self._doings))
        return key
