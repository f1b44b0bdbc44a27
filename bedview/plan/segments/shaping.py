"""What narrowing and widening have in common: how many stitches, at which ends, and in which rows.

Stitches go or come one at an end at a time. Whatever hands do, they do it before a row, and that row knits
it in; so the last row of a shaping is always a knitted one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from bedview.bed.needles import Side
from bedview.language import gettext as _
from bedview.language import ngettext, number
from bedview.plan.fields import LengthCm, Rows
from bedview.plan.segments.base import Segment, SegmentError
from bedview.plan.segments.mirroring import mirrored_word
from bedview.plan.spacing import spread

if TYPE_CHECKING:
    from bedview.plan.segments.maker import Maker

ShapedEnds = Literal["both", "left", "right"]
Stitches = Annotated[int, Field(ge=1, le=400)]
ToolNeedles = Annotated[int, Field(ge=1, le=3)]
EVERY: Final = 2
"""Rows from one time to the next where nothing is said: what a sloped edge stands well."""


class Shaping(Segment):
    """Stitches that go or come at the edges, over so many rows.

    Attributes:
        stitches: how many at each end, 1 to 400.
        rows: over how many rows, evenly spaced.
        length_cm: over a length, turned into rows by the gauge of the yarn in the feeder.
        every: every how many rows. At most one of ``rows``, ``length_cm`` and ``every`` is given; with none
            it is every 2 rows.
        ends: both ends in the same rows, or one.
        tool: needles of the transfer tool, 1 to 3: so many edge stitches move together, and the change lies
            so far in from the edge. Where too few stitches are left for it, the next smaller tool is used.
        at_once: the first time before the first row, and rows left over behind the last; if left out, rows
            first, and the last time before the last row.
    """

    stitches: Stitches = Field(title="Stitches at each end")
    rows: Rows | None = Field(None, title="Over how many rows")
    length_cm: LengthCm | None = Field(None, title="Over a length in cm")
    every: Rows | None = Field(None, title="Every how many rows")
    ends: ShapedEnds = Field("both", title="Where")
    tool: ToolNeedles = Field(2, title="Needles of the transfer tool")
    at_once: bool = Field(False, title="Begin in the first row")

    @model_validator(mode="after")
    def _one_measure(self) -> Self:
        if sum(measure is not None for measure in (self.rows, self.length_cm, self.every)) > 1:
            raise ValueError(_("give only one of rows, length_cm and every"))
        if self.rows is not None and self.rows < self.stitches:
            text = ngettext(
                "{stitches} stitches at an end, one at a time, do not fit into {rows} row",
                "{stitches} stitches at an end, one at a time, do not fit into {rows} rows",
                self.rows,
            )
            raise ValueError(text.format(stitches=self.stitches, rows=self.rows))
        return self

    def sides(self, maker: Maker) -> list[Side]:
        """The ends to work on, that of the carriage first."""
        if self.ends != "both":
            return [Side(self.ends)]
        return [maker.state.carriage, maker.state.carriage.other]

    def rows_in_all(self, maker: Maker) -> int:
        """How many rows the whole takes.

        Raises:
            SegmentError: if a length cannot be turned into rows, or comes to too few.
        """
        if self.length_cm is None:
            return self.rows if self.rows is not None else self.stitches * (self.every or EVERY)
        rows = maker.rows_for(self.length_cm, "length_cm")
        if rows < self.stitches:
            raise SegmentError(
                _("{length_cm} cm are {rows} rows; {stitches} stitches at an end need as many").format(
                    length_cm=number(self.length_cm), rows=rows, stitches=self.stitches
                ),
                "length_cm",
            )
        return rows

    def other_side(self) -> Self:
        """The same at the other end."""
        return self.altered(ends=mirrored_word(self.ends))


def rows_due(total: int, times: int, *, at_once: bool, first: int = 1, apart: int = 1) -> tuple[int, ...]:
    """The rows before which hands do something, evenly spaced.

    Args:
        total: rows there are.
        times: how often.
        at_once: whether it begins in the first row that is allowed, instead of ending with the last.
        first: the first row that is allowed.
        apart: rows from one that is allowed to the next: 2 where the carriage must be on the same side.

    Returns:
        Numbers of rows from 1, ascending.

    Raises:
        ValueError: if there are not so many rows that are allowed.
    """
    allowed = max(total - first, -apart) // apart + 1
    chosen = spread(allowed, times)
    if at_once:
        chosen = tuple(allowed + 1 - place for place in reversed(chosen))
    return tuple(first + (place - 1) * apart for place in chosen)


def knit_rows(maker: Maker, total: int, due: Iterable[int], hands: Callable[[], None]) -> None:
    """Knit rows, with hands before some of them.

    Args:
        maker: the hand.
        total: how many rows.
        due: numbers of rows from 1, ascending.
        hands: what they do before each of those.
    """
    done = 0
    for row in due:
        if row - 1 > done:
            maker.knit(row - 1 - done)
        hands()
        maker.knit()
        done = row
    if total > done:
        maker.knit(total - done)
