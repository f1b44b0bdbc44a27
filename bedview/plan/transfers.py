"""Stitches that a transfer tool moves together: several transfers that are one move of the hand.

The bed knows transfers from one needle to another only. Where a tool of two or three needles moves neighbours
one needle aside, they follow each other so that each finds its new needle free of those still to move.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from bedview.bed.actions import HandAction, Transfer
from bedview.bed.state import BedState

TOOL_NEEDLES: Final = 3
"""The widest transfer tool that comes with every machine; more needles are moved in several goes."""


@dataclass(frozen=True, slots=True)
class TogetherMove:
    """Neighbours moved one needle aside in one go.

    Attributes:
        sources: needles the stitches are on, ascending; two or more.
        step: 1 where they go to the right, -1 where they go to the left.
    """

    sources: tuple[int, ...]
    step: int

    def goes_in(self, before: BedState) -> bool | None:
        """Whether they move towards the fabric (True) or away from it (False).

        None where stitches stand on both sides of them, or on neither.
        """
        bears = before.height > 0
        left, right = bool(bears[: self.sources[0]].any()), bool(bears[self.sources[-1] + 1 :].any())
        if left == right:
            return None
        return right if self.step > 0 else left


def in_one_go(actions: Iterable[tuple[int, HandAction]]) -> list[tuple[int, HandAction | TogetherMove]]:
    """Hand actions, with transfers that one tool makes together as one.

    Args:
        actions: line and action, in order.

    Returns:
        The same, each with the line of its first action.
    """
    found: list[tuple[int, HandAction | TogetherMove]] = []
    run: list[tuple[int, Transfer]] = []
    for line, action in actions:
        if run and (len(run) == TOOL_NEEDLES or not _goes_on(run[-1][1], action)):
            found.append(_together(run))
            run = []
        if isinstance(action, Transfer) and abs(action.target - action.source) == 1:
            run.append((line, action))
        else:
            found.append((line, action))
    return [*found, _together(run)] if run else found


def _goes_on(last: Transfer, action: HandAction) -> bool:
    """Whether an action moves the next stitch onto the needle that the last transfer has left."""
    return (
        isinstance(action, Transfer)
        and action.target == last.source
        and action.target - action.source == last.target - last.source
    )


def _together(run: list[tuple[int, Transfer]]) -> tuple[int, HandAction | TogetherMove]:
    line, first = run[0]
    if len(run) == 1:
        return line, first
    return line, TogetherMove(tuple(sorted(each.source for _, each in run)), first.target - first.source)
