"""Reminders: words for the knitter at a row inside a segment, such as a marker to hang at both edges.

A segment of any kind may carry them. They become notes among its actions, so that nothing has to be taken
apart into single actions for the sake of a marker or a weight.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Self

from pydantic import BaseModel, Field

from bedview.plan.fields import STRICT, NeedleList, PassesMade, Words
from bedview.plan.segments.mirroring import mirrored_needles


class Reminder(BaseModel):
    """Words at a row of the segment.

    Attributes:
        row: after so many rows of the segment, those of every time round in a repeat; 0 is before the first.
        text: what to do: "hang a marker at both edges".
        needles: which needles it is about; none in particular if left out.
    """

    model_config = STRICT

    row: PassesMade = Field(title="After row")
    text: Annotated[Words, Field(min_length=1)] = Field(title="Reminder")
    needles: NeedleList | None = Field(None, title="Needles")

    def mirrored(self) -> Self:
        """The same about the needles across; its words stay."""
        if self.needles is None:
            return self
        return self.model_copy(update={"needles": mirrored_needles(self.needles)})


Reminders = Annotated[tuple[Reminder, ...], Field(strict=False, max_length=1_000)]


class Due:
    """The reminders of one segment, handed out as its rows are made.

    Args:
        reminders: the segment's.
        passes: passes made before it.
    """

    def __init__(self, reminders: Sequence[Reminder], passes: int) -> None:
        self._waiting = sorted(enumerate(reminders), key=lambda entry: entry[1].row)
        self._begun = passes

    def rows_until_next(self, passes: int) -> int | None:
        """Rows still to make before the next one is due; None if none waits."""
        return self._waiting[0][1].row - (passes - self._begun) if self._waiting else None

    def take(self, passes: int) -> list[tuple[int, Reminder]]:
        """Those that are due after so many passes, each with its place in the segment's list."""
        due: list[tuple[int, Reminder]] = []
        while self.rows_until_next(passes) == 0:
            due.append(self._waiting.pop(0))
        return due

    def left(self) -> tuple[int, Reminder] | None:
        """The first that has not come yet, with its place in the segment's list."""
        return self._waiting[0] if self._waiting else None
